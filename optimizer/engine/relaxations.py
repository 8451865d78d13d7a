"""Why nothing fits, and the smallest change that opens it: each relaxation solved for alone.

A relaxation is one thing a person could change: ask for fewer hours, pay more at the start, tame
the largest motor, warm the room. Each is taken step by step along its own scale, on the real
columns, until a design exists; where none opens the question alone, pairs are tried.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import KW_ONLY, dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.formulas.load import peak_demand
from optimizer.model.diagnosis import (
    Diagnosis,
    Hindrance,
    HindranceKind,
    Opening,
    RelaxationKind,
)
from optimizer.model.job import LONGEST_HOURS, Job
from optimizer.model.needs import staying_on
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.job import Load
    from optimizer.model.progress import Progress

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


@dataclass(frozen=True, slots=True)
class Relaxation:
    """One thing to change: its settings from the mildest on, and what a setting makes of a job.

    ``steady`` tells that a stronger setting never closes what a milder one opened, so that the
    mildest is found by halving; otherwise every setting is tried in turn, if the ``loosest``
    question is answered that allows whatever any setting does. ``load`` and ``makers_most`` are
    what an `Opening` says of it.
    """

    kind: RelaxationKind
    now: float | None
    settings: Sequence[float]
    apply: Callable[[Question, float], Question]
    _: KW_ONLY
    steady: bool = True
    loosest: Callable[[Question], Question] | None = None
    load: str | None = None
    makers_most: int | None = None


def diagnose(question: Question, progress: Progress | None = None) -> Diagnosis:
    """Find what stands in the way of a question and what would open it.

    Parameters
    ----------
    question : Question
        One that has no design.
    progress : callable, optional
        Called with relaxations done and all relaxations.

    Returns
    -------
    Diagnosis
        Pairs are sought only where no relaxation opens the question alone.
    """
    relaxations = relaxations_of(question)
    openings = []
    for done, relaxation in enumerate(relaxations):
        if progress is not None:
            progress(done, len(relaxations))
        opening = open_with(question, relaxation)
        if opening is not None:
            openings.append(opening)
    pairs = [] if openings else _pairs(question, relaxations)
    return Diagnosis(tuple(_hindrances(question, openings)), tuple(openings), tuple(pairs))


def _hindrances(question: Question, openings: Sequence[Opening]) -> Iterator[Hindrance]:
    """Yield each requirement that alone is in the way, then money, else what passes by itself."""
    search = Search(question.job, question.family)
    alone = [one for one in Requirement if search.otherwise(lifted=one).exists(question.hours)]
    for requirement in alone:
        yield Hindrance(HindranceKind.REQUIREMENT, requirement=requirement)
    money = {RelaxationKind.UPFRONT_BUDGET, RelaxationKind.LIFETIME_BUDGET}
    if any(opening.kind in money for opening in openings):
        yield Hindrance(HindranceKind.MONEY)
    elif not alone:
        yield _blank(question)


def _blank(question: Question) -> Hindrance:
    """Return what is to be said where no requirement alone is in the way."""
    candidates = Search(question.job, question.family).candidates
    sets, banks = len(candidates.sets), len(candidates.banks)
    if sets == 0:
        return Hindrance(HindranceKind.NO_INVERTER_SET)
    if banks == 0:
        return Hindrance(HindranceKind.NO_BANK)
    site = question.job.site
    if site.budget is not None or site.lifetime_budget is not None:
        return Hindrance(HindranceKind.MONEY)
    return Hindrance(HindranceKind.NO_PAIR, sets=sets, banks=banks)


def open_with(question: Question, relaxation: Relaxation) -> Opening | None:
    """Return the mildest setting of a relaxation that opens the question, or None."""
    setting = _mildest(question, relaxation)
    if setting is None:
        return None
    return Opening(
        relaxation.kind,
        now=relaxation.now,
        needed=setting,
        load=relaxation.load,
        makers_most=relaxation.makers_most,
    )


def _mildest(question: Question, relaxation: Relaxation) -> float | None:
    settings = relaxation.settings
    if not settings:
        return None
    if relaxation.loosest is not None and not relaxation.loosest(question).answered():
        return None
    if not relaxation.steady:
        return next((one for one in settings if relaxation.apply(question, one).answered()), None)
    if not relaxation.apply(question, settings[-1]).answered():
        return None
    closed, opened = -1, len(settings) - 1
    while opened - closed > 1:
        middle = (closed + opened) // 2
        if relaxation.apply(question, settings[middle]).answered():
            opened = middle
        else:
            closed = middle
    return settings[opened]


def _pairs(question: Question, relaxations: Sequence[Relaxation]) -> list[tuple[Opening, Opening]]:
    """Return the pairs that open the question: the first as mild as may be, then the second."""
    found = []
    usable = [relaxation for relaxation in relaxations if relaxation.settings]
    for first, second in combinations(usable, 2):
        strongest = second.apply(question, second.settings[-1])
        one = open_with(strongest, first)
        if one is not None:
            two = open_with(first.apply(question, one.needed), second)
            if two is not None:
                found.append((one, two))
    return found


def relaxations_of(question: Question) -> tuple[Relaxation, ...]:
    """Return every relaxation that has somewhere to go for a question."""
    makers = (
        _hours,
        _budget,
        _lifetime,
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
    )


def _budget(question: Question) -> Relaxation | None:
    site = question.job.site
    if site.budget is None:
        return None
    free = Search(_site(question, budget=None).job, question.family).cheapest(question.hours)
    top = site.budget * 10 + 1_000_000 if free is None else free.upfront_cost + 0.01
    return Relaxation(
        RelaxationKind.UPFRONT_BUDGET,
        site.budget,
        _Scale(int(site.budget * 100) + 1, int(top * 100) + 1, 100),  # type: ignore[arg-type]
        lambda question, budget: _site(question, budget=budget),
    )


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
        [round(least + 0.005, 2)] if alone else _Scale(first, top * 100, 100),  # type: ignore[arg-type]
        lambda question, budget: _site(question, lifetime_budget=budget),
    )


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
        _Scale(first, last, 1),  # type: ignore[arg-type]
        tamed,
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
    return Relaxation(
        RelaxationKind.PEAK,
        now_w,
        _Scale(first, last, 1),  # type: ignore[arg-type]
        lambda question, peak_w: _site(question, coincidence=peak_w / all_w),
    )


def _warmth(question: Question) -> Relaxation | None:
    site = question.job.site
    warmest_degc = max(site.mean_degc, min(site.max_degc, _HEATED_DEGC))
    first, last = math.floor(site.min_degc * 2) + 1, math.floor(warmest_degc * 2)
    if last < first:
        return None
    return Relaxation(
        RelaxationKind.LOWEST_TEMPERATURE,
        site.min_degc,
        _Scale(first, last, 2),  # type: ignore[arg-type]
        lambda question, degc: _site(question, min_degc=degc, mean_degc=max(site.mean_degc, degc)),
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
        _Scale(int(site.recharge_hours * 10) + 1, 10 * LONGEST_HOURS, 10),  # type: ignore[arg-type]
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
    return Relaxation(RelaxationKind.CHARGER, now_a, scale, stronger)  # type: ignore[arg-type]


def _mass(question: Question) -> Relaxation | None:
    site = question.job.site
    if site.max_bank_kg is None:
        return None
    free = Search(_site(question, max_bank_kg=None).job, question.family).candidates.banks
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
