"""Every requirement on a finished design, checked one by one without columns or solver.

The list serves twice: it is the explanation that people read, and the proof that what came back
from the solver is a design. A design that fails it is a bug in this project.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.engine import cashflow
from optimizer.engine.demand import demand_of
from optimizer.errors import InternalError
from optimizer.formulas.ageing import health, service_life_years
from optimizer.formulas.inverter import battery_current_a, drawn_wh
from optimizer.formulas.load import worst_window_wh
from optimizer.formulas.rate import uneven_load_factor
from optimizer.formulas.temperature import float_life_years, heat_factor
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE, at_least, whole_years
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, voltage_drop_v
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.demand import Demand
    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job

#: The program's and the plain arithmetic's money may differ by rounding only [currency units].
MONEY_TOLERANCE = 1e-4


@dataclass(frozen=True, slots=True)
class Check:
    """One requirement: what is required and what the design provides, in one unit.

    ``at_most`` tells that the requirement is a ceiling, not a floor. ``requirement`` names the
    family it belongs to, None for the autonomy itself and for limits of money and age.
    """

    name: str
    required: float
    provided: float
    unit: str
    at_most: bool = False
    requirement: Requirement | None = None

    @property
    def met(self) -> bool:
        """Whether the design meets it, within a relative 1e-9 in its favour."""
        if self.at_most:
            slack = RELATIVE_TOLERANCE * max(abs(self.required), abs(self.provided))
            return self.provided <= self.required + slack
        slack = RELATIVE_TOLERANCE * max(abs(self.required), abs(self.provided))
        return self.provided >= self.required - slack

    @property
    def margin(self) -> float:
        """What is to spare as a share of the requirement; infinite where nothing is required."""
        if self.required == 0:
            return float("inf")
        spare = self.required - self.provided if self.at_most else self.provided - self.required
        return spare / abs(self.required)


def checks(job: Job, design: Design, demand: Demand | None = None) -> tuple[Check, ...]:
    """Return every requirement on a design, in the order a person asks.

    ``demand`` spares working out the site's demand again.
    """
    demand = demand or demand_of(job)
    found = list(_set_checks(job, design, demand))
    for bank in design.banks:
        found += _bank_checks(job, design, bank, demand)
    site = job.site
    if site.budget is not None:
        found.append(
            Check("Paid at the start", site.budget, design.upfront_cost, site.currency, True)
        )
    if site.lifetime_budget is not None:
        limit = site.lifetime_budget
        found.append(Check("Life-cycle cost", limit, design.life_cycle_cost, site.currency, True))
    if site.later_limit is not None:
        later = cashflow.later_sums(cashflow.payments(job, design, demand))
        dearest = max(later.values(), default=0.0)
        name = "Bought in the dearest later year"
        found.append(Check(name, site.later_limit, dearest, site.currency, True))
    return tuple(found)


def verify(job: Job, design: Design, demand: Demand | None = None) -> None:
    """Raise InternalError unless the design meets every requirement and its money adds up."""
    demand = demand or demand_of(job)
    failed = [check.name for check in checks(job, design, demand) if not check.met]
    starts = [0, *(bank.end for bank in design.banks)]
    spans = [*(bank.start for bank in design.banks), job.site.horizon_years]
    if starts != spans:
        failed.append(f"one bank at a time: {spans} after {starts}")
    flow = cashflow.payments(job, design, demand)
    for name, stated, plain in (
        ("life-cycle cost", design.life_cycle_cost, cashflow.life_cycle_cost(job, flow)),
        ("upfront cost", design.upfront_cost, cashflow.upfront_cost(flow)),
    ):
        if abs(stated - plain) > MONEY_TOLERANCE:
            failed.append(f"{name}: the program says {stated}, plain arithmetic {plain}")
    if failed:
        raise InternalError(f"a design from the program fails its checks: {'; '.join(failed)}")


def tightest_year(
    job: Job, design: Design, bank: BankPeriod, demand: Demand
) -> tuple[int, float, float]:
    """Return the year in which a bank has least to spare, with its need and its energy [Wh]."""
    site, inverter, hours = job.site, design.inverter, design.hours
    energy_ac_wh = worst_window_wh(demand.profiles, hours)
    uneven = uneven_load_factor(demand.profiles, hours, bank.battery.peukert)
    new_wh = cashflow.nominal_wh(job, bank, hours) * bank.battery.max_dod / uneven
    tightest = (bank.start, 0.0, float("inf"))
    for year in range(bank.start, bank.end):
        need_wh = drawn_wh(
            energy_ac_wh * (1 + site.load_growth) ** year,
            hours,
            inverter.efficiency,
            design.inverter_units * inverter.no_load_w,
            site.design_margin,
        )
        age = year - bank.start + 1
        left = float(health(age, bank.service_life_years, bank.battery.end_of_life_soh))
        if tightest[1] * new_wh * left <= need_wh * tightest[2]:
            tightest = (year, need_wh, new_wh * left)
    return tightest


def _set_checks(job: Job, design: Design, demand: Demand) -> Iterator[Check]:
    site, inverter, units = job.site, design.inverter, design.inverter_units
    heat = heat_factor(inverter.power_w, inverter.power_w_40c, site.max_degc)
    power, surge, wiring = Requirement.POWER, Requirement.SURGE, Requirement.WIRING
    hot = f"at {site.max_degc:g} °C"
    yield Check(
        f"Power of all loads at once, {hot}",
        demand.peak_w,
        units * inverter.power_w * heat,
        "W",
        requirement=power,
    )
    yield Check(
        f"Apparent power, {hot}",
        demand.peak_va,
        units * inverter.power_va * heat,
        "VA",
        requirement=power,
    )
    yield Check(
        "Start of the largest motor on top of the rest",
        demand.surge_w,
        units * inverter.surge_w,
        "W",
        requirement=surge,
    )
    current_a = battery_current_a(units * inverter.power_w, inverter.efficiency, inverter.system_v)
    run = design.wiring
    drop_v = voltage_drop_v(site.battery_cable_m, run.cable.ohm_per_km, current_a, run.runs)
    wanted_a = CONTINUOUS_FACTOR * current_a
    ampacity_a = run.runs * run.cable.ampacity_a
    yield Check("Battery cable carries", wanted_a, ampacity_a, "A", requirement=wiring)
    yield Check("Fuse holds", wanted_a, run.fuse.rating_a, "A", requirement=wiring)
    yield Check(
        "Fuse protects the cable", ampacity_a, run.fuse.rating_a, "A", True, requirement=wiring
    )
    limit_v = site.max_drop * inverter.system_v
    yield Check("Voltage drop in the cable", limit_v, drop_v, "V", True, requirement=wiring)


def _bank_checks(job: Job, design: Design, bank: BankPeriod, demand: Demand) -> Iterator[Check]:
    site, battery, inverter = job.site, bank.battery, design.inverter
    years = (
        f"years {bank.start + 1}–{bank.end}" if bank.end - bank.start > 1 else (f"year {bank.end}")
    )
    where = f"{battery.battery}, {years}"
    year, need_wh, energy_wh = tightest_year(job, design, bank, demand)
    yield Check(
        f"Energy for {design.hours} h in year {year + 1}, {where}",
        need_wh / 1000,
        energy_wh / 1000,
        "kWh",
    )
    yield Check(
        f"Discharge current at the peak, {where}",
        battery_current_a(demand.peak_w, inverter.efficiency, inverter.system_v),
        bank.strings * battery.discharge_rate_max * battery.capacity_ah,
        "A",
        requirement=Requirement.DISCHARGE,
    )
    rate = max(
        battery.charge_rate_min, battery.charge_factor * battery.max_dod / site.recharge_hours
    )
    yield Check(
        f"Charger refills in {site.recharge_hours:g} h, {where}",
        rate * bank.strings * battery.capacity_ah,
        design.inverter_units * inverter.charger_a,
        "A",
        requirement=Requirement.REFILL,
    )
    most = min(battery.max_parallel, site.max_parallel or battery.max_parallel)
    yield Check(f"Strings in parallel, {where}", most, bank.strings, "", True, Requirement.STRINGS)
    yield Check(f"Units in series, {where}", battery.max_series, bank.series, "", at_most=True)
    if site.max_bank_kg is not None:
        mass_kg = bank.units * battery.mass_kg
        yield Check(f"Mass, {where}", site.max_bank_kg, mass_kg, "kg", True, Requirement.MASS)
    lowest_degc = max(battery.min_charge_degc, battery.cold_points[0][0])
    yield Check(
        f"Coldest the room may be, {where}",
        lowest_degc,
        site.min_degc,
        "°C",
        requirement=Requirement.COLD,
    )
    if battery.gas == "vented":
        allowed = float(site.vented_allowed)
        yield Check(f"Ventilated place, {where}", 1.0, allowed, "", requirement=Requirement.VENTED)
    yield from _age_checks(job, bank, demand, where)


def _age_checks(job: Job, bank: BankPeriod, demand: Demand, where: str) -> Iterator[Check]:
    site, battery = job.site, bank.battery
    calendar = float_life_years(battery.float_life_years, battery.halving_degc, site.mean_degc)
    life = float(
        service_life_years(calendar, cashflow.cycle_wear_per_year(job, bank, demand.mean_w))
    )
    age = bank.end - bank.start
    yield Check(f"Age at the end, {where}", life, age, "years", at_most=True)
    if bank.end < site.horizon_years:
        least = min(site.min_service_share * life, whole_years(life))
        yield Check(f"Service before it is replaced, {where}", least, age, "years")
    if not at_least(bank.service_life_years, life) or not at_least(life, bank.service_life_years):
        yield Check(f"Service life as stated, {where}", life, float("nan"), "years")
