"""Indices of reliability, long outages, unserved energy and its value."""

from __future__ import annotations

import math

import pytest
from scipy import integrate, stats

from optimizer import load
from optimizer.formulas.money import yearly_costs_factor
from optimizer.formulas.reliability import (
    caidi,
    lost_load_value_per_year,
    next_outage_share,
    saidi,
    saifi,
    share_longer_exponential,
    share_longer_lognormal,
    share_longer_weibull,
    unserved_exponential_wh,
    unserved_lognormal_wh,
    unserved_weibull_wh,
)
from optimizer.simulate import Exponential, Lognormal, Weibull
from tests.published.table import Value, values

IEEE_1366 = "IEEE Std 1366"
SCIPY = "scipy.stats"
VALUE = "Shivakumar et al. 2017, EU mean 8.7 €/kWh"
POISSON = "1 − e^(−λτ/8760)"
EVENTS = [(100, 5), (200, 10), (300, 11)]


def unserved_kwh_per_year(energy_wh: float) -> float:
    return 1.4 * unserved_exponential_wh(500, energy_wh, 2) / 1000


def lost_value(energy_wh: float) -> float:
    return lost_load_value_per_year(unserved_exponential_wh(500, energy_wh, 2), 1.4, 8.7)


@values(
    Value("SAIDI [min]", lambda: saidi(EVENTS, 10_000), "0.58", IEEE_1366, "published"),
    Value("SAIFI", lambda: saifi(EVENTS, 10_000), "0.06", IEEE_1366, "published"),
    Value("CAIDI [min]", lambda: caidi(EVENTS), "9.6667", IEEE_1366, "published"),
    Value("exponential over 4 h", lambda: share_longer_exponential(4, 2), "0.135335", SCIPY,
          "published"),
    Value("exponential over 8 h", lambda: share_longer_exponential(8, 2), "0.018316", SCIPY,
          "published"),
    Value("lognormal over 4 h", lambda: share_longer_lognormal(4, 1.5, 1), "0.163338", SCIPY,
          "published"),
    Value("lognormal over 8 h", lambda: share_longer_lognormal(8, 1.5, 1), "0.047068", SCIPY,
          "published"),
    Value("Weibull over 4 h", lambda: share_longer_weibull(4, 0.7, 2), "0.197009", SCIPY,
          "published"),
    Value("Weibull over 8 h", lambda: share_longer_weibull(8, 0.7, 2), "0.071432", SCIPY,
          "published"),
    *(
        Value(f"{name} over {hours} h, simulated", lambda durations=durations, hours=hours:
              durations.longer_than(hours), printed, SCIPY, "published")
        for name, durations, rows in (
            ("exponential", Exponential(2.0), ((4.0, "0.135335"), (8.0, "0.018316"))),
            ("lognormal", Lognormal(1.5, 1.0), ((4.0, "0.163338"), (8.0, "0.047068"))),
            ("Weibull", Weibull(0.7, 2.0), ((4.0, "0.197009"), (8.0, "0.071432"))),
        )
        for hours, printed in rows
    ),
    Value("exponential unserved [kWh]", lambda: unserved_exponential_wh(500, 2000, 2) / 1000,
          "0.135335", SCIPY, "published"),
    Value("lognormal unserved [kWh]", lambda: unserved_lognormal_wh(500, 2000, 1.5, 1) / 1000,
          "0.301050", SCIPY, "published"),
    Value("Weibull unserved [kWh]", lambda: unserved_weibull_wh(500, 2000, 0.7, 2) / 1000,
          "0.419445", SCIPY, "published"),
    Value("unprotected [kWh/a]", lambda: unserved_kwh_per_year(0), "1.4", "P·m·λ", "arithmetic"),
    Value("with 2 kWh [kWh/a]", lambda: unserved_kwh_per_year(2000), "0.1895", "P·m·λ·e^(−E/Pm)",
          "arithmetic"),
    Value("worth, unprotected [€/a]", lambda: lost_value(0), "12.18", VALUE, "published"),
    Value("worth, with 2 kWh [€/a]", lambda: lost_value(2000), "1.65", VALUE, "published"),
    Value("12 a year, 24 h to refill", lambda: next_outage_share(12, 24), "0.032342", POISSON,
          "arithmetic"),
    Value("365 a year, 6 h to refill", lambda: next_outage_share(365, 6), "0.221199", POISSON,
          "arithmetic"),
)  # fmt: skip
def test_value(value):
    value.check()


@pytest.mark.parametrize("energy_wh", [0.0, 100.0, 2000.0, 40_000.0])
@pytest.mark.parametrize(
    ("unserved", "distribution"),
    [
        (lambda e: unserved_exponential_wh(500, e, 3), stats.expon(scale=3)),
        (lambda e: unserved_lognormal_wh(500, e, 1.5, 1.4), stats.lognorm(1.4, scale=1.5)),
        (lambda e: unserved_weibull_wh(500, e, 0.6, 2.5), stats.weibull_min(0.6, scale=2.5)),
        (lambda e: unserved_weibull_wh(500, e, 2.2, 2.5), stats.weibull_min(2.2, scale=2.5)),
    ],
    ids=["exponential", "lognormal", "Weibull 0.6", "Weibull 2.2"],
)
def test_unserved_energy_is_the_integral_of_the_tail(unserved, distribution, energy_wh):
    # by plain integration of scipy's survival function in the logarithm of the hours
    start_h = max(energy_wh / 500, 1e-12)
    tail_h, _ = integrate.quad(
        lambda log_h: distribution.sf(math.exp(log_h)) * math.exp(log_h),
        math.log(start_h),
        math.log(start_h) + 60,
        limit=400,
    )
    assert unserved(energy_wh) == pytest.approx(500 * tail_h, rel=1e-6, abs=1e-9)


def test_a_good_grid_rarely_pays_for_a_bank_by_lost_load_alone():
    # ten years of what 2 kWh save, against the cheapest 2 kWh of the demo price list, bare and
    # drawn to their limit: resilience stays an axis of its own
    saved = (lost_value(0) - lost_value(2000)) * yearly_costs_factor(0.03, 0, 10)
    bare = min(
        2000 * battery.price / (battery.voltage_v * battery.capacity_ah * battery.max_dod)
        for battery in load("house").catalog.batteries
    )
    assert saved < bare


def test_beyond_any_outage_nothing_is_unserved():
    assert unserved_weibull_wh(500, 1e9, 0.7, 2) == 0
