"""A bank and inverter that stand already, or that were quoted: how long, what fails, what for.

The rule throughout: the strings of one bank are of one age. New strings beside old lead-acid ones
age as the old ones do; a bank that is mixed is judged by its oldest string.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from optimizer.answers.installed import (
    Refill,
    ServiceLife,
    SetAside,
    bank_of,
    design_of,
    installed,
    refill_of,
    service_life,
    set_aside_of,
    within_points,
)
from optimizer.answers.opinion import Opinion, second_opinion
from optimizer.engine import cashflow
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.engine.verify import checks
from optimizer.formulas.ageing import health
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.load import worst_window_wh
from optimizer.formulas.rate import uneven_load_factor
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE, whole_years
from optimizer.model.design import Design
from optimizer.model.existing import Existing
from optimizer.model.job import Job
from optimizer.simulate import RideThrough, at_health

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.demand import Demand

    Floats = NDArray[np.float64]

Word = Literal["meets", "meets for now", "misses"]

#: Autonomies looked at [h]; the longest that a site may ask for.
_HOURS = np.arange(1, 241)


@dataclass(frozen=True, slots=True)
class HoursAt:
    """Hours of the bank at one age, under the loads of today.

    Parameters
    ----------
    stage : str
        "new", "now" or "end of life".
    age_years, health : float
        Age [a] and share of the new capacity left.
    planned_hours : int
        The longest whole hours that the planning conditions allow, margin included [h].
    simulated : RideThrough
        Hour by hour from every start, without margin.
    """

    stage: str
    age_years: float
    health: float
    planned_hours: int
    simulated: RideThrough


@dataclass(frozen=True, slots=True)
class Distance:
    """Where the design stands against the curve of what can be bought today.

    Parameters
    ----------
    hours : int
        What is compared [h]: what the design, bought new, is planned for in every year.
    carried : bool
        False where it is planned for no hour: ``hours`` is then the site's target.
    upfront_cost : float
        Paid, or what the price list asks for the design today [currency].
    life_cycle_cost : float or None
        Replaced by its like whenever worn out [currency]; None where it lasts less than a year.
    least, by_upfront, by_life_cycle : Design or None
        The cheapest of the same hours; the longest for the same money at the start, and over
        the horizon. None where nothing is on offer.
    """

    hours: int
    carried: bool
    upfront_cost: float
    life_cycle_cost: float | None
    least: Design | None
    by_upfront: Design | None
    by_life_cycle: Design | None


@dataclass(frozen=True)
class Judgement:
    """What is to be said about a bank and inverter.

    Parameters
    ----------
    job : Job
        The site, without its limits of money.
    existing : Existing
        What was judged.
    design : Design
        The same from today to the end of the bank's life or of the horizon; its hours are those
        asked for.
    word : str
        "meets" the hours asked for through its service or the horizon, "meets for now", or
        "misses".
    hours : tuple of HoursAt
        New, now, at the end of life.
    checks : tuple of Check
        Every requirement with what is required and provided.
    carries_years : int
        Years from today through which the planning conditions hold for the hours asked for, no
        more than the bank's service or the horizon; loads grow as the site says.
    life, refill, set_aside, distance, opinion
        See their classes.
    """

    job: Job
    existing: Existing
    design: Design
    word: Word
    hours: tuple[HoursAt, HoursAt, HoursAt]
    checks: tuple[Check, ...]
    carries_years: int
    life: ServiceLife
    refill: Refill
    set_aside: tuple[SetAside, ...]
    distance: Distance
    opinion: Opinion

    @property
    def failed(self) -> tuple[Check, ...]:
        """The requirements that are not met."""
        return tuple(check for check in self.checks if not check.met)


def judge(job: Job, existing: Existing, *, hours: int | None = None) -> Judgement:
    """Judge a bank and inverter that stand already, or that somebody has quoted.

    Parameters
    ----------
    job : Job
        The site; limits of money are left out.
    existing : Existing
        What stands there.
    hours : int, optional
        Autonomy asked for [h]; the site's target where not given.

    Raises
    ------
    InputError
        The bank is older than it can last here.
    """
    job = job.with_site(budget=None, lifetime_budget=None, later_limit=None)
    demand = demand_of(job)
    target = job.site.target_hours if hours is None else hours
    life = service_life(job, existing, demand)
    design = installed(job, existing, target)
    bank = design.banks[0]
    years = np.arange(float(bank.end))
    needed = _health_needed(job, existing, design, demand, years)
    stages = _hours_at(job, existing, life, needed[0])
    soh = existing.battery.end_of_life_soh
    left = np.asarray(health(years - bank.start + 1, life.years, soh))
    # what is met at longer hours is met here too: the hardest of them need not be
    enough = needed[:, target - 1 :].min(axis=1)
    strained = enough / left
    hardest = int(strained.argmax())
    short = np.flatnonzero(strained > 1 + RELATIVE_TOLERANCE)
    opinion = second_opinion(job, design)
    energy = (
        (None, enough[0], stages[1].health),
        (hardest, enough[hardest], left[hardest]),
    )
    found = tuple(_checks(job, design, energy, demand=demand, opinion=opinion))
    failed = [check.kind for check in found if not check.met]
    word: Word = "misses" if failed else "meets"
    if failed == [CheckKind.ENERGY] and short[0] > 0:
        word = "meets for now"
    return Judgement(
        job,
        existing,
        design,
        word,
        stages,
        found,
        int(short[0]) if short.size else bank.end,
        life,
        refill_of(job, existing),
        tuple(set_aside_of(job, existing, life)),
        _distance(job, existing, life, demand, target),
        opinion,
    )


def _health_needed(
    job: Job, existing: Existing, design: Design, demand: Demand, years: Floats
) -> Floats:
    """Return the health at which the bank just meets each autonomy, shape (years, hours)."""
    site, inverter = job.site, design.inverter
    bank = replace(bank_of(existing), battery=within_points(job, existing.battery))
    usable, energy = [], []
    for hours in _HOURS.tolist():
        uneven = uneven_load_factor(demand.profiles, hours, bank.battery.peukert)
        nominal = cashflow.nominal_wh(job, bank, hours)
        usable.append(nominal * bank.battery.max_dod / uneven)
        energy.append(worst_window_wh(demand.profiles, hours))
    growth = (1 + site.load_growth) ** years[:, None]
    drawn: Floats = drawn_wh(
        np.array(energy) * growth,
        _HOURS,  # type: ignore[arg-type]
        inverter.efficiency,  # type: ignore[arg-type]
        existing.units * inverter.no_load_w,  # type: ignore[arg-type]
        site.design_margin,
    )
    needed: Floats = drawn / np.array(usable)
    return needed


def _planned(needed: Floats, share_left: float) -> int:
    met = np.flatnonzero(needed <= share_left * (1 + RELATIVE_TOLERANCE))
    return int(_HOURS[met[-1]]) if met.size else 0


def _hours_at(
    job: Job, existing: Existing, life: ServiceLife, needed: Floats
) -> tuple[HoursAt, HoursAt, HoursAt]:
    today = design_of(job, existing, 1, (bank_of(existing),))
    soh = existing.battery.end_of_life_soh

    def at(stage: str, age: float) -> HoursAt:
        left = float(health(age, life.years, soh))
        ride = at_health(job, today, left)
        return HoursAt(stage, age, left, _planned(needed, left), ride)

    return at("new", 0.0), at("now", existing.age_years), at("end of life", life.years)


def _checks(
    job: Job,
    design: Design,
    energy: tuple[tuple[int | None, float, float], ...],
    *,
    demand: Demand,
    opinion: Opinion,
) -> list[Check]:
    """Return every requirement; first energy: year or today, health needed and health there."""
    hours, bank = design.hours, design.banks[0]
    battery = within_points(job, bank.battery)
    period = replace(bank, battery=battery, start=0, end=1)
    uneven = uneven_load_factor(demand.profiles, hours, battery.peukert)
    new_kwh = cashflow.nominal_wh(job, period, hours) * battery.max_dod / uneven / 1000
    found = [
        Check(
            CheckKind.ENERGY_TODAY if year is None else CheckKind.ENERGY,
            required=float(enough) * new_kwh,
            provided=float(left) * new_kwh,
            year=year,
            hours=hours,
        )
        for year, enough, left in energy
    ]
    plain = replace(design, banks=(period,))
    for check in checks(job, plain, demand):
        kept = check.requirement is not None or check.kind is CheckKind.SERIES
        if kept and check.kind is not CheckKind.LOWEST_TEMPERATURE:
            found.append(replace(check, bank=None))
    coldest = max(bank.battery.min_charge_degc, bank.battery.cold_points[0][0])
    for kind, required, provided in (
        (CheckKind.INVERTER_UNITS, design.inverter.max_units, design.inverter_units),
        (CheckKind.LOWEST_TEMPERATURE, coldest, job.site.min_degc),
    ):
        found.append(Check(kind, required=required, provided=provided))
    balance = opinion.balance
    if balance is not None:
        needed, amps = balance.amps_needed, balance.amps_charger
        found.append(Check(CheckKind.SCHEDULED_CUTS_CLOSE, required=needed, provided=amps))
        if balance.closes:
            carried = float(balance.cuts_carried)
            found.append(Check(CheckKind.SCHEDULED_CUTS_CARRIED, required=1.0, provided=carried))
    return found


def _distance(
    job: Job, existing: Existing, life: ServiceLife, demand: Demand, target: int
) -> Distance:
    horizon, whole = job.site.horizon_years, whole_years(life.years)
    step = min(max(1, whole), horizon)
    starts = range(0, horizon, step)
    bank = replace(
        bank_of(existing),
        battery=within_points(job, existing.battery),
        service_life_years=life.years,
    )
    chain = tuple(replace(bank, start=y, end=min(y + step, horizon)) for y in starts)
    bought = design_of(job, existing, target, chain)
    age = np.array([y - bank.start + 1 for bank in chain for y in range(bank.start, bank.end)])
    left = np.asarray(health(age, life.years, existing.battery.end_of_life_soh))
    needed = _health_needed(job, existing, bought, demand, np.arange(float(horizon)))
    hours = min(_planned((needed / left[:, None]).max(axis=0), 1.0), job.site.max_hours)
    extra = 0.0 if existing.paid is None else existing.paid - bought.upfront_cost
    upfront = bought.upfront_cost + extra
    cost = bought.life_cycle_cost + extra if whole >= 1 else None

    def within(**limits: float) -> Design | None:
        return Search(job.with_site(**limits)).longest()

    return Distance(
        hours or target,
        hours > 0,
        upfront,
        cost,
        Search(job).cheapest(hours or target),
        within(budget=upfront),
        None if cost is None else within(lifetime_budget=cost),
    )
