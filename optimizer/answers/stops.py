"""Why nothing longer is shown: the money, what is on offer, or how far was looked."""

from enum import StrEnum

from optimizer.engine.curve import Search
from optimizer.model.design import Design
from optimizer.model.job import LONGEST_HOURS, Job
from optimizer.model.limits import without_limits


class Stop(StrEnum):
    """What ends the hours."""

    MONEY = "money"  # with more of it something longer is on offer
    OFFER = "offer"  # whatever it costs
    LOOKED = "looked"  # nothing longer was looked for


def stop_at(search: Search, hours: int) -> Stop:
    """Return why a search finds nothing longer than some hours."""
    job = search.job
    if hours >= job.site.max_hours:
        return Stop.LOOKED
    free = Search(without_limits(job), search.family, search.solver)
    return Stop.MONEY if free.exists(hours + 1) else Stop.OFFER


def longest(search: Search) -> tuple[Search, Design | None]:
    """Return the longest autonomy within the limits, beyond the curve's end where they allow."""

    def up_to(hours: int) -> Search:
        job = search.job.with_site(max_hours=hours)
        return Search(job, search.family, solver=search.solver)

    looked, design = search, search.longest()
    while design is not None and looks_beyond(looked.job, design.hours):
        # twice as far each time: hours that nothing reaches cost time too
        looked = up_to(min(2 * looked.job.site.max_hours, LONGEST_HOURS))
        design = looked.longest()
    return (search if looked is search else up_to(LONGEST_HOURS)), design


def looks_beyond(job: Job, hours: int) -> bool:
    """Tell whether money that reaches some hours is followed beyond the curve's end."""
    site = job.site
    return site.beyond_max_hours and site.max_hours <= hours < LONGEST_HOURS
