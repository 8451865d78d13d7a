"""The sheet a household keeps: what stays on, how to read the meter, the yearly test, the dues."""

import calendar
import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import ClassVar

import numpy as np

from optimizer.answers.beside import Running, running_of
from optimizer.answers.installed import existing_of, recharge_of
from optimizer.formulas.load import average_w
from optimizer.formulas.rounding import rounded
from optimizer.formulas.tolerance import whole_years
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.needs import staying_on
from optimizer.quote.cautions import Hazard, hazards
from optimizer.quote.company import Company
from optimizer.quote.priced_lines import sum_again
from optimizer.quote.sums import Part, Sum
from optimizer.quote.switch_off import SwitchOff, fewest_to_double
from optimizer.simulate import RideThrough, ride_through

_MONTHS = 12
#: A test that people will do: hours without the grid, and the hours of the day it may start at.
_TEST_HOURS = 2
_TEST_STARTS = (8, 17)


@dataclass(frozen=True, slots=True)
class KeptLoad:
    """A load that stays on, with what it takes a day in each season [kWh]."""

    load: str
    tier: str
    count: int
    kwh_day: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class SeasonHours:
    """Hours in one season from the worst start, by simulation, of the bank alone.

    ``new`` in the first year, ``last`` in the last year of the first bank; ``first_tier_new`` and
    ``first_tier_last`` with only the site's first tier left on [h].
    """

    season: str
    new: float
    last: float
    first_tier_new: float
    first_tier_last: float


@dataclass(frozen=True, slots=True)
class YearlyTest:
    """The test to do once a year.

    ``fall_new`` and ``fall_last``: by how much of its charge (0…1) the bank may fall for each kWh
    that the meter behind the inverter counts, in the first year and in the last. ``recharge_hours``
    from empty to full with the chargers there are [h].
    """

    hours: int
    fall_new: float
    fall_last: float
    recharge_hours: float
    top_up: bool


@dataclass(frozen=True, slots=True)
class Units:
    """So many units of a model."""

    count: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDue:
    """A part to be replaced: what, after how many months of service, when, at which sum.

    ``following`` is what takes its place where that is another model. ``monthly`` is the sum to
    set aside each month until then, in today's money without interest.
    """

    part: Part
    units: Units
    following: Units | None = None
    after_months: int
    due: date
    amount: Decimal
    monthly: Decimal


@dataclass(frozen=True, slots=True)
class Handover:
    """The handing-over sheet of one option.

    ``critical`` are the loads that somebody's health or safety hangs on; ``staying_on`` those that
    are never to be switched off, the first tier apart.
    Hours, energy and test are of the bank alone: that is what a household has until somebody
    starts the generator. ``generator`` is what that one then does, None without one.
    """

    kept: tuple[KeptLoad, ...]
    seasons: tuple[SeasonHours, ...]
    first_tier: str
    last_year: int
    outage_kwh_new: float
    outage_kwh_last: float
    switch_off: SwitchOff
    test: YearlyTest
    has_monitor: bool
    generator: Running | None
    parts: tuple[PartDue, ...]
    hazards: tuple[Hazard, ...]
    critical: tuple[str, ...]
    staying_on: tuple[str, ...]

    also: ClassVar = ("monthly",)

    @property
    def monthly(self) -> Decimal:
        """What all parts together ask to be set aside each month."""
        return sum((part.monthly for part in self.parts), Decimal(0))


def handover_sheet(job: Job, design: Design, company: Company, day: date) -> Handover:
    """Return the sheet for a household."""
    last_year, alone = first_life_years(design) - 1, design.bank_alone
    years = (0, last_year)
    ride = ride_through(job, alone, years=years)
    # as an energy meter behind the inverter counts it; the least, so that it never flatters a bank
    new_kwh, last_kwh = (float(ride.in_year(year).served_wh.min()) / 1000 for year in years)
    return Handover(
        kept=tuple(_kept(job)),
        seasons=tuple(_season_hours(job, alone, ride)),
        first_tier=job.site.tiers[0],
        last_year=last_year,
        outage_kwh_new=new_kwh,
        outage_kwh_last=last_kwh,
        switch_off=fewest_to_double(job, alone),
        test=_yearly_test(job, alone, ride),
        has_monitor=company.monitor,
        generator=running_of(job, design),
        parts=tuple(_parts(job, design, company, day)),
        hazards=hazards(design),
        critical=job.critical_loads,
        staying_on=tuple(
            load.load for load in staying_on(job.loads) if load.tier in job.site.tiers[1:]
        ),
    )


def first_life_years(design: Design) -> int:
    """Return how long the bank that is put in place stands, within the study period [a]."""
    first = design.banks[0]
    return first.end if first.bought == 1 else max(1, whole_years(first.service_life_years))


def _kept(job: Job) -> Iterator[KeptLoad]:
    for tier in job.site.tiers:
        for load in job.loads:
            if load.tier == tier:
                daily = tuple(
                    float(average_w([load], season).sum()) / 1000 for season in job.site.seasons
                )
                yield KeptLoad(load.load, tier, load.count, daily)


def _season_hours(job: Job, design: Design, ride: RideThrough) -> Iterator[SeasonHours]:
    first_tier = ride_through(job, design, tiers=job.site.tiers[:1], years=ride.years)
    for place, season in enumerate(ride.seasons):
        every, tier = (one.hours[:, place].min(axis=1).tolist() for one in (ride, first_tier))
        yield SeasonHours(season, every[0], every[-1], tier[0], tier[-1])


def _yearly_test(job: Job, design: Design, ride: RideThrough) -> YearlyTest:
    """Return a daytime test, with the most charge that a kWh behind the inverter may cost in it."""
    hours = min(_TEST_HOURS, max(1, math.floor(ride.shortest / 2)))
    test = ride_through(job, design, years=ride.years, limit_hours=float(hours))
    starts = slice(*_TEST_STARTS)
    falls = test.depth[..., starts] / np.maximum(test.served_wh[..., starts] / 1000, 1e-9)
    by_year = falls.max(axis=(1, 2)).tolist()
    recharge = recharge_of(job, existing_of(design)).full_hours
    top_up = design.banks[0].battery.gas == "vented"
    return YearlyTest(hours, by_year[0], by_year[-1], recharge, top_up)


def _parts(job: Job, design: Design, company: Company, day: date) -> Iterator[PartDue]:
    inverter, generator, first = design.inverter, design.generator, design.banks[0]
    chained = len(design.banks) > 1 and first.bought == 1
    following = design.banks[1] if chained else first
    bank_months = _whole_months(first.end if chained else first.service_life_years)
    if first.bought > 1:  # of many, each serves its life to the end, not whole years of it
        bank_months = max(1, math.floor(first.service_life_years * _MONTHS))

    def due(
        part: Part, units: Units, months: int, again: Sum, then: Units | None = None
    ) -> PartDue:
        return PartDue(
            part=part,
            units=units,
            following=then,
            after_months=months,
            due=months_after(day, months),
            amount=again.total,
            monthly=rounded(again.total / months, job.site.currency),
        )

    units, then = (Units(one.units, one.battery.battery) for one in (first, following))
    other = None if then.name == units.name else then
    yield due(Part.BATTERY, units, bank_months, sum_again(job, following, company), other)
    units, again = Units(design.inverter_units, inverter.inverter), sum_again(job, design, company)
    yield due(Part.INVERTER, units, _whole_months(inverter.life_years), again)
    if generator is not None:
        units, again = Units(1, generator.generator), sum_again(job, generator, company)
        yield due(Part.GENERATOR, units, _whole_months(generator.life_years), again)


def _whole_months(life_years: float) -> int:
    """Return the months of the whole years of a life, of one year at least."""
    return _MONTHS * max(1, whole_years(life_years))


def months_after(day: date, months: int) -> date:
    """Return the same day some months later; the last of the month where it has no such day.

    >>> from datetime import date
    >>> months_after(date(2028, 2, 29), 12)
    datetime.date(2029, 2, 28)
    """
    years, month = divmod(day.month - 1 + months, _MONTHS)
    year, month = day.year + years, month + 1
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
