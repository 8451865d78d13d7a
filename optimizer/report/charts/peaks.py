"""A month's peaks against the contract: what the supply gives, and what the bank adds."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import altair as alt

from optimizer.report.charts.canvas import Row, marks, tooltip
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.model.job import Peak
    from optimizer.report.charts.canvas import Canvas

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
                {"day": day, "low": 0.0, "limit": min(peak.power_w, contract_w),
                 "power": peak.power_w, "above": max(0.0, peak.power_w - contract_w),
                 "minutes": peak.minutes}
            )  # fmt: skip
    return sorted(rows, key=lambda row: row["day"])


def peaks_chart(
    peaks: Sequence[Peak], contract_w: float, family: str, canvas: Canvas
) -> alt.LayerChart:
    """Return a month's peaks as bars, what passes the contract's limit in the bank's colour.

    Parameters
    ----------
    peaks : sequence of Peak
        At least one.
    contract_w : float
        What the supply lets through [W].
    family : str
        The bank's, for its colour.
    canvas : Canvas
        On what.
    """
    rows, colours, write = peak_rows(peaks, contract_w), canvas.palette, canvas.write
    top = max([contract_w, *(row["power"] for row in rows)]) * _ROOM
    x = canvas.along("day", [0, _DAYS], said.day_of_month(write), values=[0, 5, 10, 15, 20, 25, 30])
    y = canvas.up("low", [0, top], said.drawn_w(write), format=",.0f", tickCount=4)
    fields = tooltip(said.peak_fields(write), power=",.0f", minutes=",.0f", above=",.0f")
    size: Row = {"strokeWidth": _WIDTH_PX, "strokeCap": "butt"}
    given = marks(rows).mark_rule(color=colours.tones[1], **size)
    above = [row for row in rows if row["above"] > 0]
    layers = [given.encode(x=x, y=y, y2="limit:Q", tooltip=fields)]
    if above:
        look = strokes([family], colours)[family]
        added = marks(above).mark_rule(color=look.colour, **size)
        layers.append(added.encode(x="day:Q", y="limit:Q", y2="power:Q", tooltip=fields))
        most = max(above, key=lambda row: row["above"])
        name: Row = {"day": most["day"], "power": most["power"],
                     "text": said.bank_adds(write, most["above"])}  # fmt: skip
        layers += canvas.words(
            [name], "day:Q", "power:Q", halo=True, color=look.colour, dx=6, dy=-6,
            fontWeight="bold",
        )  # fmt: skip
    limit: Row = {"low": contract_w, "text": said.contract(write, contract_w)}
    line = marks([limit]).mark_rule(color=colours.accent, strokeWidth=1.5)
    place: Row = {"color": colours.accent, "baseline": "bottom", "dx": 6, "dy": -4, "halo": True}
    layers += [line.encode(y="low:Q"), *canvas.words([limit], alt.value(0), "low:Q", **place)]
    return canvas.finished(layers, HEIGHT)
