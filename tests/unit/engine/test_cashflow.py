"""Payments of a design: their sums, and each kind of sum by plain arithmetic."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import pytest

from optimizer import frontier, load
from optimizer.engine.cashflow import (
    cycle_wear_per_year,
    life_cycle_cost,
    losses_kwh_per_year,
    nominal_wh,
    outage_depths,
    payments,
    upfront_cost,
)
from tests.unit.builders import (
    every_work,
    make_battery,
    make_design,
    make_inverter,
    make_job,
    make_period,
)

GROSS = 1.1 * 1.2
LIVES = {"markup": 0.1, "tax_rate": 0.2}


@cache
def house_points():
    return frontier(load("house")).points


def flow(job, *banks, **design):
    return payments(job, make_design(*banks, **design))


def sums(found, kind):
    """Sum of the payments of a kind by the year they are counted in."""
    amounts = defaultdict(float)
    for payment in found:
        if payment.kind == kind:
            amounts[payment.time_years] += payment.amount
    return dict(amounts)


def test_sums_are_the_designs_money():
    job = load("house")
    for point in house_points():
        found = payments(job, point)
        assert life_cycle_cost(job, found) == pytest.approx(point.life_cycle_cost, abs=1e-6)
        assert upfront_cost(found) == pytest.approx(point.upfront_cost, abs=1e-6)
        assert list(found) == sorted(found, key=lambda payment: payment.time_years)


def test_inverters_are_bought_anew_when_their_whole_years_end():
    """Life 4.9 years is four whole ones; ten years are no multiple of it."""
    job = make_job(works=every_work(), residual_share=0.5, discount_rate=0.05, **LIVES)
    found = flow(job, inverter=make_inverter(life_years=4.9), inverter_units=2)
    price = 2 * 500 * GROSS
    assert sums(found, "inverter") == pytest.approx({0: price, 4: price, 8: price})
    value = [one for one in found if one.item == "Value left in Gable"]
    # two of the third set's four years are left
    assert [(one.year, one.time_years, one.amount) for one in value] == [
        (9, 10, pytest.approx(-0.5 * price * 2 / 4))
    ]


def test_no_value_is_left_where_the_horizon_is_a_multiple_of_the_life():
    found = flow(make_job(residual_share=1.0), inverter=make_inverter(life_years=5.0))
    assert sums(found, "inverter") == {0: 500, 5: 500}
    assert not [one for one in found if one.item == "Value left in Gable"]


def test_the_share_of_value_that_comes_back():
    bank = make_period(life=12.5)
    for share in (0.0, 0.25, 1.0):
        found = flow(make_job(residual_share=share, **LIVES), bank)
        left = sum(one.amount for one in found if one.item == "Value left in Slate")
        assert left == pytest.approx(-share * 100 * GROSS * (1 - 10 / 12.5))
        assert len([one for one in found if one.amount == 0 and one.kind == "value"]) == 0


def test_prices_that_fall_and_rise():
    battery = make_battery(price_drift=-0.1)
    found = flow(
        make_job(residual_share=1.0, **LIVES),
        make_period(battery, end=4),
        make_period(battery, start=4, end=10, life=12.0),
    )
    later = 100 * 0.9**4 * GROSS
    assert sums(found, "battery") == pytest.approx({0: 100 * GROSS, 4: later})
    # what is left of the second bank is a share of what was paid for it
    assert sums(found, "value") == pytest.approx({10: -later * (1 - 6 / 12)})


def test_scrap_comes_back_at_each_retirement_untaxed():
    battery = make_battery(scrap_value=6.0)
    found = flow(
        make_job(**LIVES),
        make_period(battery, series=2, strings=2, end=3),
        make_period(battery, series=2, strings=1, start=3, end=10),
    )
    scrap = [one for one in found if one.item.startswith("Scrap")]
    assert [(one.year, one.time_years, one.amount) for one in scrap] == [(2, 3, -24), (9, 10, -12)]


def test_works_by_basis_and_time():
    job = make_job(works=every_work(), **LIVES)
    found = flow(
        job,
        make_period(series=2, strings=2, end=5),
        make_period(series=2, strings=1, start=5, end=10),
        inverter=make_inverter(life_years=8.0),
        inverter_units=2,
    )
    start = 200 + 2 * (50 + 7) + 4 * (5 + 2) + 2 * (40 + 3) + 4 * 30 * (0.5 + 0.1)
    bank = 2 * (9 + 2) + 1 * (11 + 3) + 2 * 30 * (0.7 + 0.1)
    assert sums(found, "works") == pytest.approx(
        {0: start * GROSS, 5: bank * GROSS, 8: 2 * (30 + 7) * GROSS}
    )


def test_works_of_a_vented_bank_fall_due_once_and_at_the_start():
    wet = make_battery("Wet", gas="vented")
    job = make_job(works=[work for work in every_work() if work.basis == "vented_bank"])
    later = flow(job, make_period(end=5), make_period(wet, start=5, end=10))
    twice = flow(job, make_period(wet, end=5), make_period(wet, start=5, end=10))
    never = flow(job)
    assert sums(later, "works") == sums(twice, "works") == {0: 180}
    assert sums(never, "works") == {}
    assert upfront_cost(later) - upfront_cost(never) == pytest.approx(180)


def test_cable_there_and_back_and_a_fuse():
    job = make_job(battery_cable_m=3.0, **LIVES)
    assert sums(flow(job), "wiring") == pytest.approx({0: (2 * 3 * 10 + 20) * GROSS})


def test_running_costs_fall_at_the_end_of_each_year_untaxed():
    battery = make_battery(upkeep_year=4.0, self_discharge_month=0.02)
    job = make_job(tariff=0.4, **LIVES)
    found = flow(job, make_period(battery), inverter=make_inverter(standby_w=6.0))
    assert sums(found, "standby") == pytest.approx(dict.fromkeys(range(1, 11), 6 * 8.76 * 0.4))
    assert sums(found, "upkeep") == dict.fromkeys(range(1, 11), 4.0)
    # 500 Wh each of ten outages, and 24 % of 1200 Wh lost while waiting
    kwh = (10 * 500 + 0.24 * 1200) / 0.8 / 1000
    assert sums(found, "losses") == pytest.approx(dict.fromkeys(range(1, 11), kwh * 0.4))
    assert losses_kwh_per_year(job, make_period(battery), 100.0) == pytest.approx(kwh)


def test_present_value():
    job = make_job(discount_rate=0.1)
    (first,) = [one for one in flow(job) if one.kind == "battery"]
    assert first.present_value(0.1) == first.amount
    kept_up = flow(job, make_period(make_battery(upkeep_year=11.0)))
    (year_one,) = [one for one in kept_up if one.kind == "upkeep" and one.year == 0]
    assert year_one.present_value(0.1) == pytest.approx(10.0)


def test_outages_of_one_length_are_one_and_depth_has_its_limit():
    job = make_job(yearly=((4.0, 4.0), (20.0, 1.0), (4.0, 6.0)))
    assert outage_depths(job, make_period(), 100.0) == [
        (4.0, 10.0, pytest.approx(500 / 1200)),
        (20.0, 1.0, 0.5),
    ]
    assert cycle_wear_per_year(job, make_period(), 100.0) == pytest.approx(10 / 1200 + 1 / 1000)


def test_nominal_energy_in_the_cold_at_a_fast_rate():
    battery = make_battery(peukert=1.25, cold_points=((0.0, 0.6), (20.0, 1.0)))
    bank = make_period(battery, series=2, strings=3)
    wanted = 6 * 1200 * 0.8 * (5 / 10) ** 0.2
    assert nominal_wh(make_job(), bank, 5.0) == pytest.approx(wanted)
