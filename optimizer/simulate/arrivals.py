"""When drawn outages begin: by a Poisson process through the year, or by the clock."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from optimizer.simulate.profile import season_of_month

if TYPE_CHECKING:
    from optimizer.model.job import Job
    from optimizer.simulate.durations import Durations

    Floats = NDArray[np.float64]

#: Days of the months of a drawn year.
_DAYS = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
_FIRST_DAY = np.concatenate(([0], np.cumsum(_DAYS)[:-1]))


@dataclass(frozen=True, slots=True)
class Arrivals:
    """Outages of several years, in order of time.

    Parameters
    ----------
    counts : numpy.ndarray
        Outages of each year.
    start_hours, hours : numpy.ndarray
        Start since New Year and duration [h], shape (years, most in a year); places beyond a
        year's count hold nothing of meaning.
    season_of_day : numpy.ndarray
        Index of the season of each of the 365 days.
    """

    counts: NDArray[np.int64]
    start_hours: Floats
    hours: Floats
    season_of_day: NDArray[np.intp]


def season_of_day(job: Job) -> NDArray[np.intp]:
    """Return the index of the season of each day of the year."""
    return np.repeat(season_of_month(job)[1:], _DAYS)


def poisson(
    job: Job, rng: np.random.Generator, years: int, times_a_year: float, law: Durations | None
) -> Arrivals:
    """Return outages that come at random, so many times a year in the mean; no law draws none."""
    if law is None:
        times_a_year = 0.0
    counts = rng.poisson(times_a_year, years)
    shape = (years, int(counts.max()))
    log = job.outages.log
    if log:
        month = rng.choice(np.array([outage.start.month - 1 for outage in log]), shape)
    else:
        month = rng.choice(12, shape, p=_DAYS / _DAYS.sum())
    start = 24.0 * (_FIRST_DAY[month] + rng.random(shape) * _DAYS[month])
    start[np.arange(shape[1]) >= counts[:, None]] = np.inf
    start.sort(axis=1)
    hours = np.zeros(shape) if law is None else law.draw(rng, start.size).reshape(shape)
    return Arrivals(counts, start, hours, season_of_day(job))


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
    start_hours = (24 * chosen[:, :, None] + opens).reshape(years, -1)
    hours = np.broadcast_to(lengths, (years, most, lengths.size)).reshape(years, -1)
    return Arrivals(days * lengths.size, start_hours, hours, season_of_day(job))
