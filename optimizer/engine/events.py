"""What wears a bank and what it gives: outages by their own clock, cuts, peaks of the supply."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np

from optimizer.formulas.generator import days_begun
from optimizer.formulas.load import DAY_H
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.formulas.windows import clock_wh
from optimizer.model.arrays import Bools, Floats
from optimizer.model.demand import Demand
from optimizer.model.job import GeneratorRules, Job


@dataclass(frozen=True, slots=True)
class Events:
    """Discharges of the bank: hours [h], AC energy in year 0 [Wh] and times a year, by event.

    ``is_peak`` marks peaks of the supply, of whose energy only the loss is paid.
    ``known_discharges`` are those worked out already, by what they depend on in a bank.
    """

    hours: Floats
    energy_wh: Floats
    times_a_year: Floats
    is_peak: Bools
    known_discharges: dict[object, list[Any]] = field(
        default_factory=dict, repr=False, compare=False
    )


class Cut(NamedTuple):
    """A cut that comes every day: its length, the time to the next one [h], AC energy [Wh].

    ``energy_wh`` has one figure a season, of year 0.
    """

    hours: float
    gap_h: float
    energy_wh: tuple[float, ...]


class Excess(NamedTuple):
    """What a peak draws beyond the contract: for how long [h], how much [W], how often a year."""

    hours: float
    power_w: float
    times_a_year: float


def events_of(
    job: Job,
    demand: Demand,
    excess: Iterable[Excess] = (),
    generator: GeneratorRules | None = None,
) -> Events:
    """Return every discharge of a year, alike ones counted together.

    ``excess`` are the peaks beyond the supply contract. With the rules of a ``generator`` that
    stands beside the bank, a long outage is one night after another.
    """
    found: dict[tuple[float, float, bool], float] = {}
    for hours, energy_wh, times in _outages(job, demand):
        length_h, taken_wh, often = hours, energy_wh, times
        if generator is not None and hours > generator.night_hours * (1 + RELATIVE_TOLERANCE):
            length_h = float(generator.night_hours)
            taken_wh = length_h * demand.mean_w
            often = times * days_begun(hours, generator.start_after_h)
        key = (length_h, taken_wh, False)
        found[key] = found.get(key, 0.0) + often
    for one in excess:
        key = (one.hours, one.hours * one.power_w, True)
        found[key] = found.get(key, 0.0) + one.times_a_year
    hours_wh = np.array([key[:2] for key in found], dtype=float).reshape(-1, 2)
    return Events(
        hours=hours_wh[:, 0],
        energy_wh=hours_wh[:, 1],
        times_a_year=np.array(list(found.values()), dtype=float),
        is_peak=np.array([key[2] for key in found], dtype=bool),
    )


def unserved_wh_per_year(job: Job, demand: Demand) -> float:
    """Return the energy that outages of a year leave unserved if nothing is done [Wh]."""
    return sum(energy_wh * times for _, energy_wh, times in _outages(job, demand))


def _outages(job: Job, demand: Demand) -> Iterator[tuple[float, float, float]]:
    """Yield hours, AC energy and times a year of the outages, whatever the form given."""
    outages, seasons = job.outages, job.site.seasons
    season_of = {month: index for index, one in enumerate(seasons) for month in one.months}
    for logged in outages.log:
        start = logged.start
        start_h = start.hour + start.minute / 60 + start.second / 3600
        energy_wh = _clock_wh(demand, season_of[start.month], start_h, logged.hours)
        yield logged.hours, energy_wh, 1 / (outages.log_years or 1.0)
    for start_h, end_h in outages.daily:
        for index, season in enumerate(seasons):
            energy_wh = _clock_wh(demand, index, start_h, end_h - start_h)
            days = (outages.days_per_year or 0.0) * len(season.months) / 12
            yield end_h - start_h, energy_wh, days
    if outages.form == "typed":
        for hours, times in outages.typed:
            yield hours, demand.mean_wh(hours), times


def _clock_wh(demand: Demand, season: int, start_h: float, hours: float) -> float:
    """Return the energy of one outage by its own clock, worked out once [Wh]."""
    known, key = demand.known_outages_wh, (season, start_h, hours)
    if key not in known:
        known[key] = clock_wh(demand.layers, season, start_h, hours)
    return known[key]


def scheduled_cuts(job: Job, demand: Demand) -> tuple[Cut, ...]:
    """Return the cuts of a day in order, none where the outages are not scheduled."""
    daily = sorted(job.outages.daily)
    following = [*daily[1:], *((start + DAY_H, end) for start, end in daily[:1])]
    return tuple(
        Cut(
            hours=end_h - start_h,
            gap_h=next_h - end_h,
            energy_wh=tuple(
                _clock_wh(demand, season, start_h, end_h - start_h)
                for season in range(len(job.site.seasons))
            ),
        )
        for (start_h, end_h), (next_h, _) in zip(daily, following, strict=True)
    )
