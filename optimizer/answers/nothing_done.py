"""What the outages cost where nothing is bought against them."""

from dataclasses import dataclass

from optimizer.engine.demand import demand_of
from optimizer.engine.events import unserved_wh_per_year
from optimizer.engine.variants import covering_step
from optimizer.formulas.money import yearly_costs_factor
from optimizer.model.job import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class NothingDone:
    """A site without equipment.

    Parameters
    ----------
    outages_per_year, hours_per_year : float
        What the grid does.
    unserved_kwh_per_year : float
        Energy missed in the first year, each outage by its own clock [kWh].
    horizon_years : int
        Over which money is counted.
    contract_cost : float
        The supply contract over the horizon in present value [currency]: the cheapest step that
        covers every peak, or the largest; 0 where the site names none.
    life_cycle_cost : float or None
        That and the loss over the horizon in present value [currency], as the site values a kWh
        that is missing; None where it puts no value on it.
    """

    outages_per_year: float
    hours_per_year: float
    unserved_kwh_per_year: float
    horizon_years: int
    contract_cost: float
    life_cycle_cost: float | None


def nothing_done(job: Job) -> NothingDone:
    """Return what the site pays and misses where nothing is bought against the outages.

    The loss of year y falls at the year's end, as running costs do:
    Σ unserved · (1 + growth)^y · value / (1 + d)^(y + 1).
    """
    site = job.site
    hours = sum(length * times for length, times in job.outages.yearly)
    unserved_kwh = unserved_wh_per_year(job, demand_of(job)) / 1000
    worth = site.value_of_lost_load
    factor = sum(
        (1 + site.load_growth) ** year / (1 + site.discount_rate) ** (year + 1)
        for year in range(site.horizon_years)
    )
    step = covering_step(job) or max(site.contracts, key=lambda one: one.power_w, default=None)
    years = yearly_costs_factor(site.discount_rate, 0, site.horizon_years)
    contract_cost = 0.0 if step is None else step.cost_year * years
    return NothingDone(
        outages_per_year=job.outages.times_a_year,
        hours_per_year=hours,
        unserved_kwh_per_year=unserved_kwh,
        horizon_years=site.horizon_years,
        contract_cost=contract_cost,
        life_cycle_cost=None if worth is None else contract_cost + worth * unserved_kwh * factor,
    )
