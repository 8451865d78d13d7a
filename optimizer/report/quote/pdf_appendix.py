"""The appendix of the PDF: families against each other, and what would change the answer."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from reportlab.platypus import CondPageBreak, KeepTogether, PageBreak, Spacer

from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.sensitivity import moving, sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.quote import appendix_words as words
from optimizer.report.quote.pdf_style import (
    BODY,
    CELL,
    HEAD,
    HEAD_NUMBER,
    LEAD_IN,
    NOTE,
    SECTION,
    SMALL_CELL,
    SMALL_NUMBER,
    SMALL_SOFT,
    STRONG_CELL,
    TITLE,
    TITLE_BELOW,
    say,
)
from optimizer.report.quote.pdf_tables import SMALL_BESIDE, ruled
from optimizer.report.quote.texts import chemistry, localised
from optimizer.report.rivals_words import (
    cause_in_words,
    range_in_words,
    regions_in_words,
    value_in_words,
    winner_in_words,
)
from optimizer.report.words import plain
from optimizer.report.words.charts import family

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reportlab.platypus import Flowable, Table

    from optimizer.comparison.sensitivities import Setting
    from optimizer.quote.appendix import Appendix
    from optimizer.report.quote.pdf_charts import Charts
    from optimizer.report.words.writer import Writer

#: These begin on a page that has room for their drawing and table [points].
_TURNING_HIGH, _SENSITIVITIES_HIGH = 480.0, 400.0
#: Heights of plots, and of a bar with its room [points].
_HIGH, _BAR_HIGH = 126.0, 15.0
#: Families that stand side by side on a page; the cheapest ones.
_SIDE_BY_SIDE = 4


def appendix(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    """Yield the pages of the appendix.

    Parameters
    ----------
    found : Appendix
        From `optimizer.quote.appendix`.
    write : Writer
        Of the quote's currency and locale.
    width : float
        Of the text [points].
    charts : Charts
        Take what is drawn.
    """
    yield PageBreak()
    yield from _sides(found, write, width, charts)
    if found.switch_points:
        yield CondPageBreak(_TURNING_HIGH)
        yield from _turning(found, write, width, charts)
    if moving(found.sensitivities):
        yield CondPageBreak(_SENSITIVITIES_HIGH)
        yield from _sensitivities(found, write, width, charts)
    yield from _tiers(found, write, width, charts)
    yield PageBreak()
    yield from _budget(found, write, width, charts)


def _sides(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    site = found.comparison.job.site
    yield say(words.title(found, write), TITLE)
    yield say(words.verdict(found, write), LEAD_IN)
    for sentence in words.reasons(found, write):
        yield say(sentence, BODY)
    yield Spacer(0, 2)
    yield _sides_table(found, write, width)
    yield KeepTogether(
        [
            say("What has been paid by when", SECTION),
            charts.room(paid_chart(found.comparison, charts.canvas(_HIGH))),
            Spacer(0, 4),
            _paid_table(found, write, width),
            say(
                "Money of today, each year's running costs and purchases as they come; the last "
                "column, hollow in the drawing, takes off the residual value at the end. The cost "
                f"{words.lifetime(write, site.horizon_years).lower()} above counts later money at "
                f"{write.share(site.discount_rate)} a year less.",
                NOTE,
            ),
        ]
    )
    if len(found.comparison.chemistries) < 2:  # noqa: PLR2004 - it stands above
        return
    yield KeepTogether(
        [
            say(f"The best of each chemistry for {_hours(found.hours)}", SECTION),
            _chemistries_table(found, write, width),
        ]
    )


def _sides_table(found: Appendix, write: Writer, width: float) -> Table:
    shown = found.comparison.families[:_SIDE_BY_SIDE]
    heads = [family(write, one.name) for one in shown]
    rows = [[say("", HEAD), *(say(_capital(head), STRONG_CELL) for head in heads)]]
    for name, cell in words.sides(found, write):
        rows.append([say(name, SMALL_SOFT), *(say(cell(one), CELL) for one in shown)])
    first = width * 0.26
    each = (width - first) / max(2, len(shown))
    return ruled(rows, [first, *([each] * len(shown))], extra=[SMALL_BESIDE])


def _paid_table(found: Appendix, write: Writer, width: float) -> Table:
    comparison = found.comparison
    years = words.years_shown(comparison.job.site.horizon_years)
    heads = ["start" if year == 0 else f"year {year}" for year in years]
    rows = [[say("", HEAD), *(say(head, HEAD_NUMBER) for head in [*heads, "at the end"])]]
    for one in comparison.families:
        paid = [one.balances[year].real for year in years]
        numbers = [write.number(money) for money in [*paid, paid[-1] - one.residual_value]]
        name = family(write, one.name)
        rows.append([say(name, SMALL_CELL), *(say(text, SMALL_NUMBER) for text in numbers)])
    first = 58.0
    each = (width - first) / (len(years) + 1)
    extra = [("RIGHTPADDING", (0, 0), (-2, -1), 3)]
    return ruled(rows, [first, *([each] * (len(years) + 1))], tight=True, extra=extra)


def _chemistries_table(found: Appendix, write: Writer, width: float) -> Table:
    site = found.comparison.job.site
    heads = [
        say("Chemistry", HEAD),
        say(f"{words.lifetime(write, site.horizon_years)}, {site.currency}", HEAD_NUMBER),
        say(f"At the start, {site.currency}", HEAD_NUMBER),
        say("Hours", HEAD_NUMBER),
        say("Mass, kg", HEAD_NUMBER),
        say("Bank", HEAD),
    ]
    rows = [heads]
    for one in found.comparison.chemistries:
        bank = one.design.banks[0]
        numbers = (
            write.number(one.design.life_cycle_cost),
            write.number(one.design.upfront_cost),
            str(one.design.hours),
            write.number(one.mass_kg),
        )
        rows.append(
            [
                say(chemistry(one.name), SMALL_CELL),
                *(say(text, SMALL_NUMBER) for text in numbers),
                say(
                    f"{plain(bank.battery.battery)}, {bank.series} × {bank.strings}, "
                    f"{one.design.voltage_v} V",
                    SMALL_CELL,
                ),
            ]
        )
    return ruled(rows, [80, 78, 72, 42, 50, width - 322], tight=True, extra=[_gap(4)])


def _turning(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    yield say("What would turn it", TITLE_BELOW)
    yield say(words.turns(found, write), LEAD_IN)
    yield _switch_points_table(found, write, width)
    yield say(
        "Each number alone, all else as today; every value at which the winner changes is solved "
        "for, within the range looked through. A jump is where a cost breaks off: a whole unit "
        "or a year of life more or less.",
        NOTE,
    )
    if found.break_even_line is not None:
        drawing: list[Flowable] = []
        if any(point.factor is not None for point in found.break_even_line.points):
            drawing = [
                charts.room(break_even_chart(found.break_even_line, charts.canvas(_HIGH))),
                Spacer(0, 3),
            ]
        between = _listed(found.break_even_line.other, found.break_even_line.priced, write)
        yield KeepTogether(
            [
                say(f"Two numbers at once: where {between} cost the same", SECTION),
                *drawing,
                say(words.break_even_line(found, write), BODY),
            ]
        )


def _switch_points_table(found: Appendix, write: Writer, width: float) -> Table:
    heads = ["", "Now", "Looked through", "Who wins"]
    rows = [[say(head, HEAD_NUMBER if head == "Now" else HEAD) for head in heads]]
    for one in found.switch_points:
        parameter = one.parameter
        doubt = f" ({len(one.unproven)} pieces unproven)" if one.unproven else ""
        rows.append(
            [
                say(_capital(words.spoken(parameter.name, found, write)), SMALL_CELL),
                say(localised(value_in_words(parameter, parameter.base), write), SMALL_NUMBER),
                say(localised(range_in_words(parameter), write), SMALL_SOFT),
                say(words.spoken(regions_in_words(one), found, write) + doubt, SMALL_CELL),
            ]
        )
    return ruled(rows, [120, 62, 118, width - 300], tight=True, extra=[_gap(1)])


def _sensitivities(
    found: Appendix, write: Writer, width: float, charts: Charts
) -> Iterator[Flowable]:
    yield say("What moves the cost, one number at a time", TITLE_BELOW)
    bars = _BAR_HIGH * len(moving(found.sensitivities))
    yield charts.room(sensitivity_chart(found.sensitivities, charts.canvas(bars)))
    yield Spacer(0, 4)
    yield say("Hollow: at the lower value. Full: at the higher one. The line: today.", NOTE)
    yield Spacer(0, 4)
    site = found.comparison.job.site
    budget = write.number(math.ceil(found.sensitivities.budget))
    yield KeepTogether(
        [
            _sensitivities_table(found, write, width),
            say(
                f"Cost {words.lifetime(write, site.horizon_years).lower()}, {site.currency}, of "
                f"{_hours(found.hours)}; hours: what {budget} {site.currency} at the start buys, "
                f"now {found.sensitivities.sensitivities[0].base.hours}. Numbers that move neither "
                "are left out.",
                NOTE,
            ),
        ]
    )


def _sensitivities_table(found: Appendix, write: Writer, width: float) -> Table:
    rivals = len(found.families) > 1
    side = ["Cost", "Hours", "Wins"] if rivals else ["Cost", "Hours"]
    heads = ["", "Lower value", *side, "Higher value", *side]
    rows = [[say(head, HEAD if head in {"", "Wins"} else HEAD_NUMBER) for head in heads]]
    for sensitivity in found.sensitivities.sensitivities:
        if not sensitivity.cost_span and not sensitivity.hours_span:
            continue
        cells = [say(_capital(words.spoken(sensitivity.parameter.name, found, write)), SMALL_CELL)]
        for one in (sensitivity.low, sensitivity.high):
            value = localised(value_in_words(sensitivity.parameter, one.value), write)
            cells += [
                say(text, SMALL_NUMBER) for text in (value, _cost(one, write), str(one.hours))
            ]
            if rivals:
                wins = words.spoken(winner_in_words(one.winner), found, write)
                cells.append(say(wins, SMALL_SOFT))
        rows.append(cells)
    widths = [66.0, 40.0, 36.0, 42.0] if rivals else [80.0, 50.0, 50.0]
    extra = [_gap(3), _gap(7)] if rivals else []
    return ruled(rows, [width - 2 * sum(widths), *widths, *widths], tight=True, extra=extra)


def _cost(one: Setting, write: Writer) -> str:
    return write.number(one.cost) if math.isfinite(one.cost) else "none"


def _budget(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    stairs = found.stairs
    shown = words.large_steps(stairs.steps)
    alone = "" if stairs.family is None else f", {family(write, stairs.family)} alone"
    yield say(f"What a budget buys{alone}", TITLE)
    yield say(
        "The longest hours that a sum at the start buys, whatever follows: a low price is often "
        "paid for later, see the last column. The options of this quote cost least over the "
        "years instead. Marks: the family of the first bank.",
        BODY,
    )
    yield charts.room(staircase_chart(stairs, charts.canvas(_HIGH)))
    yield Spacer(0, 4)
    currency = found.comparison.job.site.currency
    heads = [
        say(f"From, {currency}", HEAD_NUMBER),
        say("Hours", HEAD_NUMBER),
        say("Each of its hours", HEAD_NUMBER),
        say("Bank; inverter set", HEAD),
        say("What made the step", HEAD),
        say(f"Bought later, {currency}", HEAD),
    ]
    rows = [heads]
    for step in shown:
        numbers = (
            write.number(math.ceil(step.budget)),
            str(step.hours),
            write.number(step.price_of_hour),
        )
        rows.append(
            [
                *(say(text, SMALL_NUMBER) for text in numbers),
                say(words.bank_of(step), SMALL_CELL),
                say(_cause(cause_in_words(step.cause)), SMALL_CELL),
                say(words.later(step.later, write) or "none", SMALL_SOFT),
            ]
        )
    rest = width - 48 - 34 - 48
    yield ruled(
        rows, [48, 34, 48, rest * 0.36, rest * 0.22, rest * 0.42], tight=True, extra=[_gap(2)]
    )
    left_out = len(stairs.steps) - len(shown)
    if left_out:
        plural = "s" if left_out > 1 else ""
        yield say(
            f"{left_out} smaller step{plural} left out here; the drawing and the workbook have "
            "all of them.",
            NOTE,
        )


def _cause(text: str) -> str:
    return text.removeprefix("energy: ")


def _tiers(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    tiers = found.tiers
    if len(tiers.curves) < 2:  # noqa: PLR2004 - one tier is the curve of the first page
        return
    site = tiers.job.site
    alone = "" if found.stairs.family is None else f", {family(write, found.stairs.family)} alone"
    yield KeepTogether(
        [
            say(f"Tier by tier: what it costs to keep more on{alone}", SECTION),
            charts.room(tiers_chart(tiers, charts.canvas(_HIGH))),
            Spacer(0, 4),
            _tiers_table(found, write, width),
            say(
                f"Cost {words.lifetime(write, site.horizon_years).lower()}, {site.currency}, for "
                "the loads named and all before them; “none” where nothing on offer "
                "lasts that long.",
                NOTE,
            ),
        ]
    )


def _tiers_table(found: Appendix, write: Writer, width: float) -> Table:
    tiers = found.tiers
    target = tiers.job.site.target_hours
    heads = ["Hours"]
    for place, one in enumerate(tiers.curves):
        name = plain(one.added)
        heads += [f"with {name}", "more by"] if place else [f"{name} alone"]
    rows = [[say(head, HEAD_NUMBER) for head in heads]]
    for hours in sorted({*tiers.landmarks, target}):
        costs = tiers.at(hours)
        if all(one.cost is None for one in costs):
            continue
        cells = [f"{hours}, asked for" if hours == target else str(hours)]
        for place, cost in enumerate(costs):
            cells.append("none" if cost.cost is None else write.number(cost.cost))
            if place:
                cells.append("" if cost.extra is None else write.number(cost.extra))
        rows.append([say(cell, SMALL_NUMBER) for cell in cells])
    return ruled(rows, [width / len(heads)] * len(heads), tight=True)


def _gap(column: int) -> tuple[object, ...]:
    """Return more room behind a column of numbers that words follow."""
    return ("RIGHTPADDING", (column, 0), (column, -1), 14)


def _hours(hours: int) -> str:
    return "one hour" if hours == 1 else f"{hours} hours"


def _listed(one: str, other: str, write: Writer) -> str:
    return f"{family(write, one)} and {family(write, other)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
