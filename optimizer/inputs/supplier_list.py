"""A supplier's list → rows of text as they come, titles and all."""

import io
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import chain, islice
from pathlib import Path
from typing import Final

from optimizer.errors import Fault, InputError
from optimizer.files.place import Place
from optimizer.files.reading import read_bytes, unreadable
from optimizer.inputs.cells import WrittenNumber
from optimizer.inputs.faults import UNKNOWN, one_of, shown
from optimizer.inputs.tables import EMPTY, WORKBOOK_START, text_rows
from optimizer.model.phrase import Phrase

#: Rows in which column names are looked for, and how much of the fullest row they fill.
_LOOKED_AT: Final = 40
_NEARLY_FULL: Final = 0.7
_FULL: Final = 0.8


@dataclass(frozen=True, slots=True)
class SupplierList:
    """The rows of a list, cells stripped; a workbook's own numbers are `WrittenNumber`.

    ``sheet`` is the workbook's sheet that was read, ``sheets`` are all of them.
    """

    file: str
    rows: tuple[tuple[str, ...], ...]
    sheet: str | None = None
    sheets: tuple[str, ...] = ()

    def heading_row(self, given: int | None) -> int:
        """Return the row of the column names, from 1: as given, else the first full one of words.

        Cells of rows of data begin with digits, names do not; without such a row the first of the
        fullest is taken.
        """
        if given is not None:
            return given
        filled = [sum(map(bool, row)) for row in self.rows[:_LOOKED_AT]]
        most = max(filled, default=0)
        named = (
            place
            for place, row in enumerate(self.rows[:_LOOKED_AT], 1)
            if filled[place - 1] >= _NEARLY_FULL * most and _holds_names(row)
        )
        full = (place for place, count in enumerate(filled, 1) if count >= _FULL * most)
        return next(named, None) or next(full)

    def heading_rows(self, given: int | None) -> int:
        """Return over how many rows the column names seem to stand.

        Two where the row below holds names under blank cells, as below merged ones, or units in
        brackets.
        """
        first = self.heading_row(given)
        upper = self.rows[first - 1] if first <= len(self.rows) else ()
        lower = self.rows[first] if first < len(self.rows) else ()
        below = [cell for name, cell in zip(upper, lower, strict=False) if cell and not name]
        units = [cell for cell in lower if cell.startswith(("(", "["))]
        return 2 if (below or units) and _holds_names(lower) else 1

    def headings(self, given: int | None = None, rows: int = 1) -> tuple[str, ...]:
        """Return the column names; those in several rows joined, line breaks inside as spaces.

        A name above several columns, as merged cells hold it, is told of each that has a name of
        its own below it. Names that stand twice have their column's letters behind them.
        """
        upper, *lower = self._heading_rows(given, rows)
        joined = list(upper)
        for row in lower:
            above = ""
            for place, name in enumerate(row):
                above = joined[place] or (above if name else "")
                joined[place] = f"{above} {name}".strip()
        doubled = {name for name in joined if name and joined.count(name) > 1}
        if not doubled:
            return tuple(joined)
        from xlsxwriter.utility import xl_col_to_name  # noqa: PLC0415 - start-up time

        return tuple(
            f"{name} [{xl_col_to_name(place)}]" if name in doubled else name
            for place, name in enumerate(joined)
        )

    def lower_names(self, given: int | None, rows: int) -> dict[str, int]:
        """Return the names of the last row of several by their places, each that stands once."""
        last = self._heading_rows(given, rows)[-1]
        return {name: place for place, name in enumerate(last) if name and last.count(name) == 1}

    def _heading_rows(self, given: int | None, rows: int) -> list[list[str]]:
        first = self.heading_row(given) - 1
        width = max(map(len, self.rows), default=0)
        found = self.rows[first : first + rows] or ((),)
        return [
            [" ".join(cell.split()) for cell in row] + [""] * (width - len(row)) for row in found
        ]


def repeats(row: Sequence[str], headings: Sequence[str]) -> bool:
    """Tell whether a row holds the column names once more, as pages after the first have them."""
    filled = [(name, " ".join(cell.split())) for name, cell in zip(headings, row, strict=False)]
    held = [cell in name for name, cell in filled if cell]
    return len(held) > 1 and all(held)


def cell_at(row: Sequence[str], place: int) -> str:
    """Return a row's cell in a column; nothing where the row ends before it."""
    return row[place] if place < len(row) else ""


def _holds_names(row: tuple[str, ...]) -> bool:
    return not any(cell[:1].isdigit() for cell in row)


def read_list(path: str | Place, sheet: str | None = None) -> SupplierList:
    """Return a supplier's list as it comes, a workbook's first sheet where none is named.

    InputError where it cannot be read at all.
    """
    place = Path(path) if isinstance(path, str) else path
    raw = read_bytes(place, Phrase("a supplier's list, CSV or XLSX"))
    sheets: tuple[str, ...] = ()
    if raw.startswith(WORKBOOK_START):
        from optimizer.inputs.workbook import sheet_names, workbook_rows  # noqa: PLC0415 - start-up time

        sheets = sheet_names(raw)
        if sheet is not None and sheet not in sheets:
            wanted = one_of("a sheet of the workbook", sheet, sheets)
            fault = Fault(place.name, None, "list.sheet", shown(sheet), wanted, UNKNOWN)
            raise InputError([fault])
        rows = workbook_rows(place.name, raw, sheet, as_shown=True)
        sheet = sheet or next(iter(sheets), None)
    else:
        rows, sheet = text_rows(place.name, raw, _commonest_mark), None
    stripped = tuple(
        tuple(cell if isinstance(cell, WrittenNumber) else cell.strip() for cell in row)
        for row in rows
    )
    if not any(any(row) for row in stripped):
        raise unreadable(place.name, EMPTY, Phrase("a list with rows"))
    return SupplierList(place.name, stripped, sheet, sheets)


def read_fullest(path: str | Place) -> SupplierList:
    """Return a list as `read_list`, of a workbook its fullest sheet: covers are left aside."""
    first = read_list(path)
    others = []
    for sheet in first.sheets[1:]:
        with suppress(InputError):  # an empty one
            others.append(read_list(path, sheet))
    return max([first, *others], key=lambda one: sum(map(bool, chain.from_iterable(one.rows))))


def _commonest_mark(text: str) -> str:
    """Return what parts the cells: titles have few marks, rows of data many."""
    lines = list(islice(io.StringIO(text), 60))
    return max(";\t,", key=lambda mark: sum(min(line.count(mark), 30) for line in lines))
