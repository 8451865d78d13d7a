"""Two numbers at once: the line on which both families cost the same.

For each value of the first number the price factor of one family's batteries at which it costs
what the other family costs. Along a price the other family's cost stands still and the priced
family's is the least of rising lines, so that there is at most one such factor: it is walked to
exactly, from line to line.
"""

import math
from dataclasses import dataclass, field
from itertools import pairwise

from optimizer.answers.questions import asked_hours, known_family
from optimizer.comparison.grid import grid_values, is_wide
from optimizer.comparison.parameters import Kind, Parameter, Shape, parameter_named
from optimizer.comparison.study import cost_at
from optimizer.engine.curve import Search
from optimizer.model.job import Job
from optimizer.model.limits import without_limits
from optimizer.model.result import Result
from optimizer.model.shown import shown

#: A step of the factor that is looked into, as a share of the factor.
_COARSE = 0.04
#: How often a step is halved at most: what is left is a jump.
_HALVINGS = 6
#: Steps from line to line; each meets a new design, and there are few.
_MOST_STEPS = 60


@dataclass(frozen=True, slots=True)
class BreakEvenPoint:
    """A value of the first number, and the price factor at which both cost the same there.

    ``factor`` is None where one side wins throughout the range: ``always`` names it, or nobody.
    """

    value: float
    factor: float | None
    always: str | None


@dataclass(frozen=True, repr=False)
class BreakEvenLine(Result):
    """Where two families cost the same; below the line (cheaper batteries) ``priced`` wins."""

    job: Job = field(metadata=shown(hide=True))
    across: Parameter
    price: Parameter
    priced: str
    other: str
    points: tuple[BreakEvenPoint, ...]


def break_even_line(
    job: Job, hours: int | None = None, *, across: str = Kind.OUTAGES, priced: str | None = None
) -> BreakEvenLine | None:
    """Return where two families cost the same, in two numbers at once.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted, and each bank chain is of one family.
    hours : int, optional
        Autonomy that both carry [h]; the site's target where left out.
    across : str
        Key of the first number.
    priced : str, optional
        The family whose battery price is the second; the price list's last where left out.

    Returns
    -------
    BreakEvenLine or None
        None where the price list has one family only.
    """
    families, first = job.catalog.families, parameter_named(job, across)
    job, hours = asked_hours(job, hours)
    if priced is not None:
        known_family(job, priced)
    if len(families) < 2:  # noqa: PLR2004 - a line has two sides
        return None
    priced = priced or families[-1]
    other = next(family for family in families if family != priced)
    return line_between(job, hours, first, priced, other)


def line_between(job: Job, hours: int, across: Parameter, priced: str, other: str) -> BreakEvenLine:
    """Return the line between two families."""
    job = without_limits(job)
    price = parameter_named(job, f"{Kind.PRICE}:{priced}")
    known: dict[float, BreakEvenPoint] = {}

    def point(value: float, near: BreakEvenPoint | None = None) -> BreakEvenPoint:
        if value not in known:
            start = price.base if near is None or near.factor is None else near.factor
            walk = _Walk(across.at(job, value), price, hours, start)
            known[value] = walk.point(value, priced, other)
        return known[value]

    values = grid_values(across)
    for before, value in pairwise([values[0], *values]):
        point(value, near=known.get(before))
    waiting = [(a, b, 0) for a, b in pairwise(values)]
    while waiting:
        a, b, halved = waiting.pop()
        one, two = point(a), point(b)
        if halved < _HALVINGS and _apart(one, two) and across.shape is not Shape.WHOLE:
            middle = math.sqrt(a * b) if is_wide(across) else (a + b) / 2
            point(middle, near=one)
            waiting += [(a, middle, halved + 1), (middle, b, halved + 1)]
    points = tuple(known[value] for value in sorted(known))
    return BreakEvenLine(job, across, price, priced, other, points)


def _apart(one: BreakEvenPoint, two: BreakEvenPoint) -> bool:
    if one.factor is None or two.factor is None:
        return one.always != two.always
    return abs(one.factor - two.factor) > _COARSE * max(one.factor, two.factor)


class _Walk:
    """The price factor at which a family costs what the other does."""

    def __init__(self, job: Job, price: Parameter, hours: int, start: float) -> None:
        self._job, self._price, self._hours, self._start = job, price, hours, start

    def point(self, value: float, priced: str, other: str) -> BreakEvenPoint:
        price = self._price
        goal = Search(self._job, other).least(self._hours)
        if math.isinf(goal):
            own = Search(self._job, priced).exists(self._hours)
            return BreakEvenPoint(value, None, priced if own else None)
        factor = self._factor(priced, goal)
        if factor is not None and price.low <= factor <= price.high:
            return BreakEvenPoint(value, factor, None)
        cheap = factor is not None and factor > price.high
        return BreakEvenPoint(value, None, priced if cheap else other)

    def _factor(self, family: str, goal: float) -> float | None:
        """Return the factor at which a family costs ``goal``, None where it carries nothing.

        The least cost is concave and rising in the factor: the line of the design at a factor
        lies above it, so it meets the goal no later than the cost does, and each step stays on
        the cheap side until it stands on the line that meets the goal. So it does from anywhere:
        the factor found beside this point is a start near the end.
        """
        factor = self._start
        for _ in range(_MOST_STEPS):
            design = Search(self._price.at(self._job, factor), family).cheapest(self._hours)
            if design is None:
                return None
            here = design.life_cycle_cost
            slope = cost_at(self._price.at(self._job, factor + 1.0), design) - here
            onward = math.inf if slope <= 0 else factor + (goal - here) / slope
            if abs(onward - factor) <= 1e-12 * max(1.0, abs(factor)) or math.isinf(onward):
                return onward
            if onward < self._price.low:  # a line from afar says nothing of what lies there
                if factor == self._price.low:
                    return onward
                onward = self._price.low
            factor = onward
        return factor
