"""Random sites with designs that meet the conditions of the autonomy with nothing to spare.

Each bank of a chain gets the capacity that its hardest year needs, the charger the current that
the scheduled cuts or the nights need, the generator the fuel that the longest outage needs, all to
the tolerance of the comparisons. Loads and conditions are written out here once more, from their
definition, so that neither the program nor the simulation stands on both sides.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np

from optimizer.model.design import BankPeriod, CableRun, Design
from optimizer.model.job import (
    Cable,
    Fuse,
    Generator,
    Inverter,
    Job,
)
from tests.properties.random_sites import random_battery, random_inverter

#: Comparisons count this much in the design's favour.
TOLERANCE = 1e-9


def watts_by_tier(job):
    """Mean watts, (tiers, seasons, 24), from quarters of an hour: windows here end on one."""
    at = (np.arange(192) + 0.5) / 4
    watts = np.zeros((len(job.site.tiers), len(job.site.seasons), 96))
    for load in job.loads:
        if load.tier in job.site.tiers:
            inside = np.any([(start <= at) & (at < end) for start, end in load.windows], axis=0)
            times = [load.season_multipliers.get(season.name, 1.0) for season in job.site.seasons]
            each = load.count * load.running_w * load.duty * (inside[:96] | inside[96:])
            watts[job.site.tiers.index(load.tier)] += np.outer(times, each)
    return watts.reshape(len(job.site.tiers), -1, 24, 4).mean(axis=3)


def let_go(job, watts, hours):
    """The watts of all windows of that many hours, one a line, tiers let go: (lines, hours)."""
    elapsed = np.arange(hours)
    at = (np.arange(24)[:, None] + elapsed) % 24
    carried_h = [job.site.tier_hours.get(tier, math.inf) for tier in job.site.tiers]
    kept = [one[:, at] * (elapsed < end) for one, end in zip(watts, carried_h, strict=True)]
    return np.sum(kept, axis=0).reshape(-1, hours)


def before_and_through_the_night(job, watts):
    """Beside a generator: some hours from any hour, then the quiet ones; nothing let go."""
    rules = job.site.generator
    first = (np.arange(24)[:, None] + np.arange(rules.start_after_h)) % 24
    begin = 0 if rules.quiet is None else int(rules.quiet[0])
    night = np.tile((begin + np.arange(rules.quiet_hours)) % 24, (24, 1))
    at = np.hstack([first, night]).astype(int)
    return watts.sum(axis=0)[:, at].reshape(-1, at.shape[1])


def by_the_clock(job, watts, cut, season):
    """AC watt-hours of a cut, by its own clock to the quarter of an hour, tiers let go."""
    elapsed = np.arange(0, cut[1] - cut[0], 0.25)
    hour = ((cut[0] + elapsed) % 24).astype(int)
    carried_h = [job.site.tier_hours.get(tier, math.inf) for tier in job.site.tiers]
    return 0.25 * sum(
        float((one[season, hour] * (elapsed < end)).sum())
        for one, end in zip(watts, carried_h, strict=True)
    )


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What a design has to do: windows of watts, hours, and the units that draw on their own."""

    job: Job
    inverter: Inverter
    units: int
    windows: np.ndarray

    @property
    def hours(self):
        return self.windows.shape[1]

    def dc_wh(self, ac_wh, hours):
        idle_wh = hours * self.units * self.inverter.no_load_w
        return (ac_wh / self.inverter.efficiency + idle_wh) * (1 + self.job.site.design_margin)

    def grown(self, year):
        return (1 + self.job.site.load_growth) ** year

    @property
    def most_grown(self):
        return max(self.grown(year) for year in range(self.job.site.horizon_years))

    @cached_property
    def heaviest_wh(self):
        return self.windows.sum(axis=1).max()

    @property
    def need_wh_most(self):
        return self.dc_wh(self.heaviest_wh * self.most_grown, self.hours)

    def need_wh(self, year):
        return self.dc_wh(self.heaviest_wh * self.grown(year), self.hours)


def cold_share(job, battery):
    degc, share = zip(*battery.cold_points, strict=True)
    return float(np.interp(job.site.min_degc, degc, share))


def usable_share(asked, battery):
    """Rate, cold, depth, unevenness of a new bank of any capacity."""
    rate = min(1.0, (asked.hours / battery.max_dod / battery.rate_h) ** (1 - 1 / battery.peukert))
    windows = asked.windows[asked.windows.sum(axis=1) > 0]
    uneven = 1.0
    if windows.size:
        mean = windows.mean(axis=1, keepdims=True)
        weight = np.maximum(1.0, (windows / mean) ** (battery.peukert - 1))
        uneven = max(1.0, float(((windows * weight).mean(axis=1) / mean[:, 0]).max()))
    return rate * cold_share(asked.job, battery) * battery.max_dod / uneven


def taken_by_peaks(asked, contract, period, health):
    """The largest depth that a peak beyond the contract takes."""
    battery, worst = period.battery, 0.0
    capacity = period.strings * battery.capacity_ah * cold_share(asked.job, battery) * health
    for peak in asked.job.site.peaks:
        watts = max(0.0, peak.power_w - contract.power_w)
        amps = watts / asked.inverter.efficiency / (period.series * battery.voltage_v)
        rate = max(1.0, (amps * battery.rate_h / capacity) ** (battery.peukert - 1))
        worst = max(worst, amps * peak.minutes / 60 / capacity * rate)
    return worst


def health_in(period, year):
    """The least health of a bank in service in a year: at its end, or on retirement."""
    least, battery = 1.0, period.battery
    for number in range(period.bought):
        bought = number * period.service_life_years
        last = number == period.bought - 1
        retired = period.end - period.start if last else bought + period.service_life_years
        begin, end = year - period.start, year - period.start + 1
        if bought < end - 1e-6 and retired > begin + 1e-6:
            age = min(end, retired) - bought
            lost = (1 - battery.end_of_life_soh) * age / period.service_life_years
            least = min(least, 1 - lost)
    return least


def carries(asked, contract, period, share):
    battery = period.battery
    usable_wh = period.units * battery.voltage_v * battery.capacity_ah * share
    for year in range(period.start, period.end):
        health = health_in(period, year)
        kept = 1.0
        if contract is not None:
            depth = taken_by_peaks(asked, contract, period, health)
            kept = 1 - depth / battery.max_dod
        if usable_wh * health * kept < asked.need_wh(year) * (1 - TOLERANCE):
            return False
    return True


def smallest(asked, contract, period):
    """The bank with the least capacity that carries, by halving; the last digits are free."""

    share = usable_share(asked, period.battery)

    def of(capacity_ah):
        return replace(period, battery=replace(period.battery, capacity_ah=capacity_ah))

    def enough(capacity_ah):
        return carries(asked, contract, of(capacity_ah), share)

    low, high = 1e-3, 1e-3
    while not enough(high):
        low, high = high, 4 * high
    while high > low * (1 + 1e-11):
        middle = math.sqrt(low * high)
        low, high = (low, middle) if enough(middle) else (middle, high)
    return of(high)


def to_put_back_ah(asked, period, dc_wh):
    battery = period.battery
    volts = period.series * battery.voltage_v
    most_ah = period.strings * battery.capacity_ah * battery.max_dod
    drawn_ah = min(dc_wh / volts, most_ah)
    by_energy = drawn_ah * volts / battery.round_trip / charging_v(period)
    return max(battery.charge_factor * drawn_ah, by_energy)


def charging_v(period):
    unit_v = period.battery.absorption_v
    return period.series * (period.battery.class_v * 14 / 12 if unit_v is None else unit_v)


def amps_for_cuts(asked, watts, period):
    """The charge current that makes each scheduled cut good before the next."""
    cuts, needed = sorted(asked.job.outages.daily), 0.0
    for cut, following in pairwise([*cuts, (cuts[0][0] + 24, 0.0)] if cuts else []):
        for season in range(len(asked.job.site.seasons)):
            ac_wh = by_the_clock(asked.job, watts, cut, season) * asked.most_grown
            back_ah = to_put_back_ah(asked, period, asked.dc_wh(ac_wh, cut[1] - cut[0]))
            needed = max(needed, back_ah / (following[0] - cut[1]))
    return needed


def amps_for_nights(asked, watts, generator, period):
    """The charge current that makes a night good in the hours left to the generator."""
    rules = asked.job.site.generator
    running = [
        hour
        for hour in range(24)
        if rules.quiet is None or (hour - rules.quiet[0]) % 24 >= rules.quiet_hours
    ]
    left_w = np.maximum(0, generator.power_w - watts.sum(axis=0)[:, running] * asked.most_grown)
    back_wh = to_put_back_ah(asked, period, asked.need_wh_most) * charging_v(period) / 0.90
    per_amp = charging_v(period) / 0.90

    def enough(amps):
        sums = np.minimum(amps * per_amp, left_w).sum(axis=1)
        return (sums >= back_wh * (1 - TOLERANCE)).all()

    if not enough(1e9):
        return math.inf
    low, high = 0.0, 1e9
    while high > low * (1 + 1e-12) and high > 1e-6:
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def litres(asked, generator, watts, hours):
    rules, slope = asked.job.site.generator, generator.litres_h_full - generator.litres_h_idle
    at = (np.arange(24)[:, None] + np.arange(hours)) % 24
    ac_wh = watts.sum(axis=0)[:, at].sum(axis=2).max() * asked.most_grown
    days, rest = divmod(hours - rules.start_after_h, 24)
    running_h = days * (24 - rules.quiet_hours) + min(24 - rules.quiet_hours, rest)
    back_wh = asked.need_wh_most / 0.90 / 0.70
    given_wh = ac_wh + (days + (rest > 0)) * back_wh
    return generator.litres_h_idle * running_h + slope / generator.power_w * given_wh


def random_periods(rng, horizon, **battery):
    """A chain of banks, some of which are bought several times in their span."""
    changes = sorted({0, horizon, *rng.integers(0, horizon + 1, size=int(rng.integers(0, 3)))})
    for number, (start, end) in enumerate(pairwise(changes)):
        model, span = replace(random_battery(rng, number), **battery), float(end - start)
        life = span + float(rng.choice([0.0, 0.3, 4.0]))
        if rng.random() < 0.4:
            life = span / float(rng.choice([1.0, 1.3, 2.0, 2.7, 5.5, 17.2]))
        bought = max(1, math.ceil(span / life * (1 - TOLERANCE)))
        series, strings = max(1, 48 // model.class_v), int(rng.integers(1, 5))
        yield BankPeriod(model, series, strings, int(start), int(end), life, bought)


def tight_design(rng, job, **battery):
    """A chain of banks and all beside it that meet the conditions with nothing to spare.

    None where the random generator has no time to make a night good at any charge current.
    """
    inverter, units = random_inverter(rng), int(rng.integers(1, 4))
    hours, rules = int(rng.integers(1, job.site.max_hours + 1)), job.site.generator
    watts, generator, fuel_l = watts_by_tier(job), None, 0.0
    contract = job.site.contracts[0] if job.site.contracts else None
    windows = let_go(job, watts, hours)
    if rules is not None:
        windows = before_and_through_the_night(job, watts)
        hours = windows.shape[1] + int(rng.integers(1, 75))
    asked = Asked(job=job, inverter=inverter, units=units, windows=windows)
    banks = tuple(
        smallest(asked, contract, period)
        for period in random_periods(rng, job.site.horizon_years, **battery)
    )
    amps = max(amps_for_cuts(asked, watts, bank) for bank in banks)
    if rules is not None:
        # more than the loads ever take, by little or by much
        most_w = watts.sum(axis=0).max() * asked.most_grown + 1
        power_w = most_w * float(rng.choice([1.1, 2.0, 6.0]))
        full = power_w * float(rng.uniform(2e-4, 6e-4))
        generator = Generator(
            generator="generator",
            power_w=power_w,
            power_va=power_w,
            surge_w=power_w,
            litres_h_full=full,
            litres_h_idle=full * float(rng.choice([0.0, 0.2, 0.6])),
            price=900.0,
            life_years=10.0,
        )
        amps = max(amps, *(amps_for_nights(asked, watts, generator, bank) for bank in banks))
        if not math.isfinite(amps):
            return None
        fuel_l = litres(asked, generator, watts, hours)
    wiring = CableRun(
        Cable(section_mm2=95.0, ampacity_a=258.0, ohm_per_km=0.2, price_per_m=10.0),
        1,
        Fuse(rating_a=250.0, price=20.0),
    )
    return Design(
        hours=hours,
        life_cycle_cost=0.0,
        upfront_cost=0.0,
        voltage_v=48,
        inverter=replace(inverter, charger_a=amps / units * (1 - TOLERANCE)),
        inverter_units=units,
        wiring=wiring,
        banks=banks,
        contract=contract,
        generator=generator,
        fuel_l=fuel_l * (1 - TOLERANCE),
    )
