"""How commands write files: everything is made first, then written, or nothing is."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from optimizer.errors import Fault, InputError

if TYPE_CHECKING:
    from collections.abc import Mapping


def write_files(contents: Mapping[str, bytes]) -> None:
    """Write files by path; folders that are not there are made.

    Raises
    ------
    InputError
        With every path that cannot be written, before anything is.
    """
    faults = []
    for path in map(Path, contents):
        standing = next((one for one in path.parents if one.exists()), path.anchor)
        if path.is_dir():
            faults.append(Fault(str(path), None, None, "a folder", "a file to write"))
        elif not Path(standing).is_dir():
            wanted = "a file in a folder"
            faults.append(Fault(str(path), None, None, f"{standing}, which is no folder", wanted))
    if faults:
        raise InputError(faults)
    for name, content in contents.items():
        try:
            Path(name).parent.mkdir(parents=True, exist_ok=True)
            Path(name).write_bytes(content)
        except (OSError, ValueError) as problem:
            reason = getattr(problem, "strerror", None) or str(problem)
            found = f"it cannot be written ({reason})"
            raise InputError([Fault(name, None, None, found, "a file to write")]) from problem
