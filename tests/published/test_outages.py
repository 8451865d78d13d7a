"""Long outages, what a bank leaves of them unserved, its worth, and what a log can know."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from optimizer import load
from optimizer.answers.nothing_done import nothing_done
from optimizer.formulas.money import yearly_costs_factor
from optimizer.model.outages import Outages
from optimizer.simulate import Exponential, Lognormal, Weibull, share_interval, simulate_years
from tests.published.table import Value, values
from tests.unit.builders import make_battery, make_design, make_job, make_load, make_period

VALUE = "Shivakumar et al. 2017, EU mean 8.7 €/kWh"
CLOPPER_PEARSON = "Clopper and Pearson 1934, tables of the exact interval"
HANLEY = "Hanley and Lippman-Hand 1983"
#: A steady load of 500 W, and 1.4 outages a year of two hours in the mean.
MEAN_H, TIMES = 2.0, 1.4


def site(**changes):
    """A steady 500 W; a kWh that is missing is worth 8.7; one year, no interest."""
    job = make_job(make_load(running_w=500.0))
    plain = {
        "value_of_lost_load": 8.7,
        "horizon_years": 1,
        "discount_rate": 0.0,
        "load_growth": 0.0,
        "design_margin": 0.0,
    }
    return replace(
        job,
        site=replace(job.site, **(plain | changes)),
        outages=Outages("typed", ((MEAN_H, TIMES),)),
    )


def bank(energy_wh):
    """A bank of so much that neither the rate nor the age makes smaller, full at every outage."""
    model = make_battery(
        capacity_ah=energy_wh / 12,
        max_dod=1.0,
        charge_rate_max=1e6,
        end_of_life_soh=1 - 1e-12,
    )
    design = make_design(make_period(model, start=0, end=1))
    lossless = replace(design.inverter, efficiency=1.0, no_load_w=0.0, charger_a=1e6)
    return replace(design, inverter=lossless)


@values(
    Value("unprotected [kWh/a]", lambda: nothing_done(site()).unserved_kwh_per_year, "1.4", "P·m·λ",
          "arithmetic"),
    Value("worth, unprotected [€/a]", lambda: nothing_done(site()).life_cycle_cost, "12.18", VALUE,
          "published"),
    Value("30 of 32 carried, low", lambda: share_interval(30, 32).low, "0.792", CLOPPER_PEARSON,
          "from memory"),
    Value("30 of 32 carried, high", lambda: share_interval(30, 32).high, "0.992", CLOPPER_PEARSON,
          "from memory"),
    Value("none of 10 carried, high", lambda: share_interval(0, 10).high, "0.308", CLOPPER_PEARSON,
          "from memory"),
    Value("1 of 10 carried, low", lambda: share_interval(1, 10).low, "0.0025", CLOPPER_PEARSON,
          "from memory"),
    Value("1 of 10 carried, high", lambda: share_interval(1, 10).high, "0.445", CLOPPER_PEARSON,
          "from memory"),
    Value("none of 30 missed", lambda: 1 - share_interval(30, 30).low, "0.10", HANLEY,
          "published"),
)  # fmt: skip
def test_value(value):
    value.check()


@pytest.mark.parametrize(
    ("law", "over_four_h", "over_eight_h", "missed_kwh"),
    [
        # survival functions and their integral as published with scipy: 0.5 kW on 2 kWh
        (Exponential(2.0), 0.135335, 0.018316, 0.135335),
        (Lognormal(1.5, 1.0), 0.163338, 0.047068, 0.301050),
        (Weibull(0.7, 2.0), 0.197009, 0.071432, 0.419445),
    ],
)
def test_simulated_years_have_the_tails_of_their_distribution(
    law, over_four_h, over_eight_h, missed_kwh
):
    drawn = law.draw(np.random.default_rng(3), 400_000)
    for hours, share in ((4.0, over_four_h), (8.0, over_eight_h)):
        four_errors = 4 * (share * (1 - share) / drawn.size) ** 0.5
        assert (drawn > hours).mean() == pytest.approx(share, abs=four_errors)
    years = simulate_years(site(), bank(2000.0), years=40_000, durations=law)
    # four standard errors: a right value misses once in sixteen thousand
    for found, stated in (
        (years.share_carried, 1 - over_four_h),
        (years.kwh_unserved, TIMES * missed_kwh),
    ):
        assert abs(found.value - stated) <= 4 / 1.96 * found.monte_carlo


@pytest.mark.slow
@pytest.mark.parametrize(
    ("times_a_year", "recharge_h", "share"), [(12, 24, 0.032342), (365, 6, 0.221199)]
)
def test_the_next_outage_comes_before_the_bank_is_full(times_a_year, recharge_h, share):
    # A share 1 − e^(−λτ/8760) of the gaps is shorter than τ (arithmetic). Each outage takes the
    # whole bank, and only a full one carries; six minutes long, they hardly take from the gaps.
    job = replace(
        site(),
        loads=(make_load(running_w=12_000.0),),
        outages=Outages("typed", ((0.1, float(times_a_year)),)),
    )
    design = bank(1200.0)
    slow = replace(design.inverter, charger_a=100.0 / recharge_h)
    factor = replace(design.banks[0].battery, charge_factor=1.0, round_trip=0.95)
    design = replace(design, inverter=slow, banks=(replace(design.banks[0], battery=factor),))
    found = simulate_years(job, design, years=4000 if times_a_year < 100 else 1000).share_carried
    assert 1 - found.value == pytest.approx(share, abs=4 / 1.96 * found.monte_carlo + 0.03 * share)


@pytest.mark.parametrize(("carried", "count"), [(0, 4), (1, 3), (7, 9), (31, 32), (250, 300)])
def test_the_exact_interval_is_scipys(carried, count):
    from scipy import stats  # takes a second to import

    found = share_interval(carried, count)
    exact = stats.binomtest(carried, count).proportion_ci(method="exact")
    assert (found.low, found.high) == pytest.approx((exact.low, exact.high), rel=1e-9)


def test_a_good_grid_rarely_pays_for_a_bank_by_lost_load_alone():
    # ten years of all that the outages cost, against the cheapest 2 kWh of the demo price list,
    # bare and drawn to their limit: resilience stays an axis of its own
    lost = nothing_done(site()).life_cycle_cost * yearly_costs_factor(0.03, 0, 10)
    bare = min(
        2000 * battery.price / (battery.voltage_v * battery.capacity_ah * battery.max_dod)
        for battery in load("house").catalog.batteries
    )
    assert lost < bare
