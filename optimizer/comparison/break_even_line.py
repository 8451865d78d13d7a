"""Two numbers at once: the line on which both families cost the same.

For each value of the first number the price factor of one family's batteries at which the winner
changes. Along a price the other family's cost stands still and the priced family's is the least
of straight rising lines, so that there is at most one such factor: it is walked to exactly, from
line to line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from optimizer.comparison.alternatives import NOTHING, ParametricOptimum, Study
from optimizer.comparison.parameters import Parameter, parameter_named

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.model.job import Job

#: Values of the first number before the line is refined.
_FIRST_VALUES = 17
#: A step of the factor that is looked into, as a share of the factor.
_COARSE = 0.04
#: How often a step is halved at most: what is left is a jump.
_HALVINGS = 6
#: Steps from line to line; each meets a new design, and there are few.
_MOST_STEPS = 60


@dataclass(frozen=True, slots=True)
class BreakEvenPoint:
    """A value of the first number, and the price factor at which the winner changes there.

    ``factor`` is None where one side wins throughout the range: ``always`` names it.
    """

    value: float
    factor: float | None
    always: str | None


@dataclass(frozen=True)
class BreakEvenLine:
    """Where two families cost the same; below the line (cheaper batteries) ``priced`` wins."""

    across: Parameter
    price: Parameter
    priced: str
    other: str
    points: tuple[BreakEvenPoint, ...]


def find_break_even_line(
    job: Job,
    hours: int,
    families: Sequence[str],
    *,
    across: Parameter | None = None,
    priced: str | None = None,
) -> BreakEvenLine | None:
    """Return the break-even line in two numbers.

    Parameters
    ----------
    job : Job
        The site and its price list; its budgets are lifted.
    hours : int
        Autonomy that both carry [h].
    families : sequence of str
        The optima, two of them.
    across : Parameter, optional
        The first number; outages a year where left out.
    priced : str, optional
        Whose batteries' price is the second number; the last of the families.

    Returns
    -------
    BreakEvenLine or None
        None where the price list has only one family.
    """
    if len(families) < 2:  # noqa: PLR2004 - a break-even line has two sides
        return None
    job = replace(job, site=replace(job.site, budget=None, lifetime_budget=None))
    priced = priced or families[-1]
    other = next(family for family in families if family != priced)
    across = across or parameter_named(job, "outages")
    price = parameter_named(job, f"price:{priced}")
    if across is None or price is None:
        return None
    first = Study(job, price, hours)
    known: dict[float, BreakEvenPoint] = {}

    def point(value: float) -> BreakEvenPoint:
        if value not in known:
            study = Study(across.at(job, value), price, hours, like=first)
            known[value] = _point(
                value, ParametricOptimum(study, priced), ParametricOptimum(study, other), price
            )
        return known[value]

    waiting = [(a, b, 0) for a, b in pairwise(_first_values(across))]
    while waiting:
        a, b, halved = waiting.pop()
        one, two = point(a), point(b)
        if halved < _HALVINGS and _apart(one, two) and across.shape != "whole":
            middle = _between(across, a, b)
            waiting += [(a, middle, halved + 1), (middle, b, halved + 1)]
    points = tuple(known[value] for value in sorted(known))
    return BreakEvenLine(across, price, priced, other, points)


def _first_values(across: Parameter) -> list[float]:
    if across.shape == "whole":
        return [float(n) for n in range(round(across.low), round(across.high) + 1)]
    steps = _FIRST_VALUES - 1
    if across.low > 0 and across.high / across.low > 10:  # noqa: PLR2004 - equal ratios suit it
        ratio = across.high / across.low
        values = [across.low * ratio ** (n / steps) for n in range(_FIRST_VALUES)]
    else:
        width = across.high - across.low
        values = [across.low + width * n / steps for n in range(_FIRST_VALUES)]
    return sorted({*values[:-1], across.high, across.base})


def _between(across: Parameter, a: float, b: float) -> float:
    wide = across.low > 0 and across.high / across.low > 10  # noqa: PLR2004 - as above
    return math.sqrt(a * b) if wide else (a + b) / 2


def _apart(one: BreakEvenPoint, two: BreakEvenPoint) -> bool:
    if one.factor is None or two.factor is None:
        return one.always != two.always
    return abs(one.factor - two.factor) > _COARSE * max(one.factor, two.factor)


def _point(
    value: float, priced: ParametricOptimum, other: ParametricOptimum, price: Parameter
) -> BreakEvenPoint:
    goal = other.plan(price.base).cost
    factor = _walk(priced, price, goal)
    if factor is not None and price.low <= factor <= price.high:
        return BreakEvenPoint(value, factor, None)
    dear = priced.plan(price.low).cost > goal
    return BreakEvenPoint(value, None, other.family if dear else priced.family)


def _walk(optimum: ParametricOptimum, price: Parameter, goal: float) -> float | None:
    """Return the factor at which the family costs ``goal``, walking from line to line.

    The cost is concave and rising in the factor: the line of the design at a factor lies above
    the cost, so it meets the goal no later than the cost does, and each step stays on the cheap
    side until it stands on the line that meets the goal.
    """
    if not math.isfinite(goal):
        return None
    factor = price.base
    for _ in range(_MOST_STEPS):
        plan = optimum.plan(factor)
        if plan is NOTHING:
            return None
        here = optimum.money(plan, factor)[0]
        slope = optimum.money(plan, factor + 1.0)[0] - here
        if slope <= 0:
            return None
        onward = factor + (goal - here) / slope
        if abs(onward - factor) <= 1e-12 * max(1.0, abs(factor)):
            return onward
        if onward <= 0:
            return onward
        factor = onward
    return factor
