"""A day of the loads: each minute's bursts over each hour's mean."""

from itertools import pairwise
from typing import Final

import altair as alt

from optimizer.formulas.load import DAY_H
from optimizer.report.charts.canvas import Canvas, Row, beside, marks, tooltip
from optimizer.report.words import charts as said
from optimizer.report.words.writer import clock
from optimizer.simulate import LoadDay

#: Usual height of the plot [px].
HEIGHT: Final = 200
_ROOM: Final = 1.1
_MINUTES: Final = 60


def minute_rows(found: LoadDay) -> list[Row]:
    """Return the corners of the day by the minute: where the power changes [h, W]."""
    watts = [float(one) for one in found.by_minute]
    kept = [0, *(place + 1 for place, (here, there) in enumerate(pairwise(watts)) if here != there)]
    rows: list[Row] = [
        {"hours": place / _MINUTES, "watts": watts[place], "clock": clock(place / _MINUTES)}
        for place in kept
    ]
    return [*rows, {**rows[-1], "hours": float(DAY_H), "clock": clock(DAY_H)}]


def load_day_chart(found: LoadDay, canvas: Canvas) -> alt.LayerChart:
    """Return the loads by the minute as a line over areas of the hourly mean."""
    rows, colours, write = minute_rows(found), canvas.palette, canvas.write
    hours: list[Row] = [
        {"hours": float(place), "end": place + 1.0, "low": 0.0, "watts": float(watts)}
        for place, watts in enumerate(found.by_hour)
    ]
    top = max(row["watts"] for row in rows) * _ROOM
    mean = marks(hours).mark_rect(color=colours.tones[2])
    line = marks(rows).mark_line(interpolate="step-after", color=colours.ink, strokeWidth=1.3)
    x = canvas.along("hours", [0, DAY_H], said.time_of_day(write), values=[0, 6, 12, 18, 24])
    y = canvas.up("low", [0, top], format=",.0f", tickCount=4)
    most = max(rows, key=lambda row: row["watts"])
    name: Row = {**most, "text": write.say("{power:number} W at once", power=most["watts"])}
    place = beside(6, is_late=most["hours"] > DAY_H / 2) | {"dy": -6, "fontWeight": "bold"}
    fields = {"clock": write.say("Time of day"), "watts": write.say("Loads, W")}
    return canvas.finished(
        [
            mean.encode(x=x, x2="end:Q", y=y, y2="watts:Q"),
            line.encode(x="hours:Q", y="watts:Q", tooltip=tooltip(fields, watts=",.0f")),
            *canvas.words([name], "hours:Q", "watts:Q", halo=True, **place),
        ],
        HEIGHT,
    )
