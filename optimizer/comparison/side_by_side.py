"""Alternatives side by side: the best design of each family and chemistry for the same hours."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from optimizer.answers.purchases import purchases
from optimizer.engine import cashflow
from optimizer.engine.cashflow import Payment
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.formulas.money import capital_recovery_factor
from optimizer.formulas.rate import uneven_load_factor
from optimizer.formulas.tolerance import COST_TOLERANCE
from optimizer.model.design import Design
from optimizer.model.job import Job

if TYPE_CHECKING:
    from optimizer.answers.purchases import Purchase
    from optimizer.engine.solver import SolverName
    from optimizer.model.demand import Demand
    from optimizer.model.job import Battery

Kind = Literal["family", "chemistry"]
Part = Literal["inverter", "first bank", "later banks", "works", "running", "residual value"]

#: What the lines of the cash flow belong to when two designs are set against each other.
_PART_OF: dict[str, Part] = {
    "inverter": "inverter",
    "wiring": "inverter",
    "works": "works",
    "standby": "running",
    "upkeep": "running",
    "losses": "running",
    "value": "residual value",
}
PARTS: tuple[Part, ...] = (
    "inverter",
    "first bank",
    "later banks",
    "works",
    "running",
    "residual value",
)
_MONTHS = 12


@dataclass(frozen=True, slots=True)
class Balance:
    """What has been paid by a time, without the residual value at the end [currency].

    ``real`` in money of today, ``nominal`` in the money of each year, ``present`` discounted;
    ``bought`` names equipment paid at that time.
    """

    time_years: int
    real: float
    nominal: float
    present: float
    bought: tuple[str, ...]


@dataclass(frozen=True)
class Alternative:
    """The cheapest design of a family or a chemistry for the hours asked, and its figures.

    ``monthly_sum`` is the level sum at the end of each month, in money of today, that pays for
    all of it; ``residual_value`` what comes back at the end of the horizon, in money of today.
    ``floor_m2`` is None where the price list does not say how large a unit is.
    """

    name: str
    kind: Kind
    design: Design
    payments: tuple[Payment, ...]
    balances: tuple[Balance, ...]
    parts: dict[Part, float]
    residual_value: float
    monthly_sum: float
    usable_kwh: float
    mass_kg: float
    floor_m2: float | None

    @property
    def cost_per_hour(self) -> float:
        """Life-cycle cost over the hours carried [currency/h]."""
        return self.design.life_cycle_cost / self.design.hours

    @property
    def cost_per_kwh(self) -> float:
        """Life-cycle cost over what the first bank gives when new [currency/kWh]."""
        return self.design.life_cycle_cost / self.usable_kwh

    @property
    def later_purchases(self) -> tuple[Purchase, ...]:
        """What is bought after the start."""
        return tuple(one for one in purchases(self.payments) if one.year > 0)


@dataclass(frozen=True)
class Comparison:
    """Families and chemistries for the same hours, the cheapest first in each.

    ``missing`` names those that nothing on offer lets carry these hours.
    """

    job: Job
    hours: int
    families: tuple[Alternative, ...]
    chemistries: tuple[Alternative, ...]
    missing: tuple[str, ...]

    @property
    def winner(self) -> Alternative:
        """The cheapest family's design."""
        return self.families[0]

    @property
    def runner_up(self) -> Alternative | None:
        """The next family's design, None where only one family carries these hours."""
        return self.families[1] if len(self.families) > 1 else None

    @property
    def margin(self) -> float:
        """By how much the winner is cheaper over the horizon [currency]."""
        runner_up = self.runner_up
        return 0.0 if runner_up is None else runner_up.design.life_cycle_cost - self._winning_cost

    @property
    def _winning_cost(self) -> float:
        return self.winner.design.life_cycle_cost

    @property
    def is_tie(self) -> bool:
        """Whether the two cost the same."""
        return self.runner_up is not None and self.margin <= COST_TOLERANCE

    def differences(self) -> dict[Part, float]:
        """Return by part how much more the runner-up costs, in present value [currency]."""
        runner_up = self.runner_up
        if runner_up is None:
            return {}
        return {part: runner_up.parts[part] - self.winner.parts[part] for part in PARTS}

    @property
    def dearer_at_start(self) -> Alternative | None:
        """Which of winner and runner-up asks for more money at the start; None if the same."""
        runner_up = self.runner_up
        if runner_up is None:
            return None
        gap = self.winner.design.upfront_cost - runner_up.design.upfront_cost
        if abs(gap) <= COST_TOLERANCE:
            return None
        return self.winner if gap > 0 else runner_up

    @property
    def caught_up_after(self) -> int | None:
        """Years after which the one dearer at the start has cost no more, and stays so.

        Counted in money of today, without the residual value at the end; None if it never does.
        """
        runner_up, dearer = self.runner_up, self.dearer_at_start
        if runner_up is None or dearer is None:
            return None
        other = runner_up if dearer is self.winner else self.winner
        behind = [
            high.time_years
            for high, low in zip(dearer.balances, other.balances, strict=True)
            if high.real > low.real + COST_TOLERANCE
        ]
        last = max(behind, default=-1)
        return last + 1 if last < self.job.site.horizon_years else None


def families_of(job: Job) -> tuple[str, ...]:
    """Return the families of the price list in its order."""
    return tuple(dict.fromkeys(battery.family for battery in job.catalog.batteries))


def only(job: Job, *, chemistry: str) -> Job:
    """Return a job whose price list holds the batteries of one chemistry."""
    batteries = tuple(one for one in job.catalog.batteries if one.chemistry == chemistry)
    return replace(job, catalog=replace(job.catalog, batteries=batteries))


def compare_sides(job: Job, hours: int, solver: SolverName = "highs") -> Comparison | None:
    """Return the best design of each family and each chemistry for the same hours.

    Parameters
    ----------
    job : Job
        The site and its price list; its limits hold.
    hours : int
        Autonomy that each carries [h].
    solver : {"highs", "cbc"}
        Which solver proves the designs.

    Returns
    -------
    Comparison or None
        None where no family has a design.
    """
    demand = demand_of(job)
    missing: list[str] = []
    families: list[Alternative] = []
    chemistries: list[Alternative] = []
    for family in families_of(job):
        design = Search(job, family, solver).cheapest(hours)
        if design is None:
            missing.append(family)
        else:
            families.append(alternative(job, family, "family", design, demand))
    for chemistry in dict.fromkeys(one.chemistry for one in job.catalog.batteries):
        design = Search(only(job, chemistry=chemistry), None, solver).cheapest(hours)
        if design is None:
            missing.append(chemistry)
        else:
            chemistries.append(alternative(job, chemistry, "chemistry", design, demand))
    if not families:
        return None

    def cost(one: Alternative) -> float:
        return one.design.life_cycle_cost

    return Comparison(
        job,
        hours,
        tuple(sorted(families, key=cost)),
        tuple(sorted(chemistries, key=cost)),
        tuple(missing),
    )


def alternative(
    job: Job, name: str, kind: Kind, design: Design, demand: Demand | None = None
) -> Alternative:
    """Return a design with all the figures that a comparison shows."""
    demand = demand or demand_of(job)
    flow = cashflow.payments(job, design, demand)
    site = job.site
    last = site.horizon_years
    back = -sum(one.amount for one in flow if one.kind == "value" and one.time_years == last)
    bank = design.banks[0]
    uneven = float(uneven_load_factor(demand.profiles, design.hours, bank.battery.peukert))
    usable_wh = cashflow.nominal_wh(job, bank, design.hours) * bank.battery.max_dod / uneven
    return Alternative(
        name=name,
        kind=kind,
        design=design,
        payments=flow,
        balances=balances(job, flow),
        parts=_parts(job, flow),
        residual_value=back,
        monthly_sum=monthly_sum(design.life_cycle_cost, site.discount_rate, last),
        usable_kwh=usable_wh / 1000,
        mass_kg=bank.units * bank.battery.mass_kg + design.inverter_units * design.inverter.mass_kg,
        floor_m2=floor_m2(bank.battery, bank.units),
    )


def balances(job: Job, flow: tuple[Payment, ...]) -> tuple[Balance, ...]:
    """Return what has been paid by each time from the start to the horizon."""
    site = job.site
    real = nominal = present = 0.0
    found = []
    by_time: defaultdict[int, list[Payment]] = defaultdict(list)
    for payment in flow:
        if payment.kind != "value" or payment.time_years < site.horizon_years:
            by_time[payment.time_years].append(payment)
    for time_years in range(site.horizon_years + 1):
        for payment in by_time[time_years]:
            real += payment.amount
            nominal += payment.amount * (1 + site.inflation) ** time_years
            present += payment.present_value(site.discount_rate)
        bought = tuple(
            one.item for one in by_time[time_years] if one.kind in {"inverter", "battery"}
        )
        found.append(Balance(time_years, real, nominal, present, bought))
    return tuple(found)


def _parts(job: Job, flow: tuple[Payment, ...]) -> dict[Part, float]:
    """Return the present value of each part; together they are the life-cycle cost."""
    parts: dict[Part, float] = dict.fromkeys(PARTS, 0.0)
    for payment in flow:
        part: Part = (
            ("first bank" if payment.year == 0 else "later banks")
            if payment.kind == "battery"
            else _PART_OF[payment.kind]
        )
        parts[part] += payment.present_value(job.site.discount_rate)
    return parts


def monthly_sum(life_cycle_cost: float, discount_rate: float, years: int) -> float:
    """Return the level sum at each month's end whose present value is a life-cycle cost.

    Parameters
    ----------
    life_cycle_cost : float
        Present value [currency].
    discount_rate : float
        Real rate [1/a]; a month's is its twelfth root.
    years : int
        Over which it is paid [a].

    Examples
    --------
    >>> round(monthly_sum(1200, 0.0, 10), 2), round(monthly_sum(5000, 0.03, 10), 2)
    (10.0, 48.19)
    """
    monthly = math.expm1(math.log1p(discount_rate) / _MONTHS)
    return life_cycle_cost * capital_recovery_factor(monthly, _MONTHS * years)


def floor_m2(battery: Battery, units: int) -> float | None:
    """Return the floor that units cover side by side, without gaps [m²]; None if not known."""
    if battery.length_mm is None or battery.width_mm is None:
        return None
    return units * battery.length_mm * battery.width_mm / 1e6
