"""A site as its files would have it: written for the product, read by the search's own reader."""

from __future__ import annotations

import csv
import json
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from .case import Case, Table, read_case

if TYPE_CHECKING:
    from pathlib import Path

SAME_FOR_ALL = ("chemistries", "cables", "fuses")


@dataclass(repr=False)
class SiteFiles:
    """What the files of a site say: the site file as a document, the tables as rows."""

    document: dict[str, dict[str, Any]]
    tables: dict[str, Table] = field(default_factory=dict)

    def _repr_pretty_(self, printer: Any, _cycle: bool) -> None:
        """Let a failing case show the files' own text, not Python's."""
        printer.text(repr(self))

    def __repr__(self) -> str:
        """The files' own text, without the tables that are the same for every site."""
        lines = [self.site_text()]
        for name, rows in self.tables.items():
            if name not in SAME_FOR_ALL:
                lines += [f"{name}:", *(str(_filled(row)) for row in rows)]
        return "\n".join(lines)

    def case(self) -> Case:
        document = {section: _filled(keys) for section, keys in self.document.items()}
        return read_case(document, self.tables)

    def write(self, folder: Path) -> Path:
        """Write the files and return the site file's path."""
        for name, rows in self.tables.items():
            with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
                columns = list(dict.fromkeys(column for row in rows for column in row))
                writer = csv.DictWriter(file, columns)
                writer.writeheader()
                writer.writerows(rows)
        path = folder / "site.toml"
        path.write_text(self.site_text(), encoding="utf-8")
        return path

    def site_text(self) -> str:
        lines = []
        for section, keys in self.document.items():
            lines.append(f"[{section}]")
            lines += [f"{key} = {toml(value)}" for key, value in _filled(keys).items()]
        return "\n".join(lines) + "\n"


def _filled(row: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in row.items() if value not in (None, "")}


def toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {toml(item)}" for key, item in value.items()) + "}"
    return json.dumps(value)
