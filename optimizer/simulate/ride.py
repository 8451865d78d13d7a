"""How long a design rides through, from every start hour, in every season and year."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, NamedTuple

import numpy as np

from optimizer.model.arrays import Floats
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.simulate.bank import Stage, stages_by_year
from optimizer.simulate.outage import OutageBatch, Passage, endure
from optimizer.simulate.peaks import worst_peak
from optimizer.simulate.profile import Profile, hourly, minutely
from optimizer.simulate.store import store

#: No ride-through is told beyond the longer of this [h] and four times the site's max_hours.
_LEAST_HORIZON_H = 240.0

#: Ride-throughs this close are called equal: rounding must not choose which is named the worst.
_EQUAL = 1e-6


#: More fuel than any outage burns [l].
_AMPLE_L = 1e9


class HardestCase(NamedTuple):
    """Where in a table of ride-throughs the shortest stands."""

    year: int
    season: str
    start_hour: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RideThrough:
    """Hours from the start of an outage until the bank is at its lowest allowed charge.

    ``hours`` are real-valued [h], shape (years, seasons, 24 start hours), no longer than
    ``horizon_hours``, where the simulation stops: a value equal to it means "at least that". Of the
    same shape are ``served_wh``, what the loads get in that time [Wh], and ``depth``, the share of
    the bank that this takes. ``weights`` are the share of the year of each season. ``from_full``
    are, beside a generator, the same outages as a full bank finds them, before any peak.
    """

    years: tuple[int, ...]
    seasons: tuple[str, ...]
    weights: tuple[float, ...]
    hours: Floats
    served_wh: Floats
    depth: Floats
    horizon_hours: float
    from_full: Passage | None = None

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
    def worst(self) -> HardestCase:
        """Year, season and start hour of the shortest; the first of equals."""
        equal = self.hours <= self.hours.min() * (1 + _EQUAL)
        year, season, start = np.unravel_index(int(equal.argmax()), self.hours.shape)
        return HardestCase(self.years[int(year)], self.seasons[int(season)], int(start))

    @property
    def capped(self) -> bool:
        """Whether any ride-through is longer than the simulation looked."""
        return bool((self.hours >= self.horizon_hours).any())

    @property
    def shortest_by_year(self) -> Floats:
        """The shortest in each year [h]."""
        shortest: Floats = self.hours.min(axis=(1, 2))
        return shortest

    def in_year(self, year: int) -> "RideThrough":
        """Return the lines of one year."""
        line = slice(self.years.index(year), self.years.index(year) + 1)
        return replace(
            self,
            years=(year,),
            hours=self.hours[line],
            served_wh=self.served_wh[line],
            depth=self.depth[line],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TierHours:
    """What a tier costs: the shortest ride-through with and without it [h].

    ``counted`` tells whether the site carries the tier; where it does not, ``hours_with`` is
    what would be left if it were added to those that are.
    """

    also: ClassVar[tuple[str, ...]] = ("cost_hours",)

    tier: str
    counted: bool
    hours_with: float
    hours_without: float

    @property
    def cost_hours(self) -> float:
        """Hours that the tier takes [h]; both sides end at the simulation's horizon."""
        return self.hours_without - self.hours_with


def horizon_hours(job: Job, design: Design) -> float:
    """Return how far a ride-through is followed [h]; beside a generator, its design's hours."""
    if design.generator is not None:
        return float(design.hours)
    return max(_LEAST_HORIZON_H, 4.0 * job.site.max_hours)


def ride_through(
    job: Job,
    design: Design,
    *,
    load_factor: float = 1.0,
    tiers: Sequence[str] | None = None,
    years: Collection[int] | None = None,
    in_bursts: bool = False,
    limit_hours: float | None = None,
) -> RideThrough:
    """Simulate an outage from each whole hour of the day, hour by hour.

    The loads are a multiple ``load_factor`` of those surveyed; the ``tiers`` carried and the
    ``years`` are the site's and the design's own where not given; the outage ends after
    ``limit_hours``, `horizon_hours` where not given. With ``in_bursts`` loads with a duty below 1
    run at their full power, minute by minute, as `minutely` lays them out. By Peukert's law this
    takes more from the bank than the same energy spread over the hour; it is a figure beside the
    hourly one, not the one the autonomy stands on.

    Notes
    -----
    No margin is applied. The bank is the weakest it is in the year; tiers are let go after their
    hours. Where the bank helps the supply, the outage follows the worst peak. Beside a generator
    the whole outage is followed, with its fuel, out of which no peak is made good. Within the hour
    in which the bank runs out, use is even.
    """
    stages = stages_by_year(design)
    if years is not None:
        stages = tuple(stage for stage in stages if stage.year in years)
    profile = minutely(job, tiers) if in_bursts else hourly(job, tiers)
    return _simulate(job, design, profile, stages, load_factor=load_factor, limit_hours=limit_hours)


def at_health(
    job: Job,
    design: Design,
    health: float,
    *,
    bank: int = 0,
    limit_hours: float | None = None,
) -> RideThrough:
    """Return the ride-through of one bank at a health, under the loads of its first year.

    ``health`` is the share of the new capacity that is left, (0, 1]; ``bank`` which of the
    design's.
    """
    period = design.banks[bank]
    stages = (Stage(period, max(0, period.start), health),)
    return _simulate(job, design, hourly(job), stages, limit_hours=limit_hours)


def tier_hours(job: Job, design: Design, base: float) -> tuple[TierHours, ...]:
    """Return for each tier of the survey the shortest ride-through with and without it.

    ``base`` is the shortest with the tiers that the site carries [h].
    """
    kept = job.site.tiers
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


def _simulate(
    job: Job,
    design: Design,
    profile: Profile,
    stages: tuple[Stage, ...],
    *,
    load_factor: float = 1.0,
    limit_hours: float | None = None,
) -> RideThrough:
    tables = store(job, design, profile=profile, stages=stages, load_factor=load_factor)
    horizon = horizon_hours(job, design) if limit_hours is None else limit_hours
    shape = (len(stages), len(profile.seasons), 24)
    peak = worst_peak(job, design, tables)
    batch = OutageBatch.of_every_start(tables, horizon, tables.rested.plus(peak))
    hours, full, peaks = np.full(batch.hours.size, np.inf), None, peak.depth.any()
    if tables.plant is not None:
        full = endure(tables, OutageBatch.of_every_start(tables, horizon))
        if peaks:
            # What a peak took is made good from fuel beside that of the outage: a full bank is
            # held to the fuel stored, one after a peak to its depth alone.
            hours = full.hours_carried
            tables = replace(tables, plant=replace(tables.plant, fuel_l=_AMPLE_L))
    passed = full if full is not None and not peaks else endure(tables, batch)
    return RideThrough(
        years=tuple(stage.year for stage in stages),
        seasons=profile.seasons,
        weights=profile.weights,
        hours=np.minimum(hours, passed.hours_carried).reshape(shape),
        served_wh=(passed.asked_wh - passed.unserved_wh).reshape(shape),
        depth=(passed.after.depth - batch.before.depth).reshape(shape),
        horizon_hours=horizon,
        from_full=full,
    )
