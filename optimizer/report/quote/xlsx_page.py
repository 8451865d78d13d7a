"""The sheets of a quote's workbooks: grids, sentences with room for them, the sender's head."""

from __future__ import annotations

import io
import math
from datetime import datetime
from typing import TYPE_CHECKING, Final

from reportlab.lib.utils import ImageReader
from xlsxwriter import Workbook
from xlsxwriter.utility import xl_rowcol_to_cell

from optimizer.formulas.rounding import minor_units
from optimizer.report.grids.grid import is_heading, raw
from optimizer.report.sheets import AS_TEXT, SHEET_NAME, column_widths, number_format, write_grid
from optimizer.report.words import letter
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from xlsxwriter.worksheet import Worksheet

    from optimizer.quote import Quote
    from optimizer.report.grids.grid import Grid, Value

#: Sentences run over this many columns, and over so many characters at least.
_WIDE, _LEAST_WIDTH = 6, 90
#: A line of text [points], and the share of a column's characters that a wider font leaves.
_LINE_HIGH, _FONT_ROOM = 15.0, 0.85
#: Widest column, and what goes onto an upright sheet [characters].
_WIDEST, _PORTRAIT = 34.0, 110.0
_LOGO_HIGH: Final = 60.0
_COLUMN: Final = 8.43


def _lines(text: str, width: float) -> int:
    """Return the lines that a text takes in a column so many characters wide."""
    return max(1, math.ceil(len(text) / (width * _FONT_ROOM)))


class Page:
    """A sheet, and the row that is written next."""

    def __init__(self, book: Book, name: str, title: str) -> None:
        self.book, self.name = book, book.free_name(name)
        self.sheet: Worksheet = book.file.add_worksheet(self.name)
        self.sheet.set_paper(9)  # A4
        self.sheet.fit_to_pages(1, 0)
        self.sheet.hide_gridlines(2)
        self.widths: dict[int, float] = {}
        self.row = 0
        self.heading(title, book.title)
        self.row += 1

    def heading(self, text: str, how: object = None) -> None:
        """Write a heading."""
        self.sheet.write_string(self.row, 0, text, how or self.book.bold)
        self.row += 1

    def grid(self, grid: Grid, *, title: str | None = None) -> int:
        """Write a grid; return the row of its first values."""
        if title is not None:
            self.heading(title)
        first, book = self.row + 1, self.book
        self.row = write_grid(book.file, self.sheet, grid, book.write, first_row=self.row) + 1
        names = [column.heading for column in grid.columns]
        # of several tables on one sheet the widest counts
        for place, width in enumerate(column_widths(grid, book.write, names)):
            self.widths[place] = max(min(width, _WIDEST), self.widths.get(place, 0.0))
            self.sheet.set_column(place, place, self.widths[place])
        if sum(self.widths.values()) > _PORTRAIT:
            self.sheet.set_landscape()
        self._row_heights(grid, first)
        return first

    def _row_heights(self, grid: Grid, first: int) -> None:
        """Give each row the room of its longest text: not every program does so by itself."""
        for row, (cells, texts) in enumerate(
            zip(grid.rows, grid.texts(self.book.write), strict=True), start=first
        ):
            if is_heading(cells):
                self.sheet.write_string(row, 0, texts[0], self.book.bold)
                continue
            words = [
                _lines(text, self.widths[place])
                for place, text in enumerate(texts)
                if isinstance(raw(cells[place]), str | None)
            ]
            lines = max(words, default=1)  # a row may be of numbers alone
            self.sheet.set_row(row, _LINE_HIGH * lines)
        heads = max(_lines(one.heading, self.widths[n]) for n, one in enumerate(grid.columns))
        self.sheet.set_row(first - 1, _LINE_HIGH * heads)

    def formula(self, grid: Grid, first: int, row: int, key: str, formula: str) -> str:
        """Put a formula in the place of a cell's value, which is stored beside it."""
        place = next(n for n, column in enumerate(grid.columns) if column.key == key)
        cell = grid.rows[row][place]
        how = number_format(grid.columns[place], cell, self.book.write.currency)
        value: Value = raw(cell)
        self.sheet.write_formula(
            first + row,
            place,
            formula,
            self.book.format(how),
            float(value or 0),  # type: ignore[arg-type] # a number
        )
        return str(xl_rowcol_to_cell(first + row, place))

    def lines(self, lines: Sequence[str], title: str | None = None) -> None:
        """Write sentences, one below the other, each row as high as its text."""
        if not lines:
            return
        if title is not None:
            self.heading(title)
        width = sum(self.widths.get(place, _COLUMN) for place in range(_WIDE + 1))
        if width < _LEAST_WIDTH:
            self.widths[_WIDE] = _COLUMN + _LEAST_WIDTH - width
            self.sheet.set_column(_WIDE, _WIDE, self.widths[_WIDE])
            width = _LEAST_WIDTH
        for line in lines:
            self.sheet.merge_range(self.row, 0, self.row, _WIDE, "", self.book.wrapped)
            self.sheet.write_string(self.row, 0, line, self.book.wrapped)
            self.sheet.set_row(self.row, _LINE_HIGH * _lines(line, width) + 2)
            self.row += 1
        self.row += 1

    def sender(self, quote: Quote) -> None:
        """Write who makes the quote, with the logo, for whom, and the quote's own facts."""
        company, write = quote.company, self.book.write
        if company.logo is not None:
            _, high = ImageReader(io.BytesIO(company.logo)).getSize()
            scale = _LOGO_HIGH / high
            how = {
                "image_data": io.BytesIO(company.logo),
                "x_scale": scale,
                "y_scale": scale,
                "object_position": 2,
            }
            self.sheet.insert_image(self.row, 0, "logo", how)
            self.sheet.set_row(self.row, _LOGO_HIGH)
            self.row += 1
        for line in letter.sender(write, company):
            self.heading(line, self.book.plain)
        self.row += 1
        for line in [*letter.customer(write, quote), *letter.facts(write, quote)]:
            self.heading(line, self.book.plain)
        self.row += 1


class Book:
    """The workbook and its formats."""

    def __init__(self, quote: Quote) -> None:
        self.write = Writer(quote.currency, quote.company.locale)
        self.decimals = minor_units(quote.currency)
        self._buffer = io.BytesIO()
        self.file = Workbook(self._buffer, AS_TEXT)
        created = datetime(quote.day.year, quote.day.month, quote.day.day)
        title = letter.title(self.write, quote.company)
        self.file.set_properties({"title": title, "created": created})
        self.title = self.file.add_format({"bold": True, "font_size": 15})
        self.bold = self.file.add_format({"bold": True})
        self.plain = self.file.add_format()
        self.wrapped = self.file.add_format({"text_wrap": True, "valign": "top"})
        self._names: set[str] = set()

    def format(self, pattern: str) -> object:
        """Return the format of a number."""
        return self.file.add_format({"num_format": pattern, "valign": "top"})

    def free_name(self, name: str) -> str:
        """Return a sheet's name that no other has: options may be of the same hours."""
        found, count = name[:SHEET_NAME], 1
        while found.casefold() in self._names:
            count += 1
            found = f"{name[: SHEET_NAME - 4]} ({count})"
        self._names.add(found.casefold())
        return found

    def content(self) -> bytes:
        """Return the finished file."""
        self.file.close()
        return self._buffer.getvalue()
