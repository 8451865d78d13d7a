"""Scenarios drawn at random: what prices, lives, outages and money may turn out to be.

The distributions stand here and nowhere else. They are planning assumptions (common practice:
triangles and lognormals around the base), not measurements.
"""

from dataclasses import dataclass, replace

import numpy as np

from optimizer.comparison.parameters import with_batteries, with_lives
from optimizer.model.job import Battery, Job
from optimizer.model.limits import without_limits
from optimizer.model.scaled import with_outages

#: Least, likeliest and largest of what a family's batteries last, as a factor on float life and
#: cycles; makers' figures are missed more often than beaten.
LIFE = (0.7, 1.0, 1.15)
#: Price today as quoted elsewhere, a factor a family.
PRICE = (0.9, 1.0, 1.15)
#: Standard deviation of a family's price drift around the assumed one [1/a].
DRIFT_SPREAD = 0.02
#: Spread (of the logarithm) of outages a year and of the tariff around today's.
OUTAGES_SPREAD, TARIFF_SPREAD = 0.35, 0.20
#: Below and above the base of the discount rate [1/a].
RATE_BELOW, RATE_ABOVE = 0.02, 0.03


@dataclass(frozen=True, slots=True)
class Scenario:
    """Factors and sums on top of the job's own numbers, by family where it says so."""

    life: dict[str, float]
    price: dict[str, float]
    drift: dict[str, float]
    outages: float
    tariff: float
    discount_rate: float


def draw(job: Job, count: int, seed: int) -> list[Scenario]:
    """Return scenarios; the same for the same seed, the first ones the same for any count."""
    rate = job.site.discount_rate
    families = job.catalog.families
    found = []
    for stream in np.random.SeedSequence(seed).spawn(count):
        dice = np.random.default_rng(stream)
        found.append(
            Scenario(
                life={family: float(dice.triangular(*LIFE)) for family in families},
                price={family: float(dice.triangular(*PRICE)) for family in families},
                drift={family: float(dice.normal(0.0, DRIFT_SPREAD)) for family in families},
                outages=float(np.exp(dice.normal(0.0, OUTAGES_SPREAD))),
                tariff=float(np.exp(dice.normal(0.0, TARIFF_SPREAD))),
                discount_rate=float(dice.triangular(rate - RATE_BELOW, rate, rate + RATE_ABOVE)),
            )
        )
    return found


def in_scenario(job: Job, scenario: Scenario) -> Job:
    """Return the job as it is in a scenario; limits of money lifted."""

    def aged(battery: Battery) -> Battery:
        factor = scenario.life[battery.family]
        priced = replace(
            battery,
            price=battery.price * scenario.price[battery.family],
            price_drift=battery.price_drift + scenario.drift[battery.family],
        )
        return with_lives(priced, years=factor, cycles=factor)

    priced = without_limits(job).with_site(
        tariff=job.site.tariff * scenario.tariff, discount_rate=scenario.discount_rate
    )
    return with_outages(with_batteries(priced, aged), scenario.outages)
