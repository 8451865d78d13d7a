"""Tier by tier: what it costs to carry the essential loads, then the useful ones, then comfort."""

from dataclasses import dataclass, field, replace

from optimizer.answers.curve import Curve, curve_of
from optimizer.answers.questions import search_for
from optimizer.model.job import Job
from optimizer.model.needs import staying_on
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.result import Result
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True)
class TierCurve:
    """The curve of some tiers together; ``added`` is the last of them."""

    added: str
    tiers: tuple[str, ...]
    curve: Curve = field(metadata=shown("points", take=("points",)))


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


@dataclass(frozen=True, repr=False)
class Tiers(Result):
    """The curves, each with one tier more, in the order of the loads file.

    ``staying_on`` are loads of later tiers that count with the first, since they stay on.
    """

    also = ("site", "currency")

    job: Job = field(metadata=shown(hide=True))
    curves: tuple[TierCurve, ...]
    staying_on: tuple[str, ...] = ()

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


def tiers(
    job: Job,
    *,
    family: str | None = None,
    progress: Progress | None = None,
) -> Tiers:
    """Return the curve of the first tier of loads alone, then with one more, up to all.

    Parameters
    ----------
    job : Job
        From `load`; every tier of its loads is taken, in the file's order. Loads that stay on
        whatever the hours count with the first, be they of another.
    family : str, optional
        Only chemistries of this family.
    progress : callable, optional
        Called with curves done and all curves.

    Examples
    --------
    >>> from optimizer import load
    >>> [cost.tier for cost in tiers(load("house")).at(12)]
    ['essential', 'useful', 'comfort']
    """
    order = tuple(dict.fromkeys(load.tier for load in job.loads))
    staying = {load.load for load in staying_on(job.loads) if load.tier != order[0]}
    if staying:
        loads = (
            replace(load, tier=order[0]) if load.load in staying else load for load in job.loads
        )
        job = replace(job, loads=tuple(loads))
    curves = []
    for number, tier in enumerate(one_by_one(order, progress)):
        together = order[: number + 1]
        wider = job.with_site(tiers=together)
        curves.append(TierCurve(tier, together, curve_of(search_for(wider, family))))
    names = tuple(load.load for load in job.loads if load.load in staying)
    return Tiers(job, tuple(curves), names)
