"""Every value of a number at which another side wins, all else equal.

Along a `CONCAVE` parameter the least cost over all designs is concave and made of straight
pieces. It is followed from piece to piece (Eisner and Severance, J. ACM 23 (1976) 619): where the
lines of the designs at two values meet, a cheaper one is asked for, until there is none. A concave
function that touches its chord between two values is that chord, so nothing is missed: proven.
Whole numbers are worked out one by one: proven too. Along any other parameter a grid is looked
at, and each change of the winner on it is narrowed down: found, and what comes and goes between
two values of the grid is not seen.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from itertools import pairwise

from optimizer.answers.questions import asked_hours
from optimizer.comparison.grid import grid_values
from optimizer.comparison.parameters import Parameter, Shape, parameter_named, parameters_of
from optimizer.comparison.processes import spread
from optimizer.comparison.study import Best, cost_at, offering
from optimizer.engine.money_scale import cost_tolerance
from optimizer.model.job import Job
from optimizer.model.progress import Progress
from optimizer.model.result import Listed
from optimizer.model.shown import Unbounded, shown

#: Width of a bracket as a share of the value.
BRACKET = 1e-6
#: Near zero the width is this share of the range instead.
_NEAR_ZERO = 1e-3
#: Costs that differ by more than this share across a bracket break off there.
_JUMP = 1e-4
#: Attempts to narrow a piece down with its two winners alone, before it is halved.
_IN_VAIN = 3
#: A piece this narrow, as a share of the range, is straight: a design's own bend lies in it.
_NARROW = 1e-5


class Kind(StrEnum):
    """What happens at a switch point.

    ``CROSSING``: costs run on through it and meet. ``JUMP``: one breaks off. ``WHOLE``: the
    number has no values between.
    """

    CROSSING = "crossing"
    JUMP = "jump"
    WHOLE = "whole"


@dataclass(frozen=True, slots=True)
class Neighbour:
    """One side of a switch point: the value, who is cheapest there, and what each side costs there.

    ``costs`` are infinite of a side that carries nothing [currency].
    """

    value: float
    winner: str | None
    costs: dict[str, Unbounded]


@dataclass(frozen=True, slots=True)
class Jump:
    """A side whose cost jumps as the number grows: up, or down."""

    side: str
    upward: bool


@dataclass(frozen=True, slots=True)
class SwitchPoint:
    """A change of the winner between two neighbouring values.

    ``jumps`` are the sides whose cost breaks off there.
    """

    kind: Kind
    below: Neighbour
    above: Neighbour
    jumps: tuple[Jump, ...] = ()

    also = ("value",)

    @property
    def value(self) -> float:
        """The middle of the bracket; for whole numbers the first value of the new winner."""
        if self.kind is Kind.WHOLE:
            return self.above.value
        return (self.below.value + self.above.value) / 2


@dataclass(frozen=True, slots=True)
class SwitchPoints:
    """All switch points along a parameter; ``proven`` tells whether there can be no others."""

    parameter: Parameter = field(metadata=shown(inline=True))
    winner: str | None
    points: tuple[SwitchPoint, ...]
    proven: bool
    values_tried: int


@dataclass(frozen=True, slots=True, repr=False)
class Switches(Listed[SwitchPoints]):
    """Where the winner changes along each number, all else equal; ``hours`` are carried."""

    job: Job = field(metadata=shown(hide=True))
    hours: int
    rows: tuple[SwitchPoints, ...] = field(metadata=shown("switch_points"))


def switch_points(
    job: Job,
    hours: int | None = None,
    *,
    keys: Sequence[str] | None = None,
    processes: int | None = None,
    progress: Progress | None = None,
) -> Switches:
    """Return every value of each number at which another side wins, all else equal.

    Parameters
    ----------
    job : Job
        From `load`. Its limits hold.
    hours : int, optional
        Autonomy that each side carries [h]; the site's target where left out.
    keys : sequence of str, optional
        Which numbers, such as "outages", "rate" or "price:lithium"; all where left out.
    processes : int, optional
        Processes to share the work; as many as there are cores where left out. 1 starts none.
    progress : callable, optional
        Called with numbers done and all numbers.

    Raises
    ------
    InputError
        A key that is not known, or hours out of range.

    Examples
    --------
    >>> from optimizer import load
    >>> found, = switch_points(load("house"), keys=["price:lithium"])
    >>> round(found.points[0].value, 3)
    0.973
    """
    job, hours = asked_hours(job, hours)
    numbers = parameters_of(job) if keys is None else [parameter_named(job, key) for key in keys]

    tasks = [(job, parameter, hours) for parameter in numbers]
    return Switches(job, hours, tuple(spread(_along, tasks, processes, progress)))


def _along(task: tuple[Job, Parameter, int]) -> SwitchPoints:
    """Return every switch point along one parameter."""
    job, parameter, hours = task
    search = SwitchPointSearch(job, parameter, hours)
    if parameter.shape is Shape.CONCAVE:
        brackets = list(search.between_straight_pieces())
    else:
        brackets = [
            bracket for pair in pairwise(grid_values(parameter)) for bracket in search.within(*pair)
        ]
    return SwitchPoints(
        parameter,
        search.at(float(parameter.base)).winner,  # years are whole, and a key of their own
        tuple(search.switch_point(*bracket) for bracket in brackets),
        proven=parameter.shape is not Shape.ANY,
        values_tried=search.at.cache_info().currsize,
    )


class SwitchPointSearch:
    """The search for brackets: neighbouring values of which another side wins at each.

    ``at`` gives the cheapest designs at a value, each worked out once; the job's limits hold.
    """

    def __init__(self, job: Job, parameter: Parameter, hours: int) -> None:
        self._job, self._parameter, self._hours = job, parameter, hours
        self._range = parameter.high - parameter.low
        self._tolerance = cost_tolerance(job)
        self.at = cache(lambda value: Best(parameter.at(job, value), hours))

    def within(self, a: float, b: float, vain: int = 0) -> Iterator[tuple[float, float]]:
        """Yield brackets between two values, none where the same side wins at both.

        First where one rival overtakes the other with nothing else on offer, which is soon
        found; after ``vain`` such attempts pieces are halved.
        """
        if self.at(a).winner == self.at(b).winner:
            return
        whole = self._parameter.shape is Shape.WHOLE
        if whole or b - a <= self._width(a, b):
            yield a, b
            return
        cuts = [(a + b) / 2] if vain >= _IN_VAIN else self._between_rivals(a, b)
        for low, high in pairwise([a, *cuts, b]):
            yield from self.within(low, high, vain + 1)

    def _between_rivals(self, a: float, b: float) -> list[float]:
        """Return the values around where the winner at ``b`` overtakes the one at ``a``."""
        designs = self.at(a).design, self.at(b).design
        offered = offering(self._job, [one for one in designs if one is not None])
        rivals = SwitchPointSearch(offered, self._parameter, self._hours)
        low, high, first = a, b, self.at(a).winner
        while high - low > self._width(low, high):
            middle = (low + high) / 2
            if rivals.at(middle).winner == first:
                low = middle
            else:
                high = middle
        return [one for one in (low, high) if a < one < b]

    def _width(self, a: float, b: float) -> float:
        return BRACKET * max(abs(a + b) / 2, _NEAR_ZERO * self._range)

    def between_straight_pieces(self) -> Iterator[tuple[float, float]]:
        """Yield brackets around the corners of the least cost at which the winner changes."""
        parameter = self._parameter
        corners = [parameter.low, *self._corners(parameter.low, parameter.high), parameter.high]
        middles = [(a + b) / 2 for a, b in pairwise(corners)]
        for corner, (before, after) in zip(corners[1:-1], pairwise(middles), strict=True):
            if self.at(before).winner != self.at(after).winner:
                yield self._around(corner, before, after)

    def _corners(self, a: float, b: float) -> Iterator[float]:
        """Yield the values at which the least cost turns from one straight line to the next."""
        meet = self._meet(a, b)
        if meet is None:
            return
        share = (meet - a) / (b - a)
        chord = (1 - share) * self.at(a).cost + share * self.at(b).cost
        if self.at(meet).cost <= chord + self._tolerance or b - a < _NARROW * self._range:
            return
        yield from self._corners(a, meet)
        yield meet
        yield from self._corners(meet, b)

    def _meet(self, a: float, b: float) -> float | None:
        """Return where the lines of the cheapest designs at two values meet, or the middle."""
        one, other = self.at(a).design, self.at(b).design
        if one is None or other is None:
            return None
        over_a = cost_at(self._parameter.at(self._job, a), other) - self.at(a).cost
        over_b = cost_at(self._parameter.at(self._job, b), one) - self.at(b).cost
        if min(over_a, over_b) <= self._tolerance:
            return (a + b) / 2
        return a + (b - a) * over_a / (over_a + over_b)

    def _around(self, corner: float, before: float, after: float) -> tuple[float, float]:
        """Return a bracket around a corner, as narrow as the winners on both sides differ."""
        half = 0.4 * self._width(corner, corner)
        while corner - half > before and corner + half < after:
            low, high = corner - half, corner + half
            if self.at(low).winner != self.at(high).winner:
                return low, high
            half *= 10
        return before, after

    def switch_point(self, a: float, b: float) -> SwitchPoint:
        """Return the switch point between two neighbouring values."""
        below, above = (self._neighbour(value) for value in (a, b))
        if self._parameter.shape is Shape.WHOLE:
            return SwitchPoint(Kind.WHOLE, below, above)
        jumps = []
        for side in dict.fromkeys((*below.costs, *above.costs)):
            low, high = (self.at(value).cost_of(side) for value in (a, b))
            if not math.isclose(low, high, rel_tol=_JUMP):
                jumps.append(Jump(side, upward=high > low))
        return SwitchPoint(Kind.JUMP if jumps else Kind.CROSSING, below, above, tuple(jumps))

    def _neighbour(self, value: float) -> Neighbour:
        best = self.at(value)
        return Neighbour(value, best.winner, {side: best.cost_of(side) for side in best.sides})
