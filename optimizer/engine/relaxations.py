"""Why nothing fits, and the smallest change that opens it: each lever solved for alone.

A lever is one thing a person could change: ask for fewer hours, pay more at the start, tame the
largest motor, warm the room. Each is pulled step by step along its own scale, on the real
columns, until a design exists; where none opens the question alone, pairs are tried.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.formulas.load import peak_demand
from optimizer.model.job import LONGEST_HOURS
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from optimizer.model.job import Job, Load

#: A battery room is heated no further than this, if its usual mean is not warmer anyway [°C].
_HEATED_DEGC = 25.0


@dataclass(frozen=True, slots=True)
class Question:
    """A job and the hours that some design must carry."""

    job: Job
    hours: int
    family: str | None = None

    def answered(self, lifted: Requirement | None = None) -> bool:
        """Tell whether any design exists."""
        requirements = frozenset() if lifted is None else frozenset({lifted})
        return Search(self.job, self.family, lifted=requirements).exists(self.hours)


@dataclass(frozen=True, slots=True)
class Lever:
    """One thing to change: its settings from the mildest on, and what a setting makes of a job.

    ``steady`` tells that a stronger setting never closes what a milder one opened, so that the
    mildest is found by halving; otherwise every setting is tried in turn.
    """

    name: str
    unit: str
    now: float | None
    settings: Sequence[float]
    apply: Callable[[Question, float], Question]
    sentence: Callable[[float], str]
    steady: bool = True


@dataclass(frozen=True, slots=True)
class Opening:
    """A lever with the mildest setting that opens the question."""

    lever: str
    unit: str
    now: float | None
    needed: float
    sentence: str

    def as_dict(self) -> dict[str, str | float | None]:
        """Return the opening for programs."""
        return {"lever": self.lever, "unit": self.unit, "now": self.now, "needed": self.needed}


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Why nothing fits: requirements in the way, single openings, and pairs where none is."""

    in_the_way: tuple[Requirement, ...]
    openings: tuple[Opening, ...]
    pairs: tuple[tuple[Opening, Opening], ...]


def diagnose(question: Question, progress: Callable[[int, int], None] | None = None) -> Diagnosis:
    """Find what stands in the way of a question and what would open it.

    Parameters
    ----------
    question : Question
        One that has no design.
    progress : callable, optional
        Called with levers done and all levers.

    Returns
    -------
    Diagnosis
        Pairs are sought only where no lever opens the question alone.
    """
    in_the_way = tuple(one for one in Requirement if question.answered(one))
    levers = levers_of(question)
    openings = []
    for done, lever in enumerate(levers):
        if progress is not None:
            progress(done, len(levers))
        opening = open_with(question, lever)
        if opening is not None:
            openings.append(opening)
    pairs = [] if openings else _pairs(question, levers)
    return Diagnosis(in_the_way, tuple(openings), tuple(pairs))


def open_with(question: Question, lever: Lever) -> Opening | None:
    """Return the mildest setting of a lever that opens the question, or None."""
    setting = _mildest(question, lever)
    if setting is None:
        return None
    return Opening(lever.name, lever.unit, lever.now, setting, lever.sentence(setting))


def _mildest(question: Question, lever: Lever) -> float | None:
    settings = lever.settings
    if not settings:
        return None
    if not lever.steady:
        return next((one for one in settings if lever.apply(question, one).answered()), None)
    if not lever.apply(question, settings[-1]).answered():
        return None
    closed, opened = -1, len(settings) - 1
    while opened - closed > 1:
        middle = (closed + opened) // 2
        if lever.apply(question, settings[middle]).answered():
            opened = middle
        else:
            closed = middle
    return settings[opened]


def _pairs(question: Question, levers: Sequence[Lever]) -> list[tuple[Opening, Opening]]:
    """Return the pairs that open the question: the first as mild as may be, then the second."""
    found = []
    usable = [lever for lever in levers if lever.settings]
    for first, second in combinations(usable, 2):
        strongest = second.apply(question, second.settings[-1])
        one = open_with(strongest, first)
        if one is not None:
            two = open_with(first.apply(question, one.needed), second)
            if two is not None:
                found.append((one, two))
    return found


def levers_of(question: Question) -> tuple[Lever, ...]:
    """Return every lever that has somewhere to go for a question."""
    makers = (_hours, _budget, _lifetime, _surge, _peak, _warmth, _refill, _mass, _strings)
    found = (maker(question) for maker in makers)
    return tuple(lever for lever in found if lever is not None)


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
    site = replace(question.job.site, **changes)  # type: ignore[arg-type]
    return replace(question, job=replace(question.job, site=site))


def _hours(question: Question) -> Lever | None:
    asked = question.hours
    return Lever(
        "hours",
        "h",
        asked,
        range(asked - 1, 0, -1),
        lambda question, hours: replace(question, hours=int(hours)),
        lambda hours: f"Ask for {hours:g} h instead of {asked} h.",
    )


def _budget(question: Question) -> Lever | None:
    site = question.job.site
    if site.budget is None:
        return None
    free = Search(_site(question, budget=None).job, question.family).cheapest(question.hours)
    top = site.budget * 10 + 1_000_000 if free is None else free.upfront_cost + 0.01
    return Lever(
        "upfront budget",
        site.currency,
        site.budget,
        _Scale(int(site.budget * 100) + 1, int(top * 100) + 1, 100),  # type: ignore[arg-type]
        lambda question, budget: _site(question, budget=budget),
        lambda budget: (
            f"Have {budget:,.2f} {site.currency} for the start instead of {site.budget:,.2f}."
        ),
    )


def _lifetime(question: Question) -> Lever | None:
    site = question.job.site
    if site.lifetime_budget is None:
        return None
    least = Search(_site(question, lifetime_budget=None).job, question.family).least(question.hours)
    first, top = int(site.lifetime_budget * 100) + 1, int(site.lifetime_budget * 10 + 1_000_000)
    # where money alone opens it, what it takes is known; beside another change it is sought
    alone = least < float("inf")
    return Lever(
        "lifetime budget",
        site.currency,
        site.lifetime_budget,
        [round(least + 0.005, 2)] if alone else _Scale(first, top * 100, 100),  # type: ignore[arg-type]
        lambda question, budget: _site(question, lifetime_budget=budget),
        lambda budget: (
            f"Allow {budget:,.2f} {site.currency} over {site.horizon_in_words} instead of "
            f"{site.lifetime_budget:,.2f}."
        ),
    )


def _counted(job: Job) -> list[Load]:
    return [load for load in job.loads if load.tier in job.site.tiers]


def _surge(question: Question) -> Lever | None:
    largest = max(
        _counted(question.job), key=lambda load: load.starting_w - load.running_w, default=None
    )
    if largest is None:
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

    return Lever(
        "start-up of the largest motor",
        "W",
        largest.starting_w,
        _Scale(first, last, 1),  # type: ignore[arg-type]
        tamed,
        lambda starting_w: (
            f"Start {largest.load} with at most {starting_w:,.0f} W instead of "
            f"{largest.starting_w:,.0f} W (a soft starter, or another motor)."
        ),
    )


def _peak(question: Question) -> Lever | None:
    job = question.job
    now_w = demand_of(job).peak_w
    all_w, _ = peak_demand(_counted(job), job.site.seasons, 1.0)
    alone_w = max((load.running_w for load in _counted(job)), default=0.0)
    first, last = math.ceil(now_w) - 1, math.ceil(alone_w)
    if first < last:
        return None
    return Lever(
        "peak watts",
        "W",
        now_w,
        _Scale(first, last, 1),  # type: ignore[arg-type]
        lambda question, peak_w: _site(question, coincidence=peak_w / all_w),
        lambda peak_w: f"Let no more than {peak_w:,.0f} W run at once instead of {now_w:,.0f} W.",
    )


def _warmth(question: Question) -> Lever | None:
    site = question.job.site
    warmest_degc = max(site.mean_degc, min(site.max_degc, _HEATED_DEGC))
    first, last = math.floor(site.min_degc * 2) + 1, math.floor(warmest_degc * 2)
    if last < first:
        return None
    return Lever(
        "lowest room temperature",
        "°C",
        site.min_degc,
        _Scale(first, last, 2),  # type: ignore[arg-type]
        lambda question, degc: _site(question, min_degc=degc, mean_degc=max(site.mean_degc, degc)),
        lambda degc: (
            f"Keep the battery room at {degc:g} °C or warmer instead of {site.min_degc:g} °C."
        ),
        steady=False,  # a longer life in the warmth also lengthens the least service
    )


def _refill(question: Question) -> Lever | None:
    site = question.job.site
    if site.recharge_hours >= LONGEST_HOURS:
        return None
    return Lever(
        "refill hours",
        "h",
        site.recharge_hours,
        _Scale(int(site.recharge_hours * 10) + 1, 10 * LONGEST_HOURS, 10),  # type: ignore[arg-type]
        lambda question, hours: _site(question, recharge_hours=hours),
        lambda hours: (
            f"Allow {hours:,.1f} h to refill the bank instead of {site.recharge_hours:g} h."
        ),
    )


def _mass(question: Question) -> Lever | None:
    site = question.job.site
    if site.max_bank_kg is None:
        return None
    free = Search(_site(question, max_bank_kg=None).job, question.family).candidates.banks
    masses = {
        round(units * battery.mass_kg + 0.05, 1)
        for units, battery in zip(free.units.tolist(), free.batteries, strict=True)
    }
    return Lever(
        "bank mass",
        "kg",
        site.max_bank_kg,
        sorted(mass for mass in masses if mass > site.max_bank_kg),
        lambda question, kg: _site(question, max_bank_kg=kg),
        lambda kg: f"Allow a bank of {kg:,.1f} kg instead of {site.max_bank_kg:,.0f} kg.",
    )


def _strings(question: Question) -> Lever | None:
    job = question.job
    allowed = [battery.max_parallel for battery in job.catalog.batteries]
    makers, now = max(allowed, default=1), job.site.max_parallel
    if now is None:
        return _strings_of_makers(min(allowed, default=1))

    def more(question: Question, strings: float) -> Question:
        wider = _site(question, max_parallel=int(strings))
        return wider if strings <= makers else _beyond_makers(wider, strings)

    def sentence(strings: float) -> str:
        beyond = (
            f" No maker here allows more than {makers}: it needs the maker's consent."
            if strings > makers
            else ""
        )
        return f"Allow {strings:g} strings in parallel instead of {now}.{beyond}"

    return Lever("strings in parallel", "", now, range(now + 1, 41), more, sentence)


def _strings_of_makers(fewest: int) -> Lever:
    """Return the lever of a site that has no limit of its own: only the makers' stand."""
    return Lever(
        "strings in parallel",
        "",
        None,
        range(fewest + 1, 41),
        _beyond_makers,
        lambda strings: (
            f"Allow {strings:g} strings in parallel also of batteries whose makers allow fewer: "
            "it needs the maker's consent."
        ),
    )


def _beyond_makers(question: Question, strings: float) -> Question:
    catalog = question.job.catalog
    batteries = tuple(
        replace(battery, max_parallel=max(battery.max_parallel, int(strings)))
        for battery in catalog.batteries
    )
    return replace(
        question, job=replace(question.job, catalog=replace(catalog, batteries=batteries))
    )
