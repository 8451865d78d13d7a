"""A quote as workbooks: sums are formulas, and their values are stored beside them."""

from collections.abc import Sequence

from optimizer.quote import PricedOption, Pricing, Quote
from optimizer.quote.sums import Sum
from optimizer.report.grids import circuit, record_of_tests
from optimizer.report.grids import quote as grids
from optimizer.report.quote.appendix_grids import appendix_grids
from optimizer.report.quote.xlsx_page import Book, Page
from optimizer.report.quote.xlsx_sums import write_sums
from optimizer.report.words import appendix, electrical, handover, letter, quote_lines
from optimizer.report.words import quote as words


def household_xlsx(quote: Quote) -> bytes:
    """Return a quote as a workbook for the household."""
    book = Book(quote)
    write = book.write
    overview = Page(book, write.say("Options"), letter.title(write, quote.company))
    totals = [_price(book, quote, option) for option in quote.options]
    for option in quote.options:
        _handover(book, quote, option)
    if quote.appendix is not None:
        told = appendix.beside_the_offer(write, quote)
        for name, grid in appendix_grids(write, quote.appendix):
            page = Page(book, name, grid.title)
            page.grid(grid)
            page.lines([*grid.notes, *told])
            told = []
    _overview(overview, quote, totals)
    return book.content()


def electrician_xlsx(quote: Quote) -> bytes:
    """Return the workbook for whoever connects it: circuit, settings, record of tests."""
    book = Book(quote)
    for option in quote.options:
        _electrical(book, quote, option)
        _tests(book, option)
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
    page.sender(quote)
    grid = grids.options(write, quote)
    first = page.grid(grid)
    for place, total in enumerate(totals, start=1):
        page.formula(grid, first, 1, f"option_{place}", total)
    page.lines(letter.cover(write, quote))
    for heading, lines in (
        (write.say("Notes"), list(words.beside(write, quote))),
        (write.say("Not included"), letter.not_included(write, quote)),
        (write.say("Terms"), letter.terms(write, quote)),
    ):
        page.lines(lines, heading)


def _price(book: Book, quote: Quote, option: PricedOption) -> str:
    """Write one option's money; return the formula that points at its total."""
    write, pricing = book.write, option.pricing
    page = Page(book, _name(write.say("Price"), option), words.option_name(write, option.design))
    total = _sums(page, pricing.first)
    if pricing.plan:
        _plan(page, pricing, total)
    for run in pricing.replacement_runs:
        when, first = quote_lines.replacement_time(write, quote.day, run), run[0]
        title = write.say(
            "Replacement, {when}, at today's prices: {item}", when=when, item=first.item
        )
        _sums(page, first.sum, title)
    old = [quote_lines.old_price(write, one) for one in option.old_prices]
    said = [
        words.why(write, option),
        quote_lines.warranties(write, pricing),
        quote_lines.rounding(write),
    ]
    page.lines([*filter(None, said), *old])
    return f"='{page.name}'!{total}"


def _sums(page: Page, found: Sum, title: str | None = None) -> str:
    """Write lines and their sums as formulas; return the cell of the total."""
    grid = grids.price(page.book.write, found)
    first = page.grid(grid, title=title)
    return write_sums(page, grid, first, found)


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
        page.lines(one.notes)
    notes = electrical.room_notes(write, option.design)
    told = electrical.cautions(write, quote.job.critical_loads)
    page.lines([notes[one] for one in sheet.room_notes])
    page.lines([told[one] for one in sheet.cautions])


def _tests(book: Book, option: PricedOption) -> None:
    write, design = book.write, option.design
    title = write.say("Test record: {name}", name=words.option_name(write, design))
    page = Page(book, _name(write.say("Tests"), option), title)
    for grid in (record_of_tests.tests(write, design), record_of_tests.serials(write, design)):
        page.grid(grid, title=grid.title)
        page.lines(grid.notes)


def _handover(book: Book, quote: Quote, option: PricedOption) -> None:
    write, found = book.write, option.handover
    name = words.option_name(write, option.design)
    title = write.say("Handover: {name}", name=name)
    page = Page(book, _name(write.say("Handover"), option), title)
    page.lines(handover.hazards(write, found, quote.company.telephone))
    for grid in (grids.kept(write, quote, found), grids.seasons(write, found)):
        page.grid(grid, title=grid.title)
    page.lines(handover.hours(write, found, quote.job))
    if found.has_monitor:
        page.lines([handover.outage_energy(write, found)], write.say("What one outage may take"))
    page.lines(handover.switching(write), write.say("Shutdown and bypass"))
    page.lines([*handover.test_steps(write, found)], write.say("The check, once a year"))
    grid = grids.parts(write, found)
    first = page.grid(grid, title=grid.title)
    last = len(grid.rows) - 1
    for row, part in enumerate(found.parts):
        months = part.after_months
        formula = f"=ROUND(C{first + row + 1}/{months},{book.decimals})"
        page.formula(grid, first, row, "monthly", formula)
    page.formula(grid, first, last, "monthly", f"=SUM(D{first + 1}:D{first + last})")


def _name(what: str, option: PricedOption) -> str:
    return f"{what} {option.design.hours} h"
