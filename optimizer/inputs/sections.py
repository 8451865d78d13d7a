"""A small TOML file of sections → its checked keys, or a fault for each that is wrong."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from optimizer.errors import Fault
from optimizer.inputs.columns import Record, columns_of
from optimizer.inputs.faults import nearest_known, shown
from optimizer.inputs.records import hint_for
from optimizer.inputs.tables import decode, read_bytes

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.inputs.place import Place

_SECTION: Final = re.compile(r"\s*\[+\s*([^\[\]]+?)\s*\]")
_KEY: Final = re.compile(r"""\s*(?:"([^"]+)"|'([^']+)'|([\w-]+))\s*=""")
_LINE: Final = re.compile(r"\(at line (\d+), column \d+\)")


@dataclass(frozen=True, slots=True)
class SectionFile:
    """A TOML file as it was read: its name, its content, and the line of each dotted key."""

    file: str
    content: dict[str, Any]
    lines: Mapping[str, int]

    def fault(self, key: str, found: str, wanted: str) -> Fault:
        """Return a fault at a dotted key."""
        return Fault(self.file, self.lines.get(key), key, found, wanted)


def read_toml(path: Place, what: str, faults: list[Fault]) -> SectionFile | None:
    """Return a TOML file's content, or None with the fault that makes it unreadable.

    Parameters
    ----------
    path : Place
        The file.
    what : str
        What it should be, in words.
    faults : list of Fault
        Takes what is wrong.
    """
    raw = read_bytes(path, faults, f"{what} (TOML)")
    if raw is None:
        return None
    text = decode(raw)
    if text is None:
        faults.append(Fault(path.name, None, None, "bytes that are no text", "TOML in UTF-8"))
        return None
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    try:
        content = tomllib.loads(text)
    except (ValueError, RecursionError) as problem:
        where = _LINE.search(str(problem))
        reason = _LINE.sub("", str(problem)).strip()
        found = f"a line that is no TOML ({reason})"
        row = int(where[1]) if where else None
        faults.append(Fault(path.name, row, None, found, 'lines such as name = "text"'))
        return None
    return SectionFile(path.name, content, _lines_of(text))


def _lines_of(text: str) -> dict[str, int]:
    found: dict[str, int] = {}
    section = ""
    for number, line in enumerate(text.split("\n"), start=1):
        head, key = _SECTION.match(line), _KEY.match(line)
        if head:
            section = head[1].strip("\"'")
            found.setdefault(section, number)
        elif key:
            name = next(part for part in key.groups() if part)
            found.setdefault(f"{section}.{name}" if section else name, number)
    return found


def check_sections(
    source: SectionFile,
    sections: Mapping[str, type[Record]],
    faults: list[Fault],
    *,
    free: frozenset[str] = frozenset(),
) -> dict[str, dict[str, Any]]:
    """Return the keys of each section that are as they must be.

    Parameters
    ----------
    source : SectionFile
        From `read_toml`.
    sections : mapping of str to Record
        The model of each section.
    faults : list of Fault
        Takes what is wrong.
    free : frozenset of str
        Sections whose keys are the user's own words; the caller checks them.
    """
    for name, content in source.content.items():
        if name not in sections and name not in free:
            kind = "an unknown section" if isinstance(content, dict) else "a key in no section"
            wanted = f"a section; {nearest_known(name, [*sections, *free])}"
            faults.append(source.fault(name, kind, wanted))
    return {name: _check_section(source, name, model, faults) for name, model in sections.items()}


def _check_section(
    source: SectionFile, section: str, model: type[Record], faults: list[Fault]
) -> dict[str, Any]:
    content = source.content.get(section, {})
    if not isinstance(content, dict):
        faults.append(source.fault(section, shown(content), f"a section [{section}]"))
        return {}
    return check_keys(source, section, content, model, faults)


def check_keys(
    source: SectionFile,
    section: str,
    content: dict[str, Any],
    model: type[Record],
    faults: list[Fault],
) -> dict[str, Any]:
    """Return the keys of one table that are as they must be; numbers as their column has them.

    Parameters
    ----------
    source : SectionFile
        From `read_toml`.
    section : str
        The table's dotted name, for messages.
    content : dict
        The table.
    model : type of Record
        What is expected of it.
    faults : list of Fault
        Takes what is wrong.
    """
    columns = columns_of(model)
    given = {}
    for key, value in content.items():
        if key in columns:
            given[key] = value
        else:
            wanted = f"a key of [{section}]; {nearest_known(key, columns)}"
            faults.append(source.fault(f"{section}.{key}", "an unknown key", wanted))
    wrong: set[str] = set()
    try:
        model.model_validate(given)
    except ValidationError as problem:
        for error in problem.errors(include_url=False, include_context=False):
            key = str(error["loc"][0])
            if key in wrong:
                continue
            wrong.add(key)
            found = shown(given[key]) if key in given else "no such key"
            wanted = columns[key].wanted + hint_for(columns[key], given.get(key))
            faults.append(source.fault(f"{section}.{key}", found, wanted))
    return {
        key: float(value) if columns[key].kind in {"number", "share"} else value
        for key, value in given.items()
        if key not in wrong
    }
