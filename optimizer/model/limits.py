"""The limits that a site sets to money, and a job without them."""

from typing import Any, Final

from optimizer.model.job import Job

#: Limits on the cost at the start, on the life-cycle cost, and on what any later year buys.
LIMITS: Final = ("budget", "lifetime_budget", "later_limit")


def is_limited(job: Job) -> bool:
    """Tell whether a site limits money in any way."""
    return any(getattr(job.site, name) is not None for name in LIMITS)


def without_limits(job: Job) -> Job:
    """Return a job whose money has no limit at all."""
    return _lifted(job, LIMITS)


def without_budgets(job: Job) -> Job:
    """Return a job without its budgets; what a later year may buy stays limited."""
    return _lifted(job, LIMITS[:2])


def _lifted(job: Job, names: tuple[str, ...]) -> Job:
    nothing: dict[str, Any] = dict.fromkeys(names)
    return job.with_site(**nothing)
