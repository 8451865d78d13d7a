"""A quote as a workbook: sums are formulas, and their values are stored beside them."""

from __future__ import annotations

import io
from datetime import datetime
from typing import TYPE_CHECKING

from xlsxwriter import Workbook

from optimizer.formulas.rounding import minor_units
from optimizer.report.grids import circuit
from optimizer.report.grids import quote as grids
from optimizer.report.grids.grid import raw
from optimizer.report.quote.appendix_grids import appendix_grids
from optimizer.report.sheets import number_format, write_grid
from optimizer.report.words import electrical, handover
from optimizer.report.words import quote as words
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from xlsxwriter.worksheet import Worksheet

    from optimizer.quote import PricedOption, Pricing, Quote
    from optimizer.quote.lines import Sum
    from optimizer.report.grids.grid import Grid, Value

#: A spreadsheet's longest name of a sheet.
_SHEET_NAME = 31
#: Sentences run over this many columns.
_WIDE = 6


class Page:
    """A sheet, and the row that is written next."""

    def __init__(self, book: Book, name: str, title: str) -> None:
        self.book, self.name = book, name[:_SHEET_NAME]
        self.sheet: Worksheet = book.file.add_worksheet(self.name)
        self.sheet.set_paper(9)  # A4
        self.sheet.fit_to_pages(1, 0)
        self.sheet.hide_gridlines(2)
        self.sheet.write_string(0, 0, title, book.title)
        self.row = 2

    def grid(self, grid: Grid, *, title: str | None = None) -> int:
        """Write a grid; return the row of its first values."""
        if title is not None:
            self.sheet.write_string(self.row, 0, title, self.book.bold)
            self.row += 1
        first = self.row + 1
        book = self.book
        self.row = write_grid(book.file, self.sheet, grid, book.write, first_row=self.row) + 1
        return first

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
        return f"{chr(ord('A') + place)}{first + row + 1}"

    def lines(self, lines: Sequence[str]) -> None:
        """Write sentences, one below the other."""
        for line in lines:
            self.sheet.merge_range(self.row, 0, self.row, _WIDE, line, self.book.wrapped)
            self.sheet.set_row(self.row, 32)
            self.row += 1
        self.row += 1


class Book:
    """The workbook and its formats."""

    def __init__(self, quote: Quote) -> None:
        self.write = Writer(quote.job.site.currency, quote.company.locale)
        self.decimals = minor_units(quote.job.site.currency)
        self._buffer = io.BytesIO()
        # text stays text, whatever it begins with
        options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
        self.file = Workbook(self._buffer, options)
        created = datetime(quote.day.year, quote.day.month, quote.day.day)
        title = words.title(self.write, quote.company)
        self.file.set_properties({"title": title, "created": created})
        self.title = self.file.add_format({"bold": True, "font_size": 15})
        self.bold = self.file.add_format({"bold": True})
        self.wrapped = self.file.add_format({"text_wrap": True, "valign": "top"})
        self._formats: dict[str, object] = {}

    def format(self, pattern: str) -> object:
        """Return the format of a number, made once."""
        if pattern not in self._formats:
            self._formats[pattern] = self.file.add_format({"num_format": pattern, "valign": "top"})
        return self._formats[pattern]

    def content(self) -> bytes:
        """Return the finished file."""
        self.file.close()
        return self._buffer.getvalue()


def as_xlsx(quote: Quote) -> bytes:
    """Return a quote as a workbook for the customer."""
    book = Book(quote)
    write = book.write
    overview = Page(book, write.say("Options"), words.title(write, quote.company))
    totals = [_price(book, quote, option) for option in quote.options]
    for option in quote.options:
        _electrical(book, quote, option)
    for option in quote.options:
        _handover(book, quote, option)
    if quote.appendix is not None:
        for name, grid in appendix_grids(write, quote.appendix):
            page = Page(book, name, grid.title)
            page.grid(grid)
            page.lines(grid.notes)
    _overview(overview, quote, totals)
    return book.content()


def installer_xlsx(quote: Quote) -> bytes:
    """Return the installer's own workbook: what each line costs, brings and leaves."""
    book = Book(quote)
    for option in quote.options:
        grid = grids.margins(book.write, option)
        page = Page(book, _name(book.write.say("Margin"), option), grid.title)
        first = page.grid(grid)
        for row in range(len(grid.rows)):
            at = first + row + 1
            page.formula(grid, first, row, "cost", f"=ROUND(E{at}*F{at},{book.decimals})")
            page.formula(grid, first, row, "margin", f"=H{at}-G{at}")
            page.formula(grid, first, row, "margin_share", f"=IF(H{at}=0,0,I{at}/H{at})")
    return book.content()


def _overview(page: Page, quote: Quote, totals: Sequence[str]) -> None:
    write = page.book.write
    page.lines([words.addressed(write, quote), words.validity(write, quote)])
    grid = grids.options(write, quote)
    first = page.grid(grid)
    for place, total in enumerate(totals, start=1):
        page.formula(grid, first, 1, f"option_{place}", total)
    for heading, lines in (
        (write.say("Notes"), [words.left_out(write, one) for one in quote.left_out]),
        (write.say("Not included"), words.not_included(write, quote)),
        (write.say("Terms"), list(quote.company.terms)),
    ):
        if lines:
            page.sheet.write_string(page.row, 0, heading, page.book.bold)
            page.row += 1
            page.lines(lines)


def _price(book: Book, quote: Quote, priced: PricedOption) -> str:
    """Write one option's money; return the formula that points at its total."""
    write, option, pricing = book.write, priced.option, priced.pricing
    page = Page(book, _name(write.say("Price"), priced), words.option_name(write, option.design))
    total = _sums(page, pricing, pricing.first)
    if pricing.plan:
        _plan(page, pricing, total)
    for run in pricing.replacement_runs:
        when, first = words.replacement_time(write, quote.day, run), run[0]
        title = write.say(
            "Replacement, {when}, at today's prices: {item}", when=when, item=first.item
        )
        _sums(page, pricing, first.sum, title)
    old = [words.old_price(write, item, day) for item, day in priced.old_prices]
    page.lines([words.why(write, option), words.rounding(write, pricing), *old])
    return f"='{page.name}'!{total}"


def _sums(page: Page, pricing: Pricing, found: Sum, title: str | None = None) -> str:
    """Write lines and their sums as formulas; return the cell of the total."""
    grid = grids.price(page.book.write, pricing, found)
    first, decimals = page.grid(grid, title=title), page.book.decimals
    lines = [row for row, cells in enumerate(grid.rows) if cells[1] is not None]
    for row in lines:
        at = first + row + 1
        page.formula(grid, first, row, "amount", f"=ROUND(B{at}*D{at},{decimals})")
    row = lines[-1] + 1
    net = page.formula(grid, first, row, "amount", f"=SUM(E{first + 1}:E{first + row})")
    if found.markup:
        row += 1
        rate = f"D{first + row + 1}"
        markup = page.formula(grid, first, row, "amount", f"=ROUND({net}*{rate},{decimals})")
        net = f"{net}+{markup}"
    rate = f"D{first + row + 2}"
    tax = page.formula(grid, first, row + 1, "amount", f"=ROUND(({net})*{rate},{decimals})")
    return page.formula(grid, first, row + 2, "amount", f"={net}+{tax}")


def _plan(page: Page, pricing: Pricing, total: str) -> None:
    grid = grids.plan(page.book.write, pricing)
    first = page.grid(grid, title=grid.title)
    last = len(grid.rows) - 1
    for row in range(last):
        share = f"{total}*B{first + row + 1}"
        page.formula(grid, first, row, "amount", f"=ROUND({share},{page.book.decimals})")
    # the last takes what rounding leaves
    rest = f"-SUM(C{first + 1}:C{first + last})" if last else ""
    page.formula(grid, first, last, "amount", f"={total}{rest}")


def _electrical(book: Book, quote: Quote, option: PricedOption) -> None:
    write, sheet = book.write, option.sheet
    grid = circuit.figures(write, sheet)
    page = Page(book, _name(write.say("Electrical"), option), grid.title)
    page.grid(grid)
    for one in (circuit.circuit(write, sheet.circuit), circuit.currents(write, sheet)):
        page.grid(one, title=one.title)
    notes = electrical.room_notes(write, option.option.design)
    told = electrical.cautions(write, quote.job.critical_loads)
    page.lines([notes[one] for one in sheet.room_notes])
    page.lines([told[one] for one in sheet.cautions])


def _handover(book: Book, quote: Quote, option: PricedOption) -> None:
    write, found = book.write, option.handover
    name = words.option_name(write, option.option.design)
    title = write.say("Handover: {name}", name=name)
    page = Page(book, _name(write.say("Handover"), option), title)
    for grid in (grids.kept(write, quote, found), grids.seasons(write, found)):
        page.grid(grid, title=grid.title)
    page.lines([*handover.hours(write, found, quote.job), handover.outage_energy(write, found)])
    page.lines(handover.test_steps(write, found))
    grid = grids.parts(write, found)
    first = page.grid(grid, title=grid.title)
    last = len(grid.rows) - 1
    for row, part in enumerate(found.parts):
        months = part.after_months
        formula = f"=ROUND(C{first + row + 1}/{months},{book.decimals})"
        page.formula(grid, first, row, "monthly", formula)
    page.formula(grid, first, last, "monthly", f"=SUM(D{first + 1}:D{first + last})")


def _name(what: str, option: PricedOption) -> str:
    return f"{what} {option.option.design.hours} h"
