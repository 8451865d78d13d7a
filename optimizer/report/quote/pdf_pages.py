"""The pages of a quote: offer, one price page an option, terms, and the sheets of each option."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from reportlab.lib.utils import ImageReader
from reportlab.platypus import Image, KeepTogether, PageBreak, Spacer, Table

from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.grids import circuit
from optimizer.report.grids import quote as grids
from optimizer.report.grids.grid import Column, Grid
from optimizer.report.quote.pdf_appendix import appendix
from optimizer.report.quote.pdf_layout import LayoutDrawing
from optimizer.report.quote.pdf_style import (
    BODY,
    CELL,
    LEAD_IN,
    NOTE,
    REGULAR,
    SECTION,
    SMALL,
    SMALL_SOFT,
    STRONG_CELL,
    TITLE,
    bulleted,
    numbered,
    say,
)
from optimizer.report.words import electrical, handover
from optimizer.report.words import quote as words
from optimizer.report.words.design import inverter_set

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from typing import TypeVar

    from reportlab.platypus import Flowable

    from optimizer.quote import PricedOption, Quote
    from optimizer.report.quote.pdf_paper import Paper
    from optimizer.report.words.writer import Writer

    T = TypeVar("T")

_LOGO_MOST = (150.0, 52.0)
#: Height of the curve's plot, and of a line of the log [points].
_CURVE_HIGH, _LOG_HIGH = 150.0, 24.0
_LOG_LINES = 10


def story(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    """Yield everything the document holds, in order.

    Parameters
    ----------
    quote : Quote
        What is offered.
    paper : Paper
        What it is made with.
    """
    yield from _offer(quote, paper)
    for option in quote.options:
        yield PageBreak()
        yield from _price_page(quote, option, paper)
    yield PageBreak()
    yield from _terms(quote, paper)
    yield PageBreak()
    yield from _cautions(quote, paper.write)
    for option in quote.options:
        yield PageBreak()
        yield from _electrical(option, paper)
    for option in quote.options:
        yield PageBreak()
        yield from _handover(quote, option, paper)
    if quote.appendix is not None:
        yield from appendix(quote.appendix, paper)


def _section(title: str, *below: Flowable) -> Flowable:
    """Return a heading with what stands below it, on one page."""
    return KeepTogether([say(title, SECTION), *below])


def _offer(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    site, write = quote.job.site, paper.write
    heading = write.say("{title}: power through outages", title=words.title(write, quote.company))
    yield _letterhead(quote, paper)
    yield Spacer(0, 14)
    yield say(heading, TITLE)
    yield say(words.addressed(write, quote), BODY)
    yield Spacer(0, 4)
    yield say(words.opening(write, quote), LEAD_IN)
    yield paper.table(grids.options(write, quote), soft=frozenset({"question"}), has_names=True)
    yield say(words.cost_note(write, site.discount_rate), NOTE)
    chosen = [option.option.design for option in quote.options]
    picture = CurvePicture(quote.curve, {}, target_hours=site.target_hours, chosen=chosen)
    chart = paper.chart(curve_chart(picture, paper.canvas(_CURVE_HIGH)))
    yield _section(write.say("What more hours cost"), chart, say(words.curve_note(write), NOTE))
    for one in quote.left_out:
        yield say(words.left_out(write, one), NOTE)
    if quote.appendix is not None:
        yield say(
            write.say(
                "The appendix at the end sets the kinds of battery against each other and shows "
                "what would change the answer."
            ),
            NOTE,
        )


def _letterhead(quote: Quote, paper: Paper) -> Flowable:
    company, write = quote.company, paper.write
    sender = [say(company.name, STRONG_CELL)] if company.name else []
    lines = [*company.address, *company.contact, company.registration]
    sender += [say(line, SMALL_SOFT) for line in lines if line]
    facts = [
        write.say("Date: {day:date}", day=quote.day),
        write.say("Valid until: {day:date}", day=quote.valid_until),
    ]
    if company.number:
        facts.insert(0, write.say("Number: {number}", number=company.number))
    right: list[Flowable] = [say(fact, CELL) for fact in facts]
    if company.logo is not None:
        wide, high = ImageReader(io.BytesIO(company.logo)).getSize()
        scale = min(_LOGO_MOST[0] / wide, _LOGO_MOST[1] / high)
        logo = Image(io.BytesIO(company.logo), wide * scale, high * scale, hAlign="LEFT")
        right = [logo, Spacer(0, 6), *right]
    style = [
        ("FONT", (0, 0), (-1, -1), REGULAR, SMALL),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 0),
    ]
    return Table([[sender, right]], colWidths=[paper.width - 170, 170], style=style)


def _price_page(quote: Quote, priced: PricedOption, paper: Paper) -> Iterator[Flowable]:
    write, option, pricing = paper.write, priced.option, priced.pricing
    years = quote.job.site.horizon_years
    yield say(words.option_name(write, option.design), TITLE)
    yield say(f"{words.why(write, option)}. {words.summary(write, priced, years)}", BODY)
    yield say(words.simulation(write, option.verdict), LEAD_IN)
    yield paper.table(grids.price(write, pricing, pricing.first))
    yield say(words.rounding(write, pricing), NOTE)
    for item, day in priced.old_prices:
        yield say(words.old_price(write, item, day), BODY)
    if pricing.plan:
        plan = grids.plan(write, pricing)
        yield _section(plan.title, paper.table(plan))
    later = grids.replacements(write, quote, pricing)
    if pricing.replacements:
        yield _section(later.title, paper.table(later))
    else:
        text = write.say(
            "Nothing within {years:years}, by the service lives reckoned with.", years=years
        )
        yield _section(write.say("Replacements"), say(text, BODY))


def _terms(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    write, nbsp = paper.write, "\N{NO-BREAK SPACE}"
    yield say(write.say("What is not included, and the terms"), TITLE)
    yield say(write.say("Not included"), SECTION)
    yield from bulleted(words.not_included(write, quote))
    yield say(write.say("Terms"), SECTION)
    yield from bulleted([words.validity(write, quote), *quote.company.terms])
    yield say(write.say("What the hours mean"), SECTION)
    yield say(words.what_hours_mean(write), BODY)
    yield Spacer(0, 18)
    names = [words.option_name(write, one.option.design) for one in quote.options]
    boxes = (nbsp * 6 + " ").join(f"☐ {name}".replace(" ", nbsp) for name in names)
    line = "_" * 38
    sides = [
        write.say("Place, date, customer"),
        write.say("Place, date, {company}", company=quote.company.name or write.say("company")),
    ]
    signatures = Table(
        [[line, line], [say(side, SMALL_SOFT) for side in sides]],
        colWidths=[paper.width / 2, paper.width / 2],
        style=[
            ("FONT", (0, 0), (-1, -1), REGULAR, SMALL),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 1), (-1, 1), 0),
        ],
        hAlign="LEFT",
    )
    order = say(f"{write.say('We order:')} {boxes}", BODY)
    yield _section(write.say("Order"), order, Spacer(0, 30), signatures)


def _cautions(quote: Quote, write: Writer) -> Iterator[Flowable]:
    """Yield the page that comes before the electrical sheets: each caution once."""
    told = electrical.cautions(write, quote.job.critical_loads)
    yield say(write.say("Before anybody connects anything"), TITLE)
    yield say(write.say("Cautions"), SECTION)
    lines = [[told[one] for one in option.sheet.cautions] for option in quote.options]
    yield from bulleted(_once(quote, write, lines))
    yield say(write.say("Room and clearances"), SECTION)
    lines = []
    for option in quote.options:
        notes = electrical.room_notes(write, option.option.design)
        lines.append([notes[one] for one in option.sheet.room_notes])
    yield from bulleted(_once(quote, write, lines))


def _once(quote: Quote, write: Writer, found: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield lines of options once each, with the options they are for unless for all."""
    for line in dict.fromkeys(line for lines in found for line in lines):
        names = [
            words.option_name(write, option.option.design)
            for option, lines in zip(quote.options, found, strict=True)
            if line in lines
        ]
        if len(names) == len(found):
            yield line
        else:
            yield write.say("{line} (For {names:list}.)", line=line, names=names)


def _electrical(option: PricedOption, paper: Paper) -> Iterator[Flowable]:
    write, design = paper.write, option.option.design
    name = words.option_name(write, design)
    yield say(write.say("Electrical sheet: {name}", name=name), TITLE)
    yield say(
        write.say(
            "For whoever connects it, after the cautions. Every figure with formula, inputs, "
            "source."
        ),
        BODY,
    )
    yield LayoutDrawing(option.sheet.circuit, inverter_set(write, design), paper)
    yield Spacer(0, 8)
    parts, currents = (
        circuit.circuit(write, option.sheet.circuit),
        circuit.currents(write, option.sheet),
    )
    yield paper.table(parts, is_small=True, soft=frozenset({"unit"}))
    yield _section(currents.title, paper.table(currents, is_small=True))
    yield paper.table(
        circuit.figures(write, option.sheet),
        is_small=True,
        below={"meaning": "figure", "inputs": "formula"},
        soft=frozenset({"unit", "source"}),
    )
    legend = circuit.symbols(write)
    yield _section(legend.title, paper.table(legend, is_small=True))


def _handover(quote: Quote, option: PricedOption, paper: Paper) -> Iterator[Flowable]:
    write, found = paper.write, option.handover
    name = words.option_name(write, option.option.design)
    yield say(write.say("Handover: {name}", name=name), TITLE)
    yield say(write.say("For whoever lives with it: keep this sheet by the fuse board."), BODY)
    kept, seasons, parts = (
        grids.kept(write, quote, found), grids.seasons(write, found), grids.parts(write, found),
    )  # fmt: skip
    yield say(kept.title, SECTION)
    yield paper.table(kept, soft=frozenset({"tier"}))
    yield _section(seasons.title, paper.table(seasons))
    yield from (say(text, BODY) for text in handover.hours(write, found, quote.job))
    energy = say(handover.outage_energy(write, found), BODY)
    yield _section(write.say("What one outage may take"), energy)
    steps = handover.test_steps(write, found)
    yield _section(write.say("The test, once a year"), *numbered(steps))
    notes = [say(note, NOTE) for note in parts.notes]
    yield _section(parts.title, paper.table(parts), *notes)
    yield _section(write.say("Log of tests"), _log(paper))


def _log(paper: Paper) -> Flowable:
    """Return an empty log for the yearly tests."""
    write = paper.write
    heads = [
        write.say("Date"),
        write.say("Meter before"),
        write.say("Meter after"),
        write.say("kWh"),
        write.say("Charge before, %"),
        write.say("Charge after, %"),
        write.say("Signed"),
    ]
    columns = [Column(f"log_{place}", head) for place, head in enumerate(heads)]
    empty = [["", *[" "] * (len(heads) - 1)] for _ in range(_LOG_LINES)]
    return paper.table(Grid("log", "", columns, empty), row_high=_LOG_HIGH)
