"""What the loads take from the bank of each year in each season, as running totals."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from optimizer.simulate.bank import (
    Stage,
    bank_current_a,
    capacity_ah,
    charge_ratio,
    charger_current_a,
    charging_voltage_v,
)
from optimizer.simulate.cycle import AC_WATT_HOURS, AMPERE_HOURS, SHARE, Cycle
from optimizer.simulate.plant import Plant

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job
    from optimizer.simulate.profile import Profile

Floats = NDArray[np.float64]
Rows = NDArray[np.intp]

#: Stands on the depth of discharge, not on the hours: after a quiet hour, a rounding error in the
#: depth would otherwise cost whole hours.
DEPTH_TOLERANCE = 1e-8

#: A charger's efficiency from alternating current (common practice).
CHARGER_EFFICIENCY = 0.90


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """The bank of each stage against the loads of each season; rows are stage-major.

    Parameters
    ----------
    stages : tuple of Stage
        Years, or ages, in the order asked for.
    seasons : int
        How many; row = stage · seasons + season.
    begins_h : tuple of float
        Hours into an outage [h] from which fewer tiers are carried; the first is 0.
    cycle : Cycle
        What the loads take, by part of the outage and row.
    capacity_ah, usable : numpy.ndarray
        Effective capacity [Ah], and the share of it that may be used, by row.
    refill_a : numpy.ndarray
        Of the charge drawn, what an hour of grid makes good [Ah], by row.
    charger_w : numpy.ndarray
        What the chargers then draw from alternating current [W], by row.
    plant : Plant or None
        The generator beside the bank.
    """

    stages: tuple[Stage, ...]
    seasons: int
    begins_h: tuple[float, ...]
    cycle: Cycle
    capacity_ah: Floats
    usable: Floats
    refill_a: Floats
    charger_w: Floats
    plant: Plant | None = None

    @property
    def rows(self) -> Rows:
        """All rows, shape (stages, seasons)."""
        return np.arange(self.usable.size).reshape(len(self.stages), self.seasons)

    def taken(self, rows: Rows, clock_h: Floats, hours: Floats) -> Floats:
        """Return what outages of so many hours take, shape (…, 3), tiers let go in their time."""
        if len(self.begins_h) == 1:
            return self.cycle.at(rows, clock_h + hours) - self.cycle.at(rows, clock_h)
        total = np.zeros((*rows.shape, 3))
        ends_h = (*self.begins_h[1:], np.inf)
        for part, (begin, end) in enumerate(zip(self.begins_h, ends_h, strict=True)):
            row = part * self.usable.size + rows
            total += self.cycle.at(row, clock_h + np.minimum(hours, end))
            total -= self.cycle.at(row, clock_h + np.minimum(hours, begin))
        return total

    def lasts(self, rows: Rows, clock_h: Floats, share: Floats) -> Floats:
        """Return the hours into an outage at which so much of the bank is used up [h]."""
        hours = np.zeros(rows.shape)
        left, running = share, np.ones(rows.shape, dtype=bool)
        ends_h = (*self.begins_h[1:], np.inf)
        for part, (begin, end) in enumerate(zip(self.begins_h, ends_h, strict=True)):
            row = part * self.usable.size + rows
            before = self.cycle.at(row, clock_h + begin)[..., SHARE]
            found = np.maximum(begin, self.cycle.until(row, before + left) - clock_h)
            hours[running] = found[running]
            running &= found >= end
            if not running.any():
                break
            left = left - (self.cycle.at(row, clock_h + end)[..., SHARE] - before)
        return hours


def store(
    job: Job,
    design: Design,
    profile: Profile,
    stages: tuple[Stage, ...],
    *,
    load_factor: float = 1.0,
    plant: Plant | None = None,
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
    plant : Plant, optional
        The generator beside the bank.

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
    begins_h, watts = profile.by_part()
    parts, seasons, steps = watts.shape
    amps = bank_current_a(job, design, stages, watts, load_factor)
    each = (slice(None), None, None, None)
    capacity = np.array([capacity_ah(job, stage) for stage in stages])[each]
    rate_h = np.array([stage.period.battery.rate_h for stage in stages])[each]
    extra = np.array([stage.period.battery.peukert - 1 for stage in stages])[each]
    grown = np.array([(1 + job.site.load_growth) ** s.year for s in stages])[each] * load_factor
    per_step = np.empty((*amps.shape, 3))
    per_step[..., SHARE] = amps / capacity * np.maximum(1.0, (amps * rate_h / capacity) ** extra)
    per_step[..., AMPERE_HOURS] = amps
    per_step[..., AC_WATT_HOURS] = grown * watts
    per_step *= profile.step_hours
    by_part = per_step.swapaxes(0, 1).reshape(parts * len(stages) * seasons, steps, 3)

    def by_row(of: Callable[[BankPeriod], float]) -> Floats:
        return np.repeat([of(stage.period) for stage in stages], seasons)

    amps_back = by_row(lambda period: charger_current_a(design, period))
    return Store(
        stages=stages,
        seasons=seasons,
        begins_h=begins_h,
        cycle=Cycle.of(by_part),
        capacity_ah=np.repeat(capacity.ravel(), seasons),
        usable=by_row(lambda period: period.battery.max_dod) * (1 + DEPTH_TOLERANCE),
        refill_a=amps_back / by_row(charge_ratio),
        charger_w=amps_back * by_row(charging_voltage_v) / CHARGER_EFFICIENCY,
        plant=plant,
    )
