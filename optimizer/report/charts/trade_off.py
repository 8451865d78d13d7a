"""Pay now or pay later: life-cycle against upfront cost for the same hours."""

from typing import Final

import altair as alt

from optimizer.answers.curve import TradeOff
from optimizer.report.charts.canvas import Canvas, Row, beside, marks, tooltip
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said
from optimizer.report.words.design import bank, chemistry

#: Usual height of the plot [px].
HEIGHT: Final = 250
#: Room around the points [share of their spread].
_AROUND: Final = 0.18
#: At least so much [share of the dearest].
_LEAST: Final = 0.03
#: Beyond this share of the width words stand to the left of their point.
_NEAR_EDGE: Final = 0.6


def trade_off_chart(found: TradeOff, canvas: Canvas) -> alt.LayerChart:
    """Return each design as a point; between two of them nothing is for sale."""
    write = canvas.write
    names = [family_of(point) for point in found.points]
    looks = strokes(names, canvas.palette)
    upfront = _ends([point.upfront_cost for point in found.points])
    in_all = _ends([point.life_cycle_cost for point in found.points])
    edge = upfront[0] + _NEAR_EDGE * (upfront[1] - upfront[0])
    rows: list[Row] = []
    for name, point in zip(names, found.points, strict=True):
        rows.append(
            {
                "upfront": point.upfront_cost,
                "cost": point.life_cycle_cost,
                "text": write.say(
                    "{family}, {energy:number.1} kWh",
                    family=chemistry(write, name),
                    energy=point.banks[0].energy_wh / 1000,
                ),
                "bank": bank(write, point.banks[0], point.voltage_v),
                "colour": looks[name].colour,
                **canvas.dot(looks[name], 110),
                "late": point.upfront_cost > edge,
            }
        )
    years = found.job.site.horizon_years
    named = {
        "bank": write.say("Bank"),
        "upfront": said.cost(write, years, upfront=True),
        "cost": said.cost(write, years),
    }
    x = canvas.along("upfront", upfront, named["upfront"], format=",.0f", tickCount=5)
    y = canvas.money_up("cost", in_all, named["cost"], ticks=4)
    line = marks(rows).mark_line(
        interpolate="step-after", color=canvas.palette.muted, strokeWidth=1.5
    )
    fields = tooltip(named, upfront=",.0f", cost=",.0f")
    layers = [line.encode(x=x, y=y), canvas.points(rows, "upfront:Q", "cost:Q", tooltip=fields)]
    for late in (True, False):
        own = [row for row in rows if row["late"] is late]
        place = beside(10, is_late=late) | {"dy": -12, "fontWeight": "bold"}
        layers += canvas.words(own, "upfront:Q", "cost:Q", halo=True, **place) if own else []
    return canvas.finished(layers, HEIGHT)


def _ends(amounts: list[float]) -> tuple[float, float]:
    """Return the ends of an axis around amounts; it need not begin at zero."""
    low, high = min(amounts), max(amounts)
    room = max(_AROUND * (high - low), _LEAST * abs(high), 1.0)
    return low - room, high + room
