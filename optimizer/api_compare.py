"""The door to comparisons: lead-acid or lithium, and what would change the answer."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from optimizer.answers.questions import (
    counted,
    known_family,
    no_design,
    not_negative,
    search_for,
    within,
)
from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.budgets import Bought, Staircase
from optimizer.comparison.parameters import Parameter
from optimizer.comparison.regrets import Regret
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.switch_points import SwitchPoints
from optimizer.comparison.tier_costs import Tiers
from optimizer.errors import Fault, InputError
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import Job

Progress = Callable[[int, int], None]


def compare(job: Job, hours: int | None = None, *, progress: Progress | None = None) -> Comparison:
    """Return the best design of each family and each chemistry for the same hours.

    Parameters
    ----------
    job : Job
        From `load`. Its limits hold.
    hours : int, optional
        Autonomy that each carries [h]; the site's target where left out.
    progress : callable, optional
        Called while looking for what would help, where nothing fits.

    Raises
    ------
    NoDesignError
        No family carries these hours.

    Examples
    --------
    >>> from optimizer import load
    >>> compare(load("house")).winner.name
    'lithium'
    """
    from optimizer.answers.curve import point_of
    from optimizer.comparison.side_by_side import compare_sides

    hours = _hours(job, hours)
    found = compare_sides(job, hours)
    if found is None:
        raise no_design(search_for(job, None, None, "highs"), _goal(job, hours), progress)
    for one in (*found.families, *found.chemistries):
        point_of(job, one.design)
    return found


def switch_points(
    job: Job,
    hours: int | None = None,
    *,
    keys: Sequence[str] | None = None,
    progress: Progress | None = None,
) -> tuple[SwitchPoints, ...]:
    """Return every value of each number at which the winning family changes, all else equal.

    Parameters
    ----------
    job : Job
        From `load`. Its upfront budget holds.
    hours : int, optional
        Autonomy that both carry [h]; the site's target where left out.
    keys : sequence of str, optional
        Which numbers, such as "outages", "rate" or "price:lithium"; all where left out.
    progress : callable, optional
        Called with numbers done and all numbers.

    Raises
    ------
    InputError
        A key that is not known.

    Examples
    --------
    >>> from optimizer import load
    >>> found, = switch_points(load("house"), keys=["price:lithium"])
    >>> round(found.switch_points[0].value, 3)
    1.158
    """
    from optimizer.comparison.parameters import parameters_of
    from optimizer.comparison.side_by_side import families_of
    from optimizer.comparison.switch_points import find_switch_points

    hours, families = _hours(job, hours), families_of(job)
    parameters = parameters_of(job) if keys is None else [_parameter(job, key) for key in keys]
    found = []
    for done, parameter in enumerate(parameters):
        if progress is not None:
            progress(done, len(parameters))
        found.append(find_switch_points(job, parameter, hours, families))
    return tuple(found)


def break_even_line(
    job: Job, hours: int | None = None, *, across: str = "outages", priced: str | None = None
) -> BreakEvenLine | None:
    """Return where both families cost the same, in two numbers at once.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted.
    hours : int, optional
        Autonomy that both carry [h]; the site's target where left out.
    across : str
        Key of the first number.
    priced : str, optional
        The family whose battery price is the second; the price list's last where left out.

    Returns
    -------
    BreakEvenLine or None
        None where the price list has one family only.
    """
    from optimizer.comparison.break_even_line import find_break_even_line
    from optimizer.comparison.side_by_side import families_of

    if priced is not None:
        known_family(job, priced)
    parameter = _parameter(job, across)
    return find_break_even_line(
        job, _hours(job, hours), families_of(job), across=parameter, priced=priced
    )


def sensitivities(
    job: Job,
    hours: int | None = None,
    *,
    budget: float | None = None,
    progress: Progress | None = None,
) -> Sensitivities:
    """Return how the cost of the hours and the hours of a budget move with each number alone.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted.
    hours : int, optional
        Autonomy [h]; the site's target where left out.
    budget : float, optional
        Upfront money whose hours are followed [currency]; the site's, else what the cheapest
        design costs at the start.
    progress : callable, optional
        Called with numbers done and all numbers.

    Raises
    ------
    NoDesignError
        Nothing carries the hours.
    """
    from optimizer.comparison.sensitivities import find_sensitivities

    hours = _hours(job, hours)
    not_negative("--budget", budget)
    found = find_sensitivities(job, hours, budget=budget, progress=progress)
    if found is None:
        raise no_design(search_for(job, None, None, "highs"), _goal(job, hours), progress)
    return found


def regret(
    job: Job,
    hours: int | None = None,
    *,
    scenarios: int = 200,
    seed: int = 1,
    processes: int | None = None,
    progress: Progress | None = None,
) -> Regret:
    """Follow today's possible purchases through drawn futures of prices, lives and outages.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted.
    hours : int, optional
        Autonomy [h]; the site's target where left out.
    scenarios, seed : int
        How many futures, and from which seed: the same seed gives the same futures.
    processes : int, optional
        Processes to share the work; as many as there are cores where left out.
    progress : callable, optional
        Called with steps done and all steps.

    Raises
    ------
    NoDesignError
        Nothing carries the hours.
    """
    from optimizer.comparison.regrets import find_regret

    hours = _hours(job, hours)
    counted("scenarios", scenarios, 10_000)
    counted("processes", 1 if processes is None else processes, 64)
    found = find_regret(
        job, hours, scenarios=scenarios, seed=seed, processes=processes, progress=progress
    )
    if found is None:
        raise no_design(search_for(job, None, None, "highs"), _goal(job, hours), progress)
    return found


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
        Follow the life-cycle cost instead of what is paid at the start.
    family : str, optional
        Only chemistries of this family.
    later_limit : float, optional
        What may be bought in any later year, at most [currency of today].
    progress : callable, optional
        Called with steps done and all steps.
    """
    from optimizer.comparison.budgets import find_staircase

    not_negative("--later-limit", later_limit)
    if family is not None:
        known_family(job, family)
    return find_staircase(
        job, lifetime=lifetime, family=family, later_limit=later_limit, progress=progress
    )


def budget_table(
    job: Job,
    budgets: Iterable[float],
    *,
    lifetime: bool = False,
    family: str | None = None,
    later_limit: float | None = None,
    progress: Progress | None = None,
) -> tuple[Bought, ...]:
    """Return what each of many budgets buys: the longest hours, then the least cost at them.

    Parameters
    ----------
    job : Job
        From `load`. Its budgets are lifted.
    budgets : iterable of float
        [currency].
    lifetime, family, later_limit, progress
        As in `staircase`.

    Examples
    --------
    >>> from optimizer import load
    >>> [row.design and row.design.hours for row in budget_table(load("house"), [1000, 5000])]
    [None, 26]
    """
    from optimizer.comparison.budgets import find_table

    not_negative("--later-limit", later_limit)
    wanted = list(budgets)
    for budget in wanted:
        not_negative("budget", budget)
    if family is not None:
        known_family(job, family)
    return find_table(
        job,
        wanted,
        lifetime=lifetime,
        family=family,
        later_limit=later_limit,
        progress=progress,
    )


def tiers(job: Job, *, family: str | None = None, progress: Progress | None = None) -> Tiers:
    """Return the curve of the first tier of loads alone, then with one more, up to all.

    Parameters
    ----------
    job : Job
        From `load`; every tier of its loads is taken, in the file's order.
    family : str, optional
        Only chemistries of this family.
    progress : callable, optional
        Called with curves done and all curves.

    Examples
    --------
    >>> from optimizer import load
    >>> [cost.tier for cost in tiers(load("house")).at(12)]
    ['essential', 'useful', 'comfort']
    """
    from optimizer.comparison.tier_costs import find_tiers

    if family is not None:
        known_family(job, family)
    return find_tiers(job, family=family, progress=progress)


def _hours(job: Job, hours: int | None) -> int:
    wanted = job.site.target_hours if hours is None else hours
    within(wanted, job.site.max_hours)
    return wanted


def _goal(job: Job, hours: int) -> Goal:
    return Goal(GoalKind.HOURS, currency=job.site.currency, hours=hours)


def _parameter(job: Job, key: str) -> Parameter:
    from optimizer.comparison.parameters import parameter_named, parameters_of

    found = parameter_named(job, key)
    if found is None or found.key not in {parameter.key for parameter in parameters_of(job)}:
        wanted = f"one of {', '.join(parameter.key for parameter in parameters_of(job))}"
        raise InputError([Fault("options", None, "number", key, wanted)])
    return found
