"""The bank as it is in each year: its capacity then, and what an hour's load takes from it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from optimizer.errors import InternalError
from optimizer.model.design import BankPeriod
from optimizer.simulate.cycle import AC_WATT_HOURS, AMPERE_HOURS, SHARE, Cycle

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.design import Design
    from optimizer.model.job import Job
    from optimizer.simulate.profile import Profile

    Floats = NDArray[np.float64]

#: Stands on the depth of discharge, not on the hours: after a quiet hour, a rounding error in the
#: depth would otherwise cost whole hours.
DEPTH_TOLERANCE = 1e-8

#: A bank worn past nothing still needs a capacity above zero to be divided by.
_LEAST_HEALTH = 1e-6


@dataclass(frozen=True, slots=True)
class Stage:
    """One bank at one age under the loads of one year: a line of every table here."""

    period: BankPeriod
    year: int
    health: float


@dataclass(frozen=True, slots=True)
class Store:
    """The bank of each stage against the loads of each season; rows are stage-major.

    Parameters
    ----------
    stages : tuple of Stage
        Years, or ages, in the order asked for.
    seasons : int
        How many; row = stage · seasons + season.
    cycle : Cycle
        What the loads take, by row.
    usable : numpy.ndarray
        Share of the bank that may be used, by row.
    refill_a : numpy.ndarray
        Charge put back in an hour of grid [Ah], after the charge factor, by row.
    """

    stages: tuple[Stage, ...]
    seasons: int
    cycle: Cycle
    usable: Floats
    refill_a: Floats

    @property
    def rows(self) -> NDArray[np.intp]:
        """All rows, shape (stages, seasons)."""
        return np.arange(self.usable.size).reshape(len(self.stages), self.seasons)


def health_at(period: BankPeriod, age_years: float) -> float:
    """Return the share of new capacity left at an age [years]: a straight line, not below 0."""
    battery = period.battery
    lost = (1 - battery.end_of_life_soh) * age_years / period.service_life_years
    return max(0.0, 1 - lost)


def stages_by_year(design: Design) -> tuple[Stage, ...]:
    """Return the bank in service in each year, at the age it has at that year's end."""
    stages = []
    for period in design.banks:
        for year in range(max(0, period.start), period.end):
            stages.append(Stage(period, year, health_at(period, year - period.start + 1)))
    stages.sort(key=lambda stage: stage.year)
    if not stages or [s.year for s in stages] != list(range(stages[0].year, stages[-1].year + 1)):
        raise InternalError("a design must have exactly one bank in service in every year")
    return tuple(stages)


def capacity_ah(job: Job, period: BankPeriod, health: float) -> float:
    """Return the effective capacity [Ah] at the rated hours, cold and aged.

    Below the coldest known point the share stays at that point's.
    """
    degc, share = zip(*period.battery.cold_points, strict=True)
    cold = float(np.interp(job.site.min_degc, degc, share))
    return period.strings * period.battery.capacity_ah * cold * max(health, _LEAST_HEALTH)


def charger_current_a(design: Design, period: BankPeriod) -> float:
    """Return the charge current [A]: all chargers together, no more than the bank may take."""
    offered = design.inverter_units * design.inverter.charger_a
    battery = period.battery
    return min(offered, battery.charge_rate_max * period.strings * battery.capacity_ah)


def bank_current_a(
    job: Job, design: Design, stages: tuple[Stage, ...], watts: Floats, load_factor: float = 1.0
) -> Floats:
    """Return the current from the bank [A] for AC watts (seasons, steps), by stage."""
    grown = np.array([(1 + job.site.load_growth) ** s.year for s in stages]) * load_factor
    volts = np.array([s.period.series * s.period.battery.voltage_v for s in stages])
    idle_w = design.inverter_units * design.inverter.no_load_w
    dc_w = grown[:, None, None] * watts / design.inverter.efficiency + idle_w
    amps: Floats = dc_w / volts[:, None, None]
    return amps


def store(
    job: Job,
    design: Design,
    profile: Profile,
    stages: tuple[Stage, ...],
    load_factor: float = 1.0,
) -> Store:
    """Return the tables of what the loads take from the bank.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    profile : Profile
        The loads, hourly or finer.
    stages : tuple of Stage
        Bank, year and health of each line.
    load_factor : float
        The loads as a multiple of those surveyed.

    Returns
    -------
    Store
        One row a stage and season.

    Notes
    -----
    With C the effective and C / rate_h the rated current, an hour at I takes the share
    I / C · max(1, (I · rate_h / C)^(k − 1)): Peukert's law hour by hour, no credit below the
    rated current.
    """
    watts = profile.total_w
    amps = bank_current_a(job, design, stages, watts, load_factor)
    batteries = [stage.period.battery for stage in stages]
    effective = np.array([capacity_ah(job, s.period, s.health) for s in stages])[:, None, None]
    rate_h = np.array([b.rate_h for b in batteries])[:, None, None]
    extra = np.array([b.peukert - 1 for b in batteries])[:, None, None]
    step = profile.step_hours
    grown = np.array([(1 + job.site.load_growth) ** s.year for s in stages]) * load_factor
    per_step = np.empty((*amps.shape, 3))
    per_step[..., SHARE] = (
        amps * step / effective * np.maximum(1.0, (amps * rate_h / effective) ** extra)
    )
    per_step[..., AMPERE_HOURS] = amps * step
    per_step[..., AC_WATT_HOURS] = grown[:, None, None] * watts * step
    count = watts.shape[0]
    usable = np.array([b.max_dod for b in batteries]) * (1 + DEPTH_TOLERANCE)
    refill = np.array(
        [charger_current_a(design, s.period) / s.period.battery.charge_factor for s in stages]
    )
    return Store(
        stages,
        count,
        Cycle.of(per_step.reshape(-1, amps.shape[2], 3)),
        np.repeat(usable, count),
        np.repeat(refill, count),
    )
