"""Whether the simulation confirms what a design claims."""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

import numpy as np

from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.simulate.bank import bank_current_a, stages_by_year
from optimizer.simulate.daily import daily_balance
from optimizer.simulate.outage import Passage
from optimizer.simulate.profile import hourly
from optimizer.simulate.ride import ride_through

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

    also: ClassVar[tuple[str, ...]] = ("holds",)

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


def verdict(job: Job, design: Design) -> Verdict:
    """Simulate a design and say whether it does what it claims."""
    ride = ride_through(job, design)
    stages, full = stages_by_year(design), ride.from_full
    amps = bank_current_a(job, design, stages, hourly(job).total_w).max(axis=(1, 2))
    limits = np.array(
        [
            s.period.strings * s.period.battery.discharge_rate_max * s.period.battery.capacity_ah
            for s in stages
        ]
    )
    tightest = int((amps / limits).argmax())
    place, use = ride.worst, None if full is None else _generator_use(design, full)
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


def _generator_use(design: Design, run: Passage) -> GeneratorUse:
    return GeneratorUse(
        fuel_l=float(run.fuel_l.max()),
        stored_l=design.fuel_l,
        running_hours=float(run.running_h.max()),
        evening_depth=float(run.evening_depth.max()),
    )
