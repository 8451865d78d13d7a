"""What money buys, step by step."""

from itertools import pairwise
from typing import Final

import altair as alt

from optimizer.comparison.budgets import Staircase
from optimizer.report.charts.canvas import SMALL, Canvas, Row, beside, marks, tooltip
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said
from optimizer.report.words.design import bank, chemistry, replacements

#: Usual height of the plot [px].
HEIGHT: Final = 420
#: A step at least this share of the whole is named with its price.
_LARGE: Final = 0.05


def staircase_rows(stairs: Staircase, canvas: Canvas) -> list[Row]:
    """Return the steps: from which money on, how many hours, with which bank."""
    return [
        {
            "budget": step.budget,
            "hours": step.hours,
            "family": step.design.banks[0].battery.family,
            "bank": bank(canvas.write, step.design.banks[0], step.design.voltage_v),
            "later": replacements(canvas.write, step.replacements, step.later),
        }
        for step in stairs.steps
    ]


def staircase_chart(
    stairs: Staircase, canvas: Canvas, *, chosen: float | None = None
) -> alt.LayerChart:
    """Return the hours over the budget as stairs, level where more money buys nothing.

    ``chosen`` is a budget to mark [currency].
    """
    rows, colours, write = staircase_rows(stairs, canvas), canvas.palette, canvas.write
    end = rows[-1]["budget"] * 1.06
    corners: list[Row] = [{"budget": 0.0, "hours": 0}, *rows, {**rows[-1], "budget": end}]
    title = write.say("Upfront budget, {currency}")
    if stairs.lifetime:
        title = write.say("Life-cycle budget, {currency}")
    named = {
        "budget": title,
        "hours": said.autonomy(write),
        "bank": write.say("Bank"),
        "later": write.say("Replacements"),
    }
    x = canvas.along("budget", [0, end], title, format=",.0f", tickCount=6)
    y = canvas.up("hours", [0, rows[-1]["hours"] * 1.08], named["hours"], tickCount=6)
    line = marks(corners).mark_line(interpolate="step-after", color=colours.muted, strokeWidth=2)
    looks = strokes([row["family"] for row in rows], colours)
    dots = [row | canvas.dot(looks[row["family"]]) for row in rows]
    fields = tooltip(named, budget=",.0f")
    layers = [line.encode(x=x, y=y), canvas.points(dots, "budget:Q", "hours:Q", tooltip=fields)]
    first = {row["family"]: row for row in reversed(rows)}
    names: list[Row] = [
        {**row, "text": chemistry(write, family), "colour": looks[family].colour}
        for family, row in first.items()
    ]
    layers += canvas.words(
        names, "budget:Q", "hours:Q", align="right", dx=-10, dy=-10, fontWeight="bold"
    )
    layers += _long_treads(rows, end, canvas)
    if chosen is not None:
        mark = marks([{"budget": chosen}]).mark_rule(color=colours.accent, strokeWidth=1.5)
        layers.append(mark.encode(x="budget:Q"))
    return canvas.finished(layers, HEIGHT, said.staircase_heading(write, stairs))


def _long_treads(rows: list[Row], end: float, canvas: Canvas) -> list[alt.Chart]:
    """Return the price of the next hour, written on treads that are long enough for it."""
    rises: list[Row] = []
    for here, there in pairwise(rows):
        more = there["budget"] - here["budget"]
        if more > _LARGE * end:
            text = canvas.write.say("+{amount:number}", amount=more)
            rises.append({**there, "hours": here["hours"], "text": text})
    look = beside(4, is_late=True) | {"dy": 11, "color": canvas.palette.muted, "fontSize": SMALL}
    return canvas.words(rises, "budget:Q", "hours:Q", **look)
