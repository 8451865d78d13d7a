"""A job with the same loads, larger; with the same outages, more often or longer."""

from dataclasses import replace
from datetime import timedelta

from optimizer.model.job import Job
from optimizer.model.outages import Window

_DAYS = 365.0


def with_loads(job: Job, factor: float) -> Job:
    """Return a job with the same loads, so many times as large."""
    loads = tuple(
        replace(load, running_w=load.running_w * factor, starting_w=load.starting_w * factor)
        for load in job.loads
    )
    return replace(job, loads=loads)


def with_outages(job: Job, factor: float) -> Job:
    """Return a job with the same outages, so many times as often."""
    outages = job.outages
    return replace(
        job,
        outages=replace(
            outages,
            typed=tuple((hours, times * factor) for hours, times in outages.typed),
            log_years=None if outages.log_years is None else outages.log_years / factor,
            days_per_year=None if outages.days_per_year is None else outages.days_per_year * factor,
        ),
    )


def oftener(job: Job, factor: float) -> Job:
    """Return `with_outages`, but scheduled cuts on no more days than a year has."""
    outages = job.outages
    if outages.daily:
        factor = min(factor, _DAYS / (outages.days_per_year or _DAYS))
    return with_outages(job, factor)


def with_longer_outages(job: Job, factor: float) -> Job:
    """Return a job whose outages begin as before and last so many times as long.

    A scheduled cut ends before the next one begins.
    """
    outages = job.outages
    cuts = tuple(_longer_cut(one, outages.daily, factor) for one in outages.daily)
    return replace(
        job,
        outages=replace(
            outages,
            typed=tuple((hours * factor, times) for hours, times in outages.typed),
            log=tuple(
                replace(one, end=one.start + timedelta(hours=one.hours * factor))
                for one in outages.log
            ),
            daily=cuts,
        ),
    )


def _longer_cut(cut: Window, cuts: tuple[Window, ...], factor: float) -> Window:
    start, end = cut
    following = min((one for one, _ in cuts if one > start), default=min(cuts)[0] + 24)
    return start, max(end, min(start + (end - start) * factor, following))
