"""Heavy files are read apart; what fails is told in one sentence and keeps the job."""

from __future__ import annotations

import time

import pytest

from optimizer import InputError
from optimizer.inputs.draft import raw_table
from tests.unit.inputs.test_limits import cell, heading, row, workbook
from ui import apart, transfer
from ui.apart import read_apart
from ui.transfer import NotMadeError


def wastes_memory(size):
    return len(bytearray(size))


def wastes_time():
    while True:
        time.sleep(0.01)


def refused(read, *words, raw=b"PK\x03\x04"):
    with pytest.raises(InputError) as caught:
        read_apart(("list.xlsx", raw), read, *words)
    [fault] = caught.value.faults
    return fault.file, str(fault.found)


def test_a_workbook_is_read_apart_as_here():
    raw = workbook(heading() + row(2, cell("A2", 3), cell("B2", 4)))
    assert read_apart(("list.xlsx", raw), raw_table, "list.xlsx", raw) == raw_table(
        "list.xlsx", raw
    )
    bomb = workbook(heading() + row(1_048_576, cell("XFD1048576")))
    told = refused(raw_table, "list.xlsx", bomb, raw=bomb)
    assert told == ("list.xlsx", "more than 20,000 rows")


def test_too_much_memory_or_time_costs_the_page_nothing(monkeypatch):
    told = ("list.xlsx", "a file that takes too much time or memory")
    assert refused(wastes_memory, 3_000_000_000) == told
    monkeypatch.setattr(apart, "_PATIENCE_S", 3)
    assert refused(wastes_time) == told


def test_a_light_text_is_read_here(monkeypatch):
    monkeypatch.setattr(apart.subprocess, "run", lambda *_a, **_s: pytest.fail("started"))
    assert read_apart(("a.csv", b"a\n1\n"), raw_table, "a.csv", b"a\n1\n").rows == (("a",), ("1",))


class Held:
    name = "mine.json"

    def getvalue(self):
        return b"{}"


def test_an_upload_that_fails_is_told_and_keeps_the_job(monkeypatch):
    class State:
        refused: dict = {}  # noqa: RUF012 - one test's

    def stumbles(file):
        raise ZeroDivisionError(file)

    monkeypatch.setattr(transfer, "now", {"file job 0": Held()}.get)
    transfer._taken(State, "job", "file job 0", stumbles)
    [fault] = State.refused["job"]
    assert (fault.file, fault.wanted) == ("mine.json", "another file")


def test_a_download_that_fails_tells_nothing_of_the_job(monkeypatch, caplog):
    drawn = []
    monkeypatch.setattr(transfer.st, "download_button", lambda *words, **_s: drawn.append(words))

    def fails():
        raise ValueError("Secret house")

    transfer.download("Save", fails, "job.json")
    with pytest.raises(NotMadeError):
        drawn[0][1]()
    assert "ValueError at test_apart.py" in caplog.text
    assert "Secret" not in caplog.text
