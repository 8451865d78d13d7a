"""What an outage looks like: the bank's charge from the start, the loads stacked beneath."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final

import altair as alt

from optimizer.formulas.load import DAY_H
from optimizer.model.design import Design
from optimizer.report.charts.canvas import Canvas, Row, apart, beside, marks, tooltip
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import strokes
from optimizer.report.words import charts as said
from optimizer.report.words.writer import clock, plain
from optimizer.simulate import CutDays, Trace

#: The upright axes of both charts take the same room, so that the hours line up [px].
_EXTENT: Final[Row] = {"minExtent": 46, "maxExtent": 46}
#: Usual heights of the plots [px].
CHARGE_HEIGHT, LOADS_HEIGHT, FUEL_HEIGHT = 190, 150, 130
#: Room above the highest value.
_ROOM: Final = 1.12


@dataclass(frozen=True)
class OutagePicture:
    """What is drawn: one simulated outage of a design."""

    trace: Trace
    design: Design
    #: Hours after which tiers are let go, beside a generator none.
    tier_hours: Mapping[str, int] = field(default_factory=dict)


def fuel_chart(picture: OutagePicture, canvas: Canvas, stored_l: float) -> alt.LayerChart:
    """Return the fuel burnt over an outage, up to what is stored."""
    trace, colours, write = picture.trace, canvas.palette, canvas.write
    rows: list[Row] = [
        {"hours": float(hours), "litres": float(litres)}
        for hours, litres in zip(trace.hours, trace.fuel_l, strict=True)
    ]
    top = max(stored_l, rows[-1]["litres"], 1.0) * _ROOM
    stored = write.say("stored {litres:number.1} l", litres=stored_l)
    names = {"hours": said.since_failure(write), "litres": write.say("Fuel burnt, l")}
    line = marks(rows).mark_line(color=colours.ink, strokeWidth=2)
    return canvas.finished(
        [
            *canvas.bands(_running(picture), "litres", top),
            *canvas.level("litres", stored_l, stored, colours.muted, [2, 3]),
            line.encode(
                x=_x(picture, canvas, named=True),
                y=canvas.up("litres", [0, top], tickCount=3, **_EXTENT),
                tooltip=tooltip(names, hours=".0f", litres=".1f"),
            ),
            *_unseen(picture, canvas),
        ],
        FUEL_HEIGHT,
    )


def _running(picture: OutagePicture) -> list[tuple[float, float]]:
    """Return the stretches of hours in which the generator runs."""
    trace = picture.trace
    spans: list[tuple[float, float]] = []
    for begin, end, runs in zip(trace.hours, trace.hours[1:], trace.on_generator, strict=False):
        if runs and spans and spans[-1][1] == float(begin):
            spans[-1] = (spans[-1][0], float(end))
        elif runs:
            spans.append((float(begin), float(end)))
    return spans


def _x(picture: OutagePicture, canvas: Canvas, *, named: bool) -> alt.X:
    last = float(picture.trace.hours[-1])
    step = next(step for step in (1, 2, 3, 6, 12, 24, 48) if last / step <= 14 or step == 48)  # noqa: PLR2004 - ticks
    title = said.since_failure(canvas.write) if named else None
    return canvas.along(
        "hours", [0, last], title, values=[*range(0, int(last) + 1, step)], format=".0f"
    )


def charge_chart(picture: OutagePicture, canvas: Canvas) -> alt.LayerChart:
    """Return the bank's state of charge over the outage."""
    trace, write = picture.trace, canvas.write
    planned = picture.design.hours
    claimed: Row = {"hours": planned, "text": write.say("{hours} h planned", hours=planned)}
    before = beside(7, is_late=True)
    if trace.on_generator.any():  # beside one the bank is full in the end
        before |= {"baseline": "bottom", "dy": CHARGE_HEIGHT - 62}
    x = _x(picture, canvas, named=False)
    since = {"hours": said.since_failure(write)}
    layers = [
        *canvas.bands(_running(picture), "percent", 100.0, write.say("generator runs")),
        *canvas.lowest_charge(trace.lowest_state_of_charge),
        *canvas.upright([claimed], **before),
        charge_line(trace, family_of(picture.design), canvas, x, since, **_EXTENT),
        *_unseen(picture, canvas),
    ]
    return canvas.finished(layers, CHARGE_HEIGHT)


def charge_line(
    found: Trace | CutDays,
    family: str,
    canvas: Canvas,
    x: alt.X,
    named: Mapping[str, str] | None = None,
    **axis: Any,  # noqa: ANN401 - passed on
) -> alt.Chart:
    """Return a state of charge over hours in its family's colour; ``named`` is shown of it too."""
    begins = found.start_hour if isinstance(found, Trace) else 0
    rows: list[Row] = [
        {
            "hours": float(hours),
            "percent": 100 * float(charge),
            "clock": clock((begins + float(hours)) % DAY_H),
        }
        for hours, charge in zip(found.hours, found.state_of_charge, strict=True)
    ]
    fields = {
        **(named or {}),
        "clock": canvas.write.say("Time of day"),
        "percent": canvas.write.say("State of charge, %"),
    }
    colour = strokes([family], canvas.palette)[family].colour
    line: alt.Chart = marks(rows).mark_line(color=colour, strokeWidth=2.5)
    y = canvas.up("percent", [0, 100], values=[0, 25, 50, 75, 100], **axis)
    return line.encode(x=x, y=y, tooltip=tooltip(fields, hours=".1f", percent=".0f"))


def _unseen(picture: OutagePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the loads' names unseen: they take the room that lines the hours of charts up."""
    trace = picture.trace
    rows = [{"hours": float(trace.hours[-1]), "text": plain(tier)} for tier in trace.loads_w]
    return canvas.words(rows, "hours:Q", alt.value(0), opacity=0, dx=8, tooltip=None)


def loads_chart(picture: OutagePicture, canvas: Canvas) -> alt.LayerChart:
    """Return the loads as areas that step with the hours, each tier's name at its own height."""
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
    upright = canvas.axis(grid=True, format=",.0f", tickCount=3, **_EXTENT)
    write = canvas.write
    fields = {
        "tier": write.say("Tier"),
        "hours": said.since_failure(write),
        "watts": write.say("Loads, W"),
    }
    area = (
        marks(rows)
        .mark_area(interpolate="step-after", stroke=canvas.palette.ground, strokeWidth=1)
        .encode(
            x=_x(picture, canvas, named=True),
            y=alt.Y("low:Q", axis=upright, scale=alt.Scale(nice=False)),
            y2="high:Q",
            detail="tier:N",
            fill="tone:N",
            tooltip=tooltip(fields, hours=".0f", watts=",.0f"),
        )
    )
    spread = apart(names, "watts", 0.13 * top)
    names_at = canvas.words(spread, "hours:Q", "watts:Q", color=canvas.palette.muted, dx=8)
    return canvas.finished([area, *_let_go(picture, canvas), *names_at], LOADS_HEIGHT)


def _let_go(picture: OutagePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the moments at which tiers are let go, each as an upright line with its name."""
    last = float(picture.trace.hours[-1])
    tiers = {} if picture.design.generator is not None else picture.tier_hours
    rows: list[Row] = [
        {"hours": float(hours), "text": canvas.write.say("{tier} let go", tier=tier)}
        for tier, hours in tiers.items()
        if hours < last and tier in picture.trace.loads_w
    ]
    return canvas.upright(rows, dx=5, halo=True) if rows else []
