"""Every requirement on one bank of a finished design, by plain arithmetic."""

from collections.abc import Iterator

import numpy as np

from optimizer.engine.check import Check, CheckKind
from optimizer.engine.events import scheduled_cuts
from optimizer.engine.generators import refill_by_day_wh
from optimizer.engine.variants import Variant
from optimizer.engine.wear import cold_wh, life_years
from optimizer.formulas.charging import charge_back_ah, charger_current_a
from optimizer.formulas.generator import CHARGER_EFFICIENCY
from optimizer.formulas.inverter import battery_current_a, drawn_wh
from optimizer.formulas.rate import depth_taken, fixed_time_share, uneven_load_factors
from optimizer.formulas.renewals import banks_in_turn
from optimizer.formulas.tolerance import at_least, whole_years
from optimizer.formulas.windows import Stretches
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job


def usable_new_wh(variant: Variant, bank: BankPeriod, stretches: Stretches) -> float:
    """Return what a new bank gives at an autonomy: cold, rate, uneven load and depth counted [Wh].

    ``stretches`` are those of the variant at that autonomy.
    """
    battery = bank.battery
    uneven = float(uneven_load_factors(stretches, np.array([battery.peukert]))[0])
    rate = float(
        fixed_time_share(stretches.hours / battery.max_dod, battery.rate_h, battery.peukert)
    )
    return cold_wh(variant.job, bank) * battery.max_dod * rate / uneven


def needed_wh(variant: Variant, design: Design, stretches: Stretches, year: int) -> float:
    """Return what a design draws from the bank at an autonomy in a year [Wh]."""
    site = variant.job.site
    return drawn_wh(
        stretches.largest_wh * (1 + site.load_growth) ** year,
        stretches.hours,
        design.inverter.efficiency,
        design.inverter_units * design.inverter.no_load_w,
        site.design_margin,
    )


def health_in_year(bank: BankPeriod, year: int) -> float:
    """Return the least health of the banks in service in a year, counted from 0."""
    life, bought = bank.service_life_years, bank.purchase_years
    retired = (*bought[1:], float(bank.end))
    least, hair = 1.0, 1e-9 * bank.end
    for start, end in zip(bought, retired, strict=True):
        if start < year + 1 - hair and end > year + hair:
            age = min(float(year + 1), end) - start
            least = min(least, 1 - (1 - bank.battery.end_of_life_soh) * age / life)
    return least


def peak_depth(variant: Variant, design: Design, bank: BankPeriod, health: float) -> float:
    """Return the depth that the worst peak of the supply takes of a bank at some health."""
    battery, whole_wh = bank.battery, cold_wh(variant.job, bank) * health
    return max(
        (
            float(
                depth_taken(
                    one.power_w / design.inverter.efficiency * one.hours / whole_wh,
                    one.hours,
                    battery.rate_h,
                    battery.peukert,
                )
            )
            for one in variant.excess
        ),
        default=0.0,
    )


def tightest_year(variant: Variant, design: Design, bank: BankPeriod) -> tuple[int, float, float]:
    """Return the year in which a bank has least to spare, with its need and its energy [Wh].

    What the worst peak of the supply takes is kept out of the energy.
    """
    stretches = variant.stretches(design.hours)
    new_wh = usable_new_wh(variant, bank, stretches)
    found = []
    for year in range(bank.start, bank.end):
        need_wh = needed_wh(variant, design, stretches, year)
        health = health_in_year(bank, year)
        kept = 1 - peak_depth(variant, design, bank, health) / bank.battery.max_dod
        energy_wh = new_wh * health * kept
        share = energy_wh / need_wh if need_wh else float("inf")
        found.append((share, -year, need_wh, energy_wh))
    _, latest, need_wh, energy_wh = min(found)
    return -latest, need_wh, energy_wh


def bank_checks(variant: Variant, design: Design, bank: BankPeriod) -> Iterator[Check]:
    """Yield every requirement on a bank, in the order a person asks."""
    site, battery, inverter = variant.job.site, bank.battery, design.inverter

    def check(
        kind: CheckKind, required: float, provided: float, hours: float | None = None
    ) -> Check:
        return Check(kind, required=required, provided=provided, bank=bank, hours=hours)

    year, need_wh, energy_wh = tightest_year(variant, design, bank)
    yield Check(
        CheckKind.ENERGY,
        required=need_wh / 1000,
        provided=energy_wh / 1000,
        bank=bank,
        year=year,
        hours=design.hours,
    )
    capacity_ah = bank.strings * battery.capacity_ah
    peak_w = max(variant.demand.peak_w, variant.largest_excess_w)
    for kind, power_w, rate in (
        (CheckKind.DISCHARGE_CURRENT, peak_w, battery.discharge_rate_max),
        (CheckKind.START_CURRENT, variant.demand.surge_w, battery.start_rate_max),
    ):
        current_a = battery_current_a(power_w, inverter.efficiency, inverter.system_v)
        yield check(kind, current_a, rate * capacity_ah)
    charging_a = min(
        design.inverter_units * inverter.charger_a, battery.charge_rate_max * capacity_ah
    )
    if battery.charge_rate_min > 0:
        least_a = battery.charge_rate_min * capacity_ah
        yield check(CheckKind.LEAST_CHARGING_CURRENT, least_a, charging_a)
    in_time_a = charger_current_a(
        battery.max_dod * capacity_ah, site.recharge_hours, battery.charge_factor
    )
    yield check(CheckKind.RECHARGE, in_time_a, charging_a, site.recharge_hours)
    yield from _refill_checks(variant, design, bank, charging_a)
    if battery.built_into is not None:
        together = battery.built_into == inverter.inverter and bank.strings == design.inverter_units
        yield check(CheckKind.SAME_BOX, 1.0, float(together))
    most = min(battery.max_parallel, site.max_parallel or battery.max_parallel)
    yield check(CheckKind.STRINGS, most, bank.strings)
    yield check(CheckKind.SERIES, battery.max_series, bank.series)
    if site.max_bank_kg is not None:
        yield check(CheckKind.MASS, site.max_bank_kg, bank.mass_kg)
    lowest_degc = max(battery.min_charge_degc, battery.cold_points[0][0])
    yield check(CheckKind.LOWEST_TEMPERATURE, lowest_degc, site.min_degc)
    if battery.gas == "vented":
        yield check(CheckKind.VENTILATED_PLACE, 1.0, float(site.vented_allowed))
    yield from _age_checks(variant.job, bank, life_years(variant.job, bank, variant.events))


def _refill_checks(
    variant: Variant, design: Design, bank: BankPeriod, charging_a: float
) -> Iterator[Check]:
    """Yield the charge to be put back after each scheduled cut, and after a generator's night."""
    job, demand, battery = variant.job, variant.demand, bank.battery
    string_v, charging_v = bank.series * battery.voltage_v, bank.series * battery.charging_v

    def back_ah(energy_wh: float, hours: float) -> float:
        taken_wh = drawn_wh(
            energy_wh * demand.growth,
            hours,
            design.inverter.efficiency,
            design.inverter_units * design.inverter.no_load_w,
            job.site.design_margin,
        )
        most_ah = bank.strings * battery.capacity_ah * battery.max_dod
        taken_ah = min(taken_wh / string_v, most_ah)
        return float(
            charge_back_ah(
                taken_ah, battery.charge_factor, string_v, charging_v, battery.round_trip
            )
        )

    needed = [
        (back_ah(energy_wh, cut.hours) / cut.gap_h if cut.gap_h > 0 else float("inf"), cut.gap_h)
        for cut in scheduled_cuts(job, demand)
        for energy_wh in cut.energy_wh
    ]
    if needed:
        needed_a, gap_h = max(needed)
        yield Check(
            CheckKind.BETWEEN_CUTS, required=needed_a, provided=charging_a, bank=bank, hours=gap_h
        )
    if design.generator is not None:
        terminal_v = charging_v / CHARGER_EFFICIENCY
        night = variant.stretches(design.hours)
        back_wh = back_ah(night.largest_wh, night.hours) * terminal_v
        given_wh = refill_by_day_wh(variant, np.asarray(charging_a * terminal_v))
        yield Check(
            CheckKind.GENERATOR_REFILL,
            required=back_wh / 1000,
            provided=float(given_wh) / 1000,
            bank=bank,
        )


def _age_checks(job: Job, bank: BankPeriod, life: float) -> Iterator[Check]:
    site, years, age = job.site, bank.end - bank.start, bank.last_age_years

    def check(kind: CheckKind, required: float, provided: float) -> Check:
        return Check(kind, required=required, provided=provided, bank=bank)

    yield check(CheckKind.AGE, life, age)
    yield check(CheckKind.RENEWALS, float(banks_in_turn(years, life)), bank.bought)
    if bank.bought == 1 and years < site.horizon_years:
        least = min(site.min_service_share * life, whole_years(life))
        yield check(CheckKind.LEAST_SERVICE, least, age)
    if bank.bought > 1 and bank.end < site.horizon_years:
        yield check(CheckKind.LEAST_SERVICE, site.min_service_share * life, age)
    if not at_least(bank.service_life_years, life) or not at_least(life, bank.service_life_years):
        yield check(CheckKind.STATED_LIFE, life, float("nan"))
