"""Tier by tier: what it costs to carry the essential loads, then the useful ones, then comfort."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from optimizer.answers.curve import Curve, curve_of
from optimizer.engine.curve import Search
from optimizer.model.job import Job

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.engine.solver import SolverName


@dataclass(frozen=True, slots=True)
class TierCurve:
    """The curve of some tiers together; ``added`` is the last of them."""

    added: str
    tiers: tuple[str, ...]
    curve: Curve


@dataclass(frozen=True, slots=True)
class TierCost:
    """What the same hours cost with one more tier.

    ``cost`` and ``extra`` (more than without the tier) are None where nothing carries it.
    """

    tier: str
    hours: int
    cost: float | None
    upfront: float | None
    extra: float | None


@dataclass(frozen=True)
class Tiers:
    """The curves, each with one tier more, in the order of the loads file."""

    job: Job
    curves: tuple[TierCurve, ...]

    @property
    def landmarks(self) -> tuple[int, ...]:
        """Hours worth a row: quarter days up to two days, then days, as far as was looked."""
        most = self.job.site.max_hours
        marks = (1, 3, 6, 12, 18, 24, 36, 48, 72, 96, 120, 168, 240)
        return tuple(mark for mark in marks if mark <= most)

    def at(self, hours: int) -> tuple[TierCost, ...]:
        """Return what each tier costs at the same hours."""
        found: list[TierCost] = []
        before: float | None = 0.0
        for one in self.curves:
            point = one.curve.at(hours)
            cost = None if point is None else point.life_cycle_cost
            extra = None if cost is None or before is None else cost - before
            upfront = None if point is None else point.upfront_cost
            found.append(TierCost(one.added, hours, cost, upfront, extra))
            before = cost
        return tuple(found)


def find_tiers(
    job: Job,
    *,
    family: str | None = None,
    solver: SolverName = "highs",
    progress: Callable[[int, int], None] | None = None,
) -> Tiers:
    """Return the curve of the first tier alone, then with the next, up to all of them.

    Parameters
    ----------
    job : Job
        The site and its price list; which tiers it counts is not looked at, all are.
    family : str, optional
        Only chemistries of this family.
    solver : {"highs", "cbc"}
        Which solver proves the points.
    progress : callable, optional
        Called with curves done and all curves.
    """
    order = tuple(dict.fromkeys(load.tier for load in job.loads))
    curves = []
    for number, tier in enumerate(order):
        if progress is not None:
            progress(number, len(order))
        tiers = order[: number + 1]
        wider = replace(job, site=replace(job.site, tiers=tiers))
        curve = curve_of(Search(wider, family, solver))
        curves.append(TierCurve(tier, tiers, curve))
    return Tiers(job, tuple(curves))
