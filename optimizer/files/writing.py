"""The one writer of files: all outputs of a command or none, and never half of one.

Each output is made whole beside its place, brought to the disk, and only then renamed into it. Cut
off at any moment, by a kill or a full disk, every file is either the old one or the new one.
"""

import os
import secrets
import shutil
import stat
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Final

from optimizer.errors import Fault, FaultKind, InputError
from optimizer.files.reading import was_read
from optimizer.model.phrase import Phrase

_WANTED: Final = Phrase("a file to write")
#: Permissions of a new file, less what the user's mask takes.
_NEW_FILE: Final = 0o666


@dataclass(frozen=True, slots=True)
class _Output:
    """One file to be: the name it was given, where it is to stand, what it holds."""

    name: str
    target: Path
    content: bytes


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
    copies = []
    with ExitStack() as undo:  # whatever stops it, all is put back
        current = ""
        try:
            made = []
            for one in outputs:
                current = one.name
                _make_folder(one.target.parent, undo)
                made.append(_make(one, undo))
            for one, whole in zip(outputs, made, strict=True):
                current = one.name
                copies.append(_put(one, whole, undo, keep=keep))
        except (OSError, ValueError) as problem:
            raise InputError([_cannot(current, problem)]) from problem
        undo.pop_all()
    kept = tuple(copy for copy in copies if copy is not None)
    if keep:
        return kept
    for copy in kept:
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


def _quietly(step: Callable[..., object], *arguments: object, **options: object) -> None:
    with suppress(OSError):
        step(*arguments, **options)


def _make_folder(folder: Path, undo: ExitStack) -> None:
    for path in reversed([folder, *folder.parents]):
        if not path.exists():
            path.mkdir()
            undo.callback(_quietly, path.rmdir)


def _beside(target: Path) -> Path:
    return target.with_name(f".keeplit-{secrets.token_hex(6)}.part")


def _make(one: _Output, undo: ExitStack) -> Path:
    """Write an output whole beside its place, and bring it to the disk."""
    made = _beside(one.target)
    undo.callback(_quietly, made.unlink, missing_ok=True)
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(made, flags, _NEW_FILE), "wb") as file:
        file.write(one.content)
        file.flush()
        os.fsync(file.fileno())
    if one.target.exists():
        made.chmod(stat.S_IMODE(one.target.stat().st_mode))
    return made


def _put(one: _Output, made: Path, undo: ExitStack, *, keep: bool) -> Path | None:
    """Rename an output into its place; what stood there has a second name until all are put."""
    before = _set_aside(one.target, undo, keep=keep) if one.target.exists() else None
    if before is None:
        undo.callback(_quietly, one.target.unlink, missing_ok=True)
    else:
        undo.callback(_quietly, before.replace, one.target)
    made.replace(one.target)
    if hasattr(os, "O_DIRECTORY"):  # the renaming itself, where folders can be brought to the disk
        folder = os.open(one.target.parent, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
    return before


def _set_aside(target: Path, undo: ExitStack, *, keep: bool) -> Path:
    names = (f"{target.stem}.before-{number}{target.suffix}" for number in count(1))
    free = (path for path in map(target.with_name, names) if not path.exists())
    aside = next(free) if keep else _beside(target)
    undo.callback(_quietly, aside.unlink, missing_ok=True)
    try:
        aside.hardlink_to(target)
    except OSError:  # a disk that knows no second names
        shutil.copy2(target, aside)
    return aside


def _cannot(name: str, problem: OSError | ValueError) -> Fault:
    reason = getattr(problem, "strerror", None) or str(problem)
    return _fault(name, Phrase("it cannot be written ({reason})", reason=reason), _WANTED)


def _fault(name: str, found: str, wanted: Phrase) -> Fault:
    return Fault(name, None, None, found, wanted, FaultKind.FILE)
