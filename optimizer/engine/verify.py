"""Every requirement on a finished design, checked one by one without columns or solver.

The list serves twice: it is the explanation that people read, and the proof that what came back
from the solver is a design. A design that fails it is a bug in this project.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from optimizer.engine import cashflow
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.demand import demand_of
from optimizer.errors import InternalError
from optimizer.formulas.ageing import health, service_life_years
from optimizer.formulas.inverter import battery_current_a, drawn_wh
from optimizer.formulas.load import worst_window_wh
from optimizer.formulas.rate import uneven_load_factor
from optimizer.formulas.temperature import float_life_years, heat_factor
from optimizer.formulas.tolerance import at_least, whole_years
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, voltage_drop_v

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.demand import Demand
    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job

#: The program's and the plain arithmetic's money may differ by rounding only [currency units].
MONEY_TOLERANCE = 1e-4


def checks(job: Job, design: Design, demand: Demand | None = None) -> tuple[Check, ...]:
    """Return every requirement on a design, in the order a person asks.

    ``demand`` spares working out the site's demand again.
    """
    demand = demand or demand_of(job)
    found = list(_set_checks(job, design, demand))
    for bank in design.banks:
        found += _bank_checks(job, design, bank, demand)
    site = job.site
    upfront, whole = design.upfront_cost, design.life_cycle_cost
    if site.budget is not None:
        found.append(Check(CheckKind.UPFRONT_COST, required=site.budget, provided=upfront))
    if site.lifetime_budget is not None:
        limit = site.lifetime_budget
        found.append(Check(CheckKind.LIFE_CYCLE_COST, required=limit, provided=whole))
    if site.later_limit is not None:
        later = cashflow.later_sums(cashflow.payments(job, design, demand))
        dearest = max(later.values(), default=0.0)
        found.append(Check(CheckKind.LATER_COST, required=site.later_limit, provided=dearest))
    return tuple(found)


def verify(job: Job, design: Design, demand: Demand | None = None) -> None:
    """Raise InternalError unless the design meets every requirement and its money adds up."""
    demand = demand or demand_of(job)
    failed = [str(check) for check in checks(job, design, demand) if not check.met]
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
    for kind, required, rated in (
        (CheckKind.POWER, demand.peak_w, inverter.power_w),
        (CheckKind.APPARENT_POWER, demand.peak_va, inverter.power_va),
    ):
        yield Check(kind, required=required, provided=units * rated * heat, degc=site.max_degc)
    yield Check(CheckKind.SURGE, required=demand.surge_w, provided=units * inverter.surge_w)
    current_a = battery_current_a(units * inverter.power_w, inverter.efficiency, inverter.system_v)
    run = design.wiring
    drop_v = voltage_drop_v(site.battery_cable_m, run.cable.ohm_per_km, current_a, run.runs)
    wanted_a = CONTINUOUS_FACTOR * current_a
    ampacity_a, rating_a = run.runs * run.cable.ampacity_a, run.fuse.rating_a
    yield Check(CheckKind.CABLE_CURRENT, required=wanted_a, provided=ampacity_a)
    yield Check(CheckKind.FUSE_CURRENT, required=wanted_a, provided=rating_a)
    yield Check(CheckKind.FUSE_PROTECTION, required=ampacity_a, provided=rating_a)
    limit_v = site.max_drop * inverter.system_v
    yield Check(CheckKind.VOLTAGE_DROP, required=limit_v, provided=drop_v)


def _bank_checks(job: Job, design: Design, bank: BankPeriod, demand: Demand) -> Iterator[Check]:
    site, battery, inverter = job.site, bank.battery, design.inverter

    def check(
        kind: CheckKind, required: float, provided: float, hours: float | None = None
    ) -> Check:
        return Check(kind, required=required, provided=provided, bank=bank, hours=hours)

    year, need_wh, energy_wh = tightest_year(job, design, bank, demand)
    energy = check(CheckKind.ENERGY, need_wh / 1000, energy_wh / 1000, design.hours)
    yield replace(energy, year=year)
    yield check(
        CheckKind.DISCHARGE_CURRENT,
        battery_current_a(demand.peak_w, inverter.efficiency, inverter.system_v),
        bank.strings * battery.discharge_rate_max * battery.capacity_ah,
    )
    rate = max(
        battery.charge_rate_min, battery.charge_factor * battery.max_dod / site.recharge_hours
    )
    yield check(
        CheckKind.RECHARGE,
        rate * bank.strings * battery.capacity_ah,
        design.inverter_units * inverter.charger_a,
        site.recharge_hours,
    )
    most = min(battery.max_parallel, site.max_parallel or battery.max_parallel)
    yield check(CheckKind.STRINGS, most, bank.strings)
    yield check(CheckKind.SERIES, battery.max_series, bank.series)
    if site.max_bank_kg is not None:
        yield check(CheckKind.MASS, site.max_bank_kg, bank.units * battery.mass_kg)
    lowest_degc = max(battery.min_charge_degc, battery.cold_points[0][0])
    yield check(CheckKind.LOWEST_TEMPERATURE, lowest_degc, site.min_degc)
    if battery.gas == "vented":
        yield check(CheckKind.VENTILATED_PLACE, 1.0, float(site.vented_allowed))
    calendar = float_life_years(battery.float_life_years, battery.halving_degc, site.mean_degc)
    life = float(
        service_life_years(calendar, cashflow.cycle_wear_per_year(job, bank, demand.mean_w))
    )
    age = bank.end - bank.start
    yield check(CheckKind.AGE, life, age)
    if bank.end < site.horizon_years:
        least = min(site.min_service_share * life, whole_years(life))
        yield check(CheckKind.LEAST_SERVICE, least, age)
    if not at_least(bank.service_life_years, life) or not at_least(life, bank.service_life_years):
        yield check(CheckKind.STATED_LIFE, life, float("nan"))
