"""TOML files → their content and the line each key stands on; and content → TOML."""

import json
import re
import tomllib
from collections.abc import Mapping
from datetime import date
from typing import Any, Final, NamedTuple

from optimizer.errors import Fault, FaultKind, InputError
from optimizer.files.limits import CELL_CHARACTERS, TOML_BYTES
from optimizer.files.place import Place
from optimizer.files.reading import read_bytes, unreadable
from optimizer.inputs.faults import MISSING, NO_TEXT, VALUE, shown
from optimizer.inputs.tables import decode
from optimizer.model.phrase import Phrase

_SECTION_LINE: Final = re.compile(r"\s*\[+\s*([^\[\]]+?)\s*\]")
_KEY_LINE: Final = re.compile(r"""\s*(?:"([^"]+)"|'([^']+)'|([\w.-]+))\s*=""")
#: A line [characters].
_LONGEST: Final = CELL_CHARACTERS
#: Names stand at the start of a line [characters].
_LOOKED_AT: Final = 300
_BARE_KEY: Final = re.compile(r"[A-Za-z0-9_-]+")
_WHERE: Final = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")


class SectionFile(NamedTuple):
    """A TOML file as it was read: its name, its content, and the line of each dotted key."""

    file: str
    content: dict[str, Any]
    lines: Mapping[str, int]

    def fault(self, key: str, found: str, wanted: Phrase, kind: FaultKind = VALUE) -> Fault:
        """Return a fault at a dotted key; a key within a line stands where the line does."""
        line = self.lines.get(key)
        if line is None and kind is not MISSING:
            line = self.lines.get(key.rpartition(".")[0])
        return Fault(self.file, line, key, found, wanted, kind)


def read_toml(path: Place, what: str, *, example: str = 'name = "text"') -> SectionFile:
    """Return a TOML file's content; InputError where it cannot be read.

    ``what`` says what it should be; ``example`` holds lines as they should be, for what is no TOML.
    """
    text = decode(read_bytes(path, Phrase("{what} (TOML)", what=what), TOML_BYTES))
    if text is None:
        raise unreadable(path.name, NO_TEXT, Phrase("TOML in UTF-8"))
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    long = next((n for n, line in enumerate(text.split("\n"), 1) if len(line) > _LONGEST), None)
    if long is not None:  # the parser's time grows with the square of a dotted key
        found = Phrase("a line of more than {most} characters", most=f"{_LONGEST:,}")
        wanted = Phrase("shorter lines; a list may go on over several")
        raise unreadable(path.name, found, wanted, long)
    try:
        content = tomllib.loads(text)
    except (ValueError, RecursionError) as problem:
        raise _no_toml(path.name, text, str(problem), example) from None
    return SectionFile(path.name, content, _lines(text))


def _no_toml(file: str, text: str, problem: str, example: str) -> InputError:
    where = _WHERE.search(problem)
    row = None
    if where is not None:
        row = int(where[1]) if where[1] else text.count("\n") + 1
    reason = _WHERE.sub("", problem).strip()
    line = text.split("\n")[row - 1].strip() if row else ""
    found = Phrase("a line that is no TOML ({reason})", reason=reason)
    if line:
        found = Phrase("{problem}: {line}", problem=found, line=shown(line))
    return unreadable(
        file, found, Phrase("lines such as {example}, each key once", example=example), row
    )


def _lines(text: str) -> dict[str, int]:
    """Return the line of each section and dotted key, as far as a plain look can tell."""
    found: dict[str, int] = {}
    section = ""
    for number, whole in enumerate(text.split("\n"), start=1):
        line = whole[:_LOOKED_AT]
        head, key = _SECTION_LINE.match(line), _KEY_LINE.match(line)
        if head:
            section = head[1].strip("\"'")
            found.setdefault(section, number)
        elif key:
            name = next(part for part in key.groups() if part)
            found.setdefault(f"{section}.{name}" if section else name, number)
    return found


def toml_value(value: object) -> str:
    """Return a value as TOML writes it, what it holds in one line.

    >>> toml_value({"column": "Net price", "factor": 0.5})
    '{ column = "Net price", factor = 0.5 }'
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return "{ " + ", ".join(map(_toml_line, value.items())) + " }"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(toml_value, value))}]"
    return json.dumps(str(value), ensure_ascii=False)  # a JSON text is a TOML basic string


def toml_sections(content: Mapping[str, Mapping[str, Any]]) -> str:
    """Return sections of keys as the text of a TOML file."""
    return "\n".join(
        "\n".join([f"[{section}]", *map(_toml_line, keys.items()), ""])
        for section, keys in content.items()
    )


def _toml_line(item: tuple[str, object]) -> str:
    key, value = item
    return f"{key if _BARE_KEY.fullmatch(key) else toml_value(key)} = {toml_value(value)}"
