"""A month's peaks against the contract: what the supply gives, and what the bank adds."""

from collections.abc import Sequence
from typing import Final

import altair as alt

from optimizer.model.job import Peak
from optimizer.report.charts.canvas import Canvas, Row, marks, tooltip
from optimizer.report.charts.theme import strokes

#: Usual height of the plot [px].
HEIGHT: Final = 200
_DAYS: Final = 30
_ROOM: Final = 1.15
_WIDTH_PX: Final = 5
#: More peaks of a kind than this in a month are drawn as so many.
_MOST: Final = 120


def peak_rows(peaks: Sequence[Peak], contract_w: float) -> list[Row]:
    """Return a month's peaks, evenly spread: what the supply gives and what is above it [W].

    A kind that comes more seldom than once a month is drawn once.
    """
    rows: list[Row] = []
    for place, peak in enumerate(peaks):
        times = min(_MOST, max(1, round(peak.times_a_month)))
        for number in range(times):
            # kinds are set off against each other, so that none hides another
            day = _DAYS * (number + (place + 1) / (len(peaks) + 1)) / times
            rows.append(
                {
                    "day": day,
                    "low": 0.0,
                    "limit": min(peak.power_w, contract_w),
                    "power": peak.power_w,
                    "above": max(0.0, peak.power_w - contract_w),
                    "minutes": peak.minutes,
                }
            )
    return sorted(rows, key=lambda row: row["day"])


def peaks_chart(
    peaks: Sequence[Peak], contract_w: float, family: str, canvas: Canvas
) -> alt.LayerChart:
    """Return a month's peaks as bars, what passes the contract's limit in the bank's colour."""
    rows, colours, write = peak_rows(peaks, contract_w), canvas.palette, canvas.write
    top = max([contract_w, *(row["power"] for row in rows)]) * _ROOM
    title = write.say("Day of the month; peaks evenly spread")
    x = canvas.along("day", [0, _DAYS], title, values=[0, 5, 10, 15, 20, 25, 30])
    names = {
        "power": write.say("Drawn at the peaks, W"),
        "minutes": write.say("Minutes"),
        "above": write.say("Above the contract, W"),
    }
    y = canvas.up("low", [0, top], names["power"], format=",.0f", tickCount=4)
    fields = tooltip(names, power=",.0f", minutes=",.0f", above=",.0f")
    size: Row = {"strokeWidth": _WIDTH_PX, "strokeCap": "butt"}
    given = marks(rows).mark_rule(color=colours.tones[1], **size)
    above = [row for row in rows if row["above"] > 0]
    layers = [given.encode(x=x, y=y, y2="limit:Q", tooltip=fields)]
    if above:
        look = strokes([family], colours)[family]
        added = marks(above).mark_rule(color=look.colour, **size)
        layers.append(added.encode(x="day:Q", y="limit:Q", y2="power:Q", tooltip=fields))
        most = max(above, key=lambda row: row["above"])
        text = write.say("the bank adds {power:number} W", power=most["above"])
        place: Row = {"color": look.colour, "dx": 6, "dy": -6, "fontWeight": "bold"}
        layers += canvas.words([{**most, "text": text}], "day:Q", "power:Q", halo=True, **place)
    limit = write.say("contract {power:number} W", power=contract_w)
    layers += canvas.level("low", contract_w, limit, colours.accent)
    return canvas.finished(layers, HEIGHT)
