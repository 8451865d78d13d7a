"""The one reader: what it refuses before it reads, and what it notes."""

from __future__ import annotations

import os
import socket
from pathlib import Path

import pytest

from optimizer import InputError
from optimizer.files.limits import FILE_BYTES, LOGO_PIXELS
from optimizer.files.pictures import wrong_with
from optimizer.files.place import Held
from optimizer.files.reading import noting, read_bytes, was_read
from optimizer.inputs.demo import site_file


def refused(place, most=FILE_BYTES):
    with pytest.raises(InputError) as caught:
        read_bytes(place, "a table", most)
    [fault] = caught.value.faults
    return fault


def test_a_file_is_read_whole(tmp_path):
    path = tmp_path / "loads.csv"
    path.write_bytes(b"x" * 100)
    assert read_bytes(path, "a table", 100) == b"x" * 100
    assert read_bytes(Held({"loads.csv": b"y"}, "loads.csv"), "a table") == b"y"


def test_what_is_no_file_is_not_opened(tmp_path):
    """A pipe would wait for ever, a device may fill the memory."""
    pipe, plug = tmp_path / "pipe", tmp_path / "plug"
    os.mkfifo(pipe)
    with socket.socket(socket.AF_UNIX) as listener:
        listener.bind(str(plug))
        for path in (pipe, plug, Path("/dev/zero")):
            fault = refused(path)
            assert fault.found == "a device, a pipe or a socket"
            assert fault.wanted == "a table, a file"
            assert fault.file == str(path)


@pytest.mark.parametrize(
    "place", [Path, lambda path: Held({path.name: path.read_bytes()}, path.name)]
)
def test_a_large_file_is_refused_by_its_size(tmp_path, place):
    path = tmp_path / "loads.csv"
    path.write_bytes(b"x" * 2_000_001)
    fault = refused(place(path), 2_000_000)
    assert (fault.found, fault.wanted) == ("more than 2 MB", "a table, of at most 2 MB")


def test_a_sparse_file_costs_no_memory(tmp_path):
    path = tmp_path / "vast.csv"
    with path.open("wb") as file:
        file.truncate(50_000_000_000)
    assert refused(path).found == "more than 10 MB"


def test_what_is_not_there_or_not_to_be_read(tmp_path):
    assert refused(tmp_path).found == "a folder"
    assert refused(tmp_path / "none.csv").found == "no such file"
    assert refused(tmp_path / "nul\0.csv").found == "no such file"
    assert refused(tmp_path / ("long" * 100)).found == "it cannot be read (File name too long)"


def test_a_site_that_is_a_pipe_is_told_to_be_one(tmp_path):
    os.mkfifo(tmp_path / "site")
    assert refused(site_file(tmp_path / "site")).found == "a device, a pipe or a socket"


def test_what_was_read_is_noted_by_whatever_name(tmp_path):
    path, other = tmp_path / "loads.csv", tmp_path / "other.csv"
    path.write_bytes(b"x")
    other.symlink_to(path)
    assert not was_read(path)
    with noting():
        assert not was_read(path)
        read_bytes(other, "a table")
        assert was_read(path)
        assert was_read(tmp_path / "." / "other.csv")
        assert not was_read(tmp_path / "none.csv")
    assert not was_read(path)


def picture(size, form="PNG"):
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("1", size).convert("L").save(out, form)
    return out.getvalue()


def test_a_picture_is_looked_at_before_it_is_drawn():
    assert wrong_with(picture((40, 20))) is None
    assert wrong_with(picture((40, 20), "JPEG")) is None
    assert wrong_with(picture((40, 20), "GIF")) == "another kind of file"
    assert wrong_with(picture((400, 200))[:-40]) == "a damaged picture"
    assert wrong_with(b"\x89PNG\r\n\x1a\n") == "another kind of file"
    side = int(LOGO_PIXELS**0.5) + 1
    assert wrong_with(picture((side, side))) == f"{side:,} × {side:,} pixels"
