"""The register of quotes: numbers, revisions, two writers at once, a kill in mid-write."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from optimizer.errors import InputError
from optimizer.quote.register import Register

DAY = date(2026, 11, 25)
ROOT = Path(__file__).parents[3]

#: A process that takes numbers; told to, it says that it is in the middle and waits there.
WRITER = """
import sys, time
from datetime import date
from optimizer.quote.register import Register
path, times, waits = sys.argv[1], int(sys.argv[2]), sys.argv[3] == "wait"
register = Register(path, make=True)
for _ in range(times):
    with register.entry(date(2026, 11, 25)) as entry:
        entry.store(customer="", site="Bay", currency="EUR", options="",
                    totals=["1.00"], files={"a.pdf": b"x" * 100_000})
        if waits:
            print(entry.number, flush=True)
            time.sleep(60)
    print(entry.number, flush=True)
"""


def writer(path, times=1, how="run"):
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), str(times), how],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )


def take(register, *, site="Bay", customer="", files=None, **how):
    with register.entry(DAY, **how) as entry:
        entry.store(
            customer=customer, site=site, currency="EUR", options="12,24",
            totals=["10.00", "20.50"], files=files or {},
        )  # fmt: skip
    return entry.number, entry.revision


@pytest.fixture
def register(tmp_path):
    return Register(tmp_path / "quotes.db", make=True)


def test_numbers_and_revisions(register):
    assert take(register) == ("2026-001", 1)
    assert take(register) == ("2026-002", 1)
    assert take(register, number="Q-7") == ("Q-7", 1)
    assert take(register, revise="2026-001") == ("2026-001", 2)
    assert take(register) == ("2026-003", 1)
    with register.entry(date(2027, 1, 2)) as entry:
        assert entry.number == "2027-001"
    with register.entry(date(2027, 1, 2)) as entry:
        assert entry.number == "2027-001"  # nothing was stored


def test_a_number_is_never_given_twice(register):
    take(register, number="Q-7")
    with pytest.raises(InputError, match="--revise Q-7"):
        take(register, number="Q-7")
    with pytest.raises(InputError, match="nearest known: Q-7"):
        take(register, revise="Q-77")


def test_quotes_are_found_and_reopened(register):
    take(register, customer="Éva Núñez", site="Gull Row 14", files={"q.pdf": b"one"})
    take(register, revise="2026-001", customer="Éva Núñez", files={"q.pdf": b"two"})
    take(register, customer="M. Harbour", site="Quay 3")
    assert [one.number for one in register.find(["éva"])] == ["2026-001", "2026-001"]
    assert [one.site for one in register.find(["quay", "2026"])] == ["Quay 3"]
    assert register.find(["nobody"]) == []
    record, files = register.reopen("2026-001")
    assert (record.revision, record.totals, files) == (2, ("10.00", "20.50"), {"q.pdf": b"two"})
    assert register.reopen("2026-001", 1)[1] == {"q.pdf": b"one"}
    with pytest.raises(InputError, match="a revision of 2026-001: 1, 2"):
        register.reopen("2026-001", 3)
    with pytest.raises(InputError, match="nearest known"):
        register.reopen("2026-01")


def test_an_error_on_the_way_leaves_no_number(register):
    with pytest.raises(InputError, match="does not do"):
        take(register, files={"a.pdf": object()})  # the quote is stored, its file cannot be
    assert register.find() == []
    assert take(register) == ("2026-001", 1)


@pytest.mark.slow
def test_two_writers_at_once_take_every_number_once(tmp_path):
    path = tmp_path / "quotes.db"
    writers = [writer(path, 8), writer(path, 8)]
    taken = [one.communicate(timeout=60)[0].split() for one in writers]
    assert all(one.returncode == 0 for one in writers)
    assert sorted(taken[0] + taken[1]) == [f"2026-{n:03d}" for n in range(1, 17)]
    assert len(Register(path).find()) == 16


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="kills by signal")
def test_a_kill_in_mid_write_leaves_the_register_whole(tmp_path):
    path = tmp_path / "quotes.db"
    take(Register(path, make=True))
    killed = writer(path, 1, "wait")
    assert killed.stdout.readline().strip() == "2026-002"  # stored, not yet committed
    killed.send_signal(signal.SIGKILL)
    killed.communicate(timeout=30)
    assert [one.number for one in Register(path).find()] == ["2026-001"]
    with closing(sqlite3.connect(path)) as book:
        assert book.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert book.execute("SELECT COUNT(*) FROM files").fetchone() == (0,)
    assert take(Register(path)) == ("2026-002", 1)


def test_files_that_are_no_register(tmp_path):
    (tmp_path / "text.db").write_text("no database at all, only words " * 50)
    with closing(sqlite3.connect(tmp_path / "other.db")) as book:
        book.execute("CREATE TABLE pets (name TEXT)")
    with closing(sqlite3.connect(tmp_path / "newer.db")) as book:
        book.execute("CREATE TABLE quotes (number TEXT)")
        book.execute("PRAGMA user_version = 9")
    for name, said in (
        ("text.db", "does not do"),
        ("other.db", "another database"),
        ("newer.db", "version 9"),
        ("none.db", "no such file"),
    ):
        with pytest.raises(InputError, match=said):
            Register(tmp_path / name)
    with closing(sqlite3.connect(tmp_path / "other.db")) as book:
        assert book.execute("SELECT name FROM sqlite_master").fetchall() == [("pets",)]
