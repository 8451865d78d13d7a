"""What each tier of loads costs."""

from typing import Final

import altair as alt

from optimizer.comparison.tier_costs import Tiers
from optimizer.report.charts.canvas import APART, Canvas, Row, apart, marks
from optimizer.report.charts.theme import Stroke
from optimizer.report.words import charts as said

#: Usual height of the plot [px].
HEIGHT: Final = 420
#: Dashes of tiers, the first one solid.
_DASHES: Final = ((), (6, 3), (2, 3), (9, 3, 2, 3))


def tier_rows(tiers: Tiers) -> list[Row]:
    """Return every point of every curve."""
    return [
        {"tier": one.added, "hours": point.hours, "cost": point.life_cycle_cost}
        for one in tiers.curves
        for point in one.curve.points
    ]


def tiers_chart(tiers: Tiers, canvas: Canvas) -> alt.LayerChart:
    """Return the curves tier by tier, each named at its end."""
    site, rows, write = tiers.job.site, tier_rows(tiers), canvas.write
    top = max(row["cost"] for row in rows) * 1.07
    x = canvas.hours_along(site.max_hours)
    y = canvas.money_up("cost", [0, top], said.cost(write, site.horizon_years))
    layers: list[alt.Chart] = []
    ends: list[Row] = []
    for place, one in enumerate(tiers.curves):
        own = [row for row in rows if row["tier"] == one.added]
        if own:
            dash = list(_DASHES[place % len(_DASHES)])
            line = marks([{**own[0], "hours": 0}, *own]).mark_line(
                interpolate="step-before", color=canvas.palette.ink, strokeDash=dash
            )
            layers.append(line.encode(x=x, y=y))
            text = write.say("+ {tier}", tier=one.added)
            if not place:
                text = write.say("{tier} alone", tier=one.added)
            ends.append({**own[-1], "text": text})
    names = apart(ends, "cost", APART * top)
    layers += canvas.words(names, "hours:Q", "cost:Q", dx=10, fontWeight="bold")
    layers += canvas.required(site.target_hours, site.max_hours)
    layers += _at_required(tiers, canvas, top)
    return canvas.finished(layers, HEIGHT, said.tiers_heading(write, tiers))


def _at_required(tiers: Tiers, canvas: Canvas, top: float) -> list[alt.Chart]:
    """Return what each tier costs at the hours required."""
    hours, accent = tiers.job.site.target_hours, canvas.palette.accent
    rows: list[Row] = [
        {
            "hours": hours,
            "cost": cost.cost,
            "text": canvas.write.number(cost.cost),
            **canvas.dot(Stroke(accent), size=50),
        }
        for cost in tiers.at(hours)
        if cost.cost is not None
    ]
    place: Row = {"align": "right", "dx": -8, "dy": -9, "color": accent}
    texts = apart(rows, "cost", 1.3 * APART * top)
    return [
        canvas.points(rows, "hours:Q", "cost:Q"),
        *canvas.words(texts, "hours:Q", "cost:Q", halo=True, **place),
    ]
