"""Many years of outages, drawn; what a design carries of them, and how sure that is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.simulate.arrivals import Arrivals, poisson, scheduled
from optimizer.simulate.bank import Store, stages_by_year, store
from optimizer.simulate.durations import Durations, Known
from optimizer.simulate.passage import Depletion, endure, recharge
from optimizer.simulate.profile import hourly

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from optimizer.model.design import Design
    from optimizer.model.job import Job

    Floats = NDArray[np.float64]

DEFAULT_SEED = 20_241
#: Two-sided 95 % of the normal distribution.
_Z95 = 1.959964
#: So many outages are held in memory at once; the years are drawn in as many parts as that takes.
_OUTAGES_AT_ONCE = 1_000_000


@dataclass(frozen=True, slots=True)
class Estimate:
    """A mean over drawn years and its 95 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class YearsResult:
    """A design through many drawn years.

    Parameters
    ----------
    years, seed : int
        How many were drawn, and from which seed.
    outages_a_year : float
        Mean number drawn.
    share_carried : Estimate or None
        Share of the outages carried throughout; None where no outage was drawn.
    hours_unserved, kwh_unserved : Estimate
        A year: hours in which an outage lasts and the bank is empty [h], and the energy [kWh].
    kwh_asked : float
        A year: energy asked during outages [kWh]; without the design none of it is served.
    share_of_years_whole : float
        Share of the years in which every outage was carried.
    longest_carried_hours, longest_hours : float
        Of the outages carried throughout, and of all [h]; 0 where there is none.
    method : str
        How the intervals are made.
    """

    years: int
    seed: int
    outages_a_year: float
    share_carried: Estimate | None
    hours_unserved: Estimate
    kwh_unserved: Estimate
    kwh_asked: float
    share_of_years_whole: float
    longest_carried_hours: float
    longest_hours: float
    method: str = (
        "95 % normal interval of the mean over independent years; for the share carried, "
        "of the ratio of sums, each year one cluster"
    )


def draw_years(
    job: Job,
    design: Design,
    years: int = 10_000,
    seed: int = DEFAULT_SEED,
    durations: Durations | None = None,
    *,
    times_a_year: float | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> YearsResult:
    """Run a design through years of drawn outages.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    years : int
        How many, [2, ∞). They are spread evenly over the years of the design's life.
    seed : int
        Of the random numbers: the same seed gives the same result.
    durations : Durations, optional
        `Exponential`, `Lognormal`, `Weibull` or `Known`; the site's own log or rows where not
        given. A site with scheduled cuts then gets its schedule, on drawn days.
    times_a_year : float, optional
        Mean number of outages; the site's own where not given.
    progress : callable, optional
        Called with years done and all years.

    Returns
    -------
    YearsResult
        Shares, hours and energy with their intervals.

    Notes
    -----
    Outages arrive by a Poisson process; where there is a log their months are those of logged
    outages (winter storms stay in winter), else in proportion to the months' days; day and time
    of day are even. An outage drawn within another begins when that one ends. Each year starts
    with a full bank; in between the bank is charged at the charger's limit.
    """
    faults = []
    if years < 2:  # noqa: PLR2004 - an interval needs a spread
        faults.append(Fault("draw", None, "years", str(years), "at least 2"))
    if times_a_year is not None and not (math.isfinite(times_a_year) and times_a_year >= 0):
        faults.append(Fault("draw", None, "times_a_year", str(times_a_year), "0 or more"))
    if faults:
        raise InputError(faults)
    tables = store(job, design, hourly(job), stages_by_year(design))
    rng = np.random.default_rng(seed)
    on_schedule = job.outages.form == "daily" and durations is None and times_a_year is None
    rate = sum(times for _, times in job.outages.yearly) if times_a_year is None else times_a_year
    law = Known(job.outages.yearly) if durations is None and rate > 0 else durations
    chunk = max(1, int(_OUTAGES_AT_ONCE / max(1.0, rate)))
    tallies = []
    for first in range(0, years, chunk):
        if progress is not None:
            progress(first, years)
        count = min(chunk, years - first)
        drawn = scheduled(job, rng, count) if on_schedule else poisson(job, rng, count, rate, law)
        stage = (first + np.arange(count)) % len(tables.stages)
        tallies.append(_tally(tables, drawn, stage))
    return _summary(np.concatenate(tallies), seed)


#: What is kept of each year.
_TALLY = np.dtype(
    [(name, np.float64) for name in ("outages", "carried", "lost_h", "lost_wh", "asked_wh")]
    + [("longest_carried", np.float64), ("longest", np.float64)]
)


def _tally(tables: Store, drawn: Arrivals, stage: NDArray[np.intp]) -> NDArray[np.void]:
    """Take every year's first outage, then every year's second, and so on."""
    count, most = drawn.start_hours.shape
    tally = np.zeros(count, dtype=_TALLY)
    depth, drawn_ah, back = np.zeros(count), np.zeros(count), np.zeros(count)
    for k in range(most):
        year = np.flatnonzero(drawn.counts > k)
        hours = drawn.hours[year, k]
        start = np.maximum(drawn.start_hours[year, k], back[year])
        day = np.floor(start / 24)
        rows = stage[year] * tables.seasons + drawn.season_of_day[day.astype(np.intp) % 365]
        state = recharge(tables, rows, Depletion(depth[year], drawn_ah[year]), start - back[year])
        passed = endure(tables, rows, start - 24 * day, hours, state)
        depth[year], drawn_ah[year] = passed.after.depth, passed.after.drawn_ah
        back[year] = start + hours
        whole = passed.hours_carried >= hours
        tally["outages"][year] += 1
        tally["carried"][year] += whole
        tally["lost_h"][year] += hours - passed.hours_carried
        tally["lost_wh"][year] += passed.unserved_wh
        tally["asked_wh"][year] += passed.asked_wh
        longest = np.maximum(tally["longest_carried"][year], np.where(whole, hours, 0.0))
        tally["longest_carried"][year] = longest
        tally["longest"][year] = np.maximum(tally["longest"][year], hours)
    return tally


def _summary(tally: NDArray[np.void], seed: int) -> YearsResult:
    outages, carried = tally["outages"], tally["carried"]
    share = None
    if outages.sum() > 0:
        value = float(carried.sum() / outages.sum())
        spread = _half_width(carried - value * outages) / float(outages.mean())
        share = Estimate(value, max(0.0, value - spread), min(1.0, value + spread))
    return YearsResult(
        tally.size,
        seed,
        float(outages.mean()),
        share,
        _estimate(tally["lost_h"]),
        _estimate(tally["lost_wh"] / 1000),
        float(tally["asked_wh"].mean()) / 1000,
        float((carried == outages).mean()),
        float(tally["longest_carried"].max()),
        float(tally["longest"].max()),
    )


def _estimate(by_year: Floats) -> Estimate:
    mean, half = float(by_year.mean()), _half_width(by_year)
    return Estimate(mean, max(0.0, mean - half), mean + half)


def _half_width(by_year: Floats) -> float:
    return _Z95 * float(by_year.std(ddof=1)) / math.sqrt(by_year.size)
