"""One design, fully explained: what binds, what is paid when, what is bought next."""

import math
from dataclasses import dataclass, field, replace

from optimizer.answers.beside import Running, SupplyHelp, running_of, supply_help
from optimizer.answers.curve import Point, point_of
from optimizer.answers.purchases import Material, Purchase, materials
from optimizer.answers.questions import asked_hours, no_design, not_negative, search_for
from optimizer.answers.stops import Stop, longest, stop_at
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.engine.solver import SolverName
from optimizer.engine.verify import checks
from optimizer.formulas.windows import busy_hours
from optimizer.model.design import Design
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import Job
from optimizer.model.limits import LIMITS
from optimizer.model.progress import Progress
from optimizer.model.requirement import Requirement
from optimizer.model.result import Result
from optimizer.model.shown import shown

#: Units of requirements that a design meets more or less amply; counts and ages are not.
_QUANTITIES = {"W", "VA", "A", "V", "kWh"}


@dataclass(frozen=True, slots=True)
class Explained:
    """A check, and what the design would save if that requirement did not stand [currency].

    ``saving`` is 0 where lifting the requirement alone changes nothing.
    """

    also = ("binds",)

    check: Check = field(metadata=shown(inline=True))
    saving: float = field(metadata=shown("saving_if_lifted"))

    @property
    def binds(self) -> bool:
        """Whether a cheaper design waits behind this requirement; fuel is bought to measure."""
        return self.saving > 0 and self.check.kind is not CheckKind.FUEL


@dataclass(frozen=True, repr=False)
class Choice(Result):
    """The answer to one question.

    Parameters
    ----------
    job : Job
        With the limits that were asked for.
    goal : Goal
        What was asked.
    design : Point
        The design with its verdict and payments.
    explained : tuple of Explained
        Every requirement, and what lifting it would save.
    help : SupplyHelp or None
        What the bank adds to the supply contract; None where the site offers no steps.
    stopped_by : Stop or None
        Why it holds no longer, where the longest autonomy for some money was asked for.
    """

    also = (
        "busy_hours",
        "running",
        "least_life_years",
        "next_purchase",
        "materials",
    )

    job: Job = field(metadata=shown("critical_loads", take=("critical_loads",)))
    goal: Goal
    design: Point = field(metadata=shown(inline=True))
    explained: tuple[Explained, ...] = field(metadata=shown("constraints"))
    help: SupplyHelp | None = field(default=None, metadata=shown("supply_help"))
    stopped_by: Stop | None = None

    @property
    def busy_hours(self) -> int:
        """In how many of its hours a load draws power, at most; the others are idle [h]."""
        return busy_hours(demand_of(self.job).profiles, self.design.hours)

    @property
    def binding(self) -> tuple[Explained, ...]:
        """What binds, the dearest first, once a requirement; else what has least to spare."""
        found: dict[object, Explained] = {}
        for one in sorted(self.explained, key=lambda one: (-one.saving, one.check.margin)):
            if one.binds:  # what is lifted together is told once, by its tightest check
                found.setdefault(one.check.requirement or one.check.kind, one)
        quantities = [one for one in self.explained if one.check.unit in _QUANTITIES]
        return tuple(found.values()) or (min(quantities, key=lambda one: one.check.margin),)

    @property
    def running(self) -> Running | None:
        """What the generator does in an outage of the hours carried, None where there is none."""
        return running_of(self.job, self.design)

    @property
    def least_life_years(self) -> float:
        """The shortest service life among the banks [a]."""
        return min(bank.service_life_years for bank in self.design.banks)

    @property
    def next_purchase(self) -> Purchase | None:
        """The first equipment after the start, or None within the study period."""
        return self.design.next_purchase

    @property
    def materials(self) -> tuple[Material, ...]:
        """What is bought at the start, at net prices."""
        return materials(self.job, self.design)


def choose(
    job: Job,
    *,
    hours: int | None = None,
    budget: float | None = None,
    lifetime_budget: float | None = None,
    later_limit: float | None = None,
    beyond: bool = False,
    family: str | None = None,
    solver: SolverName = "highs",
    progress: Progress | None = None,
) -> Choice:
    """Return one design, explained.

    With ``hours`` the money is a limit on the cheapest design that carries them; without, money
    is asked for the longest autonomy that it buys, and the cheapest design at it.

    Parameters
    ----------
    job : Job
        From `load`. Its own limits of money hold, except those asked about.
    hours : int, optional
        Autonomy to carry at least cost [h]; the site's target where nothing else is asked.
    budget : float, optional
        Upfront money [currency].
    lifetime_budget : float, optional
        Limit on the life-cycle cost [currency]; likewise.
    later_limit : float, optional
        Most that any later year may cost to buy [currency of today]. Alone it limits the design
        for the site's target.
    beyond : bool
        Whether money that buys all the hours of the site's curve is followed further, up to ten
        days, unless the site says otherwise (`beyond_max_hours`).
    family : str, optional
        Only chemistries of this family.
    solver : {"highs", "cbc"}
        Which solver proves the design.
    progress : callable, optional
        Called with steps done and all steps while looking for what would help.

    Raises
    ------
    InputError
        A number out of its range.
    NoDesignError
        Nothing fits; with what stands in the way and what would open it.

    Examples
    --------
    >>> from optimizer import load
    >>> choose(load("house"), hours=12).design.hours >= 12
    True
    """
    asked = dict(zip(LIMITS, (budget, lifetime_budget, later_limit), strict=True))
    for name, amount in asked.items():
        not_negative(f"--{name.replace('_', '-')}", amount)
    job = job.with_site(**{name: one for name, one in asked.items() if one is not None})
    goal = Goal(
        GoalKind.HOURS,
        currency=job.site.currency,
        hours=job.site.target_hours if hours is None else hours,
        family=family,
    )
    if hours is None and budget is not None:
        goal = replace(goal, kind=GoalKind.UPFRONT_BUDGET, hours=1, amount=budget)
    elif hours is None and lifetime_budget is not None:
        goal = replace(goal, kind=GoalKind.LIFETIME_BUDGET, hours=1, amount=lifetime_budget)
    job, _ = asked_hours(job, goal.hours)
    search = search_for(job, family, None, solver)
    if goal.kind is GoalKind.HOURS:
        design = search.cheapest(goal.hours)
    else:
        search, design = longest(search) if beyond else (search, search.longest())
    if design is None:
        if sum(getattr(job.site, name) is not None for name in LIMITS) > 1:
            goal = replace(goal, kind=GoalKind.HOURS, amount=None)  # no limit stands alone
        raise no_design(search, goal, progress)
    found = explain(search, goal, design)
    if goal.kind is GoalKind.HOURS:
        return found
    return replace(found, stopped_by=stop_at(search, design.hours))


def explain(search: Search, goal: Goal, design: Design) -> Choice:
    """Return a design that a search found with the price of every requirement.

    Duals of an integer program say nothing, so each requirement is priced by lifting it alone
    and finding the least cost again. The energy is priced by asking for one hour less.
    """
    job = search.job
    hours = goal.hours if goal.kind is GoalKind.HOURS else design.hours

    # costs up to the tolerance below the design's are equal to it: none of these is looked for
    known = design.life_cycle_cost - 2 * search.tolerance

    def saved(other: Search, hours: int = hours) -> float:
        least = other.least(hours, known=known)
        return 0.0 if math.isinf(least) else design.life_cycle_cost - least

    def without(requirement: Requirement) -> float:
        other = search.otherwise(lifted=requirement)
        return 0.0 if other.bounds == search.bounds else saved(other)  # it rules nothing out

    found = checks(job, design, search.variant_of(design))
    families = {check.requirement for check in found if check.requirement is not None}
    savings = {one: without(one) for one in families}
    explained = []
    for check in found:
        saving = 0.0 if check.requirement is None else savings[check.requirement]
        if check.kind is CheckKind.ENERGY and hours > 1:
            saving = saved(search, hours - 1)
        elif check.kind is CheckKind.UPFRONT_COST:
            saving = saved(search.within(None))
        explained.append(Explained(check, saving))
    help_there = supply_help(search, design, hours)
    point = point_of(job, design, search.variant_of(design))
    return Choice(job, goal, point, tuple(explained), help_there)
