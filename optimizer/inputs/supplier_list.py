"""A supplier's list → rows of text as they come, titles and all."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.errors import Fault
from optimizer.inputs.faults import FILE, NO_TEXT
from optimizer.inputs.tables import EMPTY, QUOTES, decode, read_bytes
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from optimizer.inputs.place import Place

_WORKBOOK_START = b"PK\x03\x04"


@dataclass(frozen=True, slots=True)
class SupplierList:
    """The rows of a list, cells stripped; ``typed`` where numbers came from a workbook's cells."""

    file: str
    rows: tuple[tuple[str, ...], ...]
    typed: bool

    def heading_row(self, given: int | None) -> int:
        """Return the row of the column names, from 1: as given, else the first of the fullest."""
        if given is not None:
            return given
        filled = [sum(map(bool, row)) for row in self.rows[:40]]
        most = max(filled, default=0)
        return next(place for place, count in enumerate(filled, 1) if count >= 0.8 * most)

    def headings(self, given: int | None = None) -> tuple[str, ...]:
        """Return the column names; line breaks inside them are spaces."""
        row = self.heading_row(given)
        cells = self.rows[row - 1] if row <= len(self.rows) else ()
        return tuple(" ".join(cell.split()) for cell in cells)


def read_supplier_list(place: Place, faults: list[Fault]) -> SupplierList | None:
    """Return a list as it comes, or None with the fault that makes it unreadable.

    Parameters
    ----------
    place : Place
        A CSV or XLSX file.
    faults : list of Fault
        Takes what is wrong.
    """
    raw = read_bytes(place, faults, Phrase("a supplier's list, CSV or XLSX"))
    if raw is None:
        return None
    typed = raw.startswith(_WORKBOOK_START)
    if typed:
        from optimizer.inputs.workbook import workbook_rows  # noqa: PLC0415 - start-up time

        rows = workbook_rows(place.name, raw, faults)
    else:
        rows = _csv_rows(place.name, raw, faults)
    if rows is None:
        return None
    stripped = tuple(tuple(cell.strip() for cell in row) for row in rows)
    if not any(any(row) for row in stripped):
        wanted = Phrase("a list with rows")
        faults.append(Fault(place.name, None, None, EMPTY, wanted, FILE))
        return None
    return SupplierList(place.name, stripped, typed)


def _csv_rows(file: str, raw: bytes, faults: list[Fault]) -> list[list[str]] | None:
    text = decode(raw)
    if text is None:
        wanted = Phrase("text in UTF-8, UTF-16 or cp1252")
        faults.append(Fault(file, None, None, NO_TEXT, wanted, FILE))
        return None
    lines = text.splitlines()
    # titles have few marks, rows of data many: the mark that is most often at hand parts cells
    delimiter = max(";\t,", key=lambda mark: sum(min(line.count(mark), 30) for line in lines[:60]))
    try:
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error as problem:
        found = Phrase("broken quoting ({problem})", problem=str(problem))
        faults.append(Fault(file, None, None, found, QUOTES, FILE))
        return None
