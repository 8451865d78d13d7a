"""A supplier's list → rows of text as they come, titles and all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.errors import Fault
from optimizer.files.reading import read_bytes
from optimizer.inputs.faults import FILE
from optimizer.inputs.tables import EMPTY, WORKBOOK_START, text_rows
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from optimizer.files.place import Place


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
    rows = None if raw is None else text_rows(place.name, raw, faults, _commonest_mark)
    if raw is None or rows is None:
        return None
    stripped = tuple(tuple(cell.strip() for cell in row) for row in rows)
    if not any(any(row) for row in stripped):
        faults.append(Fault(place.name, None, None, EMPTY, Phrase("a list with rows"), FILE))
        return None
    return SupplierList(place.name, stripped, raw.startswith(WORKBOOK_START))


def _commonest_mark(text: str) -> str:
    """Return what parts the cells: titles have few marks, rows of data many."""
    lines = text.splitlines()[:60]
    return max(";\t,", key=lambda mark: sum(min(line.count(mark), 30) for line in lines))
