"""Where two families cost the same, in two numbers."""

import math
from typing import Final

import altair as alt

from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.grid import is_wide
from optimizer.comparison.parameters import SHARES, Parameter
from optimizer.report.charts.canvas import Canvas, Row, marks
from optimizer.report.charts.theme import Stroke, strokes
from optimizer.report.words import charts as said
from optimizer.report.words import parameters
from optimizer.report.words.design import chemistry

#: Usual height of the plot [px].
HEIGHT: Final = 420
#: Where words on a side may stand along the axis, and how far around them the line counts.
_PLACES, _BESIDE = (0.2, 0.35, 0.5, 0.65, 0.8), 0.14
#: Words keep this far from today's point, as shares of the axes.
_CLEAR: Final = (0.12, 0.1)


def break_even_chart(line: BreakEvenLine, canvas: Canvas) -> alt.LayerChart:
    """Return the line on which both families cost the same, with words on both sides.

    It breaks off where one side wins at any price of the range.
    """
    write, colours, across = canvas.write, canvas.palette, line.across
    scaled = 100 if across.unit in SHARES else 1
    rows = [
        {
            "value": one.value * scaled,
            "percent": None if one.factor is None else _percent(one.factor),
        }
        for one in line.points
    ]
    ends = [_edge(line, one.factor, one.always) for one in line.points] + [0.0]
    room = max(12.0, 0.25 * (max(ends) - min(ends)))
    low = max(min(ends) - room, _percent(line.price.low))
    high = min(max(ends) + room, _percent(line.price.high))
    x = canvas.along(
        "value",
        [across.low * scaled, across.high * scaled],
        parameters.axis(write, across),
        kind="log" if is_wide(across) else "linear",
        tickCount=6,
        format="~g",
    )
    today, priced = write.say("today"), chemistry(write, line.priced)
    title = write.say("Price of {family} batteries against today's, %", family=priced)
    y = canvas.up(
        "percent",
        [low, high],
        title,
        labelExpr=f"datum.value == 0 ? '{today}' : format(datum.value, '+.0f')",
        tickCount=6,
    )
    now: Row = {"value": across.base * scaled, "percent": 0.0, "text": today}
    now |= canvas.dot(Stroke(colours.accent), size=90)
    drawn = marks(rows).mark_line(color=colours.ink, strokeWidth=2.2, strokeJoin="round")
    layers = [
        drawn.encode(x=x, y=y),
        *canvas.words(
            _sides(line, canvas, (low, high)), "value:Q", "percent:Q",
            halo=True, align="center", dx=0, fontWeight="bold", fontSize=16,
        ),
        canvas.points([now], "value:Q", "percent:Q"),
        *canvas.words([now], "value:Q", "percent:Q", color=colours.accent, dx=9, dy=2),
    ]  # fmt: skip
    return canvas.finished(layers, HEIGHT, said.break_even_heading(write, line))


def _sides(line: BreakEvenLine, canvas: Canvas, limits: tuple[float, float]) -> list[Row]:
    """Return who wins on each side of the line, where there is most room."""
    across, (low, high) = line.across, limits
    looks = strokes([line.other, line.priced], canvas.palette)
    ends = [(_place(across, one.value), _edge(line, one.factor, one.always)) for one in line.points]
    today = _place(across, across.base), -low / (high - low)
    rows: list[Row] = []
    for name, edge, nearest in ((line.other, high, max), (line.priced, low, min)):
        spots = []
        for place in _PLACES:
            near = [percent for at, percent in ends if abs(at - place) < _BESIDE]
            reach = nearest(near or [percent for _, percent in ends])
            middle = (edge + reach) / 2
            up = (middle - low) / (high - low)
            hides = abs(place - today[0]) < _CLEAR[0] and abs(up - today[1]) < _CLEAR[1]
            spots.append((not hides, abs(edge - reach), place, middle))
        _, _, place, middle = max(spots)
        scaled = 100 if across.unit in SHARES else 1
        rows.append(
            {
                "value": _value(across, place) * scaled,
                "percent": middle,
                "text": canvas.write.say("{family} wins", family=chemistry(canvas.write, name)),
                "colour": looks[name].colour,
            }
        )
    return rows


def _percent(factor: float) -> float:
    return (factor - 1) * 100


def _edge(line: BreakEvenLine, factor: float | None, always: str | None) -> float:
    """Return the price of the line against today's [%]; an end of the range where none is."""
    if factor is None:
        factor = line.price.high if always == line.priced else line.price.low
    return _percent(factor)


def _place(across: Parameter, value: float) -> float:
    """Return where a value stands between the ends of the axis, 0…1."""
    if is_wide(across):
        return math.log(value / across.low) / math.log(across.high / across.low)
    return (value - across.low) / (across.high - across.low)


def _value(across: Parameter, place: float) -> float:
    """Return the value at a place of the axis."""
    if is_wide(across):
        return float(across.low * (across.high / across.low) ** place)
    return across.low + place * (across.high - across.low)
