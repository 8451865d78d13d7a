"""A site as its files would have it, for the product's reader and for the search's own."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from optimizer.files.place import Held
from optimizer.inputs.load import job_from_data

from .case import Case, Table, read_case

if TYPE_CHECKING:
    from optimizer.model.job import Job

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
        lines = []
        for section, keys in self.document.items():
            lines += [f"{section}:", *(f"{key} = {value}" for key, value in _filled(keys).items())]
        for name, rows in self.tables.items():
            if name not in SAME_FOR_ALL:
                lines += [f"{name}:", *(str(_filled(row)) for row in rows)]
        return "\n".join(lines)

    def case(self) -> Case:
        return read_case(self._sections(), self.tables)

    def job(self) -> Job:
        """The site as the product reads it."""
        files = {f"{name}.csv": _csv(rows) for name, rows in self.tables.items()}
        return job_from_data(self._sections(), Held(files))

    def _sections(self) -> dict[str, dict[str, Any]]:
        return {section: _filled(keys) for section, keys in self.document.items()}


def _csv(rows: Table) -> bytes:
    file = io.StringIO(newline="")
    writer = csv.DictWriter(file, list(dict.fromkeys(column for row in rows for column in row)))
    writer.writeheader()
    writer.writerows(rows)
    return file.getvalue().encode()


def _filled(row: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in row.items() if value not in (None, "")}
