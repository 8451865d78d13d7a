"""What money buys: the staircase of hours over a budget, at the start or over the horizon.

The least upfront cost of carrying some hours is a shortest path too: every later span is free,
every span from year 0 costs what is paid for it. A step is where the next hour comes within
reach; the requirement whose lifting lowers that step most is what made it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from optimizer.answers.purchases import Purchase, purchases
from optimizer.engine import cashflow
from optimizer.engine.bounds import Bounds
from optimizer.engine.curve import Search
from optimizer.errors import InternalError
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    Progress = Callable[[int, int], None]

#: A requirement made a step where lifting it takes at least this share off the step.
_MADE_IT = 0.1


@dataclass(frozen=True, slots=True)
class Cause:
    """What made a step: a requirement, and how much lower the step is without it [currency].

    ``requirement`` is None where no requirement but the energy itself did: the next bank or set
    for more hours costs what it costs.
    """

    requirement: Requirement | None
    lower_by: float


@dataclass(frozen=True, slots=True)
class Step:
    """From this budget on these hours are within reach, with the cheapest design at them.

    ``step_up`` is how far below the step before it stood [currency]: the first step stands above
    nothing. ``price_of_hour`` is the step over the hours it adds. ``later`` is what is bought
    after the start.
    """

    budget: float
    hours: int
    design: Design
    step_up: float
    price_of_hour: float
    cause: Cause
    later: tuple[Purchase, ...]


@dataclass(frozen=True)
class Staircase:
    """All steps of a budget, money and hours rising."""

    job: Job
    family: str | None
    lifetime: bool
    steps: tuple[Step, ...]

    def at(self, budget: float) -> Step | None:
        """Return the step that a budget stands on, None below the first."""
        within = [step for step in self.steps if step.budget <= budget * (1 + 1e-9)]
        return within[-1] if within else None


@dataclass(frozen=True, slots=True)
class Bought:
    """What one budget buys; ``design`` is None where it buys nothing.

    ``next_budget`` is the money at which the next hour comes within reach, None at the end.
    """

    budget: float
    design: Design | None
    later: tuple[Purchase, ...]
    next_budget: float | None


def _opened(job: Job, later_limit: float | None) -> Job:
    """Return the job with its limits of money lifted, that of later years set where given."""
    later = job.site.later_limit if later_limit is None else later_limit
    site = replace(job.site, budget=None, lifetime_budget=None, later_limit=later)
    return replace(job, site=site)


def find_staircase(
    job: Job,
    *,
    lifetime: bool = False,
    family: str | None = None,
    later_limit: float | None = None,
    progress: Progress | None = None,
) -> Staircase:
    """Return what a budget buys, from nothing to the end of the curve.

    Parameters
    ----------
    job : Job
        The site and its price list; its budgets are lifted.
    lifetime : bool
        Follow the life-cycle cost instead of what is paid at the start.
    family : str, optional
        Only chemistries of this family.
    later_limit : float, optional
        What may be bought in any later year, at most [currency of today].
    progress : callable, optional
        Called with steps done and all steps.

    Returns
    -------
    Staircase
        Without steps where nothing fits at any hour.
    """
    job = _opened(job, later_limit)
    search = Search(job, family)
    whole = len(Requirement) + 2
    if progress is not None:
        progress(0, whole)
    if lifetime:
        designs = list(search.points())
        treads = [design.life_cycle_cost for design in designs]
    else:
        least = _least_by_hours(search, lifetime=False)
        designs, treads = [], []
        for hours, money in _treads(least):
            limited = Search(replace(job, site=replace(job.site, budget=money)), family)
            design = limited.longest()
            if design is None or design.hours < hours:
                raise InternalError("a budget that reaches these hours buys fewer")
            designs.append(design)
            treads.append(money)
    if progress is not None:
        progress(1, whole)
    lifted = {}
    for done, requirement in enumerate(Requirement):
        other = Search(job, family, lifted=frozenset({requirement}))
        lifted[requirement] = _least_by_hours(other, lifetime=lifetime)
        if progress is not None:
            progress(done + 2, whole)
    steps = []
    reached = 0
    below = 0.0
    for design, money in zip(designs, treads, strict=True):
        height = money - below
        cause = _cause(lifted, reached, height, money)
        flow = cashflow.payments(job, design, search.candidates.demand)
        later = tuple(one for one in purchases(flow) if one.year > 0)
        steps.append(
            Step(
                money,
                design.hours,
                design,
                height,
                height / (design.hours - reached),
                cause,
                later,
            )
        )
        reached, below = design.hours, money
    return Staircase(job, family, lifetime, tuple(steps))


def find_table(
    job: Job,
    budgets: Iterable[float],
    *,
    lifetime: bool = False,
    family: str | None = None,
    later_limit: float | None = None,
    progress: Progress | None = None,
) -> tuple[Bought, ...]:
    """Return what each of many budgets buys: the longest hours, then the least life-cycle cost.

    Parameters
    ----------
    job : Job
        The site and its price list; its budgets are lifted.
    budgets : iterable of float
        [currency].
    lifetime, family, later_limit
        As in `find_staircase`.
    progress : callable, optional
        Called with budgets done and all budgets.
    """
    job = _opened(job, later_limit)
    search = Search(job, family)
    points = list(search.points()) if lifetime else []
    if lifetime:
        treads = [(point.hours, point.life_cycle_cost) for point in points]
    else:
        treads = list(_treads(_least_by_hours(search, lifetime=False)))
    wanted = list(budgets)
    found = []
    for done, budget in enumerate(wanted):
        if progress is not None:
            progress(done, len(wanted))
        room = budget * (1 + 1e-9)
        following = next((money for _, money in treads if money > room), None)
        design: Design | None = None
        if lifetime:
            within = [point for point in points if point.life_cycle_cost <= room]
            design = within[-1] if within else None
        elif treads and treads[0][1] <= room:
            site = replace(job.site, budget=budget)
            design = Search(replace(job, site=site), family).longest()
        later: tuple[Purchase, ...] = ()
        if design is not None:
            flow = cashflow.payments(job, design, search.candidates.demand)
            later = tuple(one for one in purchases(flow) if one.year > 0)
        found.append(Bought(budget, design, later, following))
    return tuple(found)


def _least_by_hours(search: Search, *, lifetime: bool) -> dict[int, float]:
    """Return for each hour the least money that carries it or longer; infinite where nothing."""
    bounds = search.bounds if lifetime else _upfront_bounds(search)
    least: dict[int, float] = {}
    best = math.inf
    for hours in range(search.job.site.max_hours, 0, -1):
        options = bounds.options(hours, best)
        best = min([best, *(option.cost for option in options)])
        least[hours] = best
    return least


def _upfront_bounds(search: Search) -> Bounds:
    """Return bounds on the upfront cost: the same spans, paid for in year 0 or not at all."""
    candidates = search.candidates
    paid = np.where(candidates.arc_start[None, :] == 0, candidates.bank_upfront[:, None], 0.0)
    return Bounds(
        replace(
            candidates,
            sets=replace(candidates.sets, life_cycle_cost=candidates.sets.upfront_cost),
            arc_cost=np.where(np.isfinite(candidates.arc_cost), paid, np.inf),
        ),
        search.job.site.budget,
    )


def _treads(least: dict[int, float]) -> Iterable[tuple[int, float]]:
    """Yield the longest hours at each least money, money rising."""
    rising = [(hours, least[hours]) for hours in sorted(least) if math.isfinite(least[hours])]
    for here, there in pairwise([*rising, (0, math.inf)]):
        if there[1] > here[1] + 1e-6:
            yield here


def _cause(
    lifted: dict[Requirement, dict[int, float]], reached: int, height: float, money: float
) -> Cause:
    """Return the requirement whose lifting lowers a step most."""
    below = money - height
    best = Cause(None, 0.0)
    for requirement, least in lifted.items():
        start = least[reached] if reached else 0.0
        lower = height - (least[reached + 1] - min(start, below))
        if lower > max(best.lower_by, _MADE_IT * height):
            best = Cause(requirement, lower)
    return best
