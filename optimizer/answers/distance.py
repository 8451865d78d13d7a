"""Where a bank and inverter stand against the curve of what can be bought today."""

from dataclasses import dataclass, field, replace

import numpy as np

from optimizer.answers.curve import Point, point_of
from optimizer.answers.installed import bank_of, design_of, service_life, within_points
from optimizer.answers.planned_hours import planned_of
from optimizer.engine.bank_checks import health_in_year
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.formulas.renewals import banks_in_turn
from optimizer.model.demand import Demand
from optimizer.model.design import Design
from optimizer.model.existing import Existing
from optimizer.model.job import Job
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True)
class Distance:
    """What a design is against what can be bought today.

    Parameters
    ----------
    hours : int
        What is compared [h]: what the design, bought new, is planned for in every year.
    carried : bool
        False where it is planned for no hour: ``hours`` is then the autonomy required.
    upfront_cost : float
        Paid, or what the price list asks for the design today [currency].
    life_cycle_cost : float
        Replaced by its like whenever worn out [currency].
    least, by_upfront, by_life_cycle : Point or None
        The cheapest of the same hours; the longest for the same upfront cost, and for the same
        life-cycle cost. None where nothing is on offer.
    """

    hours: int
    carried: bool
    upfront_cost: float
    life_cycle_cost: float
    least: Point | None = field(metadata=shown("least_cost_of_the_same_hours"))
    by_upfront: Point | None = field(metadata=shown("same_upfront_buys"))
    by_life_cycle: Point | None = field(metadata=shown("same_life_cycle_buys"))


def distance_of(
    job: Job, existing: Existing, life_years: float, demand: Demand, required_hours: int
) -> Distance:
    """Return where a design stands; ``life_years`` is the service life of its bank here [a]."""
    bought, planned = _bought(job, existing, life_years, demand, required_hours)
    hours = min(planned, job.site.max_hours)
    extra = 0.0 if existing.paid is None else existing.paid - bought.upfront_cost
    upfront = bought.upfront_cost + extra
    cost = bought.life_cycle_cost + extra

    def within(**limits: float) -> Point | None:
        limited = job.with_site(**limits)
        return _point(limited, Search(limited).longest())

    return Distance(
        hours=hours or required_hours,
        carried=hours > 0,
        upfront_cost=upfront,
        life_cycle_cost=cost,
        least=_point(job, Search(job).cheapest(hours or required_hours)),
        by_upfront=within(budget=upfront),
        by_life_cycle=within(lifetime_budget=cost),
    )


def bought_new(job: Job, existing: Existing) -> Design | None:
    """Return equipment put together by hand as a design: new, and replaced by its like.

    None where it is planned for no whole hour in every year. Its hours are at most those that the
    site looks at.
    """
    demand = demand_of(job)
    life_years = service_life(job, existing, demand).years
    design, planned = _bought(job, existing, life_years, demand, job.site.target_hours)
    hours = min(planned, job.site.max_hours)
    return replace(design, hours=hours) if hours else None


def _bought(
    job: Job, existing: Existing, life_years: float, demand: Demand, required_hours: int
) -> tuple[Design, int]:
    """Return the design with a chain of its own banks, and the hours it is planned for [h]."""
    horizon = job.site.horizon_years
    bank = replace(
        bank_of(existing),
        battery=within_points(job, existing.battery),
        end=horizon,
        service_life_years=life_years,
        bought=int(banks_in_turn(horizon, life_years)),
    )
    bought = design_of(job, existing, required_hours, (bank,))
    years = np.arange(horizon)
    left = np.array([health_in_year(bank, year) for year in years.tolist()])
    return bought, planned_of(job, bought, demand).hours(years.astype(float), left)


def _point(job: Job, design: Design | None) -> Point | None:
    return None if design is None else point_of(job, design)
