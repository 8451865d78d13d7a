"""TOML files → their keys, and the line each stands on."""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING, Any, Final

from optimizer.errors import Fault
from optimizer.inputs.faults import shown
from optimizer.inputs.tables import decode, read_bytes

if TYPE_CHECKING:
    from pathlib import Path

_SECTION_LINE: Final = re.compile(r"\s*\[\s*([^\[\]]+?)\s*\]")
_KEY_LINE: Final = re.compile(r"""\s*["']?([^"'=\s]+)["']?\s*=""")
_WHERE: Final = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")


def read_toml(
    path: Path, faults: list[Fault], what: str, example: str
) -> tuple[dict[str, Any], dict[str, int]] | None:
    """Return a file's keys and their lines, or None with the fault that makes it unreadable.

    Parameters
    ----------
    path : Path
        The file.
    faults : list of Fault
        Takes what is wrong.
    what : str
        What the file should be, in words.
    example : str
        Lines as they should be, for a file that is no TOML.
    """
    raw = read_bytes(path, faults, what)
    if raw is None:
        return None
    content = decode(raw)
    if content is None:
        faults.append(Fault(path.name, None, None, "bytes that are no text", "TOML in UTF-8"))
        return None
    try:
        data = tomllib.loads(content.removeprefix("\ufeff").replace("\r\n", "\n"))
    except (ValueError, RecursionError) as problem:
        where = _WHERE.search(str(problem))
        row = None
        if where is not None:
            row = int(where[1]) if where[1] else content.count("\n") + 1
        reason = _WHERE.sub("", str(problem)).strip()
        line = content.split("\n")[row - 1].strip() if row else ""
        found = f"a line that is no TOML ({reason})" + (f": {shown(line)}" if line else "")
        faults.append(Fault(path.name, row, None, found, f"lines such as {example}, each key once"))
        return None
    return data, _lines(content)


def _lines(content: str) -> dict[str, int]:
    found: dict[str, int] = {}
    section = ""
    for number, line in enumerate(content.splitlines(), start=1):
        head, key = _SECTION_LINE.match(line), _KEY_LINE.match(line)
        if head:
            section = head[1].strip("\"'")
            found.setdefault(section, number)
        elif key:
            found.setdefault(f"{section}.{key[1]}" if section else key[1], number)
    return found
