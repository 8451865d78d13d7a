"""What a programme costs year by year, in money of today and of its time."""

import math
from collections import defaultdict
from dataclasses import dataclass

from optimizer.programme.allotment import Allotment


@dataclass(frozen=True, slots=True, kw_only=True)
class Spending:
    """The money of one year, the first being year 0.

    Parameters
    ----------
    bought, running : float
        What is bought at its start, and what running costs by its end [currency of today].
    bought_nominal, running_nominal : float
        Likewise in money of that time.
    """

    year: int
    bought: float
    running: float
    bought_nominal: float
    running_nominal: float


def spending(allotment: Allotment) -> tuple[Spending, ...]:
    """Return what all sites cost in each year, each by its own study period and inflation."""
    paid: defaultdict[tuple[str, int], list[float]] = defaultdict(list)
    for line in allotment.lines:
        job, point = line.site.job, line.point
        rise = 1.0 if job is None else 1 + job.site.inflation
        bought = ((0, point.upfront_cost), *point.bought_later)
        for kind, sums, later in (("bought", bought, 0), ("running", point.running, 1)):
            for year, amount in sums:
                paid[kind, year].append(amount)
                paid[f"{kind}_nominal", year].append(amount * rise ** (year + later))
    kinds = ("bought", "running", "bought_nominal", "running_nominal")
    return tuple(
        Spending(year=year, **{kind: math.fsum(paid[kind, year]) for kind in kinds})
        for year in range(max((year for _, year in paid), default=0) + 1)
    )
