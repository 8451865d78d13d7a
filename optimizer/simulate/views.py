"""What people are told of a simulation: the verdict, one outage traced, what each tier costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.simulate.bank import bank_current_a, stages_by_year, store
from optimizer.simulate.cycle import SHARE
from optimizer.simulate.profile import hourly
from optimizer.simulate.ride import horizon_hours, ride_through

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.design import Design
    from optimizer.model.job import Job

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether the simulation confirms the hours a design claims.

    Parameters
    ----------
    word : str
        "holds" where the shortest ride-through is at least the hours claimed, else "falls short".
    claimed_hours : int
        What the design says [h].
    hours : float
        The shortest ride-through over all years, seasons and start hours [h].
    year, season, start_hour : int, str, int
        Where the shortest stands; years count from 0.
    first_year_hours : float
        The shortest in the first year [h].
    mean_hours, longest_hours : float
        Over all starts, seasons and years [h].
    capped, horizon_hours : bool, float
        Whether some ride-through was longer than the simulation looked, and how far that is [h].
    largest_current_a, current_limit_a : float
        Hourly mean current from the bank and what the bank may give [A], in the year in which
        the two are closest. A simulation of energy does not stop on it; it is there to be told.
    """

    word: Literal["holds", "falls short"]
    claimed_hours: int
    hours: float
    year: int
    season: str
    start_hour: int
    first_year_hours: float
    mean_hours: float
    longest_hours: float
    capped: bool
    horizon_hours: float
    largest_current_a: float
    current_limit_a: float

    @property
    def holds(self) -> bool:
        """Whether the design does what it claims."""
        return self.word == "holds"


@dataclass(frozen=True, slots=True)
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
    lowest_state_of_charge : float
        Where the bank may go to: 1 − max_dod.
    capped : bool
        Whether the trace stops before the bank does.
    """

    hours: Floats
    state_of_charge: Floats
    loads_w: Mapping[str, Floats]
    bank_a: Floats
    lowest_state_of_charge: float
    capped: bool


@dataclass(frozen=True, slots=True)
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
    place = ride.worst
    return Verdict(
        "holds" if ride.shortest >= design.hours else "falls short",
        design.hours,
        ride.shortest,
        place.year,
        place.season,
        place.start_hour,
        float(ride.shortest_by_year[0]),
        ride.mean,
        ride.longest,
        ride.capped,
        ride.horizon_hours,
        float(amps[tightest]),
        float(limits[tightest]),
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
    stage = stages[year]
    tables = store(job, design, profile, (stage,))
    row = np.array([profile.seasons.index(season)])
    before = tables.cycle.at(row, np.array([float(start_hour)]))[0, SHARE]
    end = float(tables.cycle.until(row, before + tables.usable[row])[0]) - start_hour
    horizon = horizon_hours(job)
    last = min(end, horizon)
    hours = np.append(np.arange(np.ceil(last)), last)
    rows = np.repeat(row, hours.size)
    used = tables.cycle.at(rows, start_hour + hours)[:, SHARE] - before
    clock = (start_hour + np.arange(hours.size - 1)) % 24
    grown = (1 + job.site.load_growth) ** year
    watts = profile.watts[row[0]] * grown
    amps = bank_current_a(job, design, (stage,), profile.total_w)[0, row[0]]
    return Trace(
        hours,
        1 - used,
        {tier: watts[i, clock] for i, tier in enumerate(profile.tiers)},
        amps[clock],
        1 - stage.period.battery.max_dod,
        end > horizon,
    )


def tier_hours(job: Job, design: Design) -> tuple[TierHours, ...]:
    """Return for each tier of the survey the shortest ride-through with and without it."""
    kept = job.site.tiers
    base = ride_through(job, design).shortest
    rows = []
    for tier in dict.fromkeys((*kept, *(load.tier for load in job.loads))):
        if tier in kept:
            rest = [other for other in kept if other != tier]
            rows.append(TierHours(tier, True, base, ride_through(job, design, tiers=rest).shortest))
        else:
            more = ride_through(job, design, tiers=(*kept, tier)).shortest
            rows.append(TierHours(tier, False, more, base))
    return tuple(rows)
