"""How long a design rides through, from every start hour, in every season and year."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from optimizer.simulate.bank import Stage, health_at, stages_by_year, store
from optimizer.simulate.cycle import SHARE
from optimizer.simulate.profile import Profile, hourly, minutely

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.model.design import Design
    from optimizer.model.job import Job

#: No ride-through is told beyond the longer of this [h] and four times the site's max_hours.
_LEAST_HORIZON_H = 240.0

#: Ride-throughs this close are called equal: rounding must not choose which is named the worst.
_EQUAL = 1e-6


class Place(NamedTuple):
    """Where in a table of ride-throughs a value stands."""

    year: int
    season: str
    start_hour: int


@dataclass(frozen=True, slots=True)
class RideThrough:
    """Hours from the start of an outage until the bank is at its lowest allowed charge.

    Parameters
    ----------
    years : tuple of int
        The years of the lines.
    seasons : tuple of str
        Names, in the site's order.
    weights : tuple of float
        Share of the year of each season.
    hours : numpy.ndarray
        Ride-through [h], shape (years, seasons, 24 start hours); real-valued, no longer than
        ``horizon_hours``.
    horizon_hours : float
        Where the simulation stops [h]: a value equal to it means "at least that".
    step_minutes : int
        Length of a step of the simulation [min].
    """

    years: tuple[int, ...]
    seasons: tuple[str, ...]
    weights: tuple[float, ...]
    hours: NDArray[np.float64]
    horizon_hours: float
    step_minutes: int

    @property
    def shortest(self) -> float:
        """The shortest of all [h]."""
        return float(self.hours.min())

    @property
    def longest(self) -> float:
        """The longest of all [h]."""
        return float(self.hours.max())

    @property
    def mean(self) -> float:
        """The mean over starts and years, seasons by their months [h]."""
        return float((self.hours.mean(axis=(0, 2)) * np.array(self.weights)).sum())

    @property
    def worst(self) -> Place:
        """Year, season and start hour of the shortest; the first of equals."""
        equal = self.hours <= self.hours.min() * (1 + _EQUAL)
        year, season, start = np.unravel_index(int(equal.argmax()), self.hours.shape)
        return Place(self.years[int(year)], self.seasons[int(season)], int(start))

    @property
    def capped(self) -> bool:
        """Whether any ride-through is longer than the simulation looked."""
        return bool((self.hours >= self.horizon_hours).any())

    @property
    def shortest_by_year(self) -> NDArray[np.float64]:
        """The shortest in each year [h]."""
        shortest: NDArray[np.float64] = self.hours.min(axis=(1, 2))
        return shortest


@dataclass(frozen=True, slots=True)
class LifeStage:
    """One bank at one point of its life: hours shortest, mean and longest."""

    battery: str
    start: int
    stage: str
    age_years: float
    health: float
    shortest_hours: float
    mean_hours: float
    longest_hours: float


def horizon_hours(job: Job) -> float:
    """Return how far a ride-through is followed [h]."""
    return max(_LEAST_HORIZON_H, 4.0 * job.site.max_hours)


def ride_through(
    job: Job,
    design: Design,
    *,
    load_factor: float = 1.0,
    tiers: Sequence[str] | None = None,
) -> RideThrough:
    """Simulate an outage from each whole hour of the day, hour by hour.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    load_factor : float
        The loads as a multiple of those surveyed, (0, ∞).
    tiers : sequence of str, optional
        The tiers that are carried; the site's own where not given.

    Returns
    -------
    RideThrough
        Every year a bank of the design is in service, each season, 24 start hours.

    Notes
    -----
    No margin is applied. The bank is full at the start and has the health of that year's end;
    within the hour in which it runs out, use is even.
    """
    return _simulate(job, design, hourly(job, tiers), stages_by_year(design), load_factor)


def stressed(job: Job, design: Design, factor: float = 1.25) -> RideThrough:
    """Return the ride-through with all loads larger than surveyed by ``factor``."""
    return ride_through(job, design, load_factor=factor)


def bursts(job: Job, design: Design) -> RideThrough:
    """Simulate in minutes, loads with a duty below 1 running in bursts at their full power.

    `minutely` tells how the bursts are laid out. By Peukert's law this takes more from the bank
    than the same energy spread over the hour; it is a figure beside the hourly one, not the one
    the autonomy stands on.
    """
    return _simulate(job, design, minutely(job), stages_by_year(design), 1.0)


def at_health(job: Job, design: Design, health: float, *, bank: int = 0) -> RideThrough:
    """Return the ride-through of one bank at a given health, under the loads of its first year.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    health : float
        Share of the new capacity that is left, (0, 1].
    bank : int
        Which of ``design.banks``.
    """
    period = design.banks[bank]
    stage = Stage(period, max(0, period.start), health)
    return _simulate(job, design, hourly(job), (stage,), 1.0)


def life_table(job: Job, design: Design) -> tuple[LifeStage, ...]:
    """Return hours of each bank when new, at half its service life and at the end of it.

    The loads are those of the bank's first year throughout, so that the lines differ by ageing
    alone; `ride_through` has the years as they come.
    """
    rows = []
    for index, period in enumerate(design.banks):
        for name, share in (("new", 0.0), ("mid-life", 0.5), ("end of life", 1.0)):
            age = share * period.service_life_years
            health = health_at(period, age)
            ride = at_health(job, design, health, bank=index)
            rows.append(
                LifeStage(
                    period.battery.battery,
                    period.start,
                    name,
                    age,
                    health,
                    ride.shortest,
                    ride.mean,
                    ride.longest,
                )
            )
    return tuple(rows)


def _simulate(
    job: Job,
    design: Design,
    profile: Profile,
    stages: tuple[Stage, ...],
    load_factor: float,
) -> RideThrough:
    tables = store(job, design, profile, stages, load_factor)
    rows = np.repeat(tables.rows[..., None], 24, axis=2)
    start = np.broadcast_to(np.arange(24.0), rows.shape)
    before = tables.cycle.at(rows, start)[..., SHARE]
    hours = tables.cycle.until(rows, before + tables.usable[rows]) - start
    horizon = horizon_hours(job)
    return RideThrough(
        tuple(stage.year for stage in stages),
        profile.seasons,
        tuple(count / 12 for count in profile.month_counts),
        np.minimum(hours, horizon),
        horizon,
        round(profile.step_hours * 60),
    )
