"""Every requirement on a finished design, checked one by one without columns or solver.

The list serves twice: it is the explanation that people read, and the proof that what came back
from the solver is a design. A design that fails it is a bug in this project.
"""

from collections.abc import Iterator

from optimizer.engine import cashflow
from optimizer.engine.bank_checks import bank_checks
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.demand import demand_of
from optimizer.engine.generators import litres_stored
from optimizer.engine.inverter_sets import boxed_inverters
from optimizer.engine.money_scale import cost_tolerance
from optimizer.engine.variants import Variant, variant_of_design
from optimizer.errors import InternalError
from optimizer.formulas.inverter import battery_current_a
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.formulas.wiring import (
    CONTINUOUS_FACTOR,
    FUSE_VOLTAGE_FACTOR,
    ampacity_a,
    voltage_drop_v,
)
from optimizer.model.demand import Demand
from optimizer.model.design import Design
from optimizer.model.job import Generator, Job

#: The program's and the plain arithmetic's money may differ by rounding only: this many times
#: what makes two costs equal.
_MONEY_AGREES = 100
#: Rounding in another order of arithmetic, as a share: a design at the very edge of a
#: requirement stands.
_ROUNDING = 1e-9


def checks(job: Job, design: Design, variant: Variant | None = None) -> tuple[Check, ...]:
    """Return every requirement on a design, in the order a person asks.

    ``variant`` is the one it stands in, where that is known.
    """
    variant = variant or variant_of_design(job, design, demand_of(job))
    found = list(_set_checks(job, design, variant.demand))
    if design.generator is not None:
        found += _generator_checks(design, design.generator, variant)
    if variant.excess:
        found += _contract_checks(design, variant)
    for bank in design.banks:
        found += bank_checks(variant, design, bank)
    site = job.site
    upfront, whole = design.upfront_cost, design.life_cycle_cost
    if site.budget is not None:
        found.append(Check(CheckKind.UPFRONT_COST, required=site.budget, provided=upfront))
    if site.lifetime_budget is not None:
        limit = site.lifetime_budget
        found.append(Check(CheckKind.LIFE_CYCLE_COST, required=limit, provided=whole))
    if site.later_limit is not None:
        later = cashflow.later_sums(cashflow.payments(job, design, variant))
        dearest = max(later.values(), default=0.0)
        found.append(Check(CheckKind.LATER_COST, required=site.later_limit, provided=dearest))
    return tuple(found)


def verify(job: Job, design: Design, variant: Variant | None = None) -> None:
    """Raise InternalError unless the design meets every requirement and its money adds up."""
    variant = variant or variant_of_design(job, design, demand_of(job))
    failed = [
        str(check)
        for check in checks(job, design, variant)
        if not check.met_within(RELATIVE_TOLERANCE + _ROUNDING)
    ]
    starts = [0, *(bank.end for bank in design.banks)]
    ends = [*(bank.start for bank in design.banks), job.site.horizon_years]
    if starts != ends:
        failed.append(f"one bank at a time: {ends} after {starts}")
    flow = cashflow.payments(job, design, variant)
    for name, stated, plain in (
        ("life-cycle cost", design.life_cycle_cost, cashflow.life_cycle_cost(job, flow)),
        ("upfront cost", design.upfront_cost, cashflow.upfront_cost(flow)),
    ):
        if abs(stated - plain) > _MONEY_AGREES * cost_tolerance(job):
            failed.append(f"{name}: the program says {stated}, plain arithmetic {plain}")
    if failed:
        raise InternalError(f"a design from the program fails its checks: {'; '.join(failed)}")


def _set_checks(job: Job, design: Design, demand: Demand) -> Iterator[Check]:
    site, inverter, units = job.site, design.inverter, design.inverter_units
    heat = heat_factor(inverter.power_w, inverter.power_w_40c, site.max_degc)
    for kind, required, rated in (
        (CheckKind.POWER, demand.peak_w, inverter.power_w),
        (CheckKind.APPARENT_POWER, demand.peak_va, inverter.power_va),
    ):
        yield Check(kind, required=required, provided=units * rated * heat, degc=site.max_degc)
    yield Check(CheckKind.SURGE, required=demand.surge_w, provided=units * inverter.surge_w)
    if inverter.pass_through_a is not None:
        passes_va = units * inverter.pass_through_a * site.supply_voltage_v
        yield Check(CheckKind.TRANSFER, required=demand.peak_va, provided=passes_va)
    yield Check(CheckKind.INVERTER_UNITS, required=inverter.max_units, provided=units)
    if design.wiring is not None:
        yield from _wiring_checks(job, design)
    elif inverter.inverter not in boxed_inverters(job):
        raise InternalError(f"an inverter without cable and fuse: {inverter.inverter}")


def _wiring_checks(job: Job, design: Design) -> Iterator[Check]:
    site, inverter, run = job.site, design.inverter, design.wiring
    if run is None:
        return
    current_a = battery_current_a(inverter.power_w, inverter.efficiency, inverter.system_v)
    drop_v = voltage_drop_v(site.battery_cable_m, run.cable.ohm_per_km, current_a, run.runs)
    wanted_a = CONTINUOUS_FACTOR * current_a
    carries_a, rating_a = run.runs * ampacity_a(run.cable, site.max_degc), run.fuse.rating_a
    yield Check(CheckKind.CABLE_CURRENT, required=wanted_a, provided=carries_a)
    yield Check(CheckKind.FUSE_CURRENT, required=wanted_a, provided=rating_a)
    yield Check(CheckKind.FUSE_PROTECTION, required=carries_a, provided=rating_a)
    if run.fuse.rated_v is not None:
        breaks_v = FUSE_VOLTAGE_FACTOR * inverter.system_v
        yield Check(CheckKind.FUSE_VOLTAGE, required=breaks_v, provided=run.fuse.rated_v)
    limit_v = site.max_drop * inverter.system_v
    yield Check(CheckKind.VOLTAGE_DROP, required=limit_v, provided=drop_v)


def _contract_checks(design: Design, variant: Variant) -> Iterator[Check]:
    """Yield what a set must do beside a supply contract that peaks exceed."""
    job = variant.job
    site, inverter, units = job.site, design.inverter, design.inverter_units
    heat = heat_factor(inverter.power_w, inverter.power_w_40c, site.max_degc)
    parallel = float(inverter.works_in_parallel is True)
    yield Check(CheckKind.WORKS_IN_PARALLEL, required=1.0, provided=parallel)
    helps_w = units * inverter.power_w * heat
    yield Check(CheckKind.PEAK_HELP, required=variant.largest_excess_w, provided=helps_w)
    if inverter.pass_through_a is not None and variant.contract is not None:
        passes_w = units * inverter.pass_through_a * site.supply_voltage_v
        contract_w = variant.contract.power_w
        yield Check(CheckKind.CONTRACT_TRANSFER, required=contract_w, provided=passes_w)


def _generator_checks(design: Design, generator: Generator, variant: Variant) -> Iterator[Check]:
    inverter, rules, demand = design.inverter, variant.rules, variant.demand
    if rules is None:
        raise InternalError(f"a generator where the site allows none: {generator.generator}")
    for kind, required, rated in (
        (CheckKind.GENERATOR_POWER, demand.peak_w, generator.power_w),
        (CheckKind.GENERATOR_APPARENT_POWER, demand.peak_va, generator.power_va),
        (CheckKind.GENERATOR_SURGE, demand.surge_w, generator.surge_w),
    ):
        yield Check(kind, required=required, provided=rated)
    no_load_w = design.inverter_units * inverter.no_load_w
    needed_l = litres_stored(variant, design.hours, inverter.efficiency, no_load_w)
    yield Check(CheckKind.FUEL, required=float(needed_l), provided=design.fuel_l)
    yield Check(CheckKind.FUEL_LIMIT, required=rules.max_stored_l, provided=design.fuel_l)
    beyond_night = float(design.hours > rules.night_hours)
    yield Check(CheckKind.GENERATOR_HOURS, required=1.0, provided=beyond_night)
