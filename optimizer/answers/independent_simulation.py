"""The independent simulation of a design, put together: all that it says."""

import math
from dataclasses import dataclass, field
from enum import StrEnum

from optimizer import simulate
from optimizer.answers.curve import Point
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.result import Result
from optimizer.model.shown import shown

#: Loads this much larger than surveyed are tried.
STRESSES = (1.25, 1.50)
#: Simulated years where none are asked for: no more than this, and no more outages than that, so
#: that a site with cuts every day takes no longer than one with few storms; but never fewer.
_MOST_YEARS, _OUTAGES, _LEAST_YEARS = 2000, 60_000, 100
#: From so many years of service on, the middle one is shown beside the first and the last.
_LONG_SERVICE = 3


class AgeStage(StrEnum):
    """At which point of its life a bank is looked at."""

    NEW = "new"
    NOW = "now"
    MID_LIFE = "mid_life"
    LAST_YEAR = "last_year"
    END_OF_LIFE = "end_of_life"


@dataclass(frozen=True, slots=True, kw_only=True)
class AgeHours:
    """Hours of one bank at one point of its life, under the loads of that year.

    Parameters
    ----------
    battery : str
        The model.
    stage : AgeStage
        New, at mid-life or in its last year.
    year : int
        Year of the design, from 0; a new bank has it at the year's start, else at its end.
    shortest_hours, mean_hours, longest_hours : float
        From the worst start, over all starts, and from the best [h].
    season, start_hour : str, int
        Where the shortest stands.
    """

    battery: str
    stage: AgeStage
    year: int
    shortest_hours: float
    mean_hours: float
    longest_hours: float
    season: str
    start_hour: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StressedHours:
    """The shortest hours of the whole life with all loads larger by ``factor`` [h]."""

    factor: float
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class IndependentSimulation(Result):
    """What the simulation says about a design.

    Parameters
    ----------
    job : Job
        The site.
    verdict : Verdict
        Whether it does what it claims.
    ages : tuple of AgeHours
        Each bank when new, at half its service and in its last year of service; alone, where a
        generator stands beside it.
    tiers : tuple of TierHours
        What each tier of the survey costs in hours, over the whole life; of the bank alone too.
    stressed : tuple of StressedHours
        With loads larger than surveyed.
    burst_hours : float or None
        The shortest of a run in minutes, loads with a duty below 1 at full power in bursts [h];
        None where no load works so.
    replay : Replay or None
        The site's own log, in the year with the shortest hours; None without a log.
    simulated_years : SimulatedYears
        Many years of outages drawn at random.
    balance : DailyBalance or None
        The hardest of the scheduled cuts; None without such cuts.
    horizon_hours : float
        Where the simulation stops [h]: a value equal to it means "at least that".
    """

    job: Job = field(metadata=shown(hide=True))
    verdict: simulate.Verdict
    ages: tuple[AgeHours, ...]
    tiers: tuple[simulate.TierHours, ...]
    stressed: tuple[StressedHours, ...] = field(metadata=shown("larger_loads"))
    burst_hours: float | None
    replay: simulate.Replay | None = field(metadata=shown("log"))
    simulated_years: simulate.SimulatedYears
    balance: simulate.DailyBalance | None = field(metadata=shown("scheduled_cuts"))
    horizon_hours: float


def independent_simulation(
    job: Job, design: Design, *, years: int | None = None, seed: int | None = None
) -> IndependentSimulation:
    """Simulate a design hour by hour and put together what that says.

    Parameters
    ----------
    job, design : Job, Design
        The site, and a design from `frontier`, `choose` or by hand.
    years : int, optional
        Years to simulate, [2, ∞); as many as take a moment where not given.
    seed : int, optional
        Of the simulated years: the same seed gives the same figures; always the same where not
        given.

    Returns
    -------
    IndependentSimulation
        Its verdict may be that the design falls short.

    Examples
    --------
    >>> from optimizer import choose, load
    >>> job = load("house")
    >>> independent_simulation(job, choose(job).design).verdict.holds
    True
    """
    seed = simulate.DEFAULT_SEED if seed is None else seed
    alone = design.bank_alone
    ride = simulate.ride_through(job, alone)
    horizon_h = ride.horizon_hours
    logged = bool(job.outages.log)
    usual = usual_years(job) if years is None else years
    bursts = None
    if any(load.duty < 1 for load in job.loads if load.tier in job.site.tiers):
        bursts = simulate.ride_through(job, design, in_bursts=True, limit_hours=horizon_h).shortest
    return IndependentSimulation(
        job=job,
        verdict=(
            design.simulated
            if isinstance(design, Point) and design.job is job
            else simulate.verdict(job, design)
        ),
        ages=_ages(job, alone, ride),
        tiers=simulate.tier_hours(job, alone, ride.shortest),
        stressed=tuple(
            StressedHours(
                factor=by,
                hours=simulate.ride_through(
                    job, design, load_factor=by, limit_hours=horizon_h
                ).shortest,
            )
            for by in STRESSES
        ),
        burst_hours=bursts,
        replay=simulate.replay_log(job, design, ride.worst.year) if logged else None,
        simulated_years=simulate.simulate_years(job, design, years=usual, seed=seed),
        balance=simulate.daily_balance(job, design) if job.outages.daily else None,
        horizon_hours=horizon_h,
    )


def usual_years(job: Job) -> int:
    """Return how many years are simulated where nobody says."""
    return years_with(job, _OUTAGES, _LEAST_YEARS, _MOST_YEARS)


def years_with(job: Job, outages: int, least: int, most: int) -> int:
    """Return in how many years a site has so many outages, within limits."""
    return max(least, min(most, int(outages / max(1.0, job.outages.times_a_year))))


def _ages(job: Job, design: Design, ride: simulate.RideThrough) -> tuple[AgeHours, ...]:
    found = []
    for index, period in enumerate(design.banks):
        name, first = period.battery.battery, max(0, period.start)
        if period.start >= 0:
            found.append(_age(name, AgeStage.NEW, simulate.at_health(job, design, 1.0, bank=index)))
        # where several follow one another, the first stands for them all
        end = period.end if period.bought == 1 else first + math.ceil(period.service_life_years)
        if end - first >= _LONG_SERVICE:
            found.append(_age(name, AgeStage.MID_LIFE, ride.in_year((first + end) // 2)))
        found.append(_age(name, AgeStage.LAST_YEAR, ride.in_year(end - 1)))
    return tuple(found)


def _age(battery: str, stage: AgeStage, ride: simulate.RideThrough) -> AgeHours:
    place = ride.worst
    return AgeHours(
        battery=battery,
        stage=stage,
        year=place.year,
        shortest_hours=ride.shortest,
        mean_hours=ride.mean,
        longest_hours=ride.longest,
        season=place.season,
        start_hour=place.start_hour,
    )
