"""Every value of a number at which the winner changes, all else equal.

The range is cut in two again and again. A piece is done when one design of the winner is allowed
throughout it and no other family, given the better end of every column and money bounded by
straight lines, undercuts that design at either end: then none undercuts it in between
(`ParametricOptimum.undercuts`).
What remains shrinks onto the changes, until their two sides stand closer than a millionth. So
nothing is missed between the values tried, except in pieces narrower than that millionth or, past
a limit on the work, in pieces that are reported as unproven.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from optimizer.comparison.alternatives import NOTHING, ParametricOptimum, Study
from optimizer.comparison.parameters import Parameter
from optimizer.engine.curve import Search
from optimizer.errors import InternalError
from optimizer.formulas.tolerance import COST_TOLERANCE
from optimizer.model.design import Design

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.alternatives import Plan
    from optimizer.model.job import Job

Kind = Literal["crossing", "jump", "whole"]
#: Two neighbouring values.
Piece = tuple[float, float]

#: Width of a bracket as a share of the value.
BRACKET = 1e-6
#: Near zero the width is this share of the range instead.
_NEAR_ZERO = 1e-3
#: Pieces after which the rest of a range is given up as unproven.
MOST_PIECES = 3000
#: Two ways to the same cost may differ by rounding only [currency units].
_AGREEMENT = 1e-3


@dataclass(frozen=True, slots=True)
class Neighbour:
    """One side of a switch point: value, winner, each family's cost and proven design there."""

    value: float
    winner: str | None
    costs: dict[str, float]
    designs: dict[str, Design | None]


@dataclass(frozen=True, slots=True)
class SwitchPoint:
    """A change of the winner between two neighbouring values.

    ``kind`` is a crossing where both families' costs run on through it and meet, a jump where
    one of them breaks off (``cause`` says on which side and why), whole where the number has no
    values between.
    """

    kind: Kind
    below: Neighbour
    above: Neighbour
    cause: str = ""

    @property
    def value(self) -> float:
        """The middle of the bracket; for whole numbers the first value of the new winner."""
        if self.kind == "whole":
            return self.above.value
        return (self.below.value + self.above.value) / 2


@dataclass(frozen=True, slots=True)
class SwitchPoints:
    """All switch points along a parameter; ``unproven`` are pieces that the limit on work left."""

    parameter: Parameter
    winner: str | None
    switch_points: tuple[SwitchPoint, ...]
    unproven: tuple[tuple[float, float], ...]
    values_tried: int


def find_switch_points(
    job: Job, parameter: Parameter, hours: int, families: Sequence[str], *, prove: bool = True
) -> SwitchPoints:
    """Find every switch point along one parameter.

    Parameters
    ----------
    job : Job
        The site and its price list; its upfront budget holds.
    parameter : Parameter
        What is otherwise.
    hours : int
        Autonomy that both carry [h].
    families : sequence of str
        The optima; of equal costs the first named wins.
    prove : bool
        Solve the designs on both sides of each switch point once more, with the program.

    Returns
    -------
    SwitchPoints
        In the order of values.
    """
    search = SwitchPointSearch(job, parameter, hours, families)
    if parameter.shape == "whole":
        found, unproven = search.whole()
    else:
        found, unproven = search.run()
    switch_points = tuple(search.switch_point(a, b, prove=prove) for a, b in sorted(found))
    base = search.winner(parameter.base)
    return SwitchPoints(parameter, base, switch_points, tuple(sorted(unproven)), search.tried)


class SwitchPointSearch:
    """The search along one parameter, and what it knows already."""

    def __init__(self, job: Job, parameter: Parameter, hours: int, families: Sequence[str]) -> None:
        self.study = Study(job, parameter, hours)
        self.parameter = parameter
        self.optima = {family: ParametricOptimum(self.study, family) for family in families}
        self._winners: dict[float, str | None] = {}
        self._floor = _NEAR_ZERO * (parameter.high - parameter.low)

    @property
    def tried(self) -> int:
        """How many values were worked out."""
        return len(self._winners)

    def winner(self, value: float) -> str | None:
        """Return who is cheapest at a value, the first named of equals; None where nothing fits."""
        if value not in self._winners:
            best, least = None, math.inf
            for family, optimum in self.optima.items():
                cost = optimum.plan(value).cost
                if cost < least - COST_TOLERANCE:
                    best, least = family, cost
            self._winners[value] = best
        return self._winners[value]

    def whole(self) -> tuple[list[Piece], list[Piece]]:
        """Return the changes between neighbouring whole numbers; nothing is unproven."""
        values = [
            float(n) for n in range(round(self.parameter.low), round(self.parameter.high) + 1)
        ]
        found = [(a, b) for a, b in pairwise(values) if self.winner(a) != self.winner(b)]
        return found, []

    def run(self) -> tuple[list[Piece], list[Piece]]:
        """Return the pieces in which the winner changes, and those left unproven."""
        parameter = self.parameter
        inside = [value for value in parameter.breaks if parameter.low < value < parameter.high]
        if parameter.low < parameter.base < parameter.high:
            inside.append(parameter.base)
        marks = sorted({parameter.low, *inside, parameter.high})
        waiting = [(a, b, True) for a, b in pairwise(marks)]
        found: list[Piece] = []
        unproven: list[Piece] = []
        pieces = 0
        while waiting:
            a, b, by_line = waiting.pop()
            pieces += 1
            changes = self.winner(a) != self.winner(b)
            if changes and b - a <= self._close(a, b):
                found.append((a, b))
            elif not changes and self._settled(a, b):
                continue
            elif b - a <= self._close(a, b) or pieces > MOST_PIECES:
                (found if changes else unproven).append((a, b))
            elif changes:
                waiting += self._narrow(a, b, by_line=by_line)
            else:
                middle = (a + b) / 2
                waiting += [(a, middle, True), (middle, b, True)]
        return found, unproven

    def _close(self, a: float, b: float) -> float:
        return BRACKET * max(abs(a + b) / 2, self._floor)

    def _narrow(self, a: float, b: float, *, by_line: bool) -> list[tuple[float, float, bool]]:
        """Cut a piece whose ends differ: where a straight line meets zero, or in the middle."""
        middle = (a + b) / 2
        gap_a, gap_b = self._gap(a, a, b), self._gap(b, a, b)
        if by_line and math.isfinite(gap_a) and math.isfinite(gap_b) and gap_a != gap_b:
            meet = a + (b - a) * gap_a / (gap_a - gap_b)
            half = 0.4 * self._close(meet, meet)
            low, high = meet - half, meet + half
            if a < low and high < b:
                if self.winner(low) != self.winner(high):
                    return [(a, low, True), (low, high, True), (high, b, True)]
                # the line missed: its point still cuts, then the middle has its turn
                return [(a, low, False), (low, b, False)]
        return [(a, middle, True), (middle, b, True)]

    def _gap(self, value: float, a: float, b: float) -> float:
        """Return how much the winner at ``b`` costs more than the winner at ``a``."""
        one, other = self.winner(a), self.winner(b)
        if one is None or other is None:
            return math.inf
        return self.optima[other].plan(value).cost - self.optima[one].plan(value).cost

    def _settled(self, a: float, b: float) -> bool:
        """Tell whether the winner at both ends is proven to win throughout."""
        name = self.winner(a)
        if name is None:
            return self._nothing_between(a, b)
        optimum = self.optima[name]
        others = [other for key, other in self.optima.items() if key != name]
        plans = dict.fromkeys((optimum.plan(a), optimum.plan(b)))
        for plan in plans:
            if not optimum.lasts(plan, (a, b)):
                continue
            limits = self._line(optimum, plan, a, b)
            if all(
                not other.undercuts(a, b, limits, exact_at_a=self._near_a(optimum, other, a, b))
                for other in others
            ):
                return True
        return False

    def _nothing_between(self, a: float, b: float) -> bool:
        most = (math.inf, math.inf)
        return not any(
            optimum.undercuts(a, b, most, exact_at_a=True) for optimum in self.optima.values()
        )

    def _near_a(
        self, optimum: ParametricOptimum, other: ParametricOptimum, a: float, b: float
    ) -> bool:
        """Tell at which end the optima are closer: bounds are exact there."""
        gaps = [other.plan(end).cost - optimum.plan(end).cost for end in (a, b)]
        return gaps[0] <= gaps[1]

    def _line(
        self, optimum: ParametricOptimum, plan: Plan, a: float, b: float
    ) -> tuple[float, float]:
        """Return the ends of a line that a plan's cost stays below."""
        (at_a, down_a), (at_b, down_b) = optimum.money(plan, a), optimum.money(plan, b)
        if self.parameter.shape == "steady":
            return (max(at_a, at_b),) * 2
        rise = (b - a) ** 2 / 2
        near_a = all(
            self._near_a(optimum, other, a, b)
            for other in self.optima.values()
            if other is not optimum
        )
        return (at_a, at_b + rise * down_b) if near_a else (at_a + rise * down_a, at_b)

    def switch_point(self, a: float, b: float, *, prove: bool) -> SwitchPoint:
        """Return the switch point between two neighbouring values, both sides solved again."""
        below, above = (self._side(value, prove=prove) for value in (a, b))
        if self.parameter.shape == "whole":
            return SwitchPoint("whole", below, above)
        causes = []
        for optimum in self.optima.values():
            for here, there in ((a, b), (b, a)):
                plan = optimum.plan(here)
                hindrance = "" if plan is NOTHING else optimum.hindrance(plan, (there,))
                if hindrance:
                    causes.append(f"{'below' if there == a else 'above'}, {hindrance}")
        return SwitchPoint("jump" if causes else "crossing", below, above, "; ".join(causes))

    def _side(self, value: float, *, prove: bool) -> Neighbour:
        designs: dict[str, Design | None] = {}
        costs = {}
        for family, optimum in self.optima.items():
            costs[family] = optimum.plan(value).cost
            designs[family] = None
            if prove:
                job = self.parameter.at(self.study.job, value)
                design = Search(job, family).cheapest(self.study.hours)
                again = math.inf if design is None else design.life_cycle_cost
                agree = again == costs[family] or abs(again - costs[family]) < _AGREEMENT
                if not agree:
                    where = f"{family} at {self.parameter.key} {value}"
                    raise InternalError(f"{where}: {costs[family]}, solved again {again}")
                designs[family] = design
        return Neighbour(value, self.winner(value), costs, designs)
