"""The pages of the household's paper: offer, a price page an option, terms, handover sheets."""

import io
from collections.abc import Iterator, Sequence
from functools import partial

from reportlab.platypus import Flowable, Image, KeepTogether, PageBreak, Spacer, Table

from optimizer.quote import PricedOption, Quote
from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.grids import quote as grids
from optimizer.report.grids.grid import Column, Grid
from optimizer.report.grids.record_of_tests import BLANK
from optimizer.report.quote import pdf_style as look
from optimizer.report.quote.pdf_appendix import appendix
from optimizer.report.quote.pdf_document import Paper, quote_pdf
from optimizer.report.quote.pdf_fonts import REGULAR
from optimizer.report.quote.pdf_style import bulleted, numbered, say
from optimizer.report.words import handover, letter, quote_lines
from optimizer.report.words import quote as words

_LOGO_MOST = (150.0, 52.0)
#: Height of the curve's plot, and of a line of the log [points].
_CURVE_HIGH, _LOG_HIGH = 118.0, 16.0
_LOG_LINES = 4


def household_pdf(quote: Quote) -> bytes:
    """Return the household's paper."""
    return quote_pdf(quote, _story)


def _story(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    """Yield what the household's paper holds, in order."""
    offer, curve = [*_offer(quote, paper)], [*_curve(quote, paper)]
    if paper.fits([*offer, *curve]):
        offer, curve = [*offer, *curve], []
    yield from offer
    for option in quote.options:
        yield PageBreak()
        yield from paper.on_one_page(partial(_price_page, quote, option))
    yield PageBreak()
    yield from _terms(quote, paper, curve)
    for option in quote.options:
        yield PageBreak()
        yield from paper.on_one_page(partial(_handover, quote, option))
    if quote.appendix is not None:
        yield from appendix(quote, quote.appendix, paper)


def section(title: str, *below: Flowable) -> Flowable:
    """Return a heading with what stands below it, on one page."""
    return KeepTogether([say(title, look.SECTION), *below])


def _offer(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    site, write = quote.job.site, paper.write
    yield from letterhead(quote, paper)
    title = letter.title(write, quote.company)
    yield say(write.say("{title}: power through outages", title=title), look.TITLE)
    for text in letter.cover(write, quote):
        yield say(text, look.LEAD_IN)
    yield paper.table(grids.options(write, quote), soft=frozenset({"question"}), has_names=True)
    yield say(words.cost_note(write, site.discount_rate), look.NOTE)
    for text in words.beside(write, quote):
        yield say(text, look.NOTE)
    if quote.appendix is not None:
        yield say(
            write.say(
                "The appendix at the end sets the kinds of battery against each other and shows "
                "what would change the answer."
            ),
            look.NOTE,
        )


def _curve(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    """Yield the curve with its note: below the offer, or where that leaves it no room, later."""
    write = paper.write
    chosen = [option.design for option in quote.options]
    target = quote.job.site.target_hours
    picture = CurvePicture(quote.curve, {}, target_hours=target, chosen=chosen)
    yield say(write.say("What more hours cost"), look.SECTION)
    yield paper.chart(curve_chart(picture, paper.canvas(_CURVE_HIGH)))
    yield say(words.curve_note(write), look.NOTE)


def letterhead(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    """Yield the head of a paper: the sender, logo and the quote's own facts, and for whom it is."""
    company, write = quote.company, paper.write
    name, *lines = letter.sender(write, company) or [""]
    sender = [say(name, look.STRONG_CELL if company.name else look.SMALL_SOFT)]
    sender += [say(line, look.SMALL_SOFT) for line in lines]
    right: list[Flowable] = [say(fact, look.CELL) for fact in letter.facts(write, quote)]
    if company.logo is not None:
        logo = io.BytesIO(company.logo)
        picture = Image(logo, *_LOGO_MOST, kind="proportional", hAlign="LEFT")
        right = [picture, Spacer(0, 6), *right]
    style = [
        ("FONT", (0, 0), (-1, -1), REGULAR, look.SMALL),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 0),
    ]
    yield Table([[sender, right]], colWidths=[paper.width - 170, 170], style=style)
    yield Spacer(0, 12)
    customer, *lines = letter.customer(write, quote)
    yield say(customer, look.STRONG_CELL)
    yield from (say(line, look.CELL) for line in lines)
    yield Spacer(0, 8)


def _price_page(quote: Quote, option: PricedOption, paper: Paper) -> Iterator[Flowable]:
    write, pricing = paper.write, option.pricing
    years = quote.job.site.horizon_years
    yield say(words.option_name(write, option.design), look.TITLE)
    yield say(f"{words.why(write, option)}. {words.summary(write, option, years)}", look.BODY)
    yield say(words.simulation(write, option.verdict), look.LEAD_IN)
    yield paper.table(grids.price(write, pricing.first))
    yield say(quote_lines.rounding(write), look.NOTE)
    warranties = quote_lines.warranties(write, pricing)
    if warranties:
        yield say(warranties, look.BODY)
    for old in option.old_prices:
        yield say(quote_lines.old_price(write, old), look.BODY)
    if pricing.plan:
        plan = grids.plan(write, pricing)
        yield say(plan.title, look.SECTION)
        yield paper.table(plan)
    later = grids.replacements(write, quote, pricing)
    if pricing.replacements:
        yield say(later.title, look.SECTION)
        yield paper.table(later)
    else:
        yield say(write.say("Replacements"), look.SECTION)
        text = write.say(
            "Nothing within {years:years}, by the service lives reckoned with.", years=years
        )
        yield say(text, look.BODY)


def _terms(quote: Quote, paper: Paper, curve: Sequence[Flowable]) -> Iterator[Flowable]:
    write, nbsp = paper.write, "\N{NO-BREAK SPACE}"
    yield say(write.say("What is not included, and the terms"), look.TITLE)
    yield say(write.say("Not included"), look.SECTION)
    yield from bulleted(letter.not_included(write, quote))
    yield say(write.say("Terms"), look.SECTION)
    yield from bulleted(letter.terms(write, quote))
    yield say(write.say("What the hours mean"), look.SECTION)
    yield say(letter.what_hours_mean(write), look.BODY)
    yield from curve
    yield Spacer(0, 18)
    names = [words.option_name(write, one.design) for one in quote.options]
    boxes = (nbsp * 6 + " ").join(f"☐ {name}".replace(" ", nbsp) for name in names)
    sides = [
        write.say("Place, date, customer"),
        write.say("Place, date, {company}", company=quote.company.name or write.say("company")),
    ]
    gap = 24.0
    wide = (paper.width - gap) / 2
    signatures = Table(
        [["", "", ""], [say(sides[0], look.SMALL_SOFT), "", say(sides[1], look.SMALL_SOFT)]],
        colWidths=[wide, gap, wide],
        rowHeights=[38.0, None],
        style=[
            ("FONT", (0, 0), (-1, -1), REGULAR, look.SMALL),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("LINEABOVE", (0, 1), (0, 1), 0.7, look.INK),
            ("LINEABOVE", (2, 1), (2, 1), 0.7, look.INK),
        ],
        hAlign="LEFT",
    )
    order = say(f"{write.say('We order:')} {boxes}", look.BODY)
    yield section(write.say("Order"), order, signatures)


def _handover(quote: Quote, option: PricedOption, paper: Paper) -> Iterator[Flowable]:
    """Yield the sheet by the fuse board."""
    write, found = paper.write, option.handover
    name = words.option_name(write, option.design)
    yield say(write.say("Handover: {name}", name=name), look.TITLE)
    yield say(write.say("For whoever lives with it: keep this sheet by the fuse board."), look.BODY)
    yield from bulleted(handover.hazards(write, found, quote.company.telephone))
    yield say(write.say("What stays on"), look.SECTION)
    yield from (say(text, look.TIGHT) for text in handover.stays(write, found))
    seasons, parts = grids.seasons(write, found), grids.parts(write, found)
    yield say(seasons.title, look.SECTION)
    yield paper.table(seasons, is_small=True)
    yield from (say(text, look.TIGHT) for text in handover.hours(write, found, quote.job))
    if found.has_monitor:
        yield say(write.say("What one outage may take"), look.SECTION)
        yield say(handover.outage_energy(write, found), look.TIGHT)
    yield say(write.say("Shutdown and bypass"), look.SECTION)
    yield from bulleted(handover.switching(write))
    yield say(write.say("The check, once a year"), look.SECTION)
    yield from numbered(handover.test_steps(write, found))
    yield say(parts.title, look.SECTION)
    yield paper.table(parts, is_small=True)
    yield from (say(note, look.NOTE) for note in parts.notes)
    yield say(write.say("Log of checks"), look.SECTION)
    yield _log(paper, has_monitor=found.has_monitor)


def _log(paper: Paper, *, has_monitor: bool) -> Flowable:
    """Return an empty log for the yearly checks; readings only where there is a meter."""
    write = paper.write
    heads = [write.say("Date"), write.say("All stayed on"), write.say("RCD tripped")]
    if has_monitor:
        heads += [
            write.say("Meter before"),
            write.say("Meter after"),
            write.say("Charge before, %"),
            write.say("Charge after, %"),
        ]
    heads.append(write.say("Signed"))
    columns = [Column(f"log_{place}", head) for place, head in enumerate(heads)]
    empty = [[BLANK] * len(heads) for _ in range(_LOG_LINES)]
    return paper.table(Grid("log", "", columns, empty), is_small=True, row_high=_LOG_HIGH)
