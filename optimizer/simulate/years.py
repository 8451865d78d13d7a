"""Many simulated years of outages; what a design carries of them, and how sure that is."""

import math
from dataclasses import dataclass

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.model.arrays import Floats, Rows
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.progress import Progress
from optimizer.simulate.arrivals import Arrivals, at_random, scheduled
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.durations import Durations
from optimizer.simulate.intervals import (
    RULE_OF_THREE,
    Estimate,
    monte_carlo_error,
    share_interval,
    yearly_interval,
)
from optimizer.simulate.outage import OutageBatch, endure
from optimizer.simulate.peaks import peaks_taken
from optimizer.simulate.store import Store, store

DEFAULT_SEED = 20_241
_YEAR_H = 8760.0
#: So many outages are held in memory at once; the years are drawn in as many parts as that takes.
_OUTAGES_AT_ONCE = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedYears:
    """A design through many simulated years.

    Parameters
    ----------
    years, seed : int
        How many were simulated, and from which seed.
    outages_a_year : float
        Mean number drawn.
    share_carried : Estimate or None
        Share of the outages carried throughout; None where no outage was drawn.
    hours_unserved, kwh_unserved : Estimate
        A year: hours in which an outage lasts and the bank is empty [h], and the energy [kWh].
    kwh_asked : float
        A year: energy asked during outages [kWh], loads grown as they are in these years.
    share_of_years_whole : float
        Share of the years in which every outage was carried.
    longest_carried_hours, longest_hours : float
        Of the outages carried throughout, and of all [h]; 0 where there is none.
    longest_known_hours : float or None
        The longest that can come: these years hold nothing longer than the site's own outages
        [h]. None where durations follow a distribution, which knows longer ones.
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
    longest_known_hours: float | None


def simulate_years(
    job: Job,
    design: Design,
    *,
    years: int = 10_000,
    seed: int = DEFAULT_SEED,
    durations: Durations | None = None,
    times_a_year: float | None = None,
    intervals: bool = True,
    progress: Progress | None = None,
) -> SimulatedYears:
    """Run a design through years of outages drawn at random, spread evenly over its life.

    At least 2 ``years``; the same ``seed`` gives the same result. ``durations`` follow
    `Exponential`, `Lognormal` or `Weibull`, the site's own log or rows where not given; a site with
    scheduled cuts then gets its schedule, on drawn days. ``times_a_year`` is the mean number of
    outages, the site's own where not given. Without ``intervals`` what the log can know is left
    out, which takes longer than few years.

    Notes
    -----
    Outages arrive by a Poisson process; a logged outage comes back in its month at its time of day.
    An outage drawn within another begins when that one ends, and no year has more hours of outage
    than hours. Each year starts with a rested bank and with all of the fuel; in between the bank is
    charged at the charger's limit, and what a generator burns is gone for the rest of the year.
    Peaks on the supply come at random too: before each outage stand the last peak of each kind
    since the grid came back, and what was charged after it.
    """
    faults = []
    if years < 2:  # noqa: PLR2004 - an interval needs a spread
        faults.append(Fault("draw", None, "years", str(years), Phrase("at least 2")))
    if times_a_year is not None and not (math.isfinite(times_a_year) and times_a_year >= 0):
        wanted = Phrase("0 or more")
        faults.append(Fault("draw", None, "times_a_year", str(times_a_year), wanted))
    if faults:
        raise InputError(faults)
    tables = store(job, design)
    peaks = _Peaks(job, design, tables, seed)
    rng = np.random.default_rng(seed)
    on_schedule = job.outages.form == "daily" and durations is None and times_a_year is None
    rate = job.outages.times_a_year if times_a_year is None else times_a_year
    chunk = max(1, int(_OUTAGES_AT_ONCE / max(1.0, rate)))
    tally = _Tally(years, len(job.outages.log))
    for first in range(0, years, chunk):
        if progress is not None:
            progress(first, years)
        count = min(chunk, years - first)
        drawn = (
            scheduled(job, rng, count)
            if on_schedule
            else at_random(job, rng, count, rate, durations)
        )
        tally.take(tables, peaks, drawn, first)
    # what each logged outage loses in the mean: how often it comes is what the log leaves open
    own_log = intervals and durations is None and bool(job.outages.log)
    came, carried, lost_h, lost_wh = tally.of_logged if own_log else np.zeros((4, 0))
    seen = came > 0
    log_years = came.size / rate if rate > 0 else math.inf

    def yearly(by_year: Floats, lost: Floats) -> Estimate:
        each = np.divide(lost, came, out=np.zeros(came.size), where=seen)
        return Estimate(
            value=float(by_year.mean()),
            monte_carlo=monte_carlo_error(by_year),
            from_log=yearly_interval(each, log_years, seed),
        )

    return SimulatedYears(
        years=years,
        seed=seed,
        outages_a_year=float(tally.outages.mean()),
        share_carried=_share(tally, carried[seen] / came[seen]),
        hours_unserved=yearly(tally.lost_h, lost_h),
        kwh_unserved=yearly(tally.lost_wh / 1000, lost_wh / 1000),
        kwh_asked=float(tally.asked_wh.mean()) / 1000,
        share_of_years_whole=float((tally.carried == tally.outages).mean()),
        longest_carried_hours=tally.longest_carried_h,
        longest_hours=tally.longest_h,
        longest_known_hours=(
            max((hours for hours, _ in job.outages.yearly), default=0.0)
            if durations is None
            else None
        ),
    )


class _Peaks:
    """Peaks on the supply that come at random between outages, by a stream of their own."""

    def __init__(self, job: Job, design: Design, tables: Store, seed: int) -> None:
        self.tables, self.kinds = tables, tuple(peaks_taken(job, design, tables))
        self.mean_h = _YEAR_H / np.array([one.times_a_year for one in self.kinds])
        self.rng = np.random.default_rng([seed, len(self.kinds)])

    def until_outage(self, rows: Rows, banks: Depletion, grid_h: Floats) -> Depletion:
        """Return banks after so many hours on the grid, with the last peak of each kind."""
        ages = self.rng.exponential(self.mean_h[:, None], (len(self.kinds), rows.size))
        came, left_h = ages < grid_h, grid_h
        each = np.arange(rows.size)
        for kind in np.argsort(-ages, axis=0):  # the oldest first
            age_h = np.minimum(ages[kind, each], left_h)
            banks = self.tables.recharged(rows, banks, left_h - age_h)
            for place, peak in enumerate(self.kinds):
                now = came[place] & (kind == place)
                banks = banks.plus(peak.taken.of(rows).times(now))
            left_h = age_h
        return self.tables.recharged(rows, banks, left_h)


class _Tally:
    """What is kept: sums of each year, and sums over all times that a logged outage came."""

    def __init__(self, years: int, logged: int) -> None:
        self.outages, self.carried, self.lost_h, self.lost_wh, self.asked_wh = np.zeros((5, years))
        self.of_logged = np.zeros((4, logged))
        self.longest_carried_h = self.longest_h = 0.0

    def take(self, tables: Store, peaks: _Peaks, drawn: Arrivals, first: int) -> None:
        """Take every year's first outage, then every year's second, and so on."""
        count, most = drawn.start_h.shape
        stage = (first + np.arange(count)) % len(tables.stages)
        depth, drawn_ah, back_h, total_h, burnt_l = np.zeros((5, count))
        for k in range(most):
            # what does not fit into the year any more has merged with what went before
            year = np.flatnonzero((drawn.counts > k) & (total_h < _YEAR_H))
            hours = np.minimum(drawn.hours[year, k], _YEAR_H - total_h[year])
            start_h = np.maximum(drawn.start_h[year, k], back_h[year])
            day = np.floor(start_h / 24)
            rows = stage[year] * tables.seasons + drawn.season_of_day[day.astype(np.intp) % 365]
            on_grid_h = start_h - back_h[year]
            state = Depletion(depth[year], drawn_ah[year])
            state = peaks.until_outage(rows, state, on_grid_h)
            batch = OutageBatch(
                rows=rows,
                clock_h=start_h - 24 * day,
                hours=hours,
                before=state,
                burnt_l=burnt_l[year],
            )
            passed = endure(tables, batch)
            depth[year], drawn_ah[year] = passed.after.depth, passed.after.drawn_ah
            burnt_l[year] = passed.fuel_l
            back_h[year], total_h[year] = start_h + hours, total_h[year] + hours
            whole, lost_h = passed.hours_carried >= hours, hours - passed.hours_carried
            place = first + year
            self.outages[place] += 1
            self.carried[place] += whole
            self.lost_h[place] += lost_h
            self.lost_wh[place] += passed.unserved_wh
            self.asked_wh[place] += passed.asked_wh
            self.longest_h = max(self.longest_h, float(hours.max(initial=0.0)))
            longest = float(hours[whole].max(initial=0.0))
            self.longest_carried_h = max(self.longest_carried_h, longest)
            if drawn.logged is not None:
                of = (np.ones(year.size), whole, lost_h, passed.unserved_wh)
                each, size = drawn.logged[year, k], self.of_logged.shape[1]
                self.of_logged += [np.bincount(each, values, size) for values in of]


def _share(tally: _Tally, of_logged: Floats) -> Estimate | None:
    """Return the share carried, given that of each logged outage; None where none was drawn."""
    outages, carried = tally.outages, tally.carried
    if not outages.any():
        return None
    value = float(carried.sum() / outages.sum())
    error = monte_carlo_error(carried - value * outages) / float(outages.mean())
    if value in {0.0, 1.0}:
        error = min(1.0, RULE_OF_THREE / float(outages.sum()))
    count = of_logged.size
    interval = share_interval(float(of_logged.sum()), count) if count else None
    return Estimate(value=value, monte_carlo=error, from_log=interval)
