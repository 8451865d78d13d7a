"""What a person might doubt: each a number of the job, its range, and the job it makes.

A parameter changes one thing and leaves all else. Its range, unit and the doubt about it (low and
high) are stated here, once; a site's own numbers are the base. A new one is a member of `Kind`,
what it changes in `_CHANGES`, a place in `parameters_of`, and its name in
`optimizer.report.words.parameters`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Final

from optimizer.errors import wrong_option
from optimizer.model.job import Battery, Job
from optimizer.model.limits import is_limited
from optimizer.model.phrase import Phrase
from optimizer.model.scaled import with_loads, with_outages
from optimizer.model.shown import shown

#: Outages from a tenth of what the site has to ten times as many.
OUTAGE_RANGE = (0.1, 10.0)
#: Battery prices from a quarter to three times today's.
PRICE_RANGE = (0.25, 3.0)
#: Real discount rates [1/a]: from money that costs nothing to dear credit.
RATE_RANGE = (0.0, 0.15)
#: Added to every model's own drift of price [1/a].
DRIFT_RANGE = (-0.08, 0.08)
#: Mean of the battery room [°C]; never below the site's coldest.
HOTTEST_DEGC = 40.0
#: Factor on the maximum depth of discharge; no model goes beyond 1.
DEPTH_RANGE = (0.5, 1.5)
#: Factor on makers' cycle and float lives, and what is doubted of them.
LIFE_RANGE, LIFE_DOUBT = (0.3, 2.0), (0.7, 1.15)
#: Prices of energy, fuel and contracts from nothing to four times today's.
PRICE_TIMES = 4.0
#: Most that a kWh that is missing may be worth, in any currency [currency/kWh].
DEAREST_KWH = 1e6
#: Factor on the current of all chargers.
CHARGER_RANGE = (0.5, 3.0)
#: Years.
STUDY_PERIOD_RANGE = (1, 25)


class Kind(StrEnum):
    """What a parameter is of; with its family it is the parameter's key."""

    OUTAGES = "outages"
    DISCOUNT_RATE = "rate"
    STUDY_PERIOD = "study-period"
    PRICE = "price"
    PRICE_DRIFT = "drift"
    RESIDUAL_SHARE = "residual-share"
    TEMPERATURE = "room"
    DEPTH = "depth"
    CYCLE_LIFE = "cycle-life"
    FLOAT_LIFE = "float-life"
    TARIFF = "tariff"
    CHARGER = "charger"
    CONTRACT_PRICE = "contract-price"
    FUEL_PRICE = "fuel-price"
    LOAD = "load"
    LOST_LOAD = "lost-load"


#: Those that each family of the price list has one of.
FAMILY_KINDS = frozenset({Kind.PRICE, Kind.DEPTH, Kind.CYCLE_LIFE, Kind.FLOAT_LIFE})


class Unit(StrEnum):
    """What a parameter is counted in."""

    TIMES_A_YEAR = "1/a"
    SHARE = "share"
    MORE_SHARE = "more_share"
    YEARS = "a"
    FACTOR = "factor"
    DEGC = "°C"
    MONEY_PER_KWH = "currency/kWh"
    MONEY_PER_LITRE = "currency/l"


#: Units that are shown in per cent.
SHARES = frozenset({Unit.SHARE, Unit.MORE_SHARE})


class Shape(StrEnum):
    """How costs move along a parameter, which decides how switch points are found.

    ``CONCAVE``: a design's cost runs straight, or bends down where its residual value reaches
    zero, and what is allowed does not change; so the least cost is concave and made of straight
    pieces. ``WHOLE``: whole numbers only. ``ANY``: nothing is known.
    """

    CONCAVE = "concave"
    WHOLE = "whole"
    ANY = "any"


@dataclass(frozen=True, kw_only=True)
class Parameter:
    """One number of a job that may be otherwise.

    ``low`` and ``high`` bound the search; ``doubt`` are the two values of a sensitivity.
    """

    also = ("key",)

    kind: Kind
    unit: Unit
    base: float
    low: float
    high: float
    doubt: tuple[float, float]
    shape: Shape = field(default=Shape.ANY, metadata=shown(hide=True))
    family: str | None = None

    @property
    def key(self) -> str:
        """What it is called in commands and files, such as "outages" or "price:lithium"."""
        return self.kind if self.family is None else f"{self.kind}:{self.family}"

    def at(self, job: Job, value: float) -> Job:
        """Return the job with this number instead; the job itself at the base."""
        return job if value == self.base else self.change(job, value)

    def change(self, job: Job, value: float) -> Job:
        """Return the job with this number instead."""
        return _CHANGES[self.kind](job, value, self.family)


def parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return every parameter of a job that may favour one side."""
    site, families, straight = job.site, job.catalog.families, _straight(job)
    found = [_outages(job)] if job.outages.times_a_year > 0 else []
    found += [_rate(job), _study_period(job)]
    found += [_factor(Kind.PRICE, PRICE_RANGE, (0.8, 1.2), one, straight) for one in families]
    found.append(_number(Kind.PRICE_DRIFT, Unit.MORE_SHARE, 0.0, DRIFT_RANGE, (-0.03, 0.03)))
    found += [_residual_share(job), _temperature(job)]
    for family in families:
        found += [
            _factor(Kind.DEPTH, DEPTH_RANGE, (0.8, 1.2), family),
            _factor(Kind.CYCLE_LIFE, LIFE_RANGE, LIFE_DOUBT, family),
            _factor(Kind.FLOAT_LIFE, LIFE_RANGE, LIFE_DOUBT, family),
        ]
    found.append(_unit_price(job, Kind.TARIFF, Unit.MONEY_PER_KWH, site.tariff))
    found.append(_factor(Kind.CHARGER, CHARGER_RANGE, (0.8, 1.2)))
    if site.contracts:
        found.append(_factor(Kind.CONTRACT_PRICE, (0.0, PRICE_TIMES), (0.5, 2.0), None, straight))
    if site.generator is not None:
        price = site.generator.fuel_price
        found.append(_unit_price(job, Kind.FUEL_PRICE, Unit.MONEY_PER_LITRE, price))
    return tuple(found)


def sensitivity_parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return `parameters_of` and the load, which favours nobody but costs money."""
    return (*parameters_of(job), _factor(Kind.LOAD, (0.5, 2.0), (0.8, 1.25)))


def what_if_parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return every parameter that may be supposed, also the value of a kWh that is missing."""
    now = job.site.value_of_lost_load or 0.0
    worth = _unit_price(job, Kind.LOST_LOAD, Unit.MONEY_PER_KWH, now)
    return (*sensitivity_parameters_of(job), replace(worth, high=max(DEAREST_KWH, worth.high)))


def parameter_named(job: Job, key: str) -> Parameter:
    """Return the parameter of a key, such as "price:lithium"; InputError where there is none."""
    known = {one.key: one for one in parameters_of(job)}
    if key not in known:
        wanted = Phrase("one of {names}", names=", ".join(known))
        raise wrong_option("number", key, wanted)
    return known[key]


def with_batteries(
    job: Job, change: Callable[[Battery], Battery], family: str | None = None
) -> Job:
    """Return a job with other batteries, those of one family or all."""
    batteries = tuple(
        change(battery) if family in {None, battery.family} else battery
        for battery in job.catalog.batteries
    )
    return replace(job, catalog=replace(job.catalog, batteries=batteries))


def with_lives(battery: Battery, *, years: float = 1.0, cycles: float = 1.0) -> Battery:
    """Return a battery whose float life and cycle life are so many times as long."""
    return replace(
        battery,
        float_life_years=battery.float_life_years * years,
        cycle_points=tuple((depth, count * cycles) for depth, count in battery.cycle_points),
    )


def _straight(job: Job) -> Shape:
    """Return the shape of a price: where money is limited, it changes what is allowed."""
    return Shape.ANY if is_limited(job) else Shape.CONCAVE


def _outages(job: Job) -> Parameter:
    now = job.outages.times_a_year
    low, high = (factor * now for factor in OUTAGE_RANGE)
    return _number(Kind.OUTAGES, Unit.TIMES_A_YEAR, now, (low, high), (now / 2, now * 2))


def _rate(job: Job) -> Parameter:
    now = job.site.discount_rate
    low, high = min(RATE_RANGE[0], now), max(RATE_RANGE[1], now)
    doubt = max(low, now - 0.02), min(high, now + 0.03)
    return _number(Kind.DISCOUNT_RATE, Unit.SHARE, now, (low, high), doubt)


def _study_period(job: Job) -> Parameter:
    now = job.site.horizon_years
    low, high = STUDY_PERIOD_RANGE[0], max(STUDY_PERIOD_RANGE[1], now)
    doubt = max(low, now - 5), min(high, now + 5)
    return _number(Kind.STUDY_PERIOD, Unit.YEARS, now, (low, high), doubt, shape=Shape.WHOLE)


def _residual_share(job: Job) -> Parameter:
    now = job.site.residual_share
    ends, doubt = (0.0, max(1.0, now)), (max(0.0, now - 0.3), min(1.0, now + 0.3))
    return _number(Kind.RESIDUAL_SHARE, Unit.SHARE, now, ends, doubt, shape=_straight(job))


def _temperature(job: Job) -> Parameter:
    now, low = job.site.mean_degc, job.site.min_degc
    high = max(HOTTEST_DEGC, now)
    doubt = max(low, now - 5), min(high, now + 10)
    return _number(Kind.TEMPERATURE, Unit.DEGC, now, (low, high), doubt)


def _factor(
    kind: Kind,
    ends: tuple[float, float],
    doubt: tuple[float, float],
    family: str | None = None,
    shape: Shape = Shape.ANY,
) -> Parameter:
    """Return a factor on what stands in the files."""
    return _number(kind, Unit.FACTOR, 1.0, ends, doubt, family=family, shape=shape)


def _unit_price(job: Job, kind: Kind, unit: Unit, now: float) -> Parameter:
    """Return the price of a unit of energy, from nothing to some times what it is now."""
    ends = 0.0, max(PRICE_TIMES * now, 0.1)
    return _number(kind, unit, now, ends, (now / 2, now * 2), shape=_straight(job))


def _number(
    kind: Kind,
    unit: Unit,
    base: float,
    ends: tuple[float, float],
    doubt: tuple[float, float],
    *,
    family: str | None = None,
    shape: Shape = Shape.ANY,
) -> Parameter:
    low, high = ends
    return Parameter(
        kind=kind,
        unit=unit,
        base=base,
        low=low,
        high=high,
        doubt=doubt,
        shape=shape,
        family=family,
    )


def _warm(job: Job, degc: float, _: str | None) -> Job:
    site = job.site
    more = degc - site.mean_degc
    monthly = tuple(max(site.min_degc, one + more) for one in site.monthly_degc or ())
    return job.with_site(
        mean_degc=degc,
        max_degc=max(site.max_degc, degc, *monthly),
        monthly_degc=monthly or None,
    )


def _deep(job: Job, factor: float, family: str | None) -> Job:
    def drawn(one: Battery) -> Battery:
        return replace(
            one,
            max_dod=min(1.0, one.max_dod * factor),
            max_dods=tuple(dict.fromkeys(min(1.0, each * factor) for each in one.max_dods)),
        )

    return with_batteries(job, drawn, family)


def _charged(job: Job, factor: float, _: str | None) -> Job:
    inverters = tuple(
        replace(one, charger_a=one.charger_a * factor) for one in job.catalog.inverters
    )
    return replace(job, catalog=replace(job.catalog, inverters=inverters))


def _contracted(job: Job, factor: float, _: str | None) -> Job:
    steps = tuple(replace(one, cost_year=one.cost_year * factor) for one in job.site.contracts)
    return job.with_site(contracts=steps)


def _fuelled(job: Job, price: float, _: str | None) -> Job:
    rules = job.site.generator
    return job if rules is None else job.with_site(generator=replace(rules, fuel_price=price))


#: The job with another number, of a family where it is one's own.
_CHANGES: Final[Mapping[Kind, Callable[[Job, float, str | None], Job]]] = {
    Kind.OUTAGES: lambda job, times, _: with_outages(job, times / job.outages.times_a_year),
    Kind.DISCOUNT_RATE: lambda job, rate, _: job.with_site(discount_rate=rate),
    Kind.STUDY_PERIOD: lambda job, years, _: job.with_site(horizon_years=round(years)),
    Kind.PRICE: lambda job, factor, family: with_batteries(
        job, lambda one: replace(one, price=one.price * factor), family
    ),
    Kind.PRICE_DRIFT: lambda job, more, family: with_batteries(
        job, lambda one: replace(one, price_drift=one.price_drift + more), family
    ),
    Kind.RESIDUAL_SHARE: lambda job, share, _: job.with_site(residual_share=share),
    Kind.TEMPERATURE: _warm,
    Kind.DEPTH: _deep,
    Kind.CYCLE_LIFE: lambda job, factor, family: with_batteries(
        job, lambda one: with_lives(one, cycles=factor), family
    ),
    Kind.FLOAT_LIFE: lambda job, factor, family: with_batteries(
        job, lambda one: with_lives(one, years=factor), family
    ),
    Kind.TARIFF: lambda job, tariff, _: job.with_site(tariff=tariff),
    Kind.CHARGER: _charged,
    Kind.CONTRACT_PRICE: _contracted,
    Kind.FUEL_PRICE: _fuelled,
    Kind.LOAD: lambda job, factor, _: with_loads(job, factor),
    Kind.LOST_LOAD: lambda job, value, _: job.with_site(value_of_lost_load=value),
}
