"""A generator's money and fuel, and what it puts back into a bank by day."""

import numpy as np

from optimizer.engine.variants import Variant
from optimizer.engine.works import gross, residual_of_years
from optimizer.formulas.generator import (
    CHARGER_EFFICIENCY,
    WORST_ROUND_TRIP,
    days_begun,
    litres,
    refillable_wh,
    running_hours,
)
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.load import DAY_H
from optimizer.formulas.money import yearly_costs_factor
from optimizer.formulas.tolerance import whole_years
from optimizer.model.arrays import Floats
from optimizer.model.job import Generator, GeneratorRules, Job


def generator_money(job: Job, generator: Generator) -> tuple[float, float]:
    """Return life-cycle and upfront cost of a generator without its fuel [currency]."""
    site, price = job.site, generator.price * gross(job)
    life, rate = whole_years(generator.life_years), site.discount_rate
    bought = sum(price / (1 + rate) ** year for year in range(0, site.horizon_years, life))
    left = residual_of_years(job, price, life) / (1 + rate) ** site.horizon_years
    upkeep = generator.upkeep_year * yearly_costs_factor(rate, 0, site.horizon_years)
    return bought - left + upkeep, price


def fuel_factor(job: Job, rules: GeneratorRules) -> float:
    """Return the present value of renewing one litre over the horizon [currency/l]."""
    years = range(0, job.site.horizon_years, rules.fuel_keeps_years)
    return rules.fuel_price * sum((1 + job.site.discount_rate) ** -year for year in years)


def litres_stored(
    variant: Variant, hours: int, efficiency: float | Floats, no_load_w: float | Floats
) -> float | Floats:
    """Return the fuel for an outage of ``hours`` behind an inverter set, or behind several [l].

    What the bank carries is counted in the loads' energy too: the safe side. Nothing without a
    generator.
    """
    demand, generator, rules = variant.demand, variant.generator, variant.rules
    if generator is None or rules is None:
        return 0.0 * np.asarray(efficiency)
    night_wh = variant.stretches(hours).largest_wh
    energy_wh = variant.whole_outage(hours).largest_wh * demand.growth
    back_wh = (
        drawn_wh(
            np.asarray(night_wh * demand.growth),
            rules.night_hours,
            np.asarray(efficiency),
            np.asarray(no_load_w),
            variant.job.site.design_margin,
        )
        / CHARGER_EFFICIENCY
        / WORST_ROUND_TRIP
    )
    refills = days_begun(hours, rules.start_after_h)
    run_h = running_hours(hours, rules.start_after_h, DAY_H - rules.quiet_hours)
    return litres(
        run_h,
        energy_wh + refills * back_wh,
        generator.power_w,
        generator.litres_h_full,
        generator.litres_h_idle,
    )


def refill_by_day_wh(variant: Variant, charger_w: float | Floats) -> Floats:
    """Return what a generator gives a charger between two nights, the worst season counted [Wh]."""
    demand, generator, rules = variant.demand, variant.generator, variant.rules
    if generator is None or rules is None:
        return np.full_like(charger_w, np.inf)
    from_h = 0 if rules.quiet is None else round(rules.quiet[1])
    clock = (from_h + np.arange(DAY_H - rules.quiet_hours)) % DAY_H
    by_season = [
        refillable_wh(charger_w, generator.power_w, profile[clock] * demand.growth)
        for profile in demand.profiles
    ]
    return np.asarray(np.min(by_season, axis=0))
