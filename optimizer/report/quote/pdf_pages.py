"""The pages of a quote: offer, one price page an option, terms, and the sheets of each option."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.lib.utils import ImageReader
from reportlab.platypus import Image, KeepTogether, PageBreak, Spacer, Table

from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.quote import pdf_tables as tables
from optimizer.report.quote import texts
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

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reportlab.platypus import Flowable

    from optimizer.quote import PricedOption, Quote
    from optimizer.report.quote.pdf_charts import Charts
    from optimizer.report.words.writer import Writer

_LOGO_MOST = (150.0, 52.0)
#: Height of the curve's plot [points].
_CURVE_HIGH = 150.0


def story(quote: Quote, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    """Yield everything the document holds, in order.

    Parameters
    ----------
    quote : Quote
        What is offered.
    write : Writer
        Of its currency and locale.
    width : float
        Of the text [points].
    charts : Charts
        Take what is drawn.
    """
    yield from _offer(quote, write, width, charts)
    for option in quote.options:
        yield PageBreak()
        yield from _price_page(quote, option, write, width)
    yield from _terms(quote, write, width)
    yield from _cautions(quote)
    for option in quote.options:
        yield PageBreak()
        yield from _electrical(option, write, width)
    for option in quote.options:
        yield PageBreak()
        yield from _handover(quote, option, write, width)
    if quote.appendix is not None:
        yield from appendix(quote.appendix, write, width, charts)


def _offer(quote: Quote, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    site = quote.job.site
    yield _letterhead(quote, write, width)
    yield Spacer(0, 14)
    yield say(f"{texts.title(quote)}: power through outages", TITLE)
    yield say(_addressed(quote), BODY)
    yield Spacer(0, 4)
    yield say(_opening(quote, write), LEAD_IN)
    yield tables.options_table(quote, write, width)
    chosen = [option.option.design for option in quote.options]
    picture = CurvePicture(quote.curve, {}, target_hours=site.target_hours, chosen=chosen)
    note = (
        "* Paid at the start, plus running costs and later purchases, less the residual value at "
        f"the end; all at {write.share(site.discount_rate)} a year in today's money."
    )
    yield say(note, NOTE)
    yield KeepTogether(
        [
            say("What more hours cost", SECTION),
            charts.room(curve_chart(picture, charts.canvas(_CURVE_HIGH))),
            say(
                "Each mark is the least cost that carries its hours, proven over everything in "
                "the price list; between two marks nothing is for sale. Ringed: the options of "
                "this quote.",
                NOTE,
            ),
        ]
    )
    for text in quote.notes:
        yield say(text, NOTE)
    if quote.appendix is not None:
        yield say(
            "The appendix at the end sets the kinds of battery against each other and shows what "
            "would change the answer.",
            NOTE,
        )


def _letterhead(quote: Quote, write: Writer, width: float) -> Flowable:
    company = quote.company
    sender = [say(company.name, STRONG_CELL)] if company.name else []
    lines = [*company.address, *company.contact]
    if company.registration:
        lines.append(company.registration)
    sender += [say(line, SMALL_SOFT) for line in lines]
    facts = [
        say(f"Date: {write.day(quote.day)}", CELL),
        say(f"Valid until: {write.day(quote.valid_until)}", CELL),
    ]
    if company.number:
        facts.insert(0, say(f"Number: {company.number}", CELL))
    right: list[Flowable] = facts
    if company.logo is not None:
        picture = ImageReader(str(company.logo))
        wide, high = picture.getSize()
        scale = min(_LOGO_MOST[0] / wide, _LOGO_MOST[1] / high)
        logo = Image(str(company.logo), wide * scale, high * scale, hAlign="LEFT")
        right = [logo, Spacer(0, 6), *facts]
    table = Table([[sender, right]], colWidths=[width - 170, 170])
    table.setStyle(
        [
            ("FONT", (0, 0), (-1, -1), REGULAR, SMALL),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
        ]
    )
    return table


def _addressed(quote: Quote) -> str:
    site = quote.job.site.name
    return f"For {quote.company.customer}, {site}" if quote.company.customer else f"For {site}"


def _opening(quote: Quote, write: Writer) -> str:
    site, count = quote.job.site, len(quote.options)
    many = {1: "One option", 2: "Two options", 3: "Three options"}.get(count, f"{count} options")
    tiers = " and ".join(f"“{tier}”" for tier in site.tiers)
    asked = "hour" if site.target_hours == 1 else f"{site.target_hours} hours"
    low, high = quote.options[0], quote.options[-1]
    span = f"{write.money(low.pricing.total)} to {write.money(high.pricing.total)}"
    paid = write.money(low.pricing.total) if count == 1 else span
    return (
        f"{many} for riding through grid failures, {paid}, tax included. All of them keep on what "
        f"the survey lists as {tiers}; {asked} were asked for. A bank carries its hours from the "
        "worst moment of the worst season, still in its last year."
    )


def _price_page(
    quote: Quote, option: PricedOption, write: Writer, width: float
) -> Iterator[Flowable]:
    pricing, verdict = option.pricing, option.option.verdict
    yield say(_capital(option.option.name), TITLE)
    yield say(f"{_capital(option.option.why)}. {texts.summary(quote, option, write)}", BODY)
    yield say(texts.second_opinion(verdict, write), LEAD_IN)
    yield tables.price_table(pricing, write, width)
    yield say(texts.rounding(option, write), NOTE)
    for item, day in option.old_prices:
        yield say(texts.old_price(item, write.day(day)), BODY)
    if pricing.plan:
        yield KeepTogether([say("When to pay", SECTION), tables.plan_table(pricing, write, width)])
    if pricing.replacements:
        yield KeepTogether(
            [
                say("Bought again later, at today's prices, tax included", SECTION),
                tables.later_table(quote, option, write, width),
            ]
        )
    else:
        years = quote.job.site.horizon_years
        yield say("Bought again later", SECTION)
        yield say(f"Nothing within {years} years, by the service lives reckoned with.", BODY)


def _terms(quote: Quote, write: Writer, width: float) -> Iterator[Flowable]:
    yield PageBreak()
    yield say("What is not included, and the terms", TITLE)
    yield say("Not included", SECTION)
    yield from bulleted(quote.not_included)
    yield say("Terms", SECTION)
    valid = f"This quote holds until {write.day(quote.valid_until)}."
    yield from bulleted([valid, *quote.company.terms])
    yield say("What the hours mean", SECTION)
    yield say(
        "The hours hold for the loads as surveyed, with the margin stated there, from any hour of "
        "any day, in every year until the bank is due. More load, a colder room or an older bank "
        "than planned shorten them. They are a plan, not a guarantee of supply: whoever depends "
        "on power for life needs a second source.",
        BODY,
    )
    yield Spacer(0, 18)
    names = [option.option.name for option in quote.options]
    boxes = ("\N{NO-BREAK SPACE}" * 6 + " ").join(
        f"☐\N{NO-BREAK SPACE}{name}".replace(" ", "\N{NO-BREAK SPACE}") for name in names
    )
    line = "_" * 38
    yield KeepTogether(
        [
            say("Order", SECTION),
            say(f"We order: {boxes}", BODY),
            Spacer(0, 30),
            Table(
                [
                    [line, line],
                    [
                        say("Place, date, customer", SMALL_SOFT),
                        say(f"Place, date, {quote.company.name or 'company'}", SMALL_SOFT),
                    ],
                ],
                colWidths=[width / 2, width / 2],
                style=[
                    ("LEFTPADDING", (0, 0), (-1, -1), 0),
                    ("FONT", (0, 0), (-1, -1), REGULAR, SMALL),
                    ("BOTTOMPADDING", (0, 0), (-1, 0), 1),
                    ("TOPPADDING", (0, 1), (-1, 1), 0),
                ],
                hAlign="LEFT",
            ),
        ]
    )


def _electrical(option: PricedOption, write: Writer, width: float) -> Iterator[Flowable]:
    sheet = option.sheet
    yield say(f"Electrical sheet: {option.option.name}", TITLE)
    yield say(
        "For whoever connects it, after the cautions. Every figure with formula, inputs, source.",
        BODY,
    )
    yield LayoutDrawing(sheet.layout, texts.inverter_set(option), width)
    yield Spacer(0, 8)
    yield tables.figures_table(sheet.by_topic(), write, width)


def _cautions(quote: Quote) -> Iterator[Flowable]:
    """Yield the page that comes before the electrical sheets: each caution once."""
    yield PageBreak()
    yield say("Before anybody connects anything", TITLE)
    for heading, found in (
        ("Cautions", [option.sheet.cautions for option in quote.options]),
        ("Room and clearances", [option.sheet.room_notes for option in quote.options]),
    ):
        yield say(heading, SECTION)
        for line in dict.fromkeys(line for lines in found for line in lines):
            holds = [
                option.option.name
                for option, lines in zip(quote.options, found, strict=True)
                if line in lines
            ]
            only = "" if len(holds) == len(found) else f" (For {' and '.join(holds)}.)"
            yield from bulleted([line + only])


def _handover(
    quote: Quote, option: PricedOption, write: Writer, width: float
) -> Iterator[Flowable]:
    found = option.handover
    last_year = found.last_year + 1
    yield say(f"Handing over: {option.option.name}", TITLE)
    yield say("For whoever lives with it: keep this sheet by the fuse board.", BODY)
    yield say("What stays on", SECTION)
    yield tables.kept_table(quote, found, write, width)
    yield KeepTogether([say("For how long", SECTION), tables.seasons_table(found, write, width)])
    yield say(texts.switch_off(found, write), BODY)
    new, last = (
        write.number(int(kwh * 10 + 1e-6) / 10, 1)
        for kwh in (found.outage_kwh_new, found.outage_kwh_last)
    )
    yield KeepTogether(
        [
            say("What one outage may take", SECTION),
            say(
                f"{new} kWh while new, {last} kWh in year {last_year}: read the energy meter "
                "behind the inverter when the grid fails; when it has counted so much, the bank "
                "is where it may be drawn to. The less is on, the longer it lasts.",
                BODY,
            ),
        ]
    )
    steps = texts.test_steps(found.test, last_year, write)
    yield KeepTogether([say("The test, once a year", SECTION), *numbered(steps)])
    yield KeepTogether(
        [
            say("When parts are due, and what to set aside", SECTION),
            tables.parts_table(quote, found, write, width),
            say(
                "At today's prices, work and tax included, without interest. A bank is due when "
                "it has the strength of its last planned year.",
                NOTE,
            ),
        ]
    )
    yield KeepTogether([say("Log of tests", SECTION), tables.log_table(width)])


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
