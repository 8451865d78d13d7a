"""One outage followed for drawing."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.model.arrays import Bools, Floats
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.simulate.bank import stages_by_year
from optimizer.simulate.outage import OutageBatch, Passage, endure
from optimizer.simulate.peaks import worst_peak
from optimizer.simulate.profile import hourly
from optimizer.simulate.ride import horizon_hours
from optimizer.simulate.store import store

#: A generator that runs for less has not run [h].
_MOMENT_H = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """One outage from its start until the bank is at its lowest allowed charge.

    It begins at ``start_hour``, an hour of the day. ``hours`` are times since the start [h]: whole
    hours, then the moment it runs out. At these stand ``state_of_charge``, the share of the bank's
    capacity of that year left, and ``fuel_l``, burnt up to then [l]; between them the means of
    ``loads_w`` by tier (AC) [W], and ``on_generator``. The bank may go to
    ``lowest_state_of_charge``, 1 − max_dod; ``capped`` tells whether the trace stops before it
    does.
    """

    start_hour: int
    hours: Floats
    state_of_charge: Floats
    loads_w: Mapping[str, Floats]
    on_generator: Bools
    fuel_l: Floats
    lowest_state_of_charge: float
    capped: bool


def trace(job: Job, design: Design, year: int, season: str, start_hour: int) -> Trace:
    """Follow one outage for drawing, from an hour of the day on, 0…23, in a year from 0.

    InputError where there is no such year, season or hour.
    """
    profile = hourly(job)
    stages = {stage.year: stage for stage in stages_by_year(design)}
    years = Phrase("a year of the design, {first} to {last}", first=min(stages), last=max(stages))
    seasons = Phrase("one of {names}", names=", ".join(profile.seasons))
    faults = [
        Fault("trace", None, name, repr(found), wanted)
        for name, found, known, wanted in (
            ("year", year, stages, years),
            ("season", season, profile.seasons, seasons),
            ("start_hour", start_hour, range(24), Phrase("an hour of the day, 0 to 23")),
        )
        if found not in known
    ]
    if faults:
        raise InputError(faults)
    tables = store(job, design, stages=(stages[year],))
    row = profile.seasons.index(season)
    begins = tables.rested.plus(worst_peak(job, design, tables))

    def follow(hours: Floats) -> Passage:
        """One outage, ended after each of so many hours."""
        same = np.ones(hours.size)
        rows, clock_h = np.full(hours.size, row), start_hour * same
        batch = OutageBatch(rows=rows, clock_h=clock_h, hours=hours, before=begins.of(rows))
        return endure(tables, batch)

    horizon = horizon_hours(job, design)
    last = float(follow(np.array([horizon])).hours_carried[0])
    hours = np.append(np.arange(np.ceil(last)), last)
    followed = follow(hours)
    on_generator = np.diff(followed.running_h) > _MOMENT_H  # less is rounding
    if tables.plant is not None:
        profile = profile.throughout()
    carried = hours[:-1] < np.array(profile.carried_h)[:, None]
    clock = (start_hour + np.arange(hours.size - 1)) % 24
    watts = profile.watts[row][:, clock] * carried
    grown = (1 + job.site.load_growth) ** year
    return Trace(
        start_hour=start_hour,
        hours=hours,
        state_of_charge=1 - followed.after.depth,
        loads_w={tier: watts[i] * grown for i, tier in enumerate(profile.tiers)},
        on_generator=on_generator,
        fuel_l=followed.fuel_l,
        lowest_state_of_charge=1 - stages[year].period.battery.max_dod,
        capped=last >= horizon,
    )
