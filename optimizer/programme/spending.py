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
    bought: defaultdict[int, list[tuple[float, float]]] = defaultdict(list)
    running: defaultdict[int, list[tuple[float, float]]] = defaultdict(list)
    for line in allotment.lines:
        job = line.site.job
        rise = 1.0 if job is None else 1 + job.site.inflation
        for year, amount in ((0, line.point.upfront_cost), *line.point.bought_later):
            bought[year].append((amount, amount * rise**year))
        for year, amount in line.point.running:
            running[year].append((amount, amount * rise ** (year + 1)))
    years = range(max((*bought, *running), default=0) + 1)
    return tuple(
        Spending(
            year=year,
            bought=_sum(bought[year], 0),
            running=_sum(running[year], 0),
            bought_nominal=_sum(bought[year], 1),
            running_nominal=_sum(running[year], 1),
        )
        for year in years
    )


def _sum(pairs: list[tuple[float, float]], which: int) -> float:
    return math.fsum(pair[which] for pair in pairs)
