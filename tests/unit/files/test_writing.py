"""The one writer: all outputs or none, each the old file or the new one, whatever happens."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from optimizer import InputError
from optimizer.files import writing
from optimizer.files.reading import noting, read_bytes
from optimizer.files.writing import write_files

#: Forks once for each step of writing two files and kills the child there.
KILLED = """
import os, signal, sys
from pathlib import Path
from optimizer.files.writing import write_files

folder = Path(sys.argv[1])
old, new = b"old" * 50_000, b"new" * 60_000
one, other = folder / "one.csv", folder / "other.csv"
steps, status = 0, -1
while status != 0:
    steps += 1
    one.write_bytes(old)
    other.write_bytes(old)
    child = os.fork()
    if child == 0:
        count = 0
        def step(event, arguments):
            global count
            if event == "open" or event.startswith("os."):
                count += 1
                if count == steps:
                    os.kill(os.getpid(), signal.SIGKILL)
        sys.addaudithook(step)
        write_files([(one, new), (other, new)])
        os._exit(0)
    status = os.waitpid(child, 0)[1]
    for path in (one, other):
        assert path.read_bytes() in (old, new), (steps, path)
    for left in folder.glob(".keeplit-*"):
        left.unlink()
assert one.read_bytes() == other.read_bytes() == new
print(steps)
"""


def refused(contents, **how):
    with pytest.raises(InputError) as caught:
        write_files(contents, **how)
    return [(fault.file, str(fault.found)) for fault in caught.value.faults]


def content(folder):
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_files_are_written_and_folders_made(tmp_path):
    assert write_files([(tmp_path / "a" / "b" / "c.csv", b"c"), (tmp_path / "d.csv", b"d")]) == ()
    assert content(tmp_path) == {"c.csv": b"c", "d.csv": b"d"}


def test_a_file_keeps_its_permissions_and_a_link_stays_one(tmp_path):
    kept, link = tmp_path / "kept.csv", tmp_path / "link.csv"
    kept.write_bytes(b"old")
    kept.chmod(0o640)
    link.symlink_to(kept)
    write_files([(link, b"new")])
    assert link.is_symlink()
    assert kept.read_bytes() == b"new"
    assert kept.stat().st_mode & 0o777 == 0o640


def test_nothing_is_written_where_one_output_cannot_be(tmp_path):
    (tmp_path / "file").write_bytes(b"old")
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    places = ["good.csv", "folder", "file/below.csv", "pipe", "nul\0.csv"]
    told = refused([(tmp_path / name, b"new") for name in places])
    assert [Path(file).name for file, _ in told] == ["folder", "below.csv", "pipe", "nul\0.csv"]
    assert told[2][1] == "a device, a pipe or a socket"
    assert content(tmp_path) == {"file": b"old"}


def test_no_output_stands_in_the_place_of_another(tmp_path):
    (tmp_path / "cust.csv").write_bytes(b"old")
    (tmp_path / "link.csv").symlink_to(tmp_path / "cust.csv")
    same = f"the same file as {tmp_path}/cust.csv"
    for other in ("cust.csv", "./cust.csv", "link.csv"):
        told = refused([(f"{tmp_path}/cust.csv", b"new"), (f"{tmp_path}/{other}", b"costs")])
        assert told == [(f"{tmp_path}/{other}", same)]
    assert (tmp_path / "cust.csv").read_bytes() == b"old"


def test_no_input_is_written_over(tmp_path):
    loads, link = tmp_path / "loads.csv", tmp_path / "link.csv"
    loads.write_bytes(b"mine")
    link.symlink_to(loads)
    with noting():
        read_bytes(loads, "a table")
        assert refused([(link, b"new")]) == [(str(link), "a file that the same command reads")]
        write_files([(loads, b"meant")], over=[loads])
    assert loads.read_bytes() == b"meant"


def test_a_copy_is_kept_where_asked_for(tmp_path):
    path = tmp_path / "batteries.csv"
    for number, text in enumerate((b"first", b"second", b"third")):
        copies = write_files([(path, text)], keep=True)
        assert [copy.name for copy in copies] == [f"batteries.before-{number}.csv"][: bool(number)]
    kept = {"batteries.before-1.csv": b"first", "batteries.before-2.csv": b"second"}
    assert content(tmp_path) == {"batteries.csv": b"third", **kept}


@pytest.mark.parametrize("failing", ["_make", "_put"])
@pytest.mark.parametrize("problem", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_failure_in_the_middle_leaves_everything_as_it_was(
    tmp_path, monkeypatch, failing, problem
):
    (tmp_path / "one.csv").write_bytes(b"old")
    done = getattr(writing, failing)

    def fails(one, *more, **how):
        if one.target.name == "three.csv":
            raise problem
        return done(one, *more, **how)

    monkeypatch.setattr(writing, failing, fails)
    places = [tmp_path / "one.csv", tmp_path / "made" / "two.csv", tmp_path / "three.csv"]
    wanted = InputError if isinstance(problem, OSError) else KeyboardInterrupt
    with pytest.raises(wanted) as caught:
        write_files([(path, b"new") for path in places])
    if wanted is InputError:
        [fault] = caught.value.faults
        assert (fault.file, fault.found) == (
            str(places[2]),
            "it cannot be written (No space left on device)",
        )
    assert content(tmp_path) == {"one.csv": b"old"}
    assert not (tmp_path / "made").exists()


def test_a_full_disk_leaves_the_old_files(tmp_path):
    """On a disk of 256 kB."""
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", tmp_path],
        check=False,
        capture_output=True,
    )
    if mounted.returncode:
        pytest.skip("needs the right to mount a disk")
    try:
        (tmp_path / "one.csv").write_bytes(b"old")
        (tmp_path / "two.csv").write_bytes(b"old")
        contents = [(tmp_path / "one.csv", b"new"), (tmp_path / "two.csv", b"n" * 300_000)]
        told = refused(contents)
        assert told == [(f"{tmp_path}/two.csv", "it cannot be written (No space left on device)")]
        assert content(tmp_path) == {"one.csv": b"old", "two.csv": b"old"}
    finally:
        subprocess.run(["umount", tmp_path], check=True)


def test_a_kill_at_any_step_leaves_whole_files(tmp_path):
    ran = subprocess.run(
        [sys.executable, "-c", KILLED, tmp_path], check=False, capture_output=True, text=True
    )
    assert ran.returncode == 0, ran.stderr
    assert int(ran.stdout) > 10
