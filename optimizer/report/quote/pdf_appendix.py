"""The appendix of the PDF: families against each other, and what would change the answer."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from reportlab.platypus import CondPageBreak, KeepTogether, PageBreak, Spacer

from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.sensitivity import moving, sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.grids import budgets, comparison, sensitivity, switch_points, tiers
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
from optimizer.report.words.charts import family
from optimizer.report.words.comparison import side

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from reportlab.platypus import Flowable, Table

    from optimizer.quote.appendix import Appendix
    from optimizer.report.grids.grid import Grid
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
            _table(
                comparison.chemistries(write, found.comparison).only(
                    "chemistry",
                    "life_cycle_cost",
                    "upfront_cost",
                    "hours",
                    "mass_kg",
                    "equipment",
                ),
                write,
                [80, 70, 66, 50, 50, width - 316],
            ),
        ]
    )


def _sides_table(found: Appendix, write: Writer, width: float) -> Table:
    grid = comparison.side_by_side(write, found.comparison)
    shown = len(grid.columns[: 1 + _SIDE_BY_SIDE])
    heads = [say(_capital(column.title), STRONG_CELL) for column in grid.columns[:shown]]
    rows = [
        heads,
        *(
            [say(row[0], SMALL_SOFT), *(say(text, CELL) for text in row[1:shown])]
            for row in grid.texts(write)
        ),
    ]
    first = width * 0.26
    each = (width - first) / max(2, shown - 1)
    return ruled(rows, [first, *([each] * (shown - 1))], extra=[SMALL_BESIDE])


def _paid_table(found: Appendix, write: Writer, width: float) -> Table:
    compared = found.comparison
    years = words.years_shown(compared.job.site.horizon_years)
    heads = ["start" if year == 0 else f"year {year}" for year in years]
    rows = [[say("", HEAD), *(say(head, HEAD_NUMBER) for head in [*heads, "at the end"])]]
    for one in compared.alternatives:
        paid = [one.balances[year].real for year in years]
        numbers = [write.number(money) for money in [*paid, paid[-1] - one.residual_value]]
        name = side(write, one.name)
        rows.append([say(name, SMALL_CELL), *(say(text, SMALL_NUMBER) for text in numbers)])
    first = 58.0
    each = (width - first) / (len(years) + 1)
    extra = [("RIGHTPADDING", (0, 0), (-2, -1), 3)]
    return ruled(rows, [first, *([each] * (len(years) + 1))], tight=True, extra=extra)


def _table(grid: Grid, write: Writer, widths: Sequence[float]) -> Table:
    """Return a grid ruled, with more room behind a number that words follow."""
    rows = [
        [say(one.heading, HEAD_NUMBER if one.is_number else HEAD) for one in grid.columns],
        *(
            [
                say(_capital(text), SMALL_NUMBER if column.is_number else SMALL_CELL)
                for column, text in zip(grid.columns, row, strict=True)
            ]
            for row in grid.texts(write)
        ),
    ]
    gaps = [
        ("RIGHTPADDING", (place, 0), (place, -1), 14)
        for place, (one, other) in enumerate(pairwise(grid.columns))
        if one.is_number and not other.is_number
    ]
    return ruled(rows, widths, tight=True, extra=gaps)


def _turning(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    yield say("What would turn it", TITLE_BELOW)
    for sentence in words.turns(found, write):
        yield say(sentence, BODY)
    grid = switch_points.switch_points(write, found.switch_points)
    yield _table(grid, write, [112, 56, 96, width - 336, 72])
    yield say(
        "Each number alone, all else as today. A jump is where a cost breaks off: a whole unit or "
        "a year of life more or less.",
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
            _table(
                sensitivity.one_at_a_time(write, found.sensitivities),
                write,
                [width - 396, 44, 36, 44, 40, 40, 40, 34, 34, 34, 50],
            ),
            say(
                f"Cost {words.lifetime(write, site.horizon_years).lower()}, {site.currency}, of "
                f"{_hours(found.hours)}; hours: what {budget} {site.currency} at the start buys, "
                f"now {found.sensitivities.sensitivities[0].base.hours}. Numbers that move neither "
                "are left out.",
                NOTE,
            ),
        ]
    )


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
    grid = budgets.steps(write, replace(stairs, steps=tuple(shown))).only(
        "budget", "hours", "price_of_hour", "equipment", "cause", "replacements",
    )  # fmt: skip
    rest = width - 56 - 40 - 50
    yield _table(grid, write, [56, 40, 50, rest * 0.34, rest * 0.42, rest * 0.24])
    left_out = len(stairs.steps) - len(shown)
    if left_out:
        plural = "s" if left_out > 1 else ""
        yield say(
            f"{left_out} smaller step{plural} left out here; the drawing and the workbook have "
            "all of them.",
            NOTE,
        )


def _tiers(found: Appendix, write: Writer, width: float, charts: Charts) -> Iterator[Flowable]:
    if len(found.tiers.curves) < 2:  # noqa: PLR2004 - one tier is the curve of the first page
        return
    site = found.tiers.job.site
    alone = "" if found.stairs.family is None else f", {family(write, found.stairs.family)} alone"
    yield KeepTogether(
        [
            say(f"Tier by tier: what it costs to keep more on{alone}", SECTION),
            charts.room(tiers_chart(found.tiers, charts.canvas(_HIGH))),
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
    carried = [
        hours
        for hours in sorted({*found.tiers.landmarks, found.tiers.job.site.target_hours})
        if any(one.cost is not None for one in found.tiers.at(hours))
    ]
    grid = tiers.tiers(write, found.tiers, carried)
    return _table(grid, write, [width / len(grid.columns)] * len(grid.columns))


def _hours(hours: int) -> str:
    return "one hour" if hours == 1 else f"{hours} hours"


def _listed(one: str, other: str, write: Writer) -> str:
    return f"{family(write, one)} and {family(write, other)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
