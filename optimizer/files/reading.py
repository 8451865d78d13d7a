"""The one reader of files: it asks what a thing is, and how large, before it takes a byte of it.

What a command has read is noted, so that no output of the same command is written onto it.
"""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import Final

from optimizer.errors import Fault, FaultKind
from optimizer.files.limits import FILE_BYTES, megabytes
from optimizer.files.place import Held, Place
from optimizer.model.phrase import Phrase

NO_FILE: Final = Phrase("no such file")

#: By device and number: the name of each file read, where somebody asked for a note of them.
_noted: ContextVar[dict[tuple[int, int], str] | None] = ContextVar("noted", default=None)


@contextmanager
def noting() -> Iterator[None]:
    """Note each file that is read inside, until the end of the block."""
    token = _noted.set({})
    try:
        yield
    finally:
        _noted.reset(token)


def was_read(path: Path) -> bool:
    """Tell whether a file was read since noting began, by whatever name."""
    noted = _noted.get()
    if not noted:
        return False
    try:
        found = path.stat()
    except (OSError, ValueError):
        return False
    return (found.st_dev, found.st_ino) in noted


def files_read() -> list[str]:
    """Return the names of the files read since noting began."""
    return list((_noted.get() or {}).values())


def read_bytes(
    place: Place, faults: list[Fault], wanted: Phrase, most: int = FILE_BYTES
) -> bytes | None:
    """Return a file's content, or None with a fault that says what stands in the way.

    ``wanted`` says what it should be; it may have ``most`` bytes.
    """
    try:
        if place.is_dir():
            faults.append(_fault(place.name or str(place), Phrase("a folder"), wanted))
            return None
        if not place.exists():
            faults.append(_fault(str(place), NO_FILE, wanted))
            return None
        held = place.files[place.name] if isinstance(place, Held) else None
        raw = _of_disk(Path(str(place)), most) if held is None else held
    except (OSError, ValueError) as problem:  # ValueError: a NUL in the path
        reason = getattr(problem, "strerror", None) or str(problem)
        found = Phrase("it cannot be read ({reason})", reason=reason)
        faults.append(_fault(str(place), found, wanted))
        return None
    if raw is None:
        found = Phrase("a device, a pipe or a socket")
        faults.append(_fault(str(place), found, Phrase("{wanted}, a file", wanted=wanted)))
        return None
    if len(raw) > most:
        size = megabytes(most)
        limited = Phrase("{wanted}, of at most {size}", wanted=wanted, size=size)
        faults.append(_fault(str(place), Phrase("more than {size}", size=size), limited))
        return None
    return raw


def _of_disk(path: Path, most: int) -> bytes | None:
    """Return a file's first bytes, one more than allowed at most; None where it is no file."""
    if not stat.S_ISREG(path.stat().st_mode):  # opened, a device may act and a pipe wait for ever
        return None
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with open(os.open(path, flags), "rb") as file:  # noqa: PTH123 - a pipe put there since waits not
        found = os.fstat(file.fileno())
        if not stat.S_ISREG(found.st_mode):
            return None
        noted = _noted.get()
        if noted is not None:
            noted.setdefault((found.st_dev, found.st_ino), str(path))
        return file.read(most + 1)


def _fault(file: str, found: str, wanted: Phrase) -> Fault:
    return Fault(file, None, None, found, wanted, FaultKind.FILE)
