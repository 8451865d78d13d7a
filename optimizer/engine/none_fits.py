"""A second way to "no design": the solver is asked too before a person is told."""

import math
from collections.abc import Iterator

import numpy as np

from optimizer.engine.bounds import Bounds
from optimizer.engine.curve import Search
from optimizer.engine.options import Choice, Option
from optimizer.engine.program import build_program
from optimizer.engine.solver import Status, solve
from optimizer.errors import InternalError, NotProvenError
from optimizer.model.arrays import Ints
from optimizer.model.progress import Progress, one_by_one


def confirm_none(search: Search, hours: int, progress: Progress | None = None) -> None:
    """Check with the solver that nothing carries ``hours`` or longer, InternalError where it does.

    Nothing is cut but what the site itself rules out and banks that a cheaper one replaces, and no
    shortest path is asked. The sets of one voltage are first taken as one that asks the least of
    each in every respect, at all hours at once; what has no solution so has none behind any of
    them. Where it has one, each set is asked by itself, and only then each hour. A verdict of
    "infeasible" from the solver, or a least cost beyond the limit, is the second way; where it
    finds a design instead, the shortest paths were wrong. NotProvenError where it stops without a
    verdict.
    """
    budget = search.job.site.budget
    every = [
        Bounds(one.candidates, budget, variant=one.variant, every_set=True) for one in search.bounds
    ]
    groups = [(bounds, number) for bounds in every for number in range(len(bounds.groups))]
    for bounds, number in one_by_one(groups, progress):
        for choice in _suspects(search, bounds, number, hours):
            if _affords(search, choice):
                raise InternalError(
                    f"the solver finds a design that carries {choice.option.hours} h, "
                    "the shortest path finds none"
                )


def _suspects(search: Search, bounds: Bounds, number: int, hours: int) -> Iterator[Choice]:
    """Yield single sets at single hours that a looser question has not ruled out."""
    group, longest = bounds.groups[number], search.job.site.max_hours
    every = range(hours, longest + 1)
    if not _affords(search, _loosest(bounds, group.sets, every)):
        return
    for set_index in group.sets:
        alone = np.array([set_index])
        if _affords(search, _loosest(bounds, alone, every)):
            for longer in every:
                yield _loosest(bounds, alone, range(longer, longer + 1))


def _loosest(bounds: Bounds, sets: Ints, hours: range) -> Choice:
    """Return one choice that allows whatever any of ``sets`` does at any of ``hours``."""
    option = Option(hours[0], bounds.variant, int(sets[0]), math.nan)
    return bounds.choice(option, sets=sets, hours=hours)


def _affords(search: Search, choice: Choice) -> bool:
    """Tell whether the solver finds anything within the limits."""
    horizon, periods = search.job.site.horizon_years, choice.periods
    first = any(period.start == 0 for period in periods)
    last = any(period.end == horizon for period in periods)
    if not math.isfinite(choice.cost) or not (first and last):
        return False  # no such hours beside this generator, or no chain: plain to see
    program = build_program([choice], budget=search.job.site.budget)
    outcome = solve(program.problem, search.solver)
    if outcome.status is Status.NONE:
        return False
    if outcome.status is not Status.PROVEN:
        raise NotProvenError(f"the solver {search.solver} could not tell whether any fits")
    return outcome.objective * program.money_unit <= search.limit
