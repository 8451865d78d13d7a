"""The one writer of files: all outputs of a command or none, and never half of one.

Each output is made whole beside its place, brought to the disk, and only then renamed into it. Cut
off at any moment, by a kill or a full disk, every file is either the old one or the new one.
"""

import os
import secrets
import shutil
import stat
from collections.abc import Collection, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from optimizer.errors import Fault, FaultKind, InputError
from optimizer.files.reading import was_read
from optimizer.model.phrase import Phrase

_WANTED: Final = Phrase("a file to write")
#: Permissions of a new file, less what the user's mask takes.
_NEW_FILE: Final = 0o666


@dataclass(slots=True)
class _Output:
    """One file on its way: the name it was given, where it is to stand, what it holds."""

    name: str
    target: Path
    content: bytes
    made: Path | None = None  # the whole of it, beside its place
    before: Path | None = None  # what stood in its place
    is_put: bool = False


@dataclass(slots=True)
class _Work:
    """All outputs of a command, and how far they are."""

    outputs: list[_Output]
    folders: list[Path] = field(default_factory=list)
    current: str = ""


def write_files(
    contents: Iterable[tuple[str | Path, bytes]],
    *,
    over: Collection[str | Path] = (),
    keep: bool = False,
) -> tuple[Path, ...]:
    """Write files by path and content, all of them or none; folders that are not there are made.

    Only the inputs in ``over`` are replaced, any other is refused. With ``keep`` what stood in the
    place of one is kept beside it under another name; these copies are returned. InputError with
    every path that cannot be written, and then nothing is: a folder, a device, an input of the same
    command, another output of it, a place that takes no more.
    """
    faults: list[Fault] = []
    meant = {os.path.realpath(one) for one in over}
    outputs = [_output(str(name), content, meant, faults) for name, content in contents]
    faults += _twice(outputs)
    if faults:
        raise InputError(faults)
    work = _Work(outputs)
    try:
        for one in outputs:
            work.current = one.name
            _make_folder(one.target.parent, work.folders)
            _make(one)
        for one in outputs:
            work.current = one.name
            _put(one, keep=keep)
    except (OSError, ValueError) as problem:
        _put_back(work)
        raise InputError([_cannot(work.current, problem)]) from problem
    except BaseException:
        _put_back(work)
        raise
    copies = tuple(one.before for one in outputs if one.before is not None)
    if keep:
        return copies
    for copy in copies:
        copy.unlink(missing_ok=True)
    return ()


def _output(name: str, content: bytes, over: set[str], faults: list[Fault]) -> _Output:
    """Return an output, and complain where nothing may or can stand there."""
    target = Path(name)
    try:
        target = Path(os.path.realpath(name))  # through a link, its file is written
        standing = next((one for one in target.parents if one.exists()), Path(target.anchor))
        if target.is_dir():
            faults.append(_fault(name, Phrase("a folder"), _WANTED))
        elif not standing.is_dir():
            found = Phrase("{path}, which is no folder", path=str(standing))
            faults.append(_fault(name, found, Phrase("a file in a folder")))
        elif target.exists():
            faults.extend(_may_be_replaced(name, target, is_meant=str(target) in over))
    except (OSError, ValueError) as problem:
        faults.append(_cannot(name, problem))
    return _Output(name, target, content)


def _may_be_replaced(name: str, target: Path, *, is_meant: bool) -> Iterator[Fault]:
    if not stat.S_ISREG(target.stat().st_mode):
        found = Phrase("a device, a pipe or a socket")
        yield _fault(name, found, _WANTED)
    elif was_read(target) and not is_meant:
        found = Phrase("a file that the same command reads")
        yield _fault(name, found, Phrase("another name: no input is written over"))
    elif not os.access(target, os.W_OK):
        found = Phrase("a file that is protected against writing")
        yield _fault(name, found, Phrase("another name, or the protection taken off"))


def _twice(outputs: list[_Output]) -> Iterator[Fault]:
    """Yield each output that stands in the place of one before it."""
    seen: dict[object, str] = {}
    for one in outputs:
        keys: list[object] = [os.path.normcase(one.target)]
        with suppress(OSError, ValueError):
            found = one.target.stat()
            keys.append((found.st_dev, found.st_ino))
        other = next((seen[key] for key in keys if key in seen), None)
        if other is not None:
            said = Phrase("the same file as {other}", other=other)
            yield _fault(one.name, said, Phrase("a name of its own for each output"))
        seen.update(dict.fromkeys(keys, one.name))


def _make_folder(folder: Path, made: list[Path]) -> None:
    missing = []
    while not folder.exists():
        missing.append(folder)
        folder = folder.parent
    for path in reversed(missing):
        path.mkdir()
        made.append(path)


def _beside(target: Path) -> Path:
    return target.with_name(f".keeplit-{secrets.token_hex(6)}.part")


def _make(one: _Output) -> None:
    """Write an output whole beside its place, and bring it to the disk."""
    one.made = _beside(one.target)
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(one.made, flags, _NEW_FILE), "wb") as file:
        file.write(one.content)
        file.flush()
        os.fsync(file.fileno())
    if one.target.exists():
        one.made.chmod(stat.S_IMODE(one.target.stat().st_mode))


def _put(one: _Output, *, keep: bool) -> None:
    """Rename an output into its place; what stood there has a second name until all are put."""
    if one.target.exists():
        _set_aside(one, keep=keep)
    if one.made is not None:
        one.made.replace(one.target)
        one.made, one.is_put = None, True
    if hasattr(os, "O_DIRECTORY"):  # the renaming itself, where folders can be brought to the disk
        folder = os.open(one.target.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _set_aside(one: _Output, *, keep: bool) -> None:
    number = 1
    while True:
        name = f"{one.target.stem}.before-{number}{one.target.suffix}"
        aside = one.target.with_name(name) if keep else _beside(one.target)
        if not aside.exists():
            break
        number += 1
    try:
        aside.hardlink_to(one.target)
    except OSError:  # a disk that knows no second names
        shutil.copy2(one.target, aside)
    one.before = aside


def _put_back(work: _Work) -> None:
    """Leave everything as it was before."""
    for one in work.outputs:
        with suppress(OSError):
            if one.made is not None:
                one.made.unlink(missing_ok=True)
            if one.is_put and one.before is not None:
                one.before.replace(one.target)
            elif one.is_put:
                one.target.unlink(missing_ok=True)
            elif one.before is not None:
                one.before.unlink(missing_ok=True)
    for folder in reversed(work.folders):
        with suppress(OSError):
            folder.rmdir()


def _cannot(name: str, problem: OSError | ValueError) -> Fault:
    reason = getattr(problem, "strerror", None) or str(problem)
    return _fault(name, Phrase("it cannot be written ({reason})", reason=reason), _WANTED)


def _fault(name: str, found: str, wanted: Phrase) -> Fault:
    return Fault(name, None, None, found, wanted, FaultKind.FILE)
