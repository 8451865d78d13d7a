"""The site's own log of outages, replayed with a design in place."""

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.simulate.arrivals import clock_h
from optimizer.simulate.bank import stages_by_year
from optimizer.simulate.intervals import Interval, share_interval, yearly_interval
from optimizer.simulate.outage import OutageBatch, endure
from optimizer.simulate.peaks import worst_peak
from optimizer.simulate.profile import season_of_month
from optimizer.simulate.ride import ride_through
from optimizer.simulate.store import store

#: Of the log's resamples.
_SEED = 1
_YEAR_D = 365


@dataclass(frozen=True, slots=True, kw_only=True)
class Replayed:
    """One logged outage with the design in place.

    Parameters
    ----------
    start : datetime
        When the grid failed.
    hours, hours_carried : float
        How long it was out, and how long the bank carried the loads [h].
    kwh_asked, kwh_unserved : float
        Energy the loads would have used, and the part they did not get [kWh].
    depth_before, depth_after : float
        Share of the bank used at the start and at the end.
    """

    also: ClassVar[tuple[str, ...]] = ("carried",)

    start: datetime
    hours: float
    hours_carried: float
    kwh_asked: float
    kwh_unserved: float
    depth_before: float
    depth_after: float

    @property
    def carried(self) -> bool:
        """Whether the loads ran throughout."""
        return self.hours_carried >= self.hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Replay:
    """The whole log in one year of the design's life.

    Parameters
    ----------
    year : int
        The year whose bank and loads were taken, from 0.
    log_years : float
        Years the log covers.
    outages : tuple of Replayed
        In order of time.
    """

    also: ClassVar[tuple[str, ...]] = (
        "carried",
        "share_interval",
        "hours_unserved_a_year",
        "kwh_unserved_a_year",
        "kwh_unserved_interval",
        "longest_carried_hours",
    )

    year: int
    log_years: float
    outages: tuple[Replayed, ...]

    @property
    def carried(self) -> int:
        """Outages carried throughout."""
        return sum(outage.carried for outage in self.outages)

    @property
    def share_interval(self) -> Interval:
        """What this log can know of the share carried; `share_interval` tells how."""
        return share_interval(self.carried, len(self.outages))

    @property
    def kwh_unserved_interval(self) -> Interval | None:
        """What it can know of the energy not served a year [kWh]; None where none was missed."""
        each = np.array([outage.kwh_unserved for outage in self.outages])
        return yearly_interval(each, self.log_years, _SEED)

    @property
    def kwh_unserved_a_year(self) -> float:
        """Energy not served a year [kWh]."""
        return sum(outage.kwh_unserved for outage in self.outages) / self.log_years

    @property
    def hours_unserved_a_year(self) -> float:
        """Hours a year in which an outage lasts and the bank is empty [h]."""
        lost = sum(outage.hours - outage.hours_carried for outage in self.outages)
        return lost / self.log_years

    @property
    def longest_carried_hours(self) -> float:
        """Duration of the longest outage carried throughout [h]; 0 where none was."""
        return max((outage.hours for outage in self.outages if outage.carried), default=0.0)


def replay_log(job: Job, design: Design, year: int | None = None) -> Replay:
    """Run a design through the outages as they happened.

    Bank and loads are those of a ``year`` of the design, from 0; where not given, of the one with
    the shortest ride-through: the severe case. InputError where the site has no log, or the design
    no such year.

    Notes
    -----
    The bank is charged at the first outage. In between it is charged at the charger's limit (all
    units together, no more than the bank may take); outages that follow each other closely start
    with what came back by then, and each right after the worst peak on the supply that the bank
    helps to cover: the severe case. What a generator burns is gone until the fuel is renewed, as
    many years after the first outage as it keeps. The season is that of the start.
    """
    log = sorted(job.outages.log, key=lambda outage: outage.start)
    if not log or job.outages.log_years is None:
        told = Phrase("no log"), Phrase("a log of outages to replay")
        raise InputError([Fault("site", None, "outages.log", *told)])
    if year is None:
        year = ride_through(job, design).worst.year
    stages = tuple(stage for stage in stages_by_year(design) if stage.year == year)
    if not stages:
        wanted = Phrase("a year in which a bank of the design is in service")
        raise InputError([Fault("replay", None, "year", str(year), wanted)])
    tables = store(job, design, stages=stages)
    seasons, peak, rules = season_of_month(job), worst_peak(job, design, tables), job.site.generator
    state, burnt_l = tables.rested.of(seasons[[log[0].start.month]]), np.zeros(1)
    back = renewed = log[0].start
    found = []
    for outage in log:
        row = seasons[[outage.start.month]]
        gap_h = max(0.0, (outage.start - back).total_seconds() / 3600)
        state = tables.recharged(row, state, np.array([gap_h])).plus(peak.of(row))
        if rules is not None and (outage.start - renewed).days >= rules.fuel_keeps_years * _YEAR_D:
            renewed, burnt_l = outage.start, np.zeros(1)
        clock, hours = np.array([clock_h(outage.start)]), np.array([outage.hours])
        batch = OutageBatch(rows=row, clock_h=clock, hours=hours, before=state, burnt_l=burnt_l)
        passed = endure(tables, batch)
        found.append(
            Replayed(
                start=outage.start,
                hours=outage.hours,
                hours_carried=float(passed.hours_carried[0]),
                kwh_asked=float(passed.asked_wh[0]) / 1000,
                kwh_unserved=float(passed.unserved_wh[0]) / 1000,
                depth_before=float(state.depth[0]),
                depth_after=float(passed.after.depth[0]),
            )
        )
        state, burnt_l, back = passed.after, passed.fuel_l, outage.end
    return Replay(year=year, log_years=job.outages.log_years, outages=tuple(found))
