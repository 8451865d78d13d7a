"""Every value of a number at which the winner changes, all else equal.

The range is cut in two again and again. A piece is done when one design of the winner is allowed
throughout it and no rival, given the better end of every column and money bounded by straight
lines, undercuts that design at either end: then none undercuts it in between (`Rival.undercuts`).
What remains shrinks onto the changes, until their two sides stand closer than a millionth. So
nothing is missed between the values tried, except in pieces narrower than that millionth or, past
a limit on the work, in pieces that are reported as unproven.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from optimizer.comparison.alternatives import NOTHING, Bench, Rival
from optimizer.engine.curve import Search
from optimizer.errors import InternalError
from optimizer.formulas.tolerance import COST_TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.alternatives import Plan
    from optimizer.comparison.parameters import Lever
    from optimizer.model.design import Design
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
class Side:
    """One side of a flip: the value, the winner, each family's cost and proven design there."""

    value: float
    winner: str | None
    costs: dict[str, float]
    designs: dict[str, Design | None]


@dataclass(frozen=True, slots=True)
class Flip:
    """A change of the winner between two neighbouring values.

    ``kind`` is a crossing where both families' costs run on through it and meet, a jump where
    one of them breaks off (``cause`` says on which side and why), whole where the number has no
    values between.
    """

    kind: Kind
    below: Side
    above: Side
    cause: str = ""

    @property
    def value(self) -> float:
        """The middle of the bracket; for whole numbers the first value of the new winner."""
        if self.kind == "whole":
            return self.above.value
        return (self.below.value + self.above.value) / 2


@dataclass(frozen=True, slots=True)
class Flips:
    """All flips along a lever; ``unproven`` are pieces that the limit on work left open."""

    lever: Lever
    winner: str | None
    flips: tuple[Flip, ...]
    unproven: tuple[tuple[float, float], ...]
    values_tried: int


def find_flips(
    job: Job, lever: Lever, hours: int, families: Sequence[str], *, prove: bool = True
) -> Flips:
    """Find every flip along one lever.

    Parameters
    ----------
    job : Job
        The site and its price list; its upfront budget holds.
    lever : Lever
        What is otherwise.
    hours : int
        Autonomy that both carry [h].
    families : sequence of str
        The rivals; of equal costs the first named wins.
    prove : bool
        Solve the designs on both sides of each flip once more, with the program.

    Returns
    -------
    Flips
        In the order of values.
    """
    hunt = _Hunt(job, lever, hours, families)
    if lever.shape == "whole":
        found, unproven = hunt.whole()
    else:
        found, unproven = hunt.run()
    flips = tuple(hunt.flip(a, b, prove=prove) for a, b in sorted(found))
    base = hunt.winner(lever.base)
    return Flips(lever, base, flips, tuple(sorted(unproven)), hunt.tried)


class _Hunt:
    def __init__(self, job: Job, lever: Lever, hours: int, families: Sequence[str]) -> None:
        self.bench = Bench(job, lever, hours)
        self.lever = lever
        self.rivals = {family: Rival(self.bench, family) for family in families}
        self._winners: dict[float, str | None] = {}
        self._floor = _NEAR_ZERO * (lever.high - lever.low)

    @property
    def tried(self) -> int:
        return len(self._winners)

    def winner(self, value: float) -> str | None:
        """Return who is cheapest at a value, the first named of equals; None where nothing fits."""
        if value not in self._winners:
            best, least = None, math.inf
            for family, rival in self.rivals.items():
                cost = rival.plan(value).cost
                if cost < least - COST_TOLERANCE:
                    best, least = family, cost
            self._winners[value] = best
        return self._winners[value]

    def whole(self) -> tuple[list[Piece], list[Piece]]:
        values = [float(n) for n in range(round(self.lever.low), round(self.lever.high) + 1)]
        found = [(a, b) for a, b in pairwise(values) if self.winner(a) != self.winner(b)]
        return found, []

    def run(self) -> tuple[list[Piece], list[Piece]]:
        lever = self.lever
        inside = [value for value in lever.breaks if lever.low < value < lever.high]
        if lever.low < lever.base < lever.high:
            inside.append(lever.base)
        marks = sorted({lever.low, *inside, lever.high})
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
        return self.rivals[other].plan(value).cost - self.rivals[one].plan(value).cost

    def _settled(self, a: float, b: float) -> bool:
        """Tell whether the winner at both ends is proven to win throughout."""
        name = self.winner(a)
        if name is None:
            return self._nothing_between(a, b)
        rival = self.rivals[name]
        others = [other for key, other in self.rivals.items() if key != name]
        plans = dict.fromkeys((rival.plan(a), rival.plan(b)))
        for plan in plans:
            if not rival.lasts(plan, (a, b)):
                continue
            limits = self._line(rival, plan, a, b)
            if all(
                not other.undercuts(a, b, limits, exact_at_a=self._near_a(rival, other, a, b))
                for other in others
            ):
                return True
        return False

    def _nothing_between(self, a: float, b: float) -> bool:
        most = (math.inf, math.inf)
        return not any(
            rival.undercuts(a, b, most, exact_at_a=True) for rival in self.rivals.values()
        )

    def _near_a(self, rival: Rival, other: Rival, a: float, b: float) -> bool:
        """Tell at which end the rivals are closer: bounds are exact there."""
        gaps = [other.plan(end).cost - rival.plan(end).cost for end in (a, b)]
        return gaps[0] <= gaps[1]

    def _line(self, rival: Rival, plan: Plan, a: float, b: float) -> tuple[float, float]:
        """Return the ends of a line that a plan's cost stays below."""
        (at_a, down_a), (at_b, down_b) = rival.money(plan, a), rival.money(plan, b)
        if self.lever.shape == "steady":
            return (max(at_a, at_b),) * 2
        rise = (b - a) ** 2 / 2
        near_a = all(
            self._near_a(rival, other, a, b) for other in self.rivals.values() if other is not rival
        )
        return (at_a, at_b + rise * down_b) if near_a else (at_a + rise * down_a, at_b)

    def flip(self, a: float, b: float, *, prove: bool) -> Flip:
        """Return the flip between two neighbouring values, both sides solved again."""
        below, above = (self._side(value, prove=prove) for value in (a, b))
        if self.lever.shape == "whole":
            return Flip("whole", below, above)
        causes = []
        for rival in self.rivals.values():
            for here, there in ((a, b), (b, a)):
                plan = rival.plan(here)
                hindrance = "" if plan is NOTHING else rival.hindrance(plan, (there,))
                if hindrance:
                    causes.append(f"{'below' if there == a else 'above'}, {hindrance}")
        return Flip("jump" if causes else "crossing", below, above, "; ".join(causes))

    def _side(self, value: float, *, prove: bool) -> Side:
        designs: dict[str, Design | None] = {}
        costs = {}
        for family, rival in self.rivals.items():
            costs[family] = rival.plan(value).cost
            designs[family] = None
            if prove:
                job = self.lever.at(self.bench.job, value)
                design = Search(job, family).cheapest(self.bench.hours)
                again = math.inf if design is None else design.life_cycle_cost
                agree = again == costs[family] or abs(again - costs[family]) < _AGREEMENT
                if not agree:
                    where = f"{family} at {self.lever.key} {value}"
                    raise InternalError(f"{where}: {costs[family]}, solved again {again}")
                designs[family] = design
        return Side(value, self.winner(value), costs, designs)
