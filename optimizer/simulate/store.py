"""What the loads take from the bank of each year in each season, as running totals."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from optimizer.model.arrays import Floats, Rows
from optimizer.model.design import Design
from optimizer.model.job import Generator, GeneratorRules, Job
from optimizer.simulate.bank import (
    Stage,
    bank_current_a,
    capacity_ah,
    charge_ratio,
    charger_current_a,
    charging_voltage_v,
    stages_by_year,
)
from optimizer.simulate.cycle import AC_WATT_HOURS, CHARGE_WATT_HOURS, SHARE, Cycle
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.profile import Profile, hourly

#: Stands on the depth of discharge, not on the hours: after a quiet hour, a rounding error in the
#: depth would otherwise cost whole hours.
DEPTH_TOLERANCE = 1e-8

#: A charger's efficiency from alternating current (common practice).
CHARGER_EFFICIENCY = 0.90


#: Moments this close [h] are one.
MOMENT_H = 1e-9


def burnt_l(generator: Generator, hours: float | Floats, given_wh: Floats) -> Floats:
    """Return what a generator burns in so many hours to give so much energy [l]."""
    slope = (generator.litres_h_full - generator.litres_h_idle) / generator.power_w
    burnt: Floats = generator.litres_h_idle * hours + slope * given_wh
    return burnt


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant:
    """A generator as it stands here: the model, when it may run, and the litres stored [l].

    ``burns`` are the litres of a day by row, while it charges the bank and once that is full.
    """

    generator: Generator
    rules: GeneratorRules
    fuel_l: float
    burns: tuple[Cycle, Cycle]

    def lasts_h(self, rows: Rows, clock_h: Floats, left_l: Floats, charge_wh: Floats) -> Floats:
        """Return how long it runs on some litres, given what the banks take in all [h]."""
        full_l = np.maximum(0.0, left_l - burnt_l(self.generator, 0.0, charge_wh))
        ends_h = [
            burns.until(rows, burns.at(rows, clock_h)[:, SHARE] + litres)
            for burns, litres in zip(self.burns, (left_l, full_l), strict=True)
        ]
        lasts: Floats = np.maximum(*ends_h) - clock_h
        return lasts

    def quiet_for_h(self, time_h: Floats) -> Floats:
        """Return how long it must still be silent at times since a midnight [h]; 0 where not."""
        if self.rules.quiet is None:
            return np.zeros(time_h.shape)
        begin, end = self.rules.quiet
        since_h = (time_h + MOMENT_H - begin) % 24 - MOMENT_H
        return np.where(since_h + MOMENT_H < end - begin, end - begin - since_h, 0.0)

    def allowed_for_h(self, time_h: Floats) -> Floats:
        """Return how long it may run on at times at which it may [h]."""
        if self.rules.quiet is None:
            return np.full(time_h.shape, np.inf)
        allowed_h: Floats = (self.rules.quiet[0] - time_h - MOMENT_H) % 24 + MOMENT_H
        return allowed_h


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """The bank of each stage against the loads of each season; row = stage · seasons + season.

    ``begins_h`` are the hours into an outage [h] from which fewer tiers are carried, the first is
    0; ``cycle`` has what the loads take by such part of the outage and row. By row: the
    share of the capacity that may be used; of the charge drawn, what an hour of grid
    makes good [Ah], and what the chargers draw for that from alternating current [Wh/Ah]; and
    ``rested``, the banks as an outage finds them that comes long after all others.
    """

    stages: tuple[Stage, ...]
    seasons: int
    begins_h: tuple[float, ...]
    cycle: Cycle
    usable: Floats
    refill_a: Floats
    charge_wh_ah: Floats
    rested: Depletion
    plant: Plant | None = None

    @property
    def rows(self) -> Rows:
        """All rows, shape (stages, seasons)."""
        return np.arange(self.usable.size).reshape(len(self.stages), self.seasons)

    def recharged(self, rows: Rows, banks: Depletion, grid_h: Floats) -> Depletion:
        """Return banks after so many hours on the grid."""
        return banks.less(self.refill_a[rows] * grid_h).at_least(self.rested.of(rows))

    def taken(self, rows: Rows, clock_h: Floats, hours: Floats) -> Floats:
        """Return what outages of so many hours take, tiers let go in their time."""
        if len(self.begins_h) == 1:
            return self.cycle.at(rows, clock_h + hours) - self.cycle.at(rows, clock_h)
        total = np.zeros((*rows.shape, self.cycle.days.shape[1]))
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
    *,
    profile: Profile | None = None,
    stages: tuple[Stage, ...] | None = None,
    load_factor: float = 1.0,
    alone: bool = False,
) -> Store:
    """Return the tables of what the loads take from the bank.

    The loads are the site's, hourly, where no ``profile`` is given, times ``load_factor``; beside a
    generator no tier is let go, unless it is to stay out of it: ``alone``. ``stages`` are every
    year of the design where not given.

    Notes
    -----
    With C the effective and C / rate_h the rated current, an hour at I takes the share I / C ·
    max(1, (I · rate_h / C)^(k − 1)): Peukert's law hour by hour, no credit below the rated current.
    """
    loads = hourly(job) if profile is None else profile
    lines = stages_by_year(design) if stages is None else stages
    rules = None if alone else job.site.generator
    generator = None if rules is None else design.generator
    if generator is not None:
        loads = loads.throughout()
    begins_h, watts = loads.by_part()
    parts, seasons, steps = watts.shape

    def by_line(of: Callable[[Stage], float]) -> Floats:
        return np.array([of(stage) for stage in lines])[:, None, None, None]

    amps = bank_current_a(job, design, lines, watts, load_factor)
    capacity = by_line(lambda stage: capacity_ah(job, stage))
    rate_h = by_line(lambda stage: stage.period.battery.rate_h)
    extra = by_line(lambda stage: stage.period.battery.peukert - 1)
    ac_w = by_line(lambda stage: (1 + job.site.load_growth) ** stage.year) * load_factor * watts
    charger_a = by_line(lambda stage: charger_current_a(design, stage.period))
    ratio = by_line(lambda stage: charge_ratio(stage.period))
    volts = by_line(lambda stage: charging_voltage_v(stage.period)) / CHARGER_EFFICIENCY
    kinds = [amps / capacity * np.maximum(1.0, (amps * rate_h / capacity) ** extra), amps, ac_w]
    if generator is not None:
        kinds.append(np.minimum(np.maximum(0.0, generator.power_w - ac_w), charger_a * volts))
    per_step = np.stack(kinds, axis=-1) * loads.step_hours
    by_part = per_step.swapaxes(0, 1).reshape(parts * len(lines) * seasons, steps, -1)
    max_dod = by_line(lambda stage: stage.period.battery.max_dod)
    plant = None
    if generator is not None and rules is not None:
        carried_wh = by_part[..., AC_WATT_HOURS]
        charging, full = (
            Cycle.of(burnt_l(generator, loads.step_hours, given_wh)[..., None])
            for given_wh in (carried_wh + by_part[..., CHARGE_WATT_HOURS], carried_wh)
        )
        plant = Plant(
            generator=generator, rules=rules, fuel_l=design.fuel_l, burns=(charging, full)
        )
    whole_ah, lacks = np.repeat(capacity.ravel(), seasons), 1 - design.charge_at_start
    return Store(
        stages=lines,
        seasons=seasons,
        begins_h=begins_h,
        cycle=Cycle.of(by_part),
        usable=np.repeat(max_dod.ravel() * (1 + DEPTH_TOLERANCE), seasons),
        refill_a=np.repeat((charger_a / ratio).ravel(), seasons),
        charge_wh_ah=np.repeat((ratio * volts).ravel(), seasons),
        rested=Depletion(np.full(whole_ah.size, lacks), lacks * whole_ah),
        plant=plant,
    )
