"""What a person might doubt: each a number of the job, its range, and the job it makes.

A parameter changes one thing and leaves all else. Its range, unit and the doubt about it (low and
high) are stated here, once; a site's own numbers are the base. A new one is a function below, its
name in `optimizer.report.words.parameters`, and a place in `parameters_of`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from optimizer.comparison.parameter import Change, Kind, Parameter, Shape, Unit
from optimizer.errors import wrong_option
from optimizer.model.job import Battery, Job
from optimizer.model.limits import is_limited
from optimizer.model.phrase import Phrase
from optimizer.model.scaled import with_loads, with_outages

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
#: Factor on makers' cycle and float lives.
LIFE_RANGE = (0.3, 2.0)
#: Prices of energy, fuel and contracts from nothing to four times today's.
PRICE_TIMES = 4.0
#: Most that a kWh that is missing may be worth, in any currency [currency/kWh].
DEAREST_KWH = 1e6
#: Factor on the current of all chargers.
CHARGER_RANGE = (0.5, 3.0)
#: Years.
STUDY_PERIOD_RANGE = (1, 25)


def parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return every parameter of a job that may favour one side."""
    families = families_of(job)
    found = [_outages(job)] if outages_a_year(job) > 0 else []
    found += [_rate(job), _study_period(job)]
    found += [_price(job, family) for family in families]
    found += [_drift(), _residual_share(job), _temperature(job)]
    for family in families:
        found += [_depth(family), _cycle_life(family), _float_life(family)]
    found += [_tariff(job), _charger()]
    if job.site.contracts:
        found.append(_contract_price(job))
    if job.site.generator is not None:
        found.append(_fuel_price(job, job.site.generator.fuel_price))
    return tuple(found)


def sensitivity_parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return `parameters_of` and the load, which favours nobody but costs money."""
    return (*parameters_of(job), _load())


def what_if_parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return every parameter that may be supposed, also the value of a kWh that is missing."""
    return (*sensitivity_parameters_of(job), _lost_load(job))


def parameter_named(job: Job, key: str) -> Parameter:
    """Return the parameter of a key, such as "outages" or "price:lithium".

    Raises
    ------
    InputError
        The job has none of this key.
    """
    known = {one.key: one for one in parameters_of(job)}
    if key not in known:
        wanted = Phrase("one of {names}", names=", ".join(known))
        raise wrong_option("number", key, wanted)
    return known[key]


def families_of(job: Job) -> tuple[str, ...]:
    """Return the families of the price list in its order."""
    return tuple(dict.fromkeys(battery.family for battery in job.catalog.batteries))


def outages_a_year(job: Job) -> float:
    """Return how many outages a year the site counts [1/a]."""
    return sum(times for _, times in job.outages.yearly)


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
    now = outages_a_year(job)
    low, high = (factor * now for factor in OUTAGE_RANGE)
    return Parameter(
        kind=Kind.OUTAGES,
        unit=Unit.TIMES_A_YEAR,
        base=now,
        low=low,
        high=high,
        doubt=(now / 2, now * 2),
        change=_often,
    )


def _often(job: Job, times: float, _: str | None) -> Job:
    return with_outages(job, times / outages_a_year(job))


def _rate(job: Job) -> Parameter:
    now = job.site.discount_rate
    low, high = min(RATE_RANGE[0], now), max(RATE_RANGE[1], now)
    return Parameter(
        kind=Kind.DISCOUNT_RATE,
        unit=Unit.SHARE,
        base=now,
        low=low,
        high=high,
        doubt=(max(low, now - 0.02), min(high, now + 0.03)),
        change=_discounted,
    )


def _discounted(job: Job, rate: float, _: str | None) -> Job:
    return job.with_site(discount_rate=rate)


def _study_period(job: Job) -> Parameter:
    now = job.site.horizon_years
    low, high = STUDY_PERIOD_RANGE
    return Parameter(
        kind=Kind.STUDY_PERIOD,
        unit=Unit.YEARS,
        base=now,
        low=low,
        high=max(high, now),
        doubt=(max(low, now - 5), now + 5),
        change=_studied,
        shape=Shape.WHOLE,
    )


def _studied(job: Job, years: float, _: str | None) -> Job:
    return job.with_site(horizon_years=round(years))


def _price(job: Job, family: str) -> Parameter:
    return _factor(Kind.PRICE, PRICE_RANGE, (0.8, 1.2), _priced, family, shape=_straight(job))


def _priced(job: Job, factor: float, family: str | None) -> Job:
    return with_batteries(job, lambda one: replace(one, price=one.price * factor), family)


def _drift() -> Parameter:
    low, high = DRIFT_RANGE
    return Parameter(
        kind=Kind.PRICE_DRIFT,
        unit=Unit.MORE_SHARE,
        base=0.0,
        low=low,
        high=high,
        doubt=(-0.03, 0.03),
        change=_drifting,
    )


def _drifting(job: Job, more: float, family: str | None) -> Job:
    return with_batteries(job, lambda one: replace(one, price_drift=one.price_drift + more), family)


def _residual_share(job: Job) -> Parameter:
    now = job.site.residual_share
    return Parameter(
        kind=Kind.RESIDUAL_SHARE,
        unit=Unit.SHARE,
        base=now,
        low=0.0,
        high=max(1.0, now),
        doubt=(max(0.0, now - 0.3), min(1.0, now + 0.3)),
        change=_resold,
        shape=_straight(job),
    )


def _resold(job: Job, share: float, _: str | None) -> Job:
    return job.with_site(residual_share=share)


def _temperature(job: Job) -> Parameter:
    site = job.site
    now, high = site.mean_degc, max(HOTTEST_DEGC, site.mean_degc)
    return Parameter(
        kind=Kind.TEMPERATURE,
        unit=Unit.DEGC,
        base=now,
        low=site.min_degc,
        high=high,
        doubt=(max(site.min_degc, now - 5), min(high, now + 10)),
        change=_warm,
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


def _depth(family: str) -> Parameter:
    return _factor(Kind.DEPTH, DEPTH_RANGE, (0.8, 1.2), _deep, family)


def _deep(job: Job, factor: float, family: str | None) -> Job:
    def drawn(one: Battery) -> Battery:
        return replace(
            one,
            max_dod=min(1.0, one.max_dod * factor),
            max_dods=tuple(dict.fromkeys(min(1.0, each * factor) for each in one.max_dods)),
        )

    return with_batteries(job, drawn, family)


def _cycle_life(family: str) -> Parameter:
    return _factor(Kind.CYCLE_LIFE, LIFE_RANGE, (0.7, 1.15), _cycled, family)


def _cycled(job: Job, factor: float, family: str | None) -> Job:
    return with_batteries(job, lambda one: with_lives(one, cycles=factor), family)


def _float_life(family: str) -> Parameter:
    return _factor(Kind.FLOAT_LIFE, LIFE_RANGE, (0.7, 1.15), _floated, family)


def _floated(job: Job, factor: float, family: str | None) -> Job:
    return with_batteries(job, lambda one: with_lives(one, years=factor), family)


def _tariff(job: Job) -> Parameter:
    return _unit_price(job, Kind.TARIFF, Unit.MONEY_PER_KWH, job.site.tariff, _supplied)


def _unit_price(
    job: Job, kind: Kind, unit: Unit, now: float, change: Callable[[Job, float, str | None], Job]
) -> Parameter:
    """Return the price of a unit of energy, from nothing to some times what it is now."""
    return Parameter(
        kind=kind,
        unit=unit,
        base=now,
        low=0.0,
        high=max(PRICE_TIMES * now, 0.1),
        doubt=(now / 2, now * 2),
        change=change,
        shape=_straight(job),
    )


def _supplied(job: Job, tariff: float, _: str | None) -> Job:
    return job.with_site(tariff=tariff)


def _charger() -> Parameter:
    return _factor(Kind.CHARGER, CHARGER_RANGE, (0.8, 1.2), _charged)


def _charged(job: Job, factor: float, _: str | None) -> Job:
    inverters = tuple(
        replace(one, charger_a=one.charger_a * factor) for one in job.catalog.inverters
    )
    return replace(job, catalog=replace(job.catalog, inverters=inverters))


def _contract_price(job: Job) -> Parameter:
    ends = (0.0, PRICE_TIMES)
    return _factor(Kind.CONTRACT_PRICE, ends, (0.5, 2.0), _contracted, shape=_straight(job))


def _contracted(job: Job, factor: float, _: str | None) -> Job:
    steps = tuple(replace(one, cost_year=one.cost_year * factor) for one in job.site.contracts)
    return job.with_site(contracts=steps)


def _fuel_price(job: Job, now: float) -> Parameter:
    return _unit_price(job, Kind.FUEL_PRICE, Unit.MONEY_PER_LITRE, now, _fuelled)


def _fuelled(job: Job, price: float, _: str | None) -> Job:
    rules = job.site.generator
    return job if rules is None else job.with_site(generator=replace(rules, fuel_price=price))


def _lost_load(job: Job) -> Parameter:
    now = job.site.value_of_lost_load or 0.0
    found = _unit_price(job, Kind.LOST_LOAD, Unit.MONEY_PER_KWH, now, _missed)
    return replace(found, high=max(DEAREST_KWH, found.high))


def _missed(job: Job, value: float, _: str | None) -> Job:
    return job.with_site(value_of_lost_load=value)


def _load() -> Parameter:
    return _factor(Kind.LOAD, (0.5, 2.0), (0.8, 1.25), _loaded)


def _loaded(job: Job, factor: float, _: str | None) -> Job:
    return with_loads(job, factor)


def _factor(
    kind: Kind,
    ends: tuple[float, float],
    doubt: tuple[float, float],
    change: Change,
    family: str | None = None,
    *,
    shape: Shape = Shape.ANY,
) -> Parameter:
    return Parameter(
        kind=kind,
        family=family,
        unit=Unit.FACTOR,
        base=1.0,
        low=ends[0],
        high=ends[1],
        doubt=doubt,
        change=change,
        shape=shape,
    )
