"""Banks: what they hold, wear and cost, and the spans of years they serve."""

from __future__ import annotations

from itertools import pairwise
from math import exp, floor, log
from typing import TYPE_CHECKING

import numpy as np

from .demand import TOLERANCE, Event, Setting, at_least
from .money import gross, works_price

if TYPE_CHECKING:
    from types import SimpleNamespace as Row

    from .case import Case


def rate_factor(battery: Row, hours: float, max_dod: float) -> float:
    return min(1.0, (hours / max_dod / battery.rate_h) ** (1 - 1 / battery.peukert))


def cold_factor(battery: Row, degc: float) -> float | None:
    points = battery.cold_points
    if degc < points[0][0] - TOLERANCE * abs(points[0][0]):
        return None
    for (cold, low), (warm, high) in pairwise(points):
        if degc <= warm:
            return low + (high - low) * (max(degc, cold) - cold) / (warm - cold)
    return points[-1][1]


def cycles(battery: Row, depth: float) -> float:
    """N(depth), outages until the end of life."""
    points = battery.cycle_points
    if depth <= points[0][0] or len(points) == 1:
        return points[0][1] * points[0][0] / depth
    for (shallow, many), (deep, few) in pairwise(points):
        if depth <= deep or deep == points[-1][0]:
            slope = (log(few) - log(many)) / (log(deep) - log(shallow))
            return exp(log(many) + slope * (log(depth) - log(shallow)))
    raise AssertionError


class Bank:
    """``strings`` parallel strings of ``series`` units of one model, taken down to ``max_dod``."""

    def __init__(
        self,
        case: Case,
        events: tuple[Event, ...],
        battery: Row,
        *,
        max_dod: float,
        system_v: int,
        strings: int,
        cold: float,
    ) -> None:
        self.case, self.battery, self.max_dod = case, battery, max_dod
        self.system_v, self.strings, self.cold = system_v, strings, cold
        self.series = system_v // battery.class_v
        self.units = self.series * strings
        self.string_v = self.series * battery.voltage_v
        self.capacity_ah = strings * battery.capacity_ah
        self.label_wh = self.units * battery.voltage_v * battery.capacity_ah
        self.mass_kg = self.units * battery.mass_kg
        self.vented = battery.gas == "vented"
        self.life, self.depths, self.yearly_cost = self._wear(events)

    def _wear(self, events: tuple[Event, ...]) -> tuple[float, list[float], float]:
        """Service life, depth of each event, and what a year of upkeep and energy costs."""
        battery, site = self.battery, self.case.site
        wear, served_wh, lost_wh, depths = 1 / self.float_life(), 0.0, 0.0, []
        for event in events:
            taken_wh = event.energy_wh / site.reference_efficiency
            share = taken_wh / (self.label_wh * self.cold)
            steep = (share * battery.rate_h / event.hours) ** (battery.peukert - 1)
            full_depth = share * max(1.0, steep)
            depth = min(self.max_dod, full_depth)
            depths.append(depth)
            if depth > 0:
                wear += event.times / cycles(battery, depth)
            if event.peak:
                lost_wh += event.times * (taken_wh / battery.round_trip - event.energy_wh)
            elif full_depth > 0:
                served = min(1.0, self.max_dod / full_depth)
                served_wh += event.times * served * taken_wh / battery.round_trip
        kwh = (served_wh + lost_wh + self.standing_wh()) / 1000
        return 1 / wear, depths, self.units * battery.upkeep_year + kwh * site.tariff

    def float_life(self) -> float:
        """Calendar life in this room: the mean of how much faster each month's warmth ages."""
        site, battery = self.case.site, self.battery
        faster = [
            2 ** (max(0.0, degc - battery.float_life_degc) / battery.halving_degc)
            for degc in site.monthly_degc or [site.mean_degc]
        ]
        return battery.float_life_years / (sum(faster) / len(faster))

    def standing_wh(self) -> float:
        """Energy a year that keeps the bank full."""
        battery = self.battery
        if battery.float_ma_ah is not None:
            float_v = battery.float_v or battery.class_v * 13.5 / 12
            return self.capacity_ah * battery.float_ma_ah / 1000 * self.series * float_v * 8760
        return 12 * battery.self_discharge_month * self.label_wh / battery.round_trip

    def usable_wh(self, setting: Setting, bank_hours: int) -> float:
        """U(T) of the new bank."""
        battery = self.battery
        rate = rate_factor(battery, bank_hours, self.max_dod)
        uneven = setting.uneven(bank_hours, battery.peukert)
        return self.label_wh * rate * self.cold * self.max_dod / uneven

    def charging_v(self) -> float:
        volts = self.battery.absorption_v or self.battery.class_v * 14 / 12
        return self.series * volts

    def charge_a(self, charger_a: float) -> float:
        """What a charger of so many ampere gives to this bank."""
        return min(charger_a, self.capacity_ah * self.battery.charge_rate_max)

    def charge_to_put_back_ah(self, dc_wh: float) -> float:
        """B of the refill rules."""
        battery = self.battery
        taken_ah = min(dc_wh / self.string_v, self.capacity_ah * self.max_dod)
        by_energy = taken_ah * self.string_v / battery.round_trip / self.charging_v()
        return max(battery.charge_factor * taken_ah, by_energy)

    def peak_depth(self, setting: Setting, efficiency: float, health: np.ndarray) -> np.ndarray:
        """D: what the worst peak of the supply takes, at each health."""
        battery, worst = self.battery, np.zeros_like(health)
        capacity_ah = self.capacity_ah * self.cold * health
        for watts, hours, _ in setting.excesses:
            amps = watts / efficiency / self.string_v
            steep = (amps * battery.rate_h / capacity_ah) ** (battery.peukert - 1)
            worst = np.maximum(worst, amps * hours / capacity_ah * np.maximum(1.0, steep))
        return worst


class Spans:
    """A bank in service from the start of year y0 for d years, for every y0 and d.

    Arrays have a row for each y0 = 0 … H−1 and a column for each d = 1 … H.
    """

    def __init__(self, bank: Bank) -> None:
        case, battery, site = bank.case, bank.battery, bank.case.site
        horizon, life = site.horizon_years, bank.life
        self.start = np.arange(horizon)[:, None]
        self.years = np.arange(1, horizon + 1)[None, :]
        self.end = self.start + self.years
        #: K, how many banks follow one another; the age of the last when the span ends
        self.bought = np.maximum(1, np.ceil(self.years / life * (1 - TOLERANCE))).astype(int)
        self.last_age = self.years - (self.bought - 1) * life
        whole_life = floor(life * (1 + TOLERANCE))
        least_share = site.min_service_share * life
        asked = np.where(
            self.bought == 1,
            np.where(self.years == horizon, 0.0, min(least_share, whole_life)),
            np.where(self.end < horizon, least_share, 0.0),
        )
        self.allowed = (self.end <= horizon) & at_least(self.last_age, asked)
        #: present value; what is paid at the very start; purchases of each year, undiscounted:
        #: in ``paid_in`` the column is the year within the span, not its length
        self.cost = np.zeros((horizon, horizon))
        self.paid_in = np.zeros((horizon, horizon))
        self.upfront = 0.0
        rate, scrap = 1 + site.discount_rate, bank.units * battery.scrap_value
        new, swapped = self._works(bank, "first"), self._works(bank, "swap")
        for number in range(self.bought.max()):
            serves = self.bought > number
            bought_at = self.start + number * life
            retired_at = np.where(self.bought == number + 1, self.end, bought_at + life)
            price = bank.units * battery.price * (1 + battery.price_drift) ** bought_at
            first = (bought_at == 0) if number == 0 else np.zeros_like(bought_at, dtype=bool)
            paid = (price + np.where(first, new, swapped)) * gross(case)
            self.cost += np.where(serves, paid / rate**bought_at - scrap / rate**retired_at, 0.0)
            last_at_end = (self.bought == number + 1) & (self.end == horizon)
            worth = site.residual_share * np.maximum(0.0, price * gross(case) - scrap)
            back = worth * (1 - self.last_age / life)
            self.cost -= np.where(last_at_end, back / rate**horizon, 0.0)
            if number == 0:
                self.upfront = float(paid[0, 0])
            year = floor(number * life * (1 + TOLERANCE))
            if year < horizon:
                self.paid_in[:, year] += paid[:, 0]
        self.cost += bank.yearly_cost * self._years_worth(rate)
        #: health at the end of the year that is the q-th of the span, q = 1 … H
        loss = (1 - battery.end_of_life_soh) / life
        self.health = np.array([1 - loss * self._age(q, life) for q in range(1, horizon + 1)])

    def _years_worth(self, rate: float) -> np.ndarray:
        """Present value of 1 at the end of each year served."""
        until = np.cumsum([0.0, *rate ** -np.arange(1.0, 2 * len(self.start) + 1)])
        return until[self.end] - until[self.start]

    @staticmethod
    def _works(bank: Bank, when: str) -> float:
        price = {
            basis: works_price(bank.case, basis, when)
            for basis in ("battery_unit", "string", "parallel_string", "kg")
        }
        parallel = bank.strings if bank.strings >= 2 else 0
        return (
            bank.units * price["battery_unit"]
            + bank.strings * price["string"]
            + parallel * price["parallel_string"]
            + bank.mass_kg * price["kg"]
        )

    @staticmethod
    def _age(years: int, life: float) -> float:
        """The greatest age in the q-th year: of the bank at its end, or of one retired."""
        serving = max(1, np.ceil(years / life * (1 - TOLERANCE))) - 1
        if serving >= 1 and serving * life > (years - 1) * (1 + TOLERANCE):
            return life
        return years - serving * life
