"""What money buys, step by step, and what each tier of loads costs."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

import altair as alt

from optimizer.report.charts import labels
from optimizer.report.charts.compare import finished
from optimizer.report.charts.theme import Palette, Row, axis, data, strokes
from optimizer.report.rivals_words import cause_in_words, purchases_in_words
from optimizer.report.words import bank_in_words, money, plain

if TYPE_CHECKING:
    from optimizer.comparison.budgets import Staircase
    from optimizer.comparison.tier_costs import Tiers

#: Names of tiers stand at least this share of the height apart.
_APART: Final = 0.055
#: A step at least this share of the whole is named with its price.
_LARGE: Final = 0.05
#: Dashes of tiers, the first one solid.
_DASHES: Final = ((), (6, 3), (2, 3), (9, 3, 2, 3))


def staircase_rows(stairs: Staircase) -> list[Row]:
    """Return the steps: from which money on, how many hours, what made the step."""
    return [
        {
            "budget": step.budget,
            "hours": step.hours,
            "upfront": step.design.upfront_cost,
            "lifetime": step.design.life_cycle_cost,
            "price_of_hour": step.price_of_hour,
            "family": plain(step.design.banks[0].battery.family),
            "bank": plain(bank_in_words(step.design.banks[0], step.design.voltage_v)),
            "later": purchases_in_words(step.later),
            "made_by": cause_in_words(step.cause),
        }
        for step in stairs.steps
    ]


def staircase_chart(
    stairs: Staircase,
    palette: Palette,
    *,
    alone: bool = False,
    height: int | None = None,
    chosen: float | None = None,
) -> alt.TopLevelMixin:
    """Return the hours over the budget as stairs: level where more money buys nothing.

    Parameters
    ----------
    stairs : Staircase
        With at least one step.
    palette : Palette
        Light or dark.
    alone : bool
        With a heading and a width of its own, for a file.
    height : int, optional
        Of the plot [px].
    chosen : float, optional
        A budget to mark [currency].
    """
    rows = staircase_rows(stairs)
    end = rows[-1]["budget"] * 1.06
    corners: list[Row] = [{"budget": 0.0, "hours": 0}, *rows, {**rows[-1], "budget": end}]
    x = alt.X(
        "budget:Q",
        scale=alt.Scale(domain=[0, end], nice=False),
        axis=axis(
            palette,
            title="Budget over the years" if stairs.lifetime else "Budget at the start",
            format=",.0f",
            tickCount=6,
        ),
    )
    y = alt.Y(
        "hours:Q",
        scale=alt.Scale(domain=[0, rows[-1]["hours"] * 1.08], nice=False),
        axis=axis(palette, grid=True, title=labels.HOURS, tickCount=6),
    )
    families = list(dict.fromkeys(row["family"] for row in rows))
    looks = strokes(families, palette)
    layers: list[alt.Chart] = [
        alt.Chart(data(corners))
        .mark_line(interpolate="step-after", color=palette.muted, strokeWidth=2)
        .encode(x=x, y=y)
    ]
    for family in families:
        look = looks[family]
        layers.append(
            alt.Chart(data([row for row in rows if row["family"] == family]))
            .mark_point(
                shape=look.shape,
                size=80,
                fill=look.colour,
                stroke=palette.ground,
                opacity=1,
                strokeWidth=1.5,
            )
            .encode(
                x="budget:Q",
                y="hours:Q",
                tooltip=[
                    alt.Tooltip("budget:Q", format=",.0f"),
                    alt.Tooltip("hours:Q", title=labels.HOURS),
                    alt.Tooltip("bank:N", title=labels.BANK),
                    alt.Tooltip("later:N", title=labels.NEW),
                    alt.Tooltip("made_by:N", title="What made the step"),
                ],
            )
        )
        first = next(row for row in rows if row["family"] == family)
        layers.append(
            alt.Chart(data([{**first, "text": labels.family(family)}]))
            .mark_text(align="right", dx=-10, dy=-10, color=look.colour, fontWeight="bold")
            .encode(x="budget:Q", y="hours:Q", text="text:N")
        )
    layers += _long_treads(rows, end, palette)
    if chosen is not None:
        base = alt.Chart(data([{"budget": chosen, "text": money(chosen)}])).encode(x="budget:Q")
        layers.append(base.mark_rule(color=palette.accent, strokeWidth=1.5))
    site = stairs.job.site
    kind = f"over {site.horizon_in_words}" if stairs.lifetime else "at the start"
    title = (
        f"What a budget {kind} buys",
        f"{site.currency}; level where more money buys no more hours; "
        "marks: family of the first bank",
    )
    return finished(layers, palette, title, alone=alone, height=height, right=24)


def _long_treads(rows: list[Row], end: float, palette: Palette) -> list[alt.Chart]:
    """Return the price of the next hour, written on treads that are long enough for it."""
    words: list[Row] = []
    for here, there in pairwise(rows):
        length = there["budget"] - here["budget"]
        if length > _LARGE * end:
            words.append(
                {
                    "budget": there["budget"],
                    "hours": here["hours"],
                    "text": f"+{money(length)}",
                }
            )
    return [
        alt.Chart(data(words))
        .mark_text(align="right", dx=-4, dy=11, color=palette.muted, fontSize=12)
        .encode(x="budget:Q", y="hours:Q", text="text:N")
    ]


def tier_rows(tiers: Tiers) -> list[Row]:
    """Return every point of every curve."""
    return [
        {
            "tiers": plain(" + ".join(one.tiers)),
            "added": plain(one.added),
            "hours": point.hours,
            "cost": point.life_cycle_cost,
            "upfront": point.upfront_cost,
        }
        for one in tiers.curves
        for point in one.curve.points
    ]


def tiers_chart(
    tiers: Tiers, palette: Palette, *, alone: bool = False, height: int | None = None
) -> alt.TopLevelMixin:
    """Return the curves tier by tier, each named at its end.

    Parameters
    ----------
    tiers : Tiers
        With at least one point.
    palette : Palette
        Light or dark.
    alone : bool
        With a heading and a width of its own, for a file.
    height : int, optional
        Of the plot [px].
    """
    site = tiers.job.site
    rows = tier_rows(tiers)
    top = max(row["cost"] for row in rows) * 1.07
    tick = 6 if site.max_hours <= 60 else 24  # noqa: PLR2004 - a quarter of a day, a day
    x = alt.X(
        "hours:Q",
        scale=alt.Scale(domain=[0, site.max_hours], nice=False),
        axis=axis(palette, values=[*range(0, site.max_hours + 1, tick)], title=labels.HOURS),
    )
    y = alt.Y(
        "cost:Q",
        scale=alt.Scale(domain=[0, top], nice=False),
        axis=axis(palette, grid=True, title=None, format=",.0f", tickCount=5),
    )
    layers: list[alt.Chart] = []
    ends: list[Row] = []
    for number, one in enumerate(tiers.curves):
        own = [row for row in rows if row["added"] == plain(one.added)]
        if not own:
            continue
        dash = list(_DASHES[number % len(_DASHES)])
        layers.append(
            alt.Chart(data([{**own[0], "hours": 0}, *own]))
            .mark_line(interpolate="step-before", color=palette.ink, strokeDash=dash, strokeWidth=2)
            .encode(x=x, y=y)
        )
        first = len(one.tiers) == 1
        ends.append(
            {**own[-1], "text": f"{own[-1]['added']} alone" if first else f"+ {own[-1]['added']}"}
        )
    layers += _tier_names(ends, top, palette)
    layers += _at_target(tiers, palette)
    title = (
        f"Tier by tier: cost over {site.horizon_in_words}",
        f"{site.currency}, with the residual value at the end taken off",
    )
    return finished(layers, palette, title, alone=alone, height=height, right=120)


def _tier_names(ends: list[Row], top: float, palette: Palette) -> list[alt.Chart]:
    ends.sort(key=lambda row: row["cost"])
    last = -top
    for row in ends:
        last = row["cost"] = max(row["cost"], last + _APART * top)
    return [
        alt.Chart(data(ends))
        .mark_text(align="left", dx=10, color=palette.ink, fontWeight="bold")
        .encode(x="hours:Q", y="cost:Q", text="text:N")
    ]


def _at_target(tiers: Tiers, palette: Palette) -> list[alt.Chart]:
    """Return the target and what each tier costs there."""
    hours = tiers.job.site.target_hours
    words: list[Row] = [
        {"hours": hours, "cost": cost.cost, "text": money(cost.cost)}
        for cost in tiers.at(hours)
        if cost.cost is not None
    ]
    base = alt.Chart(data([{"hours": hours, "text": labels.target(hours)}])).encode(x="hours:Q")
    marks = alt.Chart(data(words)).encode(x="hours:Q", y="cost:Q")
    return [
        base.mark_rule(color=palette.accent, strokeWidth=1.5),
        base.mark_text(color=palette.accent, align="left", dx=7, dy=8).encode(
            y=alt.value(0), text="text:N"
        ),
        marks.mark_point(shape="circle", size=50, fill=palette.accent, opacity=1, strokeWidth=0),
        marks.mark_text(align="right", dx=-8, dy=-9, color=palette.accent).encode(text="text:N"),
    ]
