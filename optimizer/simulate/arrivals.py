"""When simulated outages begin, and how long they last: at random, or by the clock."""

from dataclasses import dataclass
from datetime import datetime

import numpy as np

from optimizer.model.arrays import Floats, Ints, Rows
from optimizer.model.job import Job
from optimizer.simulate.durations import Durations
from optimizer.simulate.profile import season_of_month

#: Days of the months of a simulated year.
_DAYS = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
_FIRST_DAY = np.concatenate(([0], np.cumsum(_DAYS)[:-1]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrivals:
    """Outages of several years, in order of time.

    ``start_h`` since New Year and ``hours`` [h] have the shape (years, most in a year); places
    beyond a year's ``counts`` hold nothing of meaning. ``logged`` tells which of the log's outages
    each one is, where they are drawn from it; ``season_of_day`` is an index for each of 365 days.
    """

    counts: Ints
    start_h: Floats
    hours: Floats
    logged: Ints | None
    season_of_day: Rows


def season_of_day(job: Job) -> Rows:
    """Return the index of the season of each day of the year."""
    return np.repeat(season_of_month(job)[1:], _DAYS)


def clock_h(moment: datetime) -> float:
    """Return the time of day [h]."""
    return moment.hour + moment.minute / 60 + moment.second / 3600 + moment.microsecond / 3.6e9


def at_random(
    job: Job, rng: np.random.Generator, years: int, times_a_year: float, law: Durations | None
) -> Arrivals:
    """Return outages that come at random, so many times a year in the mean.

    Where there is a log each is one of its outages again, in the same month and at the same time
    of day, so that winter storms stay in winter and evening cuts in the evening; else months
    come by their days and any hour of the day. A law, where given, replaces the durations.
    """
    counts = rng.poisson(times_a_year, years)
    shape = (years, int(counts.max()))
    log, logged = job.outages.log, None
    if log:
        logged = rng.integers(0, len(log), shape)
        month = np.array([outage.start.month - 1 for outage in log])[logged]
        clock = np.array([clock_h(outage.start) for outage in log])[logged]
        hours = np.array([outage.hours for outage in log])[logged]
    else:
        month = rng.choice(12, shape, p=_DAYS / _DAYS.sum())
        clock = 24 * rng.random(shape)
        known, times = np.array(job.outages.yearly or ((0.0, 1.0),)).T
        hours = rng.choice(known, shape, p=times / times.sum())
    if law is not None:
        hours = law.draw(rng, hours.size).reshape(shape)
    start_h = clock + 24.0 * (_FIRST_DAY[month] + np.floor(rng.random(shape) * _DAYS[month]))
    start_h[np.arange(shape[1]) >= counts[:, None]] = np.inf
    order = start_h.argsort(axis=1)
    return Arrivals(
        counts=counts,
        start_h=np.take_along_axis(start_h, order, axis=1),
        hours=np.take_along_axis(hours, order, axis=1),
        logged=None if logged is None else np.take_along_axis(logged, order, axis=1),
        season_of_day=season_of_day(job),
    )


def scheduled(job: Job, rng: np.random.Generator, years: int) -> Arrivals:
    """Return the site's daily cuts, on as many days drawn from each year as they come."""
    cuts = sorted(job.outages.daily)
    wanted = 365 if job.outages.days_per_year is None else job.outages.days_per_year
    # A broken number of days is met in the mean.
    days = np.minimum(365, np.floor(wanted + rng.random(years)).astype(np.int64))
    most = int(days.max())
    chosen = rng.random((years, 365)).argsort(axis=1)[:, :most].astype(np.float64)
    chosen[np.arange(most) >= days[:, None]] = np.inf
    chosen.sort(axis=1)
    opens = np.array([start for start, _ in cuts])
    lengths = np.array([end - start for start, end in cuts])
    return Arrivals(
        counts=days * lengths.size,
        start_h=(24 * chosen[:, :, None] + opens).reshape(years, -1),
        hours=np.broadcast_to(lengths, (years, most, lengths.size)).reshape(years, -1),
        logged=None,
        season_of_day=season_of_day(job),
    )
