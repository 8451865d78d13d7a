"""What stands beside battery and inverter: the step of the supply contract, and a generator."""

import math
from dataclasses import dataclass, field

from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.engine.variants import covering_step, variant_of_design
from optimizer.formulas.generator import running_hours
from optimizer.formulas.load import DAY_H
from optimizer.formulas.money import yearly_costs_factor
from optimizer.model.design import Design
from optimizer.model.job import Contract, Job
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True)
class SupplyHelp:
    """What the bank adds to a supply contract at its peaks, and what that saves.

    Parameters
    ----------
    contract : Contract
        The step of the design.
    covering : Contract or None
        The step that covers all peaks alone; None where none on offer does.
    help_w : float
        What the bank adds at the largest peak [W], 0 where the contract covers it.
    contract_saving : float or None
        What the contract costs less over the study period, in present value [currency].
    saving : float or None
        The same less what the equipment costs more: against the least cost under the covering
        step [currency]; None where no design stands under it.
    """

    contract: Contract
    covering: Contract | None
    help_w: float
    contract_saving: float | None
    saving: float | None = field(metadata=shown("net_saving"))


@dataclass(frozen=True, slots=True)
class Running:
    """What a generator does in one outage as long as the autonomy of the design.

    Parameters
    ----------
    outage_hours : int
        The outage [h].
    running_hours : int
        How long the generator runs, counted on the safe side [h].
    stored_l : float
        Fuel stored for it [l].
    keeps_years : int
        After which the fuel is renewed [a].
    """

    outage_hours: int
    running_hours: int
    stored_l: float
    keeps_years: int


def supply_help(search: Search, design: Design, hours: int) -> SupplyHelp | None:
    """Return what the bank adds to the contract, None where the site offers no steps.

    ``search`` is what found the design, ``hours`` the autonomy that was asked for [h].
    """
    job, step = search.job, design.contract
    if step is None:
        return None
    help_w = variant_of_design(job, design, demand_of(job)).largest_excess_w
    covering = covering_step(job)
    if covering is None:
        return SupplyHelp(step, None, help_w, None, None)
    site = job.site
    factor = yearly_costs_factor(site.discount_rate, 0, site.horizon_years)
    covered = [one for one in search.bounds if one.candidates.variant.contract == covering]
    under = search.least(hours, covered)
    return SupplyHelp(
        contract=step,
        covering=covering,
        help_w=help_w,
        contract_saving=(covering.cost_year - step.cost_year) * factor,
        saving=None if math.isinf(under) else under - design.life_cycle_cost,
    )


def running_of(job: Job, design: Design) -> Running | None:
    """Return what the generator of a design does, None where there is none."""
    rules = job.site.generator
    if design.generator is None or rules is None:
        return None
    run_h = running_hours(design.hours, rules.start_after_h, DAY_H - rules.quiet_hours)
    return Running(design.hours, run_h, design.fuel_l, rules.fuel_keeps_years)
