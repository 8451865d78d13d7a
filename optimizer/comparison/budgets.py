"""What money buys: the staircase of hours over a budget, upfront or over the study period.

The least upfront cost of carrying some hours is the life-cycle cost to one for whom later money
is worth nothing. A step is where the next hour comes within reach; the requirement whose lifting
lowers that step most is what made it.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from itertools import groupby

from optimizer.answers.purchases import Purchase, Replacement, purchases, replacements
from optimizer.answers.questions import not_negative, search_for
from optimizer.answers.stops import Stop, looks_beyond, stop_at
from optimizer.engine import cashflow
from optimizer.engine.curve import Search
from optimizer.engine.upfront import careless_of_later
from optimizer.formulas.rounding import minor_units
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.design import Design
from optimizer.model.job import LONGEST_HOURS, Job
from optimizer.model.limits import without_budgets
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.requirement import Requirement
from optimizer.model.result import Listed, Result
from optimizer.model.shown import shown

#: A requirement made a step where lifting it takes at least this share off the step.
_MADE_IT = 0.1
_LENIENT = 1 + RELATIVE_TOLERANCE


@dataclass(frozen=True, slots=True)
class Cause:
    """What made a step: a requirement, and how much lower the step is without it [currency].

    ``requirement`` is None where no requirement but the energy itself did: the next bank or set
    for more hours costs what it costs; with ``fuel`` nothing but more fuel is bought.
    """

    requirement: Requirement | None
    lower_by: float
    fuel: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """From this budget on these hours are within reach, with the cheapest design at them.

    ``step_up`` is how far below the step before it stood [currency]: the first step stands above
    nothing. ``price_of_hour`` is the step over the hours it adds. ``later`` is what is bought
    after the start, ``replacements`` the equipment in it.
    """

    budget: float
    hours: int = field(metadata=shown(hide=True))
    design: Design = field(metadata=shown(inline=True))
    step_up: float
    price_of_hour: float
    cause: Cause
    later: tuple[Purchase, ...]
    replacements: tuple[Replacement, ...]


@dataclass(frozen=True, repr=False)
class Staircase(Result):
    """All steps of a budget, money and hours rising.

    ``stopped_by`` is why nothing longer is shown, None without steps.
    """

    also = ("currency",)

    job: Job = field(metadata=shown(hide=True))
    family: str | None
    lifetime: bool
    steps: tuple[Step, ...]
    stopped_by: Stop | None = None

    @property
    def runs(self) -> tuple[tuple[Step, ...], ...]:
        """The steps, neighbours together that differ in the fuel stored alone."""
        steps = groupby(self.steps, lambda one: one.design.equipment)
        return tuple(tuple(run) for _, run in steps)

    def at(self, budget: float) -> Step | None:
        """Return the step that a budget stands on, None below the first."""
        within = [step for step in self.steps if step.budget <= budget * _LENIENT]
        return within[-1] if within else None


@dataclass(frozen=True, slots=True)
class Bought:
    """What one budget buys; ``design`` is None where it buys nothing.

    ``next_budget`` is the money at which the next hour comes within reach, None at the end.
    """

    budget: float
    design: Design | None
    later: tuple[Purchase, ...]
    replacements: tuple[Replacement, ...]
    next_budget: float | None


@dataclass(frozen=True, slots=True, repr=False)
class BudgetTable(Listed[Bought]):
    """What each of many budgets buys, in the order asked; the rest as in `Staircase`."""

    job: Job
    family: str | None
    lifetime: bool
    rows: tuple[Bought, ...]
    stopped_by: Stop | None = None


def staircase(
    job: Job,
    *,
    lifetime: bool = False,
    family: str | None = None,
    later_limit: float | None = None,
    progress: Progress | None = None,
) -> Staircase:
    """Return what a budget buys, from nothing to the end of the curve, step by step.

    Parameters
    ----------
    job : Job
        From `load`. Its budgets are lifted.
    lifetime : bool
        Follow the life-cycle cost instead of the upfront cost.
    family : str, optional
        Only chemistries of this family.
    later_limit : float, optional
        What may be bought in any later year, at most [currency of today].
    progress : callable, optional
        Called with steps done and all steps.

    Returns
    -------
    Staircase
        Without steps where nothing fits at any hour.

    Examples
    --------
    >>> from optimizer import choose, load
    >>> job = load("house")
    >>> step = staircase(job).at(5000)
    >>> choose(job, budget=step.budget).design.hours == step.hours
    True
    """
    budgets = _Budgets(job, lifetime, family, later_limit)
    treads = [(money, design) for money in budgets.treads if (design := budgets.buys(money))]
    requirements = one_by_one(tuple(Requirement), progress)
    lifted = {one: budgets.least_without(one) for one in requirements}
    steps = []
    reached, below, standing = 0, 0.0, None
    for money, design in treads:
        height = money - below
        later, renewed = budgets.later(design)
        fuel = standing is not None and standing.equipment == design.equipment
        made_by = _cause(lifted, reached, height, money)
        steps.append(
            Step(
                budget=money,
                hours=design.hours,
                design=design,
                step_up=height,
                price_of_hour=height / (design.hours - reached),
                cause=Cause(None, 0.0, fuel=True) if fuel else made_by,
                later=later,
                replacements=renewed,
            )
        )
        reached, below, standing = design.hours, money, design
    return Staircase(budgets.job, family, lifetime, tuple(steps), budgets.stopped_by)


def budget_table(
    job: Job,
    budgets: Iterable[float],
    *,
    lifetime: bool = False,
    family: str | None = None,
    later_limit: float | None = None,
    beyond: bool = False,
    progress: Progress | None = None,
) -> BudgetTable:
    """Return what each of many budgets buys: the longest hours, then the least life-cycle cost.

    Parameters
    ----------
    job : Job
        From `load`. Its budgets are lifted.
    budgets : iterable of float
        [currency].
    lifetime, family, later_limit, progress
        As in `staircase`.
    beyond : bool
        Whether money is followed beyond the end of the site's curve, as in `choose`.

    Examples
    --------
    >>> from optimizer import load
    >>> [row.design is not None for row in budget_table(load("house"), [1000, 5000])]
    [False, True]
    """
    wanted = list(budgets)
    for budget in wanted:
        not_negative("budget", budget)
    known = _Budgets(job, lifetime, family, later_limit)
    far = known.buys(max(wanted, default=0.0)) if beyond else None
    if far is not None and looks_beyond(known.job, far.hours):
        known = _Budgets(job.with_site(max_hours=LONGEST_HOURS), lifetime, family, later_limit)
    found = []
    for budget in one_by_one(wanted, progress):
        design = known.buys(budget)
        found.append(
            Bought(
                budget,
                design,
                *known.later(design),
                next((money for money in known.treads if money > budget), None),
            )
        )
    return BudgetTable(known.job, family, lifetime, tuple(found), known.stopped_by)


class _Budgets:
    """What money buys of one kind, upfront or over the study period, up to the curve's end."""

    def __init__(
        self, job: Job, lifetime: bool, family: str | None, later_limit: float | None
    ) -> None:
        not_negative("--later-limit", later_limit)
        if later_limit is not None:
            job = job.with_site(later_limit=later_limit)
        self._priced, self._lifetime = search_for(without_budgets(job), family), lifetime
        self.job = job = self._priced.job
        self._search = Search(job if lifetime else careless_of_later(job), family)
        self._points = list(self._search.points())

    @property
    def stopped_by(self) -> Stop | None:
        """Why nothing longer is bought, None where nothing is."""
        return stop_at(self._priced, self._points[-1].hours) if self._points else None

    @cached_property
    def treads(self) -> tuple[float, ...]:
        """The money at which a longer autonomy comes within reach, rounded up to what is paid."""
        return tuple(dict.fromkeys(rounded_up(self.job, self._money(one)) for one in self._points))

    def _money(self, design: Design) -> float:
        return design.life_cycle_cost if self._lifetime else design.upfront_cost

    def buys(self, budget: float) -> Design | None:
        """Return the longest autonomy that a budget buys, then the cheapest design at it."""
        within = [one for one in self._points if self._money(one) <= budget * _LENIENT]
        if not within:
            return None
        if self._lifetime:
            return within[-1]
        return self._priced.within(budget).longest()

    def least_without(self, requirement: Requirement) -> dict[int, float]:
        """Return for each hour the least money that carries it if a requirement did not stand."""
        search = self._search.otherwise(lifted=requirement)
        least: dict[int, float] = {}
        best, options = math.inf, search.staircase()
        for hours in range(self.job.site.max_hours, 0, -1):
            best = min([best, *(one.cost for one in options if one.hours == hours)])
            least[hours] = best
        return least

    def later(self, design: Design | None) -> tuple[tuple[Purchase, ...], tuple[Replacement, ...]]:
        """Return what a design buys after the start, by year and by what is renewed."""
        flow = () if design is None else cashflow.payments(self.job, design)
        return tuple(one for one in purchases(flow) if one.year > 0), replacements(flow)


def rounded_up(job: Job, money: float) -> float:
    """Return what is paid: no less than a sum, in the smallest unit of the currency.

    Half of what a budget may be passed by is taken off first: rounding makes no further coin.
    """
    unit = 10.0 ** minor_units(job.site.currency)
    return math.ceil(money * (1 - RELATIVE_TOLERANCE / 2) * unit) / unit


def _cause(
    lifted: dict[Requirement, dict[int, float]], reached: int, height: float, money: float
) -> Cause:
    """Return the requirement whose lifting lowers a step most."""
    below = money - height
    best = Cause(None, 0.0)
    for requirement, least in lifted.items():
        start = least[reached] if reached else 0.0
        lower = height - (least[reached + 1] - min(start, below))
        if lower > max(best.lower_by, _MADE_IT * height):
            best = Cause(requirement, lower)
    return best
