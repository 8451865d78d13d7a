"""Days of scheduled cuts: the bank's charge, cuts as bands."""

from typing import Final

import altair as alt

from optimizer.formulas.load import DAY_H
from optimizer.report.charts.canvas import Canvas, Row, marks, tooltip
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said
from optimizer.report.words.writer import clock
from optimizer.simulate import CutDays

#: Usual height of the plot [px].
HEIGHT: Final = 210
_STEP_H: Final = 6


def cut_days_chart(found: CutDays, family: str, canvas: Canvas) -> alt.LayerChart:
    """Return the bank's state of charge over some days, the cuts as bands behind."""
    colours, write = canvas.palette, canvas.write
    last = float(found.hours[-1])
    rows: list[Row] = [
        {
            "hours": float(hours),
            "percent": 100 * float(charge),
            "clock": clock(float(hours) % DAY_H),
        }
        for hours, charge in zip(found.hours, found.state_of_charge, strict=True)
    ]
    x = canvas.along(
        "hours",
        [0, last],
        said.time_of_day(write),
        values=[*range(0, round(last) + 1, _STEP_H)],
        labelExpr="datum.value % 24",
    )
    line = marks(rows).mark_line(color=strokes([family], colours)[family].colour, strokeWidth=2.5)
    return canvas.finished(
        [
            *canvas.bands(found.cuts, "percent", 100.0, write.say("cut")),
            *canvas.lowest_charge(found.lowest_state_of_charge),
            line.encode(
                x=x,
                y=canvas.up("percent", [0, 100], values=[0, 25, 50, 75, 100]),
                tooltip=tooltip(said.charge_fields(write), percent=".0f"),
            ),
        ],
        HEIGHT,
    )
