"""Inverter sets and generators: what they can do, and what they cost."""

from __future__ import annotations

from math import floor, sqrt
from typing import TYPE_CHECKING

import numpy as np

from .demand import TOLERANCE, Setting, at_least
from .money import gross, present_value, residual, works_price

if TYPE_CHECKING:
    from types import SimpleNamespace as Row

    from .banks import Bank
    from .case import Case
    from .demand import Demand

LOWEST_VOLTAGE_SHARE = 0.90
GENERATOR_CHARGER_EFFICIENCY = 0.90
BANK_EFFICIENCY_FOR_FUEL = 0.70


def wiring_price(case: Case, current_a: float, system_v: int) -> float | None:
    """Cable and fuse of one unit; None where nothing listed fits."""
    site = case.site
    needed_a = 1.25 * current_a
    fuses = sorted(
        (f for f in case.fuses if f.rated_v is None or at_least(f.rated_v, 1.25 * system_v)),
        key=lambda fuse: fuse.rating_a,
    )
    for runs in (1, 2, 3, 4):
        for cable in sorted(case.cables, key=lambda cable: cable.section_mm2):
            cooler = (cable.conductor_degc - site.max_degc) / (cable.conductor_degc - 30)
            carried_a = cable.ampacity_a * sqrt(min(1.0, max(0.0, cooler))) * runs
            drop_v = 2 * site.battery_cable_m * cable.ohm_per_km / 1000 / runs * current_a
            if not at_least(carried_a, needed_a) or not at_least(site.max_drop * system_v, drop_v):
                continue
            for fuse in fuses:
                if at_least(fuse.rating_a, needed_a) and at_least(carried_a, fuse.rating_a):
                    return runs * 2 * site.battery_cable_m * cable.price_per_m + fuse.price
    return None


class InverterSet:
    """``units`` identical inverters with what connects them."""

    def __init__(self, case: Case, demand: Demand, inverter: Row, units: int) -> None:
        site = case.site
        self.case, self.demand, self.inverter, self.units = case, demand, inverter, units
        heat = min(1.0, max(0.0, (site.max_degc - 25) / 15))
        derate = 1 - heat * (1 - inverter.power_w_40c / inverter.power_w)
        self.power_w = units * inverter.power_w * derate
        self.power_va = units * inverter.power_va * derate
        self.lowest_v = LOWEST_VOLTAGE_SHARE * inverter.system_v
        self.boxed = any(b.built_into == inverter.inverter for b in case.batteries)
        self.wiring = 0.0
        self.start_a = demand.surge_w / inverter.efficiency / self.lowest_v
        if not self.boxed:
            cable_a = inverter.power_w / inverter.efficiency / self.lowest_v
            self.wiring = wiring_price(case, cable_a, inverter.system_v)

    def carries_the_loads(self) -> bool:
        """Power, surge, transfer switch and wiring."""
        inverter, demand = self.inverter, self.demand
        return bool(
            self.wiring is not None
            and at_least(self.power_w, demand.peak_w)
            and at_least(self.power_va, demand.peak_va)
            and at_least(self.units * inverter.surge_w, demand.surge_w)
            and (
                inverter.pass_through_a is None or at_least(self.pass_through_va(), demand.peak_va)
            )
        )

    def pass_through_va(self) -> float:
        return self.units * self.inverter.pass_through_a * self.case.site.voltage_v

    def helps_the_supply(self, setting: Setting) -> bool:
        """Whether it can add what the peaks take beyond the contract."""
        if not setting.excesses:
            return True
        return bool(
            self.inverter.works_in_parallel
            and at_least(self.power_w, max(watts for watts, *_ in setting.excesses))
            and (
                self.inverter.pass_through_a is None
                or at_least(self.pass_through_va(), setting.variant.contract[0])
            )
        )

    def peak_a(self, setting: Setting) -> float:
        watts = max([self.demand.peak_w, *(watts for watts, *_ in setting.excesses)])
        return watts / self.inverter.efficiency / self.lowest_v

    def drawn_wh(self, ac_wh: float, hours: float) -> float:
        """What the bank gives for so many AC watt-hours within so many hours."""
        standing_wh = hours * self.units * self.inverter.no_load_w
        return (ac_wh / self.inverter.efficiency + standing_wh) * (1 + self.case.site.design_margin)

    def upfront(self) -> float:
        case, price = self.case, self.units * (self.inverter.price + self.wiring)
        works = self.units * works_price(case, "inverter_unit", "first")
        return (price + works + works_price(case, "site", "first")) * gross(case)

    def swaps(self) -> dict[int, float]:
        """Year of each replacement and what is paid then."""
        case, life = self.case, floor(self.inverter.life_years * (1 + TOLERANCE))
        works = self.units * works_price(case, "inverter_unit", "swap")
        paid = (self.units * self.inverter.price + works) * gross(case)
        return dict.fromkeys(range(life, case.site.horizon_years, life), paid)

    def cost(self) -> float:
        """Present value of everything, standby draw included."""
        site, rate = self.case.site, 1 + self.case.site.discount_rate
        value = self.upfront()
        value += sum(paid / rate**year for year, paid in self.swaps().items())
        price = self.units * self.inverter.price * gross(self.case)
        value -= residual(self.case, price, self.inverter.life_years)
        yearly = self.units * self.inverter.standby_w * 8.76 * site.tariff
        return value + present_value(self.case, yearly)


# --- generators: section 7 ------------------------------------------------------------------


class Fuel:
    """A generator beside an inverter set: what it must do, burn and cost."""

    def __init__(self, setting: Setting, one: InverterSet) -> None:
        self.setting, self.one, self.demand = setting, one, setting.demand
        self.case, self.generator = one.case, setting.variant.generator
        night_wh = setting.windows(setting.night_h).sum(axis=1).max() * self.demand.largest
        self.night_dc_wh = one.drawn_wh(night_wh, setting.night_h)

    def carries_the_loads(self) -> bool:
        generator, demand = self.generator, self.demand
        return bool(
            at_least(generator.power_w, demand.peak_w)
            and at_least(generator.power_va, demand.peak_va)
            and at_least(generator.surge_w, demand.surge_w)
        )

    def refills(self, bank: Bank) -> bool:
        """Whether a day's running puts back what the night took, in every season."""
        site = self.case.site
        ac_per_ah = bank.charging_v() / GENERATOR_CHARGER_EFFICIENCY
        needed_wh = bank.charge_to_put_back_ah(self.night_dc_wh) * ac_per_ah
        most_w = bank.charge_a(self.one.units * self.one.inverter.charger_a) * ac_per_ah
        running = (site.quiet_h[1] + np.arange(self.setting.running_h)) % 24
        for season in self.demand.watts:
            watts = self.demand.all_watts(season)[running] * self.demand.largest
            offered_wh = np.clip(self.generator.power_w - watts, 0.0, most_w).sum()
            if not at_least(offered_wh, needed_wh):
                return False
        return True

    def litres(self) -> np.ndarray:
        """Fuel for an outage of each number of hours."""
        generator, start_h = self.generator, self.case.site.start_after_h
        whole_days, rest_h = np.divmod(self.setting.hours - start_h, 24)
        running_h = self.setting.running_h
        run_h = running_h * whole_days + np.minimum(running_h, rest_h)
        back_wh = self.night_dc_wh / GENERATOR_CHARGER_EFFICIENCY / BANK_EFFICIENCY_FOR_FUEL
        loads_wh = self.demand.heaviest_wh * self.demand.largest
        nights = whole_days + (rest_h > 0)
        slope = (generator.litres_h_full - generator.litres_h_idle) / generator.power_w
        return generator.litres_h_idle * run_h + slope * (loads_wh + nights * back_wh)

    def machine_price(self) -> float:
        return self.generator.price * gross(self.case)

    def machine_cost(self) -> float:
        """Present value of the generator and its upkeep, without fuel."""
        rate = 1 + self.case.site.discount_rate
        life = floor(self.generator.life_years * (1 + TOLERANCE))
        value = sum(
            self.machine_price() / rate**year
            for year in range(0, self.case.site.horizon_years, life)
        )
        value -= residual(self.case, self.machine_price(), self.generator.life_years)
        return value + present_value(self.case, self.generator.upkeep_year)

    def paid_in(self, litres: np.ndarray) -> np.ndarray:
        """Purchases of generator and fuel, undiscounted: [hour, year]."""
        site, life = self.case.site, floor(self.generator.life_years * (1 + TOLERANCE))
        paid = np.zeros((len(litres), site.horizon_years))
        paid[:, ::life] += self.machine_price()
        paid[:, :: site.fuel_keeps_years] += (litres * site.fuel_price)[:, None]
        return paid

    def fuel_cost(self, litres: np.ndarray) -> np.ndarray:
        """Present value of all fillings."""
        site = self.case.site
        fillings = range(0, site.horizon_years, site.fuel_keeps_years)
        each = sum((1 + site.discount_rate) ** -year for year in fillings)
        return litres * site.fuel_price * each
