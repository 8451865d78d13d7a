"""Days of scheduled cuts: the bank's charge, cuts as bands."""

from typing import Final

import altair as alt

from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.outage import charge_line
from optimizer.report.words import charts as said
from optimizer.simulate import CutDays

#: Usual height of the plot [px].
HEIGHT: Final = 210
_STEP_H: Final = 6


def cut_days_chart(found: CutDays, family: str, canvas: Canvas) -> alt.LayerChart:
    """Return the bank's state of charge over some days, the cuts as bands behind."""
    write, last = canvas.write, float(found.hours[-1])
    x = canvas.along(
        "hours",
        [0, last],
        said.time_of_day(write),
        values=[*range(0, round(last) + 1, _STEP_H)],
        labelExpr="datum.value % 24",
    )
    return canvas.finished(
        [
            *canvas.bands(found.cuts, "percent", 100.0, write.say("cut")),
            *canvas.lowest_charge(found.lowest_state_of_charge),
            charge_line(found, family, canvas, x),
        ],
        HEIGHT,
    )
