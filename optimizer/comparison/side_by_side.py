"""Alternatives side by side: the best design of each family and chemistry for the same hours."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from optimizer.answers.curve import Curve, Point, point_of
from optimizer.answers.purchases import Purchase
from optimizer.answers.questions import asked_hours, nothing_carries
from optimizer.comparison.balances import Balance, balances
from optimizer.comparison.study import MIXED, Best, side_of
from optimizer.engine.bank_checks import usable_new_wh
from optimizer.engine.cashflow import PURCHASES, RETURNS, Kind, Payment
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.engine.money_scale import cost_tolerance
from optimizer.engine.variants import variant_of_design
from optimizer.formulas.money import capital_recovery_factor
from optimizer.model.demand import Demand
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.limits import without_budgets
from optimizer.model.progress import Progress
from optimizer.model.result import Result
from optimizer.model.shown import shown


class AlternativeKind(StrEnum):
    """Which banks an alternative holds: of a family, of a chemistry, or of several families."""

    FAMILY = "family"
    CHEMISTRY = "chemistry"
    MIXED = "mixed"


class Part(StrEnum):
    """What a payment belongs to when two designs are set against each other."""

    INVERTER = "inverter"
    FIRST_BANK = "first_bank"
    LATER_BANKS = "later_banks"
    WORKS = "works"
    RUNNING = "running"
    RESIDUAL_VALUE = "residual_value"


class Outcome(StrEnum):
    """How the two cheapest alternatives stand to each other."""

    ALONE = "alone"
    TIE = "tie"
    LEVEL = "level"
    CHEAPER = "cheaper"


#: A difference below this share of the cheaper one's cost is less than prices and lives are known
#: to: nobody wins.
LEVEL_SHARE = 0.02
_MONTHS = 12


@dataclass(frozen=True, kw_only=True)
class Alternative:
    """The cheapest design of a family or a chemistry for the hours asked, and its figures.

    ``monthly_sum`` is the level sum at the end of each month, in money of today, that pays for
    all of it; ``residual_value`` what comes back at the end of the study period, in money of today.
    ``floor_m2`` is None where the price list does not say how large a unit is.
    """

    also = ("cost_per_hour", "cost_per_kwh", "mass_kg")

    name: str
    kind: AlternativeKind
    design: Point = field(metadata=shown(inline=True))
    balances: tuple[Balance, ...]
    parts: dict[Part, float]
    residual_value: float
    monthly_sum: float
    usable_kwh: float
    floor_m2: float | None

    @property
    def mass_kg(self) -> float:
        """Mass of bank and inverter set [kg]."""
        return self.design.mass_kg

    @property
    def life_cycle_cost(self) -> float:
        """Life-cycle cost of the design [currency]."""
        return self.design.life_cycle_cost

    @property
    def cost_per_hour(self) -> float:
        """Life-cycle cost over the hours carried [currency/h]."""
        return self.life_cycle_cost / self.design.hours

    @property
    def cost_per_kwh(self) -> float:
        """Life-cycle cost over what the first bank gives when new [currency/kWh]."""
        return self.life_cycle_cost / self.usable_kwh

    @property
    def later_purchases(self) -> tuple[Purchase, ...]:
        """What is bought after the start."""
        return tuple(one for one in self.design.purchases if one.year > 0)


@dataclass(frozen=True, kw_only=True, repr=False)
class Comparison(Result):
    """Alternatives and chemistries for the same hours, the cheapest first in each.

    ``alternatives`` are the families, and a mixed chain of banks where it is cheaper than each
    family alone; ``missing`` names families and chemistries that carry these hours with nothing.
    ``beyond_budget`` are families that carry them, but only above the job's limits of money.
    """

    also = (
        "site",
        "currency",
        "cheapest",
        "outcome",
        "cheaper_by",
        "differences",
        "caught_up_after",
    )

    job: Job = field(metadata=shown(hide=True))
    hours: int
    alternatives: tuple[Alternative, ...]
    chemistries: tuple[Alternative, ...]
    missing: tuple[str, ...]
    beyond_budget: tuple[Alternative, ...] = ()

    @property
    def cheapest(self) -> str:
        """Name of the cheapest alternative."""
        return self.winner.name

    @property
    def winner(self) -> Alternative:
        """The cheapest alternative."""
        return self.alternatives[0]

    @property
    def runner_up(self) -> Alternative | None:
        """The next alternative, None where only one carries these hours."""
        return self.alternatives[1] if len(self.alternatives) > 1 else None

    @property
    def cheaper_by(self) -> float:
        """By how much the winner is cheaper over the study period [currency]."""
        runner_up = self.runner_up
        return 0.0 if runner_up is None else runner_up.life_cycle_cost - self.winner.life_cycle_cost

    @property
    def outcome(self) -> Outcome:
        """How winner and runner-up stand to each other."""
        if self.runner_up is None:
            return Outcome.ALONE
        return outcome_of(self.job, self.winner.life_cycle_cost, self.cheaper_by)

    @property
    def differences(self) -> dict[Part, float]:
        """Return by part how much more the runner-up costs, in present value [currency]."""
        runner_up = self.runner_up
        if runner_up is None:
            return {}
        return {part: runner_up.parts[part] - self.winner.parts[part] for part in Part}

    @property
    def dearer_upfront(self) -> Alternative | None:
        """Which of winner and runner-up has the higher upfront cost; None if the same."""
        runner_up = self.runner_up
        if runner_up is None:
            return None
        gap = self.winner.design.upfront_cost - runner_up.design.upfront_cost
        if abs(gap) <= cost_tolerance(self.job):
            return None
        return self.winner if gap > 0 else runner_up

    @property
    def caught_up_after(self) -> int | None:
        """Years after which the one dearer at the start has cost no more, and stays so.

        Counted in money of today, without the residual value at the end; None if it never does.
        """
        runner_up, dearer = self.runner_up, self.dearer_upfront
        if runner_up is None or dearer is None:
            return None
        other = runner_up if dearer is self.winner else self.winner
        behind = [
            high.time_years
            for high, low in zip(dearer.balances, other.balances, strict=True)
            if high.real > low.real + cost_tolerance(self.job)
        ]
        last = max(behind, default=-1)
        return last + 1 if last < self.job.site.horizon_years else None

    def beside(self, design: Design) -> tuple[Alternative, ...]:
        """Return a design for these hours, then the best of every other side.

        Those within the job's limits of money come first, of these the cheapest.
        """
        own = side_of(design)
        kind = AlternativeKind.MIXED if own == MIXED else AlternativeKind.FAMILY
        others = [one for one in (*self.alternatives, *self.beyond_budget) if one.name != own]
        return (alternative(self.job, own, kind, design), *others)


def outcome_of(job: Job, cost: float, margin: float) -> Outcome:
    """Return how two designs stand to each other whose costs differ by a margin [currency]."""
    if abs(margin) <= cost_tolerance(job):
        return Outcome.TIE
    return Outcome.LEVEL if abs(margin) < LEVEL_SHARE * abs(cost) else Outcome.CHEAPER


def only(job: Job, *, chemistry: str) -> Job:
    """Return a job whose price list holds the batteries of one chemistry.

    An inverter that shares a box with batteries of another goes with them.
    """
    catalog = job.catalog
    batteries = tuple(one for one in catalog.batteries if one.chemistry == chemistry)
    others = {one.built_into for one in catalog.batteries} - {one.built_into for one in batteries}
    inverters = tuple(one for one in catalog.inverters if one.inverter not in others)
    return replace(job, catalog=replace(catalog, batteries=batteries, inverters=inverters))


def compare(
    job: Job,
    hours: int | None = None,
    *,
    by_chemistry: bool = True,
    progress: Progress | None = None,
) -> Comparison:
    """Return the best design of each family and each chemistry for the same hours.

    Parameters
    ----------
    job : Job
        From `load`. Its limits hold.
    hours : int, optional
        Autonomy that each carries [h]; the site's target where left out.
    by_chemistry : bool
        Whether the best of each chemistry is looked for too.
    progress : callable, optional
        Called while looking for what would help, where nothing fits.

    Raises
    ------
    NoDesignError
        No family carries these hours.

    Examples
    --------
    >>> from optimizer import load
    >>> compare(load("clinic")).winner.name
    'lithium'
    """
    job, hours = asked_hours(job, hours)
    return _side_by_side(job, hours, Best(job, hours).by_side, by_chemistry, progress)


def compare_curves(
    job: Job, hours: int, overall: Curve, families: Mapping[str, Curve]
) -> Comparison:
    """Return what `compare` does without chemistries, of the job's curves of life-cycle cost.

    The cheapest design that carries some hours is a point of its curve.
    """
    best = overall.at(hours)
    own = {name: curve.at(hours) for name, curve in families.items()}
    sides = {name: point for name, point in own.items() if point is not None}
    if best is not None and side_of(best) == MIXED:
        sides[MIXED] = best
    return _side_by_side(job, hours, sides)


def _side_by_side(
    job: Job,
    hours: int,
    sides: Mapping[str, Design],
    by_chemistry: bool = False,
    progress: Progress | None = None,
) -> Comparison:
    if not sides:
        raise nothing_carries(job, hours, progress)
    chemistries: dict[str, Design] = {}
    offered = dict.fromkeys(one.chemistry for one in job.catalog.batteries if by_chemistry)
    for chemistry in offered:
        design = Search(only(job, chemistry=chemistry)).cheapest(hours)
        if design is not None:
            chemistries[chemistry] = design
    dear = _beyond_budget(job, hours, [one for one in job.catalog.families if one not in sides])
    found = {**sides, **chemistries, **dear}
    return Comparison(
        job=job,
        hours=hours,
        alternatives=_cheapest_first(job, sides, AlternativeKind.FAMILY),
        chemistries=_cheapest_first(job, chemistries, AlternativeKind.CHEMISTRY),
        missing=tuple(name for name in (*job.catalog.families, *offered) if name not in found),
        beyond_budget=_cheapest_first(job, dear, AlternativeKind.FAMILY),
    )


def _beyond_budget(job: Job, hours: int, families: list[str]) -> dict[str, Design]:
    """Return the cheapest design of each of some families, whatever it costs."""
    site = job.site
    if site.budget is None and site.lifetime_budget is None:
        return {}
    free = without_budgets(job)
    designs = {family: Search(free, family).cheapest(hours) for family in families}
    return {family: design for family, design in designs.items() if design is not None}


def _cheapest_first(
    job: Job, designs: Mapping[str, Design], kind: AlternativeKind
) -> tuple[Alternative, ...]:
    demand = demand_of(job)
    found = [
        alternative(job, name, AlternativeKind.MIXED if name == MIXED else kind, design, demand)
        for name, design in designs.items()
    ]
    return tuple(sorted(found, key=lambda one: one.life_cycle_cost))


def alternative(
    job: Job, name: str, kind: AlternativeKind, design: Design, demand: Demand | None = None
) -> Alternative:
    """Return a design with all the figures that a comparison shows."""
    demand = demand or demand_of(job)
    point = design if isinstance(design, Point) else point_of(job, design)
    flow, site = point.payments, job.site
    last = site.horizon_years
    back = -sum(one.amount for one in flow if one.kind in RETURNS and one.time_years == last)
    bank = design.banks[0]
    variant = variant_of_design(job, design, demand)
    usable_wh = usable_new_wh(variant, bank, variant.stretches(design.hours))
    return Alternative(
        name=name,
        kind=kind,
        design=point,
        balances=balances(job, flow),
        parts=_parts(job, flow),
        residual_value=back,
        monthly_sum=monthly_sum(design.life_cycle_cost, site.discount_rate, last),
        usable_kwh=usable_wh / 1000,
        floor_m2=bank.floor_m2,
    )


def _parts(job: Job, flow: tuple[Payment, ...]) -> dict[Part, float]:
    """Return the present value of each part; together they are the life-cycle cost."""
    parts = dict.fromkeys(Part, 0.0)
    for payment in flow:
        parts[_part_of(payment)] += payment.present_value(job.site.discount_rate)
    return parts


def _part_of(payment: Payment) -> Part:
    if payment.kind in RETURNS:
        return Part.RESIDUAL_VALUE
    if payment.kind is Kind.BATTERY:
        return Part.FIRST_BANK if payment.year == 0 else Part.LATER_BANKS
    if payment.kind is Kind.WORKS:
        return Part.WORKS
    is_set = payment.kind in PURCHASES and payment.kind is not Kind.FUEL
    return Part.INVERTER if is_set else Part.RUNNING


def monthly_sum(life_cycle_cost: float, discount_rate: float, years: int) -> float:
    """Return the level sum at each month's end whose present value is a life-cycle cost.

    A month's factor of interest is the twelfth root of a year's, which is real [1/a].

    >>> round(monthly_sum(1200, 0.0, 10), 2), round(monthly_sum(5000, 0.03, 10), 2)
    (10.0, 48.19)
    """
    monthly = math.expm1(math.log1p(discount_rate) / _MONTHS)
    return life_cycle_cost * capital_recovery_factor(monthly, _MONTHS * years)
