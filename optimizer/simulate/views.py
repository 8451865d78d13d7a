"""What people are told of a simulation: the verdict, one outage traced, what each tier costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from optimizer.errors import Fault, InputError
from optimizer.simulate.bank import bank_current_a, stages_by_year
from optimizer.simulate.daily import daily_balance
from optimizer.simulate.depletion import Depletion, after_peak
from optimizer.simulate.outage import OutageBatch, Passage, endure
from optimizer.simulate.profile import hourly
from optimizer.simulate.ride import horizon_hours, ride_through
from optimizer.simulate.store import store

if TYPE_CHECKING:
    from optimizer.model.design import Design
    from optimizer.model.job import Job

Floats = NDArray[np.float64]

#: A bank this little down in the evening is full.
_FULL = 1e-7


class Shortfall(StrEnum):
    """Where the simulation does not confirm a design."""

    HOURS = "hours"
    CUTS = "scheduled_cuts"
    NIGHTS = "quiet_windows"


@dataclass(frozen=True, slots=True, kw_only=True)
class GeneratorUse:
    """What the longest outage of the design asks of its generator, at most.

    Parameters
    ----------
    fuel_l, stored_l : float
        Fuel used from the start that takes most, and fuel stored [l].
    running_hours : float
        Of the generator [h].
    evening_depth : float
        Share of the bank that is still used, at most, as a quiet window begins ahead of which the
        generator could run all day.
    """

    fuel_l: float
    stored_l: float
    running_hours: float
    evening_depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether the simulation confirms the hours a design claims.

    Parameters
    ----------
    shortfalls : tuple of Shortfall
        What it does not confirm: ``HOURS`` where the shortest ride-through is below the hours
        claimed, ``CUTS`` where a scheduled cut begins before the bank is full again, ``NIGHTS``
        where the bank is not full before a night that a generator had all day to prepare.
    claimed_hours : int
        What the design says [h].
    hours : float
        The shortest ride-through over all years, seasons and start hours [h].
    year, season, start_hour : int, str, int
        Where the shortest stands; years count from 0.
    first_year_hours, last_year_hours : float
        The shortest in the first and in the last year [h].
    mean_hours, longest_hours : float
        Over all starts, seasons and years [h].
    capped, horizon_hours : bool, float
        Whether some ride-through was longer than the simulation looked, and how far that is [h].
    largest_current_a, current_limit_a : float
        Hourly mean current from the bank and what the bank may give [A], in the year in which
        the two are closest. A simulation of energy does not stop on it; it is there to be told.
    generator : GeneratorUse or None
        What the outage asks of the generator; None without one.
    """

    shortfalls: tuple[Shortfall, ...]
    claimed_hours: int
    hours: float
    year: int
    season: str
    start_hour: int
    first_year_hours: float
    last_year_hours: float
    mean_hours: float
    longest_hours: float
    capped: bool
    horizon_hours: float
    largest_current_a: float
    current_limit_a: float
    generator: GeneratorUse | None

    @property
    def holds(self) -> bool:
        """Whether the design does what it claims."""
        return not self.shortfalls

    @property
    def word(self) -> str:
        """The verdict as JSON tells it."""
        return "holds" if self.holds else "falls short"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """One outage from its start until the bank is at its lowest allowed charge.

    Parameters
    ----------
    hours : numpy.ndarray
        Times since the start [h], shape (n + 1): whole hours, then the moment it runs out.
    state_of_charge : numpy.ndarray
        Share of the bank's capacity of that year left at these times, shape (n + 1).
    loads_w : mapping of str to numpy.ndarray
        Mean AC power of each tier between these times [W], shape (n).
    bank_a : numpy.ndarray
        Mean current from the bank between these times [A], shape (n).
    on_generator : numpy.ndarray
        Whether a generator carries the loads between these times, shape (n).
    lowest_state_of_charge : float
        Where the bank may go to: 1 − max_dod.
    capped : bool
        Whether the trace stops before the bank does.
    """

    hours: Floats
    state_of_charge: Floats
    loads_w: Mapping[str, Floats]
    bank_a: Floats
    on_generator: NDArray[np.bool_]
    lowest_state_of_charge: float
    capped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TierHours:
    """What a tier costs: the shortest ride-through with and without it [h].

    ``counted`` tells whether the site carries the tier; where it does not, ``hours_with`` is
    what would be left if it were added to those that are.
    """

    tier: str
    counted: bool
    hours_with: float
    hours_without: float

    @property
    def cost_hours(self) -> float:
        """Hours that the tier takes [h]; both sides end at the simulation's horizon."""
        return self.hours_without - self.hours_with


def verdict(job: Job, design: Design) -> Verdict:
    """Simulate a design and say whether it does what it claims.

    Parameters
    ----------
    job, design : Job, Design
        The site, and the design with the hours it claims.

    Returns
    -------
    Verdict
        The word and the numbers for a sentence.
    """
    ride = ride_through(job, design)
    stages = stages_by_year(design)
    amps = bank_current_a(job, design, stages, hourly(job).total_w).max(axis=(1, 2))
    limits = np.array(
        [
            s.period.strings * s.period.battery.discharge_rate_max * s.period.battery.capacity_ah
            for s in stages
        ]
    )
    tightest = int((amps / limits).argmax())
    place, use = ride.worst, _generator_use(job, design)
    failing = {
        Shortfall.HOURS: ride.shortest < design.hours,
        Shortfall.CUTS: bool(job.outages.daily) and not daily_balance(job, design).cuts_from_full,
        Shortfall.NIGHTS: use is not None and use.evening_depth > _FULL,
    }
    return Verdict(
        shortfalls=tuple(kind for kind, fails in failing.items() if fails),
        claimed_hours=design.hours,
        hours=ride.shortest,
        year=place.year,
        season=place.season,
        start_hour=place.start_hour,
        first_year_hours=float(ride.shortest_by_year[0]),
        last_year_hours=float(ride.shortest_by_year[-1]),
        mean_hours=ride.mean,
        longest_hours=ride.longest,
        capped=ride.capped,
        horizon_hours=ride.horizon_hours,
        largest_current_a=float(amps[tightest]),
        current_limit_a=float(limits[tightest]),
        generator=use,
    )


def _generator_use(job: Job, design: Design) -> GeneratorUse | None:
    """Follow the whole outage beside a generator from a full bank, from every start."""
    tables = store(job, design)
    if tables.plant is None:
        return None
    run = endure(tables, OutageBatch.of_every_start(tables, float(design.hours)))
    return GeneratorUse(
        fuel_l=float(run.fuel_l.max()),
        stored_l=design.fuel_l,
        running_hours=float(run.running_h.max()),
        evening_depth=float(run.evening_depth.max()),
    )


def trace(job: Job, design: Design, year: int, season: str, start_hour: int) -> Trace:
    """Follow one outage for drawing.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    year : int
        Year of the design, from 0.
    season : str
        One of the site's seasons.
    start_hour : int
        Hour of the day at which the grid fails, 0…23.

    Returns
    -------
    Trace
        State of charge and loads by tier.

    Raises
    ------
    InputError
        A year, season or hour that there is not.
    """
    profile = hourly(job)
    stages = {stage.year: stage for stage in stages_by_year(design)}
    faults = [
        Fault("trace", None, name, repr(found), wanted)
        for name, found, known, wanted in (
            ("year", year, stages, f"a year of the design, {min(stages)} to {max(stages)}"),
            ("season", season, profile.seasons, "one of " + ", ".join(profile.seasons)),
            ("start_hour", start_hour, range(24), "an hour of the day, 0 to 23"),
        )
        if found not in known
    ]
    if faults:
        raise InputError(faults)
    tables = store(job, design, stages=(stages[year],))
    row, peak = profile.seasons.index(season), after_peak(job, design, tables)

    def follow(hours: Floats) -> Passage:
        """One outage, ended after each of so many hours."""
        same = np.ones(hours.size)
        before = Depletion(peak.depth[row] * same, peak.drawn_ah[row] * same)
        rows, clock_h = np.full(hours.size, row), start_hour * same
        return endure(tables, OutageBatch(rows=rows, clock_h=clock_h, hours=hours, before=before))

    horizon = horizon_hours(job, design)
    last = float(follow(np.array([horizon])).hours_carried[0])
    hours = np.append(np.arange(np.ceil(last)), last)
    followed = follow(hours)
    on_generator = np.diff(followed.running_h) > 0
    if tables.plant is not None:
        profile = profile.throughout()
    carried = hours[:-1] < np.array(profile.carried_h)[:, None]
    clock = (start_hour + np.arange(hours.size - 1)) % 24
    watts = profile.watts[row][:, clock] * carried
    amps = bank_current_a(job, design, (stages[year],), watts.sum(axis=0))[0]
    grown = (1 + job.site.load_growth) ** year
    return Trace(
        hours=hours,
        state_of_charge=1 - followed.after.depth,
        loads_w={tier: watts[i] * grown for i, tier in enumerate(profile.tiers)},
        bank_a=np.where(on_generator, 0.0, amps),
        on_generator=on_generator,
        lowest_state_of_charge=1 - stages[year].period.battery.max_dod,
        capped=last >= horizon,
    )


def tier_hours(job: Job, design: Design) -> tuple[TierHours, ...]:
    """Return for each tier of the survey the shortest ride-through with and without it."""
    kept = job.site.tiers
    base = ride_through(job, design).shortest
    rows = []
    for tier in dict.fromkeys((*kept, *(load.tier for load in job.loads))):
        counted = tier in kept
        others = [one for one in kept if one != tier] if counted else [*kept, tier]
        other = ride_through(job, design, tiers=others).shortest
        hours_with, hours_without = (base, other) if counted else (other, base)
        rows.append(
            TierHours(
                tier=tier, counted=counted, hours_with=hours_with, hours_without=hours_without
            )
        )
    return tuple(rows)
