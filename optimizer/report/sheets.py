"""Grids as sheets of a workbook: numbers as numbers, each in its column's format."""

import io
from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from optimizer.formulas.rounding import minor_units
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Value, is_heading, raw
from optimizer.report.words.writer import Writer

#: How a workbook is made: text stays text, whatever it begins with.
AS_TEXT: Final = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
#: A spreadsheet's longest name of a sheet.
SHEET_NAME: Final = 31
#: Widest column, in characters.
_WIDEST: Final = 60
#: The format of texts.
_PLAIN: Final = "General"
#: The formats of kinds that need no decimals told.
_PATTERNS: Final = {
    Kind.TEXT: _PLAIN,
    Kind.YES_NO: _PLAIN,
    Kind.DATE: "yyyy-mm-dd",
    Kind.FIGURE: "#,##0.###",
    Kind.PRICE: "#,##0.00###",
}


def as_xlsx(grids: Sequence[Grid], writer: Writer) -> bytes:
    """Return grids as a workbook, one sheet each, under the columns' keys."""
    buffer = io.BytesIO()
    book = Workbook(buffer, AS_TEXT)
    for grid in grids:
        sheet = book.add_worksheet(grid.key[:SHEET_NAME])
        write_grid(book, sheet, grid, writer, headings=[one.key for one in grid.columns])
        sheet.freeze_panes(1, 0)
    book.close()
    return buffer.getvalue()


def write_grid(
    book: Workbook,
    sheet: Worksheet,
    grid: Grid,
    writer: Writer,
    *,
    first_row: int = 0,
    headings: Sequence[str] | None = None,
) -> int:
    """Write a grid from a row of a sheet on; return the row after its last."""
    bold = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    names = headings or [column.heading for column in grid.columns]
    for place, name in enumerate(names):
        sheet.write_string(first_row, place, name, bold)
    formats: dict[str, object] = {}
    widths = column_widths(grid, writer, names)
    for place, column in enumerate(grid.columns):
        sheet.set_column(place, place, widths[place])
        for number, row in enumerate(grid.rows, start=first_row + 1):
            pattern = number_format(column, row[place], writer.currency)
            if pattern not in formats:
                look = {"num_format": pattern, "valign": "top", "text_wrap": pattern == _PLAIN}
                formats[pattern] = book.add_format(look)
            value, how = raw(row[place]), formats[pattern]
            if isinstance(value, str):  # never a formula, whatever it begins with
                sheet.write_string(number, place, value, how)
            elif value is not None:
                sheet.write(
                    number, place, float(value) if isinstance(value, Decimal) else value, how
                )
    return first_row + 1 + len(grid.rows)


def column_widths(grid: Grid, writer: Writer, names: Sequence[str]) -> list[int]:
    """Return how wide a grid's columns are, in characters; headings of rows below do not count."""
    texts = [
        text for row, text in zip(grid.rows, grid.texts(writer), strict=True) if not is_heading(row)
    ]
    return [
        min(_WIDEST, max(len(name), *(len(row[place]) for row in texts), 0) + 2)
        for place, name in enumerate(names)
    ]


def number_format(column: Column, cell: Value | Cell, currency: str) -> str:
    """Return how a spreadsheet writes a cell."""
    one = column.cell(cell)
    if one.kind in _PATTERNS:
        return _PATTERNS[one.kind]
    places = minor_units(currency) if one.kind in {Kind.CENTS, Kind.MONEY} else one.decimals or 0
    if one.kind is Kind.HOURS and one.decimals is None:
        return "#,##0.#"
    number = "0" if one.kind is Kind.SHARE else "#,##0"
    decimals = "." + "0" * places if places else ""
    return number + decimals + ("%" if one.kind is Kind.SHARE else "")
