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

from optimizer.errors import Fault, FaultKind, InputError
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


def read_bytes(place: Place, wanted: Phrase, most: int = FILE_BYTES) -> bytes:
    """Return a file's content; InputError that says what stands in the way.

    ``wanted`` says what it should be; it may have ``most`` bytes.
    """
    try:
        raw = _content(place, wanted, most)
    except (OSError, ValueError) as problem:  # ValueError: a NUL in the path
        reason = getattr(problem, "strerror", None) or str(problem)
        found = Phrase("it cannot be read ({reason})", reason=reason)
        raise unreadable(str(place), found, wanted) from None
    if len(raw) > most:
        size = megabytes(most)
        wanted = Phrase("{wanted}, of at most {size}", wanted=wanted, size=size)
        raise unreadable(str(place), Phrase("more than {size}", size=size), wanted)
    return raw


def _content(place: Place, wanted: Phrase, most: int) -> bytes:
    if place.is_dir():
        raise unreadable(place.name or str(place), Phrase("a folder"), wanted)
    if not place.exists():
        raise unreadable(str(place), NO_FILE, wanted)
    raw = place.files[place.name] if isinstance(place, Held) else _of_disk(Path(str(place)), most)
    if raw is None:
        wanted = Phrase("{wanted}, a file", wanted=wanted)
        raise unreadable(str(place), Phrase("a device, a pipe or a socket"), wanted)
    return raw


def unreadable(file: str, found: str, wanted: Phrase, row: int | None = None) -> InputError:
    """Return the error of a file that cannot be read at all."""
    return InputError([Fault(file, row, None, found, wanted, FaultKind.FILE)])


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
