"""What all questions share: checks on what is asked, and what to say where nothing fits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.errors import Fault, InputError, NoDesignError
from optimizer.model.job import LONGEST_HOURS

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.engine.curve import Search
    from optimizer.engine.solver import SolverName
    from optimizer.model.diagnosis import Goal
    from optimizer.model.job import Job

    Progress = Callable[[int, int], None]


def search_for(job: Job, family: str | None, max_hours: int | None, solver: SolverName) -> Search:
    """Return a search, once what was asked is in range."""
    from optimizer.engine.curve import Search

    if max_hours is not None:
        within(max_hours, LONGEST_HOURS)
        job = job.with_site(max_hours=max_hours)
    if family is not None:
        known_family(job, family)
    return Search(job, family, solver)


def no_design(search: Search, goal: Goal, progress: Progress | None) -> NoDesignError:
    """Return the error that says what stands in the way of a goal, and what would open it."""
    from optimizer.engine.none_fits import confirm_none
    from optimizer.engine.relaxations import Question, diagnose

    confirm_none(search, goal.hours, progress)
    return NoDesignError(goal, diagnose(Question(search.job, goal.hours, search.family), progress))


def one_question(hours: int | None, budget: float | None, lifetime_budget: float | None) -> None:
    """Raise InputError where more than one question is asked, or a sum is out of range."""
    asked = {"--hours": hours, "--budget": budget, "--lifetime-budget": lifetime_budget}
    given = [name for name, value in asked.items() if value is not None]
    if len(given) > 1:
        raise InputError([Fault("options", None, None, " and ".join(given), "one of them")])
    for name, value in asked.items():
        if value is not None and not 0 <= value < float("inf"):
            wanted = "a finite number that is not negative"
            raise InputError([Fault("options", None, name, str(value), wanted)])


def within(hours: int, most: int) -> None:
    """Raise InputError unless hours lie from 1 to a limit."""
    if not 1 <= hours <= most:
        wanted = f"whole hours from 1 to {most}"
        raise InputError([Fault("options", None, "hours", str(hours), wanted)])


def known_family(job: Job, family: str) -> None:
    """Raise InputError unless the price list has a family of this name."""
    known = tuple(dict.fromkeys(battery.family for battery in job.catalog.batteries))
    if family not in known:
        wanted = f"a family of the price list: {', '.join(known)}"
        raise InputError([Fault("options", None, "--family", family, wanted)])


def not_negative(name: str, value: float | None) -> None:
    """Raise InputError unless a sum, where given, is a finite number from 0."""
    if value is not None and not 0 <= value < float("inf"):
        wanted = "a finite number that is not negative"
        raise InputError([Fault("options", None, name, str(value), wanted)])


def counted(name: str, value: int, most: int) -> None:
    """Raise InputError unless a number lies from 1 to a limit."""
    if not 1 <= value <= most:
        raise InputError([Fault("options", None, name, str(value), f"a whole number to {most:,}")])
