"""What an outage looks like: the bank's charge from the start, the loads stacked beneath."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

import altair as alt

from optimizer.report.charts.canvas import Row, apart, marks, tooltip
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said
from optimizer.report.words import plain
from optimizer.simulate import Trace

if TYPE_CHECKING:
    from optimizer.report.charts.canvas import Canvas

#: The upright axes of both charts take the same room, so that the hours line up [px].
_AXIS_PX: Final = 46
#: Usual heights of the plots [px].
CHARGE_HEIGHT, LOADS_HEIGHT, FUEL_HEIGHT = 190, 150, 130
#: Room above the highest value.
_ROOM: Final = 1.12
#: Top of the charge's axis [%].
_WHOLE: Final = 100.0


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
    let_go : mapping of str to int
        Hours after which tiers are let go.
    """

    trace: Trace
    start_hour: int
    claimed_hours: int
    family: str
    let_go: Mapping[str, int] = field(default_factory=dict)

    def clock(self, hours: float) -> str:
        """Return the time of day some hours after the failure."""
        return f"{int(self.start_hour + hours) % 24:02d}:00"


def charge_chart(picture: OutagePicture, canvas: Canvas) -> alt.LayerChart:
    """Return the bank's state of charge over the outage."""
    return canvas.finished(_charge(picture, canvas), CHARGE_HEIGHT)


def loads_chart(picture: OutagePicture, canvas: Canvas) -> alt.LayerChart:
    """Return the loads over the outage, tier upon tier."""
    return canvas.finished(_loads(picture, canvas), LOADS_HEIGHT)


def fuel_chart(picture: OutagePicture, canvas: Canvas, stored_l: float) -> alt.LayerChart:
    """Return the fuel burnt over an outage, up to what is stored."""
    trace, colours, write = picture.trace, canvas.palette, canvas.write
    rows: list[Row] = [
        {"hours": float(hours), "litres": float(litres)}
        for hours, litres in zip(trace.hours, trace.fuel_l, strict=True)
    ]
    extent: Row = {"minExtent": _AXIS_PX, "maxExtent": _AXIS_PX}
    top = max(stored_l, rows[-1]["litres"], 1.0) * _ROOM
    stored: Row = {"litres": stored_l, "text": said.fuel_stored(write, stored_l)}
    below: Row = {"color": colours.muted, "baseline": "bottom", "dx": 6, "dy": -3}
    line = marks(rows).mark_line(color=colours.ink, strokeWidth=2)
    return canvas.finished(
        [
            *_running(picture, canvas, top=top, along="litres"),
            marks([stored]).mark_rule(color=colours.muted, strokeDash=[2, 3]).encode(y="litres:Q"),
            *canvas.words([stored], alt.value(0), "litres:Q", **below),
            line.encode(
                x=_x(picture, canvas, named=True),
                y=canvas.up("litres", [0, top], tickCount=3, **extent),
                tooltip=tooltip(said.fuel_fields(write), hours=".0f", litres=".1f"),
            ),
            *_unseen(picture, canvas),
        ],
        FUEL_HEIGHT,
    )


def _running(
    picture: OutagePicture, canvas: Canvas, *, top: float, along: str, named: bool = False
) -> list[alt.Chart]:
    """Return the stretches in which the generator runs, as bands behind; named once."""
    trace = picture.trace
    bands: list[Row] = []
    for begin, end, runs in zip(trace.hours, trace.hours[1:], trace.on_generator, strict=False):
        if runs and bands and bands[-1]["end"] == float(begin):
            bands[-1]["end"] = float(end)
        elif runs:
            bands.append({"hours": float(begin), "end": float(end), along: 0.0, "top": top})
    if not bands:
        return []
    band = marks(bands).mark_rect(color=canvas.palette.band, opacity=0.7)
    name: Row = {**bands[0], "text": said.generator_runs(canvas.write)}
    words = canvas.words([name], "hours:Q", f"{along}:Q", color=canvas.palette.muted, dx=4, dy=-9)
    place: Row = {"x": "hours:Q", "x2": "end:Q", "y": f"{along}:Q", "y2": "top:Q"}
    return [band.encode(**place), *(words if named else [])]


def _x(picture: OutagePicture, canvas: Canvas, *, named: bool) -> alt.X:
    last = float(picture.trace.hours[-1])
    step = next(step for step in (1, 2, 3, 6, 12, 24, 48) if last / step <= 14 or step == 48)  # noqa: PLR2004
    title = said.since_failure(canvas.write) if named else None
    return canvas.along(
        "hours", [0, last], title, values=[*range(0, int(last) + 1, step)], format=".0f"
    )


def _charge(picture: OutagePicture, canvas: Canvas) -> list[alt.Chart]:
    trace, colours, write = picture.trace, canvas.palette, canvas.write
    rows: list[Row] = [
        {
            "hours": float(hours),
            "percent": 100 * float(charge),
            "clock": picture.clock(float(hours)),
        }
        for hours, charge in zip(trace.hours, trace.state_of_charge, strict=True)
    ]
    look = strokes([picture.family], colours)[picture.family]
    extent: Row = {"minExtent": _AXIS_PX, "maxExtent": _AXIS_PX}
    upright = canvas.up("percent", [0, 100], values=[0, 25, 50, 75, 100], **extent)
    line = marks(rows).mark_line(color=look.colour, strokeWidth=2.5)
    lowest = trace.lowest_state_of_charge
    floor = {"percent": 100 * lowest, "text": said.lowest_charge(write, lowest)}
    claimed = {"hours": picture.claimed_hours, "text": said.claimed(write, picture.claimed_hours)}
    below: Row = {"color": colours.muted, "baseline": "bottom", "dx": 6, "dy": -3}
    before: Row = {"color": colours.accent, "align": "right", "dx": -7, "dy": 8}
    if trace.on_generator.any():  # beside one the bank is full in the end
        before |= {"baseline": "bottom", "dy": CHARGE_HEIGHT - 62}
    return [
        *_running(picture, canvas, top=_WHOLE, along="percent", named=True),
        marks([floor]).mark_rule(color=colours.muted, strokeDash=[2, 3]).encode(y="percent:Q"),
        *canvas.words([floor], alt.value(0), "percent:Q", **below),
        marks([claimed]).mark_rule(color=colours.accent, strokeWidth=1.5).encode(x="hours:Q"),
        *canvas.words([claimed], "hours:Q", alt.value(0), **before),
        line.encode(
            x=_x(picture, canvas, named=False),
            y=upright,
            tooltip=tooltip(said.charge_fields(write), hours=".1f", percent=".0f"),
        ),
        *_unseen(picture, canvas),
    ]


def _unseen(picture: OutagePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the loads' names unseen: they take the room that lines the hours of charts up."""
    trace = picture.trace
    rows = [{"hours": float(trace.hours[-1]), "text": plain(tier)} for tier in trace.loads_w]
    return canvas.words(rows, "hours:Q", alt.value(0), opacity=0, dx=8, tooltip=None)


def _loads(picture: OutagePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return areas that step with the hours, and each tier's name at its own height."""
    trace, tones = picture.trace, canvas.palette.tones
    rows: list[Row] = []
    names: list[Row] = []
    below = [0.0] * (len(trace.hours) - 1)
    for place, (tier, watts) in enumerate(trace.loads_w.items()):
        foot = list(below)
        below = [low + float(high) for low, high in zip(below, watts, strict=True)]
        corners = [*range(len(below)), len(below) - 1]
        rows += [
            {
                "hours": float(hours),
                "tier": plain(tier),
                "low": foot[index],
                "high": below[index],
                "watts": float(watts[index]),
                "tone": tones[place % len(tones)],
            }
            for index, hours in zip(corners, trace.hours, strict=True)
        ]
        middle = (foot[-1] + below[-1]) / 2
        names.append({"hours": float(trace.hours[-1]), "watts": middle, "text": plain(tier)})
    top = max([row["high"] for row in rows], default=1.0)
    extent: Row = {"minExtent": _AXIS_PX, "maxExtent": _AXIS_PX}
    upright = canvas.axis(grid=True, format=",.0f", tickCount=3, **extent)
    area = (
        marks(rows)
        .mark_area(interpolate="step-after", stroke=canvas.palette.ground, strokeWidth=1)
        .encode(
            x=_x(picture, canvas, named=True),
            y=alt.Y("low:Q", axis=upright, scale=alt.Scale(nice=False)),
            y2="high:Q",
            detail="tier:N",
            fill=alt.Fill("tone:N", scale=None),
            tooltip=tooltip(said.load_fields(canvas.write), hours=".0f", watts=",.0f"),
        )
    )
    spread = apart(names, "watts", 0.13 * top)
    names_at = canvas.words(spread, "hours:Q", "watts:Q", color=canvas.palette.muted, dx=8)
    return [area, *_let_go(picture, canvas), *names_at]


def _let_go(picture: OutagePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the moments at which tiers are let go, each as an upright line with its name."""
    accent, last = canvas.palette.accent, float(picture.trace.hours[-1])
    rows: list[Row] = [
        {"hours": float(hours), "text": said.let_go(canvas.write, tier)}
        for tier, hours in picture.let_go.items()
        if hours < last and tier in picture.trace.loads_w
    ]
    if not rows:
        return []
    rule = marks(rows).mark_rule(color=accent, strokeWidth=1.5)
    place: Row = {"color": accent, "dx": 5, "dy": 8, "halo": True}
    return [rule.encode(x="hours:Q"), *canvas.words(rows, "hours:Q", alt.value(0), **place)]
