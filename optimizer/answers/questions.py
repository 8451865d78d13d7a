"""What all questions share: checks on what is asked, and the error where nothing fits."""

from optimizer.engine.curve import Search
from optimizer.engine.solver import SolverName
from optimizer.errors import NoDesignError, wrong_option
from optimizer.inputs.built import checked
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import LONGEST_HOURS, Job
from optimizer.model.phrase import Phrase
from optimizer.model.progress import Progress


def search_for(
    job: Job,
    family: str | None = None,
    max_hours: int | None = None,
    solver: SolverName = "highs",
) -> Search:
    """Return a search, once what was asked is in range."""
    if max_hours is not None:
        within(max_hours, LONGEST_HOURS)
        job = job.with_site(max_hours=max_hours)
    if family is not None:
        known_family(job, family)
    return Search(checked(job), family, solver)


def no_design(search: Search, goal: Goal, progress: Progress | None = None) -> NoDesignError:
    """Return the error that says what stands in the way of a goal, and what would open it."""
    from optimizer.engine.diagnosing import why_none  # noqa: PLC0415 - start-up time

    return NoDesignError(goal, why_none(search, goal.hours, progress))


def asked_hours(job: Job, hours: int | None) -> tuple[Job, int]:
    """Return the hours asked about, the site's target where left out, and the job that has them.

    How far a site's curve is drawn limits no question about hours beyond it.
    """
    wanted = checked(job).site.target_hours if hours is None else hours
    within(wanted, LONGEST_HOURS)
    if wanted > job.site.max_hours:
        job = job.with_site(max_hours=wanted)
    return job, wanted


def nothing_carries(job: Job, hours: int, progress: Progress | None = None) -> NoDesignError:
    """Return the error that says why no design of any family carries some hours."""
    goal = Goal(GoalKind.HOURS, currency=job.site.currency, hours=hours)
    return no_design(search_for(job), goal, progress)


def within(hours: int, most: int) -> None:
    """Raise InputError unless hours lie from 1 to a limit."""
    if not 1 <= hours <= most:
        wanted = Phrase("whole hours from 1 to {most}", most=most)
        raise wrong_option("hours", str(hours), wanted)


def known_family(job: Job, family: str) -> None:
    """Raise InputError unless the price list has a family of this name."""
    known = job.catalog.families
    if family not in known:
        wanted = Phrase("a family of the price list: {known}", known=", ".join(known))
        raise wrong_option("--family", family, wanted)


def not_negative(name: str, value: float | None) -> None:
    """Raise InputError unless a sum, where given, is a finite number from 0."""
    if value is not None and not 0 <= value < float("inf"):
        wanted = Phrase("a finite number that is not negative")
        raise wrong_option(name, str(value), wanted)


def counted(name: str, value: int, most: int) -> None:
    """Raise InputError unless a number lies from 1 to a limit."""
    if not 1 <= value <= most:
        wanted = Phrase("a whole number from 1 to {most}", most=f"{most:,}")
        raise wrong_option(name, str(value), wanted)
