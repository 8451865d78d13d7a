"""All doubts at once: which first purchase is regretted least.

What is decided today is the first purchase: an inverter set and a bank. Later banks are bought
when they are due, knowing the prices and lives of that future. So a first purchase is held fixed
through every scenario and continued in the cheapest way each time; its regret is what it costs
more than the best first purchase for that scenario would have.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from optimizer.answers.questions import asked_hours, counted, nothing_carries
from optimizer.comparison.first_purchases import FirstPurchase, continued, first_purchase
from optimizer.comparison.processes import spread
from optimizer.comparison.scenarios import Scenario, draw, in_scenario
from optimizer.comparison.side_by_side import only
from optimizer.engine.curve import Search
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.limits import without_limits
from optimizer.model.progress import Progress, part
from optimizer.model.result import Result
from optimizer.model.shown import Unbounded, shown

#: First purchases followed through all scenarios: those of today's answers and the ones that
#: were best most often.
MOST_FIRSTS = 12
#: Scenarios at most: more say no more.
MOST_SCENARIOS = 10_000
_MOST_PROCESSES = 64
#: A first purchase this close to the best of a scenario is the best too [currency].
_EQUAL = 0.005
#: Points of the curve from the hours asked on that are followed too.
_LARGER = 3
#: Scenarios handed to a process at a time.
_BATCH = 10


@dataclass(frozen=True, slots=True)
class Record:
    """How a first purchase fares over the scenarios.

    ``best_share`` is how often nothing is cheaper; regrets and costs in currency; ``stranded``
    is the share of scenarios in which it cannot be continued: its regret is then infinite. Means
    are over the scenarios in which it can. ``over_today`` is what it costs more than today's
    cheapest on average, over the ``both_share`` of the scenarios in which both can be continued:
    means over different scenarios do not compare.
    """

    first: FirstPurchase = field(metadata=shown(inline=True))
    best_share: float
    largest_regret: Unbounded
    mean_regret: Unbounded
    mean_cost: Unbounded
    stranded: float
    over_today: Unbounded
    both_share: float


@dataclass(frozen=True, repr=False)
class Regret(Result):
    """All first purchases followed, the one with the smallest largest regret first.

    Where each is stranded in some scenario, the one that is so least often stands first.
    ``cheapest_today`` is the best at the job's own numbers; ``family_share`` how often each family
    is in the best.
    """

    job: Job = field(metadata=shown(hide=True))
    hours: int
    seed: int
    scenarios: int
    records: tuple[Record, ...]
    cheapest_today: FirstPurchase
    family_share: dict[str, float]

    @property
    def safest(self) -> Record:
        """The first purchase whose largest regret is smallest."""
        return self.records[0]

    @property
    def today(self) -> Record:
        """The record of the first purchase that is cheapest at the job's own numbers."""
        return next(one for one in self.records if one.first == self.cheapest_today)


def regret(
    job: Job,
    hours: int | None = None,
    *,
    scenarios: int = 200,
    seed: int = 1,
    processes: int | None = None,
    progress: Progress | None = None,
) -> Regret:
    """Follow today's possible purchases through drawn scenarios of prices, lives and outages.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted.
    hours : int, optional
        Autonomy to carry [h]; the site's target where left out.
    scenarios, seed : int
        How many scenarios are drawn, as `optimizer.comparison.scenarios` states, and from which
        seed: the same seed gives the same scenarios.
    processes : int, optional
        Processes to share the work; as many as there are cores where left out. 1 starts none.
    progress : callable, optional
        Called with steps done and all steps.

    Raises
    ------
    NoDesignError
        Nothing carries the hours.
    """
    job, hours = asked_hours(job, hours)
    counted("scenarios", scenarios, MOST_SCENARIOS)
    counted("processes", 1 if processes is None else processes, _MOST_PROCESSES)
    job = without_limits(job)
    today = Search(job).cheapest(hours)
    if today is None:
        raise nothing_carries(job, hours, progress)
    drawn = draw(job, scenarios, seed)
    batches = [drawn[start : start + _BATCH] for start in range(0, scenarios, _BATCH)]

    tasks = [(job, hours, batch) for batch in batches]
    best = spread(_best, tasks, processes, part(progress, 0, 2))
    found = [one for batch in best for one in batch]
    often = Counter(first for _, first in found if first is not None)
    firsts = _firsts(job, hours, today, often)
    again = [(*task, firsts) for task in tasks]
    costs = spread(_costs, again, processes, part(progress, 1, 2))
    least = np.array([cost for cost, _ in found])
    table = np.array([row for batch in costs for row in batch])  # (scenarios, firsts)
    # where nothing at all can be done, nothing is regretted
    possible = np.isfinite(least)
    table, least = table[possible], least[possible]
    regrets = np.maximum(0.0, table - least[:, None])
    records = [  # today's cheapest is the first of the columns
        _record(first, table[:, i], regrets[:, i], table[:, 0]) for i, first in enumerate(firsts)
    ]
    records.sort(key=lambda one: (one.largest_regret, one.stranded, one.mean_regret))
    shares = Counter(first.family for _, first in found if first is not None)
    return Regret(
        job=job,
        hours=hours,
        seed=seed,
        scenarios=scenarios,
        records=tuple(records),
        cheapest_today=first_purchase(today),
        family_share={name: shares[name] / scenarios for name in job.catalog.families},
    )


def _firsts(
    job: Job, hours: int, today: Design, often: Counter[FirstPurchase]
) -> tuple[FirstPurchase, ...]:
    """Return the first purchases to follow: today's answers, then the most frequent."""
    designs = [today, *(Search(job, family).cheapest(hours) for family in job.catalog.families)]
    for chemistry in dict.fromkeys(one.chemistry for one in job.catalog.batteries):
        designs.append(Search(only(job, chemistry=chemistry)).cheapest(hours))
    points = [point for point in Search(job).points() if point.hours >= hours]
    designs += points[:_LARGER]  # a little more than is asked for may be worth it
    firsts = [first_purchase(design) for design in designs if design is not None]
    firsts += [first for first, _ in often.most_common()]
    return tuple(dict.fromkeys(firsts))[:MOST_FIRSTS]


def _record(
    first: FirstPurchase, costs: np.ndarray, regrets: np.ndarray, today: np.ndarray
) -> Record:
    carried = np.isfinite(regrets)
    both = carried & np.isfinite(today)
    return Record(
        first=first,
        best_share=float((regrets <= _EQUAL).mean()) if regrets.size else 0.0,
        largest_regret=float(regrets.max(initial=0.0)),
        mean_regret=float(regrets[carried].mean()) if carried.any() else math.inf,
        mean_cost=float(costs[carried].mean()) if carried.any() else math.inf,
        stranded=float((~carried).mean()) if regrets.size else 0.0,
        over_today=float((costs[both] - today[both]).mean()) if both.any() else math.inf,
        both_share=float(both.mean()) if regrets.size else 0.0,
    )


def _best(
    task: tuple[Job, int, Sequence[Scenario]],
) -> list[tuple[float, FirstPurchase | None]]:
    """Return for each scenario the least cost and the first purchase behind it."""
    job, hours, batch = task
    designs = [Search(in_scenario(job, scenario)).cheapest(hours) for scenario in batch]
    return [
        (math.inf, None) if one is None else (one.life_cycle_cost, first_purchase(one))
        for one in designs
    ]


def _costs(task: tuple[Job, int, Sequence[Scenario], Sequence[FirstPurchase]]) -> list[list[float]]:
    """Return for each scenario what each first purchase costs when continued cheapest."""
    job, hours, batch, firsts = task
    searches = (Search(in_scenario(job, scenario)) for scenario in batch)
    return [[continued(one, first, hours) for first in firsts] for one in searches]
