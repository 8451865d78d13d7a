"""Days of scheduled cuts: the bank's charge, cuts as bands."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import altair as alt

from optimizer.report.charts.canvas import Row, marks, tooltip
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said

if TYPE_CHECKING:
    from optimizer.report.charts.canvas import Canvas
    from optimizer.simulate import CutDays

#: Usual height of the plot [px].
HEIGHT: Final = 210
_WHOLE: Final = 100.0
_STEP_H: Final = 6


def cut_days_chart(found: CutDays, family: str, canvas: Canvas) -> alt.LayerChart:
    """Return the bank's state of charge over some days, the cuts as bands behind."""
    colours, write = canvas.palette, canvas.write
    last = float(found.hours[-1])
    rows: list[Row] = [
        {"hours": float(hours), "percent": 100 * float(charge),
         "clock": said.clock(float(hours))}
        for hours, charge in zip(found.hours, found.state_of_charge, strict=True)
    ]  # fmt: skip
    bands: list[Row] = [
        {"hours": start, "end": end, "percent": 0.0, "top": _WHOLE} for start, end in found.cuts
    ]
    name: Row = {**bands[0], "text": said.cut(write)}
    lowest = found.lowest_state_of_charge
    floor: Row = {"percent": 100 * lowest, "text": said.lowest_charge(write, lowest)}
    x = canvas.along(
        "hours", [0, last], said.time_of_day(write),
        values=[*range(0, round(last) + 1, _STEP_H)], labelExpr="datum.value % 24",
    )  # fmt: skip
    band = marks(bands).mark_rect(color=colours.band, opacity=0.7)
    line = marks(rows).mark_line(color=strokes([family], colours)[family].colour, strokeWidth=2.5)
    below: Row = {"color": colours.muted, "baseline": "bottom", "dx": 6, "dy": -3, "halo": True}
    return canvas.finished(
        [
            band.encode(
                x=x,
                x2="end:Q",
                y=canvas.up("percent", [0, _WHOLE], values=[0, 25, 50, 75, 100]),
                y2="top:Q",
            ),
            *canvas.words([name], "hours:Q", "percent:Q", color=colours.muted, dx=4, dy=-9),
            marks([floor]).mark_rule(color=colours.muted, strokeDash=[2, 3]).encode(y="percent:Q"),
            *canvas.words([floor], alt.value(0), "percent:Q", **below),
            line.encode(
                x="hours:Q",
                y="percent:Q",
                tooltip=tooltip(said.day_fields(write), percent=".0f"),
            ),
        ],
        HEIGHT,
    )
