"""Payments of a design: their sums, and each kind of sum by plain arithmetic."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import pytest

from optimizer import frontier, load
from optimizer.engine.cashflow import later_sums, life_cycle_cost, payments, upfront_cost
from optimizer.model.job import Contract, Generator, GeneratorRules, Peak
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


@pytest.mark.slow
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
    value = [one for one in found if (one.kind, one.item) == ("value", "Gable")]
    # two of the third set's four years are left
    assert [(one.year, one.time_years, one.amount) for one in value] == [
        (9, 10, pytest.approx(-0.5 * price * 2 / 4))
    ]


def test_no_value_is_left_where_the_horizon_is_a_multiple_of_the_life():
    found = flow(make_job(residual_share=1.0), inverter=make_inverter(life_years=5.0))
    assert sums(found, "inverter") == {0: 500, 5: 500}
    assert "Gable" not in [one.item for one in found if one.kind == "value"]


def test_the_share_of_value_that_comes_back():
    bank = make_period(life=12.5)
    for share in (0.0, 0.25, 1.0):
        found = flow(make_job(residual_share=share, **LIVES), bank)
        left = sum(one.amount for one in found if one.kind == "value")
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
    scrap = [one for one in found if one.kind == "scrap"]
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
    two = flow(job, inverter_units=2)
    assert sums(two, "wiring") == pytest.approx({0: 2 * (2 * 3 * 10 + 20) * GROSS})


def test_running_costs_fall_at_the_end_of_each_year_untaxed():
    battery = make_battery(upkeep_year=4.0, self_discharge_month=0.02)
    job = make_job(tariff=0.4, **LIVES)
    found = flow(job, make_period(battery), inverter=make_inverter(standby_w=6.0))
    assert sums(found, "standby") == pytest.approx(dict.fromkeys(range(1, 11), 6 * 8.76 * 0.4))
    assert sums(found, "upkeep") == dict.fromkeys(range(1, 11), 4.0)
    # 400 Wh each of ten outages reach the loads; 24 % of 1200 Wh are lost while waiting
    assert sums(found, "energy") == pytest.approx(dict.fromkeys(range(1, 11), 4 * 0.4))
    lost_kwh = (10 * (400 / 0.8 / 0.8 - 400) + 0.24 * 1200 / 0.8) / 1000
    assert sums(found, "losses") == pytest.approx(dict.fromkeys(range(1, 11), lost_kwh * 0.4))


def test_present_value():
    job = make_job(discount_rate=0.1)
    (first,) = [one for one in flow(job) if one.kind == "battery"]
    assert first.present_value(0.1) == first.amount
    kept_up = flow(job, make_period(make_battery(upkeep_year=11.0)))
    (year_one,) = [one for one in kept_up if one.kind == "upkeep" and one.year == 0]
    assert year_one.present_value(0.1) == pytest.approx(10.0)


def test_banks_that_follow_one_another_are_bought_when_their_lives_end():
    """A life of 2.5 years over ten: bought at 0, 2.5, 5 and 7.5, counted in years 0, 2, 5, 7."""
    battery = make_battery(scrap_value=6.0, price_drift=0.02)
    found = flow(make_job(residual_share=1.0), make_period(battery, life=2.5, bought=4))
    bought = [one for one in found if one.kind == "battery"]
    assert [one.time_years for one in bought] == [0, 2.5, 5, 7.5]
    assert [one.year for one in bought] == [0, 2, 5, 7]
    assert [one.amount for one in bought] == pytest.approx(
        [100 * 1.02**time for time in (0, 2.5, 5, 7.5)]
    )
    assert sums(found, "scrap") == {2.5: -6, 5: -6, 7.5: -6, 10: -6}
    assert "value" not in {one.kind for one in found}  # the last one's life ends with the horizon


def test_purchases_of_one_later_year_add_up():
    found = flow(make_job(), make_period(make_battery(), life=0.4, bought=25))
    # τ = 1.2 and 1.6 fall in year 1; 2.0, 2.4 and 2.8 in year 2
    assert {year: later_sums(found)[year] for year in (1, 2)} == {1: 200, 2: 300}
    assert 0 not in later_sums(found)


def test_contract_generator_and_fuel():
    contract, rules = (
        Contract(power_w=2000.0, cost_year=90.0),
        GeneratorRules(fuel_price=2.0, max_stored_l=50.0, fuel_keeps_years=4),
    )
    generator = Generator(
        generator="Ash",
        power_w=2000.0,
        power_va=2000.0,
        surge_w=4000.0,
        litres_h_full=1.0,
        litres_h_idle=0.4,
        price=600.0,
        life_years=6.5,
        upkeep_year=12.0,
    )
    job = make_job(contracts=(contract,), generator=rules, residual_share=0.5, **LIVES)
    found = flow(job, contract=contract, generator=generator, fuel_l=20.0)
    price = 600 * GROSS
    assert sums(found, "contract") == dict.fromkeys(range(1, 11), 90.0)
    assert sums(found, "generator") == pytest.approx({0: price, 6: price})
    # no tax or markup on fuel and upkeep
    assert sums(found, "fuel") == {0: 40.0, 4: 40.0, 8: 40.0}
    assert sums(found, "upkeep") == dict.fromkeys(range(1, 11), 12.0)
    left = [one.amount for one in found if (one.kind, one.item) == ("value", "Ash")]
    assert left == [pytest.approx(-0.5 * price * 2 / 6)]
    assert upfront_cost(found) - upfront_cost(flow(job)) == pytest.approx(price + 40)


def test_of_a_peak_only_the_loss_is_paid():
    contract = Contract(power_w=1000.0, cost_year=90.0)
    peaks = (Peak(power_w=1300.0, minutes=30.0, times_a_month=10.0),)
    job = make_job(contracts=(contract,), peaks=peaks, yearly=(), tariff=1.0)
    found = flow(job, contract=contract)
    lost_kwh = 120 * 0.15 * (1 / (0.8 * 0.8) - 1)
    assert sums(found, "losses")[1] == pytest.approx(lost_kwh)
    assert sums(found, "energy")[1] == 0
