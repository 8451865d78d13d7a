"""Why nothing fits, and the smallest change that opens it: each relaxation solved for alone.

A relaxation is one thing a person could change: ask for fewer hours, pay more at the start, tame
the largest motor, warm the room. Each is taken step by step along its own scale, on the real
columns, until a design exists; where none opens the question alone, pairs are tried.
"""

import math
from collections.abc import Callable
from dataclasses import KW_ONLY, dataclass, replace
from typing import Protocol

from optimizer.engine.banks import build_banks
from optimizer.engine.cashflow import later_sums, payments
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.engine.upfront import careless_of_later
from optimizer.formulas.load import peak_demand
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.design import Design
from optimizer.model.diagnosis import (
    RelaxationKind,
)
from optimizer.model.job import LONGEST_HOURS, Job, Load
from optimizer.model.needs import staying_on
from optimizer.model.requirement import Requirement

#: How many times the strongest charger of the list is tried.
_STRONGEST_CHARGER = 10
#: A battery room is heated no further than this, if its usual mean is not warmer anyway [°C].
_HEATED_DEGC = 25.0


@dataclass(frozen=True, slots=True)
class Question:
    """A job and the hours that some design must carry."""

    job: Job
    hours: int
    family: str | None = None

    def answered(self) -> bool:
        """Tell whether any design exists."""
        return Search(self.job, self.family).exists(self.hours)


class Settings(Protocol):
    """Settings from the mildest on; a long scale makes each when it is asked for."""

    def __len__(self) -> int:
        """Return how many there are."""

    def __getitem__(self, place: int, /) -> float:
        """Return the setting at a place, the strongest at -1."""


def _anew(search: Search, job: Job) -> Search:
    return Search(job, search.family)


@dataclass(frozen=True, slots=True)
class Relaxation:
    """One thing to change: its settings from the mildest on, and what a setting makes of a job.

    ``steady`` tells that a stronger setting never closes what a milder one opened, so that the
    mildest is found by halving; otherwise every setting is tried in turn, if the ``loosest``
    question is answered that allows whatever any setting does. ``search`` makes of the search of a
    question that of the job at a setting, with the columns that stay. ``load`` and ``makers_most``
    are what an `Opening` says of it.
    """

    kind: RelaxationKind
    now: float | None
    settings: Settings
    apply: Callable[[Question, float], Question]
    _: KW_ONLY
    steady: bool = True
    loosest: Callable[[Question], Question] | None = None
    search: Callable[[Search, Job], Search] = _anew
    load: str | None = None
    makers_most: int | None = None


def relaxations_of(question: Question) -> tuple[Relaxation, ...]:
    """Return every relaxation that has somewhere to go for a question."""
    makers = (
        _hours,
        _budget,
        _lifetime,
        _later,
        _surge,
        _peak,
        _warmth,
        _refill,
        _charger,
        _mass,
        _strings,
    )
    found = (maker(question) for maker in makers)
    return tuple(relaxation for relaxation in found if relaxation is not None)


class _Scale:
    """The settings first, first + step, … last, made when asked for."""

    def __init__(self, first: int, last: int, per_unit: int) -> None:
        self._numbers = range(first, last + 1) if last >= first else range(first, last - 1, -1)
        self._per_unit = per_unit

    def __len__(self) -> int:
        return len(self._numbers)

    def __getitem__(self, index: int) -> float:
        return self._numbers[index] / self._per_unit


def _site(question: Question, **changes: object) -> Question:
    return replace(question, job=question.job.with_site(**changes))


def _hours(question: Question) -> Relaxation | None:
    asked = question.hours
    return Relaxation(
        RelaxationKind.HOURS,
        asked,
        range(asked - 1, 0, -1),
        lambda question, hours: replace(question, hours=int(hours)),
        search=lambda search, _: search,
    )


def _limited(
    question: Question,
    name: str,
    kind: RelaxationKind,
    dearest: Callable[[Design], float],
    search: Callable[[Search, Job], Search] = _anew,
) -> Relaxation | None:
    """Return a limit of money to the cent, up to what the cheapest design without it takes."""
    limit = getattr(question.job.site, name)
    if limit is None:
        return None
    free = Search(_site(question, **{name: None}).job, question.family).cheapest(question.hours)
    top = limit * 10 + 1_000_000 if free is None else max(limit, dearest(free)) + 0.01
    return Relaxation(
        kind,
        limit,
        _Scale(int(limit * 100) + 1, int(top * 100) + 1, 100),
        lambda question, limit: _site(question, **{name: limit}),
        search=search,
    )


def _budget(question: Question) -> Relaxation | None:
    site, kind = question.job.site, RelaxationKind.UPFRONT_BUDGET
    if site.budget is not None and site.lifetime_budget is None:
        free = careless_of_later(_site(question, budget=None).job)
        least = Search(free, question.family).least(question.hours)
        if least < math.inf:  # alone it takes the least upfront cost, to the cent
            needed = math.ceil(least * 100 * (1 - RELATIVE_TOLERANCE)) / 100
            return Relaxation(
                kind,
                site.budget,
                [needed],
                lambda question, budget: _site(question, budget=budget),
                search=_within,
            )
    return _limited(question, "budget", kind, lambda design: design.upfront_cost, _within)


def _within(search: Search, job: Job) -> Search:
    return search.within(job.site.budget)


def _lifetime(question: Question) -> Relaxation | None:
    site = question.job.site
    if site.lifetime_budget is None:
        return None
    least = Search(_site(question, lifetime_budget=None).job, question.family).least(question.hours)
    first, top = int(site.lifetime_budget * 100) + 1, int(site.lifetime_budget * 10 + 1_000_000)
    # where money alone opens it, what it takes is known; beside another change it is sought
    alone = least < float("inf")
    return Relaxation(
        RelaxationKind.LIFETIME_BUDGET,
        site.lifetime_budget,
        [round(least + 0.005, 2)] if alone else _Scale(first, top * 100, 100),
        lambda question, budget: _site(question, lifetime_budget=budget),
    )


def _later(question: Question) -> Relaxation | None:
    def dearest(design: Design) -> float:
        return max(later_sums(payments(question.job, design)).values(), default=0.0)

    return _limited(question, "later_limit", RelaxationKind.LATER_LIMIT, dearest)


def _counted(job: Job) -> list[Load]:
    return [load for load in job.loads if load.tier in job.site.tiers]


def _surge(question: Question) -> Relaxation | None:
    largest = max(
        _counted(question.job), key=lambda load: load.starting_w - load.running_w, default=None
    )
    if largest is None or largest.critical:  # no tinkering with what health hangs on
        return None
    first, last = math.ceil(largest.starting_w) - 1, math.ceil(largest.running_w)
    if first < last:
        return None

    def tamed(question: Question, starting_w: float) -> Question:
        loads = tuple(
            replace(load, starting_w=max(starting_w, load.running_w))
            if load.load == largest.load
            else load
            for load in question.job.loads
        )
        return replace(question, job=replace(question.job, loads=loads))

    return Relaxation(
        RelaxationKind.LARGEST_START,
        largest.starting_w,
        _Scale(first, last, 1),
        tamed,
        search=Search.at_peaks_of,
        load=largest.load,
    )


def _peak(question: Question) -> Relaxation | None:
    job = question.job
    now_w = demand_of(job).peak_w
    all_w, _ = peak_demand(_counted(job), job.site.seasons, 1.0)
    alone_w = max((load.running_w for load in _counted(job)), default=0.0)
    staying_w, _ = peak_demand(staying_on(_counted(job)), job.site.seasons, 1.0)
    first, last = math.ceil(now_w) - 1, math.ceil(max(alone_w, staying_w))
    if first < last:
        return None

    def together(question: Question, peak_w: float) -> Question:
        return _site(question, coincidence=peak_w / all_w)

    scale = _Scale(first, last, 1)
    kept = Search.at_peaks_of
    return Relaxation(RelaxationKind.PEAK, now_w, scale, together, search=kept)


def _warmth(question: Question) -> Relaxation | None:
    site = question.job.site
    warmest_degc = max(site.mean_degc, min(site.max_degc, _HEATED_DEGC))
    first, last = math.floor(site.min_degc * 2) + 1, math.floor(warmest_degc * 2)
    if last < first:
        return None

    def heated(question: Question, degc: float) -> Question:
        return _site(question, min_degc=degc, mean_degc=max(site.mean_degc, degc))

    return Relaxation(
        RelaxationKind.LOWEST_TEMPERATURE,
        site.min_degc,
        _Scale(first, last, 2),
        heated,
        search=Search.with_banks_of,
        steady=False,  # a longer life in the warmth also lengthens the least service
        loosest=lambda question: _site(
            question,
            min_degc=warmest_degc,  # as warm on the coldest day, no warmer on the mean
            # any bank may then be kept a year, the first of its life and its best
            min_service_share=0.0,
            lifetime_budget=None,
            later_limit=None,
        ),
    )


def _refill(question: Question) -> Relaxation | None:
    site = question.job.site
    if site.recharge_hours >= LONGEST_HOURS:
        return None
    return Relaxation(
        RelaxationKind.RECHARGE_HOURS,
        site.recharge_hours,
        _Scale(int(site.recharge_hours * 10) + 1, 10 * LONGEST_HOURS, 10),
        lambda question, hours: _site(question, recharge_hours=hours),
    )


def _charger(question: Question) -> Relaxation | None:
    """Return the charger: amperes of one unit, where cuts come too close for those on offer."""
    inverters = question.job.catalog.inverters
    now_a = max((one.charger_a for one in inverters), default=0.0)
    if not question.job.outages.daily:
        return None  # where time is not short, more of it is the milder change

    def stronger(question: Question, charger_a: float) -> Question:
        catalog = question.job.catalog
        stronger = tuple(
            replace(one, charger_a=max(one.charger_a, charger_a)) for one in catalog.inverters
        )
        return replace(
            question, job=replace(question.job, catalog=replace(catalog, inverters=stronger))
        )

    first = math.floor(now_a) + 1
    scale = _Scale(first, max(first, math.ceil(now_a) * _STRONGEST_CHARGER), 1)
    kept = Search.at_peaks_of
    return Relaxation(RelaxationKind.CHARGER, now_a, scale, stronger, search=kept)


def _mass(question: Question) -> Relaxation | None:
    site = question.job.site
    if site.max_bank_kg is None:
        return None
    free = build_banks(question.job, question.family, frozenset({Requirement.MASS}))
    masses = {
        round(mass_kg + 0.05, 1) for mass_kg in (free.units * free.column("mass_kg")).tolist()
    }
    return Relaxation(
        RelaxationKind.BANK_MASS,
        site.max_bank_kg,
        sorted(mass for mass in masses if mass > site.max_bank_kg),
        lambda question, kg: _site(question, max_bank_kg=kg),
    )


def _strings(question: Question) -> Relaxation | None:
    job = question.job
    allowed = [battery.max_parallel for battery in job.catalog.batteries]
    makers, now = max(allowed, default=1), job.site.max_parallel
    if now is None:  # no limit of the site's own: only the makers' stand
        fewest = min(allowed, default=1)
        settings = range(fewest + 1, 41)
        return Relaxation(RelaxationKind.STRINGS, None, settings, _beyond_makers)

    def more(question: Question, strings: float) -> Question:
        wider = _site(question, max_parallel=int(strings))
        return wider if strings <= makers else _beyond_makers(wider, strings)

    return Relaxation(RelaxationKind.STRINGS, now, range(now + 1, 41), more, makers_most=makers)


def _beyond_makers(question: Question, strings: float) -> Question:
    catalog = question.job.catalog
    batteries = tuple(
        replace(battery, max_parallel=max(battery.max_parallel, int(strings)))
        for battery in catalog.batteries
    )
    return replace(
        question, job=replace(question.job, catalog=replace(catalog, batteries=batteries))
    )
