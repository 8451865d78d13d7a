"""All doubts at once: which first purchase is regretted least.

What is decided today is the first purchase: an inverter set and a bank. Later banks are bought
when they are due, knowing the prices and lives of that future. So a first purchase is held fixed
through every scenario and continued in the cheapest way each time; its regret is what it costs
more than the best first purchase for that scenario would have.
"""

from __future__ import annotations

import math
import multiprocessing
import threading
from collections import Counter
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from optimizer.comparison.alternatives import cheapest_spans
from optimizer.comparison.columns import Columns, Reach, Shares, columns_at
from optimizer.comparison.scenarios import Scenario, draw, in_scenario
from optimizer.comparison.side_by_side import families_of, only
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.errors import InternalError
from optimizer.model.job import Job

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from optimizer.engine.bounds import Option
    from optimizer.model.demand import Demand
    from optimizer.model.design import Design

    Progress = Callable[[int, int], None]

#: First purchases followed through all scenarios: those of today's answers and the ones that
#: were best most often.
MOST_FIRSTS = 12
#: A first purchase this close to the best of a scenario is the best too [currency].
_EQUAL = 0.005
#: Points of the curve from the hours asked on that are followed too.
_LARGER = 3
#: Scenarios handed to a process at a time.
_BATCH = 10


@dataclass(frozen=True, slots=True)
class First:
    """What is bought today: an inverter set and a bank."""

    inverter: str
    inverter_units: int
    battery: str
    family: str
    chemistry: str
    series: int
    strings: int
    voltage_v: int


@dataclass(frozen=True, slots=True)
class Record:
    """How a first purchase fares over the scenarios.

    ``best_share`` is how often nothing is cheaper; regrets and costs in currency; ``stranded``
    is the share of scenarios in which it cannot be continued: its regret is then infinite.
    """

    first: First
    best_share: float
    largest_regret: float
    mean_regret: float
    mean_cost: float
    stranded: float


@dataclass(frozen=True)
class Regret:
    """All first purchases followed, the one with the smallest largest regret first.

    ``cheapest_today`` is the best at the job's own numbers; ``family_share`` how often each
    family is in the best.
    """

    job: Job
    hours: int
    seed: int
    scenarios: int
    records: tuple[Record, ...]
    cheapest_today: First
    family_share: dict[str, float]

    @property
    def safest(self) -> Record:
        """The first purchase whose largest regret is smallest."""
        return self.records[0]

    @property
    def today(self) -> Record:
        """The record of the first purchase that is cheapest at the job's own numbers."""
        return next(one for one in self.records if one.first == self.cheapest_today)


def find_regret(
    job: Job,
    hours: int,
    *,
    scenarios: int = 200,
    seed: int = 1,
    processes: int | None = None,
    progress: Progress | None = None,
) -> Regret | None:
    """Follow first purchases through drawn futures.

    Parameters
    ----------
    job : Job
        The site and its price list; its limits of money are lifted.
    hours : int
        Autonomy to carry [h].
    scenarios : int
        How many futures are drawn, as `optimizer.comparison.scenarios` states.
    seed : int
        The same seed gives the same futures.
    processes : int, optional
        Processes to share the work; as many as there are cores where left out. 1 starts none.
    progress : callable, optional
        Called with steps done and all steps.

    Returns
    -------
    Regret or None
        None where nothing carries the hours today.
    """
    job = replace(job, site=replace(job.site, budget=None, lifetime_budget=None))
    today = Search(job).cheapest(hours)
    if today is None:
        return None
    drawn = draw(job, scenarios, seed)
    batches = [drawn[start : start + _BATCH] for start in range(0, scenarios, _BATCH)]
    steps = 2 * len(batches)
    processes = _cores() if processes is None else processes
    with _Crew(job, hours, processes) as crew:
        best = crew.run("best", [(batch, ()) for batch in batches], progress, 0, steps)
        found: list[tuple[float, First | None]] = [one for batch in best for one in batch]
        least = np.array([cost for cost, _ in found])
        often = Counter(first for _, first in found if first is not None)
        firsts = _firsts(job, hours, today, often)
        tasks = [(batch, firsts) for batch in batches]
        costs = crew.run("costs", tasks, progress, len(batches), steps)
    table = np.array([row for batch in costs for row in batch])  # (scenarios, firsts)
    # where nothing at all can be done, nothing is regretted
    possible = np.isfinite(least)
    table, least = table[possible], least[possible]
    regrets = np.maximum(0.0, table - least[:, None])
    records = [_record(first, table[:, i], regrets[:, i]) for i, first in enumerate(firsts)]
    records.sort(key=lambda one: (one.largest_regret, one.mean_regret))
    shares = Counter(first.family for _, first in found if first is not None)
    return Regret(
        job=job,
        hours=hours,
        seed=seed,
        scenarios=scenarios,
        records=tuple(records),
        cheapest_today=first_of(today),
        family_share={name: shares[name] / scenarios for name in families_of(job)},
    )


def first_of(design: Design) -> First:
    """Return what a design buys today."""
    bank = design.banks[0]
    return First(
        design.inverter.inverter,
        design.inverter_units,
        bank.battery.battery,
        bank.battery.family,
        bank.battery.chemistry,
        bank.series,
        bank.strings,
        design.voltage_v,
    )


def _firsts(job: Job, hours: int, today: Design, often: Counter[First]) -> tuple[First, ...]:
    """Return the first purchases to follow: today's answers, then the most frequent."""
    designs = [today, *(Search(job, family).cheapest(hours) for family in families_of(job))]
    for chemistry in dict.fromkeys(one.chemistry for one in job.catalog.batteries):
        designs.append(Search(only(job, chemistry=chemistry)).cheapest(hours))
    points = [point for point in Search(job).points() if point.hours >= hours]
    designs += points[:_LARGER]  # a little more than is asked for may be worth it
    firsts = [first_of(design) for design in designs if design is not None]
    firsts += [first for first, _ in often.most_common()]
    return tuple(dict.fromkeys(firsts))[:MOST_FIRSTS]


def _record(first: First, costs: np.ndarray, regrets: np.ndarray) -> Record:
    carried = np.isfinite(regrets)
    return Record(
        first=first,
        best_share=float((regrets <= _EQUAL).mean()) if regrets.size else 0.0,
        largest_regret=float(regrets.max(initial=0.0)),
        mean_regret=float(regrets[carried].mean()) if carried.any() else math.inf,
        mean_cost=float(costs[carried].mean()) if carried.any() else math.inf,
        stranded=float((~carried).mean()) if regrets.size else 0.0,
    )


class _Workshop:
    """One process's share of the work: the job, and what does not change over scenarios."""

    def __init__(self, job: Job, hours: int) -> None:
        self.job, self.hours = job, hours
        self.demand: Demand = demand_of(job)
        self.shares = Shares(self.demand, job.site.max_hours)

    def best(self, batch: Sequence[Scenario], _: Sequence[First]) -> list[object]:
        """Return for each scenario the least cost and the first purchase behind it."""
        return [self._best(scenario) for scenario in batch]

    def costs(self, batch: Sequence[Scenario], firsts: Sequence[First]) -> list[object]:
        """Return for each scenario what each first purchase costs when continued cheapest."""
        found: list[object] = []
        for scenario in batch:
            columns = self._columns(scenario)
            found.append([self._continued(columns, first) for first in firsts])
        return found

    def _columns(self, scenario: Scenario) -> Columns:
        return columns_at(in_scenario(self.job, scenario), None, self.demand, self.shares)

    def _best(self, scenario: Scenario) -> tuple[float, First | None]:
        candidates = self._columns(scenario).candidates
        reach = Reach(candidates)
        option = reach.best(self.hours)
        return (math.inf, None) if option is None else (option.cost, _first(reach, option))

    def _continued(self, columns: Columns, first: First) -> float:
        candidates, sets, banks = columns.candidates, columns.sets, columns.banks
        which_set = [
            index
            for index, inverter in enumerate(sets.inverters)
            if inverter.inverter == first.inverter and sets.units[index] == first.inverter_units
        ]
        is_first = np.array([one.battery == first.battery for one in banks.batteries])
        is_first &= (banks.strings == first.strings) & (banks.voltage_v == first.voltage_v)
        barred = (~is_first)[:, None] & (candidates.arc_start == 0)[None, :]
        one_set = replace(
            sets,
            inverters=tuple(sets.inverters[index] for index in which_set),
            wiring=tuple(sets.wiring[index] for index in which_set),
            **{
                name: getattr(sets, name)[which_set]
                for name in (
                    "units",
                    "voltage_v",
                    "efficiency",
                    "no_load_w",
                    "peak_current_a",
                    "charger_a",
                    "life_cycle_cost",
                    "upfront_cost",
                )
            },
        )
        fixed = replace(
            candidates,
            sets=one_set,
            arc_cost=np.where(barred, np.inf, candidates.arc_cost),
        )
        option = Reach(fixed).best(self.hours)
        return math.inf if option is None else option.cost


def _first(reach: Reach, option: Option) -> First:
    candidates = reach.candidates
    spans = cheapest_spans(
        reach.spans(option),
        candidates.job.site.horizon_years,
        candidates.vented_works,
        math.inf,
    )
    sets, banks, row = candidates.sets, candidates.banks, spans[0].bank_index
    battery = banks.batteries[row]
    return First(
        sets.inverters[option.set_index].inverter,
        int(sets.units[option.set_index]),
        battery.battery,
        battery.family,
        battery.chemistry,
        int(banks.series[row]),
        int(banks.strings[row]),
        int(banks.voltage_v[row]),
    )


_workshop: _Workshop | None = None


def _open_workshop(job: Job, hours: int) -> None:
    global _workshop  # noqa: PLW0603 - a process of the pool is given its job once
    _workshop = _Workshop(job, hours)


def _work(
    what: str, number: int, batch: Sequence[Scenario], firsts: Sequence[First]
) -> tuple[int, list[object]]:
    if _workshop is None:
        raise InternalError("a process without a job")
    return number, getattr(_workshop, what)(batch, firsts)


class _Crew:
    """Processes that share batches; one process does it all itself."""

    def __init__(self, job: Job, hours: int, processes: int) -> None:
        self._own = _Workshop(job, hours)
        self._pool: ProcessPoolExecutor | None = None
        if processes > 1:
            self._pool = ProcessPoolExecutor(
                processes,
                mp_context=multiprocessing.get_context(_start_method()),
                initializer=_open_workshop,
                initargs=(job, hours),
            )

    def __enter__(self) -> _Crew:
        return self

    def __exit__(self, *_: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    def run(
        self,
        what: str,
        tasks: Sequence[tuple[Sequence[Scenario], Sequence[First]]],
        progress: Progress | None,
        done: int,
        steps: int,
    ) -> list[list]:  # type: ignore[type-arg] # costs, or costs with first purchases
        results: dict[int, list[object]] = {}
        for number, rows in self._results(what, tasks):
            results[number] = rows
            if progress is not None:
                progress(done + len(results), steps)
        return [results[number] for number in range(len(tasks))]

    def _results(
        self, what: str, tasks: Sequence[tuple[Sequence[Scenario], Sequence[First]]]
    ) -> Iterable[tuple[int, list[object]]]:
        if self._pool is not None:
            try:
                futures = [
                    self._pool.submit(_work, what, number, *task)
                    for number, task in enumerate(tasks)
                ]
                yield from (future.result() for future in as_completed(futures))
            except BrokenProcessPool:
                self._pool = None  # processes may not be allowed here: do it all alone
            else:
                return
        for number, task in enumerate(tasks):
            yield number, getattr(self._own, what)(*task)


def _start_method() -> str:
    """Return how processes start: a fork where nothing else runs here, else afresh."""
    methods = multiprocessing.get_all_start_methods()
    return "fork" if "fork" in methods and threading.active_count() == 1 else "spawn"


def _cores() -> int:
    return max(1, multiprocessing.cpu_count())
