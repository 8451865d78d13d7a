"""Pay now or pay later: life-cycle against upfront cost for the same hours."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.report.charts.canvas import Row, marks, tooltip
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import MIXED, strokes
from optimizer.report.words import charts as said
from optimizer.report.words.design import bank

if TYPE_CHECKING:
    import altair as alt

    from optimizer.answers.upfront_limits import TradeOff
    from optimizer.report.charts.canvas import Canvas

#: Usual height of the plot [px].
HEIGHT: Final = 250
#: Room around the points [share of their spread].
_AROUND: Final = 0.18
#: At least so much [share of the dearest].
_LEAST: Final = 0.03
#: Beyond this share of the width words stand to the left of their point.
_NEAR_EDGE: Final = 0.6


def trade_off_chart(found: TradeOff, canvas: Canvas) -> alt.LayerChart:
    """Return each design as a point; between two of them nothing is for sale.

    Parameters
    ----------
    found : TradeOff
        With at least one point.
    canvas : Canvas
        On what.
    """
    write = canvas.write
    names = [family_of(point) or MIXED for point in found.points]
    looks = strokes([name for name in names if name != MIXED], canvas.palette)
    ends = [_ends([getattr(point, cost) for point in found.points])
            for cost in ("upfront_cost", "life_cycle_cost")]  # fmt: skip
    rows: list[Row] = []
    for name, point in zip(names, found.points, strict=True):
        rows.append(
            {
                "upfront": point.upfront_cost,
                "cost": point.life_cycle_cost,
                "text": said.energy_of(write, name, point.banks[0].energy_wh),
                "bank": bank(write, point.banks[0], point.voltage_v),
                "colour": looks[name].colour,
                "family": name,
                "late": point.upfront_cost > ends[0][0] + _NEAR_EDGE * (ends[0][1] - ends[0][0]),
            }
        )
    years = found.job.site.horizon_years
    x = canvas.along(
        "upfront", ends[0], said.cost(write, years, upfront=True), format=",.0f", tickCount=5
    )
    y = canvas.money_up("cost", ends[1], said.cost(write, years), ticks=4)
    line = marks(rows).mark_line(
        interpolate="step-after", color=canvas.palette.muted, strokeWidth=1.5
    )
    layers = [line.encode(x=x, y=y)]
    fields = tooltip(said.trade_fields(write, years), upfront=",.0f", cost=",.0f")
    for name, look in looks.items():
        own = [row for row in rows if row["family"] == name]
        if own:
            dot = marks(own).mark_point(**canvas.dot(look.colour, look.shape, 110))
            layers.append(dot.encode(x="upfront:Q", y="cost:Q", tooltip=fields))
    for late, place in ((True, {"align": "right", "dx": -10}), (False, {"dx": 10})):
        own = [row for row in rows if row["late"] is late]
        if own:
            layers += canvas.words(
                own, "upfront:Q", "cost:Q", halo=True, dy=-12, fontWeight="bold", **place
            )
    return canvas.finished(layers, HEIGHT)


def _ends(amounts: list[float]) -> tuple[float, float]:
    """Return the ends of an axis around amounts; it need not begin at zero."""
    low, high = min(amounts), max(amounts)
    room = max(_AROUND * (high - low), _LEAST * abs(high), 1.0)
    return low - room, high + room
