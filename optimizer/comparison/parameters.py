"""What a person might doubt: each a number of the job, its range, and the job it makes.

A parameter changes one thing and leaves all else. Its range, unit and the doubt about it (low and
high) are stated here, once; a site's own numbers are the base. ``shape`` tells how the money of
one fixed design moves along the parameter, which makes the search for switch points complete:

* *line*: a straight line;
* *falling*: what is paid and what comes back both fall, ever more slowly (the discount rate);
* *rising*: it bends ever more as the value grows (drift, temperature);
* *steady*: it only ever rises or only ever falls, nothing more is known;
* *whole*: whole numbers, each is worked out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from optimizer.model.job import Job

if TYPE_CHECKING:
    from optimizer.model.job import Battery

Shape = Literal["line", "falling", "rising", "steady", "whole"]

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
#: Factor on the depth allowed; no model goes beyond 1.
DEPTH_RANGE = (0.5, 1.5)
#: Tariff from nothing to four times today's.
TARIFF_TIMES = 4.0
#: Years.
HORIZON_RANGE = (1, 25)
#: Float life is flat below this temperature [°C].
_REFERENCE_DEGC = 20.0


@dataclass(frozen=True)
class Parameter:
    """One number of a job that may be otherwise.

    ``low`` and ``high`` bound the search; ``doubt`` are the two values of a sensitivity;
    ``breaks`` are values inside the range at which the shape starts anew.
    """

    key: str
    name: str
    unit: str
    base: float
    low: float
    high: float
    doubt: tuple[float, float]
    shape: Shape
    change: Callable[[Job, float], Job]
    breaks: tuple[float, ...] = ()

    def at(self, job: Job, value: float) -> Job:
        """Return the job with this number instead; the job itself at the base."""
        return job if value == self.base else self.change(job, value)


def parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return every parameter of a job, those of single families after the common ones."""
    families = tuple(dict.fromkeys(battery.family for battery in job.catalog.batteries))
    found = [_outages(job)] if outages_a_year(job) > 0 else []
    found += [_rate(job), _horizon(job)]
    found += [_price(family) for family in families]
    found += [_drift(), _warmth(job)]
    found += [_depth(family) for family in families]
    found += [_tariff(job)]
    return tuple(found)


def sensitivity_parameters_of(job: Job) -> tuple[Parameter, ...]:
    """Return `parameters_of` and the load, which favours nobody but costs money."""
    return (*parameters_of(job), _load())


def parameter_named(job: Job, key: str) -> Parameter | None:
    """Return the parameter of a key, such as "outages" or "price:lithium", or None."""
    return next(
        (parameter for parameter in sensitivity_parameters_of(job) if parameter.key == key), None
    )


def _site(job: Job, **changes: object) -> Job:
    return replace(job, site=replace(job.site, **changes))  # type: ignore[arg-type]


def _batteries(job: Job, change: Callable[[Battery], Battery]) -> Job:
    batteries = tuple(change(battery) for battery in job.catalog.batteries)
    return replace(job, catalog=replace(job.catalog, batteries=batteries))


def outages_a_year(job: Job) -> float:
    """Return how many outages a year the site counts [1/a]."""
    return sum(times for _, times in job.outages.yearly)


def _outages(job: Job) -> Parameter:
    now = outages_a_year(job)

    def often(job: Job, times: float) -> Job:
        factor = times / outages_a_year(job)
        yearly = tuple((hours, each * factor) for hours, each in job.outages.yearly)
        return replace(job, outages=replace(job.outages, yearly=yearly))

    low, high = (factor * now for factor in OUTAGE_RANGE)
    return Parameter(
        "outages", "outages a year", "", now, low, high, (now / 2, now * 2), "line", often
    )


def _rate(job: Job) -> Parameter:
    now = job.site.discount_rate
    low, high = min(RATE_RANGE[0], now), max(RATE_RANGE[1], now)
    return Parameter(
        "rate",
        "discount rate",
        "%",
        now,
        low,
        high,
        (max(low, now - 0.02), min(high, now + 0.03)),
        "falling",
        lambda job, rate: _site(job, discount_rate=rate),
    )


def _horizon(job: Job) -> Parameter:
    now = job.site.horizon_years
    low, high = HORIZON_RANGE
    return Parameter(
        "horizon",
        "horizon",
        "years",
        now,
        low,
        max(high, now),
        (max(low, now - 5), now + 5),
        "whole",
        lambda job, years: _site(job, horizon_years=round(years)),
    )


def _price(family: str) -> Parameter:
    def priced(job: Job, factor: float) -> Job:
        return _batteries(
            job,
            lambda one: replace(one, price=one.price * factor) if one.family == family else one,
        )

    low, high = PRICE_RANGE
    name = f"price of {family} batteries"
    return Parameter(f"price:{family}", name, "×", 1.0, low, high, (0.8, 1.2), "line", priced)


def _drift() -> Parameter:
    def drifting(job: Job, more: float) -> Job:
        return _batteries(job, lambda one: replace(one, price_drift=one.price_drift + more))

    low, high = DRIFT_RANGE
    name = "drift of battery prices on top"
    return Parameter("drift", name, "%", 0.0, low, high, (-0.03, 0.03), "rising", drifting)


def _warmth(job: Job) -> Parameter:
    site = job.site
    now, high = site.mean_degc, max(HOTTEST_DEGC, site.mean_degc)

    def warm(job: Job, degc: float) -> Job:
        return _site(job, mean_degc=degc, max_degc=max(job.site.max_degc, degc))

    breaks = tuple(
        sorted(at for at in {_REFERENCE_DEGC, site.max_degc} if site.min_degc < at < high)
    )
    doubt = (max(site.min_degc, now - 5), min(high, now + 10))
    return Parameter(
        "warmth",
        "mean room temperature",
        "°C",
        now,
        site.min_degc,
        high,
        doubt,
        "rising",
        warm,
        breaks,
    )


def _depth(family: str) -> Parameter:
    def deep(job: Job, factor: float) -> Job:
        return _batteries(
            job,
            lambda one: (
                replace(one, max_dod=min(1.0, one.max_dod * factor))
                if one.family == family
                else one
            ),
        )

    low, high = DEPTH_RANGE
    name = f"depth allowed to {family}"
    return Parameter(f"depth:{family}", name, "×", 1.0, low, high, (0.8, 1.2), "steady", deep)


def _tariff(job: Job) -> Parameter:
    now = job.site.tariff
    return Parameter(
        "tariff",
        "tariff",
        f"{job.site.currency}/kWh",
        now,
        0.0,
        max(TARIFF_TIMES * now, 0.1),
        (now / 2, now * 2),
        "line",
        lambda job, tariff: _site(job, tariff=tariff),
    )


def _load() -> Parameter:
    def larger(job: Job, factor: float) -> Job:
        loads = tuple(
            replace(load, running_w=load.running_w * factor, starting_w=load.starting_w * factor)
            for load in job.loads
        )
        return replace(job, loads=loads)

    return Parameter("load", "all loads", "×", 1.0, 0.5, 2.0, (0.8, 1.25), "steady", larger)
