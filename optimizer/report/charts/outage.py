"""What an outage looks like: the bank's charge from the start, the loads stacked beneath."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import altair as alt

from optimizer.report.charts import labels
from optimizer.report.charts.theme import (
    Palette,
    Row,
    at_hours,
    axis,
    config,
    data,
    layered,
    room,
    row_text,
    strokes,
    titled,
)
from optimizer.report.words import plain
from optimizer.simulate import Trace

#: The upright axes of both charts take the same room, so that the hours line up [px].
_AXIS_PX: Final = 46
_ROOM_PX: Final = 8


@dataclass(frozen=True)
class OutagePicture:
    """What is drawn: one simulated outage.

    Parameters
    ----------
    trace : Trace
        Charge and loads, hour by hour.
    start_hour : int
        Hour of the day at which the grid fails.
    claimed_hours : int
        What the design is sold for [h].
    family : str
        The bank's, for its colour.
    """

    trace: Trace
    start_hour: int
    claimed_hours: int
    family: str


def outage_rows(picture: OutagePicture) -> list[Row]:
    """Return the outage hour by hour: what the charts draw, as a table."""
    trace = picture.trace
    rows: list[Row] = []
    for index, hours in enumerate(trace.hours):
        row: Row = {
            "hours": float(hours),
            "clock": labels.clock(picture.start_hour + float(hours)),
            "charge": float(trace.state_of_charge[index]),
        }
        for tier, watts in trace.loads_w.items():
            row[tier] = float(watts[index]) if index < len(watts) else None
        rows.append(row)
    return rows


def charge_chart(
    picture: OutagePicture, palette: Palette, *, height: int = 190, width: int | None = None
) -> alt.LayerChart:
    """Return the bank's charge over the outage."""
    layers = _charge(picture, palette)
    return layered(layers, palette, height=height, width=width, right=_ROOM_PX)


def loads_chart(
    picture: OutagePicture, palette: Palette, *, height: int = 150, width: int | None = None
) -> alt.LayerChart:
    """Return the loads over the outage, tier upon tier."""
    layers = _loads(picture, palette)
    return layered(layers, palette, height=height, width=width, right=_ROOM_PX)


def outage_chart(
    picture: OutagePicture, palette: Palette, *, title: str, subtitle: str, width: int = 760
) -> alt.VConcatChart:
    """Return both, one above the other, for a file."""
    return alt.vconcat(
        alt.layer(*_charge(picture, palette), height=190, width=width),
        alt.layer(*_loads(picture, palette), height=150, width=width),
        title=titled(title, subtitle, palette),
        padding=room(_ROOM_PX),
        config=config(palette),
    )


def _x(picture: OutagePicture, palette: Palette, *, named: bool) -> alt.X:
    last = float(picture.trace.hours[-1])
    step = next(step for step in (1, 2, 3, 6, 12, 24, 48) if last / step <= 14 or step == 48)  # noqa: PLR2004
    scale = alt.Scale(domain=[0, last], nice=False)
    ticks = list(range(0, int(last) + 1, step))
    title = labels.SINCE_FAILURE if named else None
    return alt.X("hours:Q", scale=scale, axis=axis(palette, values=ticks, title=title))


def _charge(picture: OutagePicture, palette: Palette) -> list[alt.Chart]:
    trace = picture.trace
    rows: list[Row] = [
        {
            "hours": float(hours),
            "percent": 100 * float(charge),
            "clock": labels.clock(picture.start_hour + float(hours)),
        }
        for hours, charge in zip(trace.hours, trace.state_of_charge, strict=True)
    ]
    look = strokes([picture.family], palette)[picture.family]
    scale = alt.Scale(domain=[0, 100], nice=False)
    upright = axis(
        palette,
        grid=True,
        title=None,
        values=[0, 25, 50, 75, 100],
        minExtent=_AXIS_PX,
        maxExtent=_AXIS_PX,
    )
    y = alt.Y("percent:Q", scale=scale, axis=upright)
    line = (
        alt.Chart(data(rows))
        .mark_line(color=look.colour, strokeWidth=2.5)
        .encode(
            x=_x(picture, palette, named=False),
            y=y,
            tooltip=[
                alt.Tooltip("hours:Q", title=labels.SINCE_FAILURE, format=".1f"),
                alt.Tooltip("clock:N", title=labels.CLOCK),
                alt.Tooltip("percent:Q", title=labels.CHARGE, format=".0f"),
            ],
        )
    )
    floor: Row = {
        "percent": 100 * trace.lowest_state_of_charge,
        "text": labels.lowest(trace.lowest_state_of_charge),
    }
    level = alt.Chart(data([floor])).encode(y=alt.Y("percent:Q"))
    held: Row = {"hours": picture.claimed_hours, "text": labels.held(picture.claimed_hours)}
    mark = alt.Chart(data([held])).encode(x=at_hours())
    return [
        level.mark_rule(color=palette.muted, strokeDash=[2, 3]),
        level.mark_text(color=palette.muted, align="left", baseline="bottom", dx=6, dy=-3).encode(
            x=alt.value(0), text=row_text()
        ),
        mark.mark_rule(color=palette.accent, strokeWidth=1.5),
        mark.mark_text(color=palette.accent, align="right", dx=-7, dy=8).encode(
            y=alt.value(0), text=row_text()
        ),
        line,
        _like_the_names(picture),
    ]


def _like_the_names(picture: OutagePicture) -> alt.Chart:
    """Return the loads' names unseen: they take the room that lines the hours of both charts up."""
    rows: list[Row] = [
        {"hours": float(picture.trace.hours[-1]), "text": plain(tier)}
        for tier in picture.trace.loads_w
    ]
    unseen: alt.Chart = (
        alt.Chart(data(rows))
        .mark_text(opacity=0, align="left", dx=8, tooltip=None)
        .encode(x=at_hours(), y=alt.value(0), text=row_text())
    )
    return unseen


def _loads(picture: OutagePicture, palette: Palette) -> list[alt.Chart]:
    """Return areas that step with the hours, and each tier's name at its own height."""
    trace = picture.trace
    rows: list[Row] = []
    names: list[Row] = []
    below = [0.0] * (len(trace.hours) - 1)
    for place, (tier, watts) in enumerate(trace.loads_w.items()):
        tone = palette.tones[place % len(palette.tones)]
        foot = list(below)
        below = [low + float(high) for low, high in zip(below, watts, strict=True)]
        corners = [*range(len(below)), len(below) - 1]
        for index, hours in zip(corners, trace.hours, strict=True):
            rows.append(
                {
                    "hours": float(hours),
                    "tier": plain(tier),
                    "low": foot[index],
                    "high": below[index],
                    "watts": float(watts[index]),
                    "tone": tone,
                }
            )
        middle = (foot[-1] + below[-1]) / 2
        names.append({"hours": float(trace.hours[-1]), "watts": middle, "text": plain(tier)})
    top = max([row["high"] for row in rows], default=1.0)
    last = -top
    for name in names:
        last = name["watts"] = max(name["watts"], last + 0.13 * top)
    upright = axis(
        palette,
        grid=True,
        title=None,
        format=",.0f",
        tickCount=3,
        minExtent=_AXIS_PX,
        maxExtent=_AXIS_PX,
    )
    area = (
        alt.Chart(data(rows))
        .mark_area(interpolate="step-after", stroke=palette.ground, strokeWidth=1)
        .encode(
            x=_x(picture, palette, named=True),
            y=alt.Y("low:Q", axis=upright, scale=alt.Scale(nice=False)),
            y2="high:Q",
            detail="tier:N",
            fill=alt.Fill("tone:N", scale=None),
            tooltip=[
                alt.Tooltip("tier:N", title=labels.TIER),
                alt.Tooltip("hours:Q", title=labels.SINCE_FAILURE, format=".0f"),
                alt.Tooltip("watts:Q", title=labels.WATTS, format=",.0f"),
            ],
        )
    )
    named = (
        alt.Chart(data(names))
        .mark_text(color=palette.muted, align="left", dx=8)
        .encode(x=at_hours(), y=alt.Y("watts:Q"), text=row_text())
    )
    return [area, named]
