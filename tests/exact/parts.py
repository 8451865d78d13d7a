"""What the search is made of: the demand, banks and inverter sets of the model, in plain floats.

Nothing here is shared with the product but the input records. Comparisons hold with a relative
tolerance of 1e-9 in favour of the design.
"""

from __future__ import annotations

from itertools import pairwise
from math import exp, floor, log
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.model.job import Battery, Inverter, Job

TOLERANCE = 1e-9
LOWEST_VOLTAGE_SHARE = 0.90


def at_least(left: float, right: float) -> bool:
    return left >= right - TOLERANCE * max(abs(left), abs(right))


# --- what must be carried -------------------------------------------------------------------


class Demand:
    """Hourly watts of the loads that count, and what follows from them."""

    def __init__(self, job: Job) -> None:
        site = job.site
        loads = [load for load in job.loads if load.tier in site.tiers]
        self.growth = 1.0 + site.load_growth
        self.days: list[list[float]] = []
        self.mean_w = 0.0
        peak_w = peak_va = 0.0
        for season in site.seasons:
            day = []
            for hour in range(24):
                watts = on_w = on_va = 0.0
                for load in loads:
                    multiplier = load.season_multipliers.get(season.name, 1.0)
                    share = _share_of_hour(load.windows, hour)
                    watts += load.count * load.running_w * load.duty * share * multiplier
                    if share > 0 and multiplier > 0:
                        on_w += load.count * load.running_w
                        on_va += load.count * load.running_w / load.power_factor
                day.append(watts)
                peak_w, peak_va = max(peak_w, on_w), max(peak_va, on_va)
            self.days.append(day)
            self.mean_w += sum(day) / 24 * len(season.months) / 12
        self.peak_w = site.coincidence * peak_w
        self.peak_va = site.coincidence * peak_va
        jumps = [load.starting_w - load.running_w for load in loads]
        self.surge_w = self.peak_w + max(jumps, default=0.0)
        self._uneven: dict[tuple[int, float], float] = {}

    def windows(self, hours: int) -> list[list[float]]:
        return [
            [day[(start + step) % 24] for step in range(hours)]
            for day in self.days
            for start in range(24)
        ]

    def unevenness(self, hours: int, peukert: float) -> float:
        if (hours, peukert) not in self._uneven:
            self._uneven[hours, peukert] = self._unevenness(hours, peukert)
        return self._uneven[hours, peukert]

    def _unevenness(self, hours: int, peukert: float) -> float:
        worst = 1.0
        for window in self.windows(hours):
            mean = sum(window) / hours
            if mean > 0:
                drawn = sum(p * max(1.0, (p / mean) ** (peukert - 1)) for p in window) / hours
                worst = max(worst, drawn / mean)
        return worst


def _share_of_hour(windows: tuple[tuple[float, float], ...], hour: int) -> float:
    share = 0.0
    for start, end in windows:
        for day in (0, 24):  # a window past midnight also covers the early hours
            share += max(0.0, min(end, hour + day + 1) - max(start, hour + day))
    return share


# --- banks ----------------------------------------------------------------------------------


def rate_factor(battery: Battery, hours: float) -> float:
    return min(1.0, (hours / battery.rate_h) ** (1 - 1 / battery.peukert))


def cold_factor(battery: Battery, degc: float) -> float | None:
    points = battery.cold_points
    if degc < points[0][0] - TOLERANCE:
        return None
    for (cold, low), (warm, high) in pairwise(points):
        if degc <= warm:
            return low + (high - low) * (degc - cold) / (warm - cold)
    return points[-1][1]


def _cycles(battery: Battery, depth: float) -> float:
    points = battery.cycle_points
    if depth <= points[0][0] or len(points) == 1:
        return points[0][1] * points[0][0] / depth
    for segment in range(1, len(points)):
        (shallow, many), (deep, few) = points[segment - 1], points[segment]
        if depth <= deep or segment == len(points) - 1:
            slope = (log(few) - log(many)) / (log(deep) - log(shallow))
            return exp(log(many) + slope * (log(depth) - log(shallow)))
    raise AssertionError


class Bank:
    """``strings`` parallel strings of ``series`` units: what it holds, wears and costs."""

    def __init__(
        self, job: Job, demand: Demand, battery: Battery, *, series: int, strings: int, cold: float
    ) -> None:
        site = job.site
        self.battery, self.series, self.strings = battery, series, strings
        self.units = series * strings
        self.mass_kg = self.units * battery.mass_kg
        self.label_wh = self.units * battery.voltage_v * battery.capacity_ah
        self.cold = cold
        self.vented = battery.gas == "vented"
        halvings = max(0.0, site.mean_degc - 20) / battery.halving_degc
        wear = 1 / (battery.float_life_years * 2**-halvings)
        refilled_wh = 0.0
        for hours, times in job.outages.yearly:
            nominal_wh = self.label_wh * rate_factor(battery, hours) * cold
            taken_wh = hours * demand.mean_w / site.reference_efficiency
            depth = min(battery.max_dod, taken_wh / nominal_wh)
            if depth > 0:
                wear += times / _cycles(battery, depth)
                refilled_wh += times * depth * nominal_wh
        self.life = 1 / wear
        self.whole_life = floor(self.life * (1 + TOLERANCE))
        lost_wh = 12 * battery.self_discharge_month * self.label_wh
        yearly_kwh = (refilled_wh + lost_wh) / battery.round_trip / 1000
        self.yearly_cost = self.units * battery.upkeep_year + yearly_kwh * site.tariff
        #: (first year, whole years in service) -> present value; what is paid at its purchase
        self.paid = [self._purchase(job, start) for start in range(site.horizon_years)]
        self.cost = {
            (start, age): self._present_value(job, start, age)
            for start in range(site.horizon_years)
            for age in range(1, min(self.whole_life, site.horizon_years - start) + 1)
        }

    def _purchase(self, job: Job, start: int) -> float:
        money = self.units * self.battery.price * (1 + self.battery.price_drift) ** start
        amounts = {"battery_unit": self.units, "string": self.strings, "kg": self.mass_kg}
        when = "first" if start == 0 else "swap"
        for work in job.catalog.works:
            if work.basis in amounts and work.applies in (when, "both"):
                money += work.price * amounts[work.basis]
        return money * gross_factor(job)

    def _present_value(self, job: Job, start: int, age: int) -> float:
        site, battery, end = job.site, self.battery, start + age
        rate = 1 + site.discount_rate
        value = self.paid[start] / rate**start
        for year in range(start, end):
            value += self.yearly_cost / rate ** (year + 1)
        back = self.units * battery.scrap_value
        if end == site.horizon_years:
            price = (
                self.units * battery.price * (1 + battery.price_drift) ** start * gross_factor(job)
            )
            back += site.residual_share * price * (1 - age / self.life)
        return value - back / rate**end

    def usable_wh(self, demand: Demand, hours: int) -> float:
        battery = self.battery
        held_wh = self.label_wh * rate_factor(battery, hours) * self.cold
        return held_wh * battery.max_dod / demand.unevenness(hours, battery.peukert)

    def health(self, age: int) -> float:
        return 1 - (1 - self.battery.end_of_life_soh) * age / self.life

    def ages_at_retirement(self, job: Job, start: int, usable_wh: float, need_wh: list[float]):
        """Whole ages at which a bank bought in ``start`` may leave, all its years carried."""
        site = job.site
        least = min(site.min_service_share * self.life, self.whole_life)
        for age in range(1, min(self.whole_life, site.horizon_years - start) + 1):
            if not at_least(usable_wh * self.health(age), need_wh[start + age - 1]):
                return
            if start + age == site.horizon_years or at_least(age, least):
                yield age


def gross_factor(job: Job) -> float:
    return (1 + job.site.markup) * (1 + job.site.tax_rate)


# --- inverter sets --------------------------------------------------------------------------


class InverterSet:
    def __init__(self, job: Job, inverter: Inverter, count: int, wiring_price: float) -> None:
        site = job.site
        self.inverter, self.count = inverter, count
        gross, rate, horizon = gross_factor(job), 1 + site.discount_rate, site.horizon_years
        price = count * inverter.price
        works = {"first": 0.0, "swap": 0.0}
        for work in job.catalog.works:
            for when in works:
                if work.basis == "inverter_unit" and work.applies in (when, "both"):
                    works[when] += count * work.price
        site_works = sum(work.price for work in job.catalog.works if work.basis == "site")
        self.upfront = (price + works["first"] + wiring_price + site_works) * gross
        self.cost = self.upfront
        life, bought = floor(inverter.life_years * (1 + TOLERANCE)), 0
        while bought + life < horizon:
            bought += life
            self.cost += (price + works["swap"]) * gross / rate**bought
        left = 1 - (horizon - bought) / life
        self.cost -= site.residual_share * price * gross * left / rate**horizon
        for year in range(horizon):
            self.cost += count * inverter.standby_w * 8.76 * site.tariff / rate ** (year + 1)

    def need_wh(self, job: Job, demand: Demand, hours: int) -> list[float]:
        heaviest = max(sum(window) for window in demand.windows(hours))
        return [
            (
                heaviest * demand.growth**year / self.inverter.efficiency
                + hours * self.count * self.inverter.no_load_w
            )
            * (1 + job.site.design_margin)
            for year in range(job.site.horizon_years)
        ]


def wiring_price(job: Job, current_a: float, voltage: int) -> float | None:
    site = job.site
    fuses = sorted(job.catalog.fuses, key=lambda fuse: fuse.rating_a)
    for runs in (1, 2, 3, 4):
        for cable in sorted(job.catalog.cables, key=lambda cable: cable.section_mm2):
            ohm = 2 * site.battery_cable_m * cable.ohm_per_km / 1000 / runs
            carried_a = cable.ampacity_a * runs
            if not at_least(carried_a, 1.25 * current_a):
                continue
            if not at_least(site.max_drop * voltage, ohm * current_a):
                continue
            for fuse in fuses:
                if at_least(fuse.rating_a, 1.25 * current_a) and at_least(carried_a, fuse.rating_a):
                    return runs * 2 * site.battery_cable_m * cable.price_per_m + fuse.price
    return None
