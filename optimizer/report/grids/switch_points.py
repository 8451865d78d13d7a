"""Where another side wins, as tables."""

import math
from collections.abc import Sequence

from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.switch_points import Neighbour, SwitchPoints
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Value
from optimizer.report.words import parameters
from optimizer.report.words import switch_points as words
from optimizer.report.words.charts import break_even_heading
from optimizer.report.words.comparison import side
from optimizer.report.words.writer import Writer

#: Digits that tell the two neighbours of a switch point apart.
_NEIGHBOUR_DIGITS = 9


def switch_points(write: Writer, found: Sequence[SwitchPoints]) -> Grid:
    """Return who wins where along each number, one row each."""
    columns = [
        Column("parameter", write.say("All else equal")),
        Column("now", write.say("Now")),
        Column("range", write.say("Range")),
        Column("winner", write.say("Who wins")),
        Column("proof", write.say("Looked at"), is_short=True),
    ]
    rows = [
        [
            parameters.name(write, one.parameter),
            parameters.value(write, one.parameter, one.parameter.base),
            parameters.between(write, one.parameter, one.parameter.low, one.parameter.high),
            words.regions(write, one),
            words.proof(write, one),
        ]
        for one in found
    ]
    return Grid("switch_points", write.say("Who wins where"), columns, rows)


def neighbours(write: Writer, found: Sequence[SwitchPoints]) -> Grid:
    """Return every switch point with the values on both sides of it, worked out whole."""
    columns = [
        Column("parameter", write.say("All else equal")),
        Column("below", write.say("From"), Kind.FIGURE, _NEIGHBOUR_DIGITS),
        Column("above", write.say("To"), Kind.FIGURE, _NEIGHBOUR_DIGITS),
        Column("winner_below", write.say("Before")),
        Column("winner_above", write.say("Then")),
        Column("costs_below", write.say("Costs before")),
        Column("costs_above", write.say("Costs then")),
        Column("kind", write.say("Why")),
    ]
    rows: list[list[Value | Cell]] = [
        [
            parameters.name(write, one.parameter),
            point.below.value,
            point.above.value,
            side(write, point.below.winner),
            side(write, point.above.winner),
            _costs(write, point.below),
            _costs(write, point.above),
            words.kind(write, point),
        ]
        for one in found
        for point in one.points
    ]
    title = write.say("Every switch point between its neighbours, {currency}")
    return Grid("neighbours", title, columns, rows)


def _costs(write: Writer, there: Neighbour) -> str:
    return write.listed(
        [
            write.say("{side} {cost:cents}", side=side(write, name), cost=cost)
            for name, cost in there.costs.items()
            if math.isfinite(cost)
        ]
    )


def break_even_line(write: Writer, line: BreakEvenLine) -> Grid:
    """Return the break-even line point by point."""
    priced = side(write, line.priced)
    columns = [
        Column("value", parameters.name(write, line.across)),
        Column("price_factor", write.say("{side} wins until its price is", side=priced)),
    ]
    rows = [
        [
            parameters.value(write, line.across, point.value),
            write.say(words.ALWAYS.english, side=side(write, point.always))
            if point.factor is None
            else parameters.value(write, line.price, point.factor),
        ]
        for point in line.points
    ]
    return Grid("break_even_line", break_even_heading(write, line)[0], columns, rows)


def nearest(write: Writer, found: Sequence[SwitchPoints]) -> Grid:
    """Return how far each number may move before another side wins, the nearest first.

    Of numbers with a switch point and something to take a share of.
    """
    distances = {
        parameters.name(write, one.parameter): min(
            abs(point.value / one.parameter.base - 1) for point in one.points
        )
        for one in found
        if one.points and one.parameter.base
    }
    columns = [
        Column("parameter", write.say("All else equal")),
        Column("distance", write.say("Another side wins when it moves by"), Kind.SHARE, 1),
    ]
    title = write.say("How near another winner is")
    rows = sorted(distances.items(), key=lambda pair: pair[1])
    return Grid("nearest", title, columns, rows)
