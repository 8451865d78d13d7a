"""How long banks serve, and the money of one over a period by plain arithmetic."""

from __future__ import annotations

import numpy as np
import pytest

from optimizer.engine.works import bank_works
from optimizer.model.job import Contract, Peak, Work
from tests.unit.builders import every_work, make_battery, make_job, make_load

from .columns import columns


def lives(job, **options):
    return columns(job, **options).service.life_years.tolist()


def cost_of(job, bank, start, end, **options):
    c = columns(job, **options)
    place = int(np.flatnonzero((c.period_start == start) & (c.period_end == end))[0])
    return float(c.period_cost[bank, place])


def served(job):
    """Periods that the first bank may serve."""
    c = columns(job)
    found = np.isfinite(c.period_cost[0])
    return set(zip(c.period_start[found].tolist(), c.period_end[found].tolist(), strict=True))


# --- service life ---------------------------------------------------------------------------------


def test_service_life_by_hand():
    """100 W for 4 h at 0.8 are 500 Wh of 1200: depth 0.41667, 1200 cycles, 10 a year; 5 a float."""
    job = make_job(mean_degc=30.0, voltages=(12,), max_parallel=1)
    assert lives(job) == pytest.approx([1 / (1 / 5 + 10 / 1200)])


def test_warm_months_age_more_than_cool_ones_save():
    months = (10.0,) * 6 + (30.0,) * 6
    job = make_job(monthly_degc=months, yearly=(), voltages=(12,), max_parallel=1)
    assert lives(job) == pytest.approx([10 / 1.5])


def test_a_life_stated_for_25_degrees_is_not_halved_at_35_twice():
    battery = make_battery(float_life_degc=25.0)
    room = {"mean_degc": 35.0, "max_degc": 35.0}
    job = make_job(batteries=[battery], yearly=(), voltages=(12,), max_parallel=1, **room)
    assert lives(job) == pytest.approx([5.0])


def test_a_fast_outage_goes_deeper_by_peukerts_law():
    """500 Wh in 4 h of a battery rated at 10 h: the current is 1.0417 times the rated one."""
    battery = make_battery(peukert=1.2)
    job = make_job(batteries=[battery], yearly=((4.0, 10.0),), voltages=(12,), max_parallel=1)
    share = 500 / 1200
    depth = share * (share * 10 / 4) ** 0.2
    assert lives(job) == pytest.approx([1 / (1 / 10 + 10 / (500 / depth))])


def test_depth_is_capped_and_alike_outages_add_up():
    typed = ((4.0, 4.0), (12.0, 2.0), (4.0, 6.0))
    job = make_job(yearly=typed, mean_degc=30.0, voltages=(12,), max_parallel=1)
    # 12 h would take 1500 Wh: no deeper than 0.5, where 1000 cycles are given
    assert lives(job) == pytest.approx([1 / (0.2 + 10 / 1200 + 2 / 1000)])


def test_tiers_let_go_spare_the_bank():
    loads = (make_load(), make_load("Heater", tier="useful", running_w=200.0))
    job = make_job(
        *loads,
        tiers=("needed", "useful"),
        tier_hours={"useful": 1},
        voltages=(12,),
        max_parallel=1,
    )
    # 4 h: 400 Wh and the heater's first hour, 200 Wh
    depth = 600 / 0.8 / 1200
    assert lives(job) == pytest.approx([1 / (1 / 10 + 10 / (500 / min(0.5, depth)))])


# --- periods ------------------------------------------------------------------------------------


def test_a_replaced_bank_serves_its_least_time_and_none_is_bought_for_a_last_year():
    """Lives 4.8 a, at least 2.4: one bank serves 3 or 4 years, two 8 or 9, whole lives first."""
    found = served(make_job(mean_degc=30.0, voltages=(12,), max_parallel=1))
    assert {end - start for start, end in found if end < 10} == {3, 4, 8, 9}
    # a second bank may serve short where the horizon ends it, a first one may not
    assert {10 - start for start, end in found if end == 10} == {3, 4, 5, 6, 7, 8, 9, 10}


def test_a_bank_that_lasts_less_than_a_year_is_bought_again_and_again():
    job = make_job(batteries=[make_battery(float_life_years=0.4)], yearly=(), voltages=(12,))
    c = columns(job)
    assert np.isfinite(c.period_cost).any()
    # 25 banks at 100 over ten years; nothing else costs anything here
    assert cost_of(job, 0, 0, 10) == pytest.approx(25 * 100)


def test_a_bank_that_outlives_the_horizon_may_serve_it_whole():
    battery = make_battery(float_life_years=30.0)
    found = served(make_job(batteries=[battery], yearly=(), voltages=(12,), max_parallel=1))
    assert found == {(0, 10)}


# --- money ----------------------------------------------------------------------------------------

MONEY = {
    "works": every_work(),
    "voltages": (24,),
    "discount_rate": 0.05,
    "tax_rate": 0.2,
    "markup": 0.1,
    "tariff": 0.4,
    "residual_share": 0.5,
    "min_service_share": 0.0,
}
PRICED = {
    "upkeep_year": 4.0,
    "scrap_value": 6.0,
    "price_drift": -0.03,
    "self_discharge_month": 0.02,
    "round_trip": 0.8,
}
GROSS = 1.1 * 1.2
LIFE = 1 / (1 / 10 + 10 / (0.5 * 1000 / (500 / 4800)))  # two strings of two: 500 of 4800 Wh


def yearly_by_hand(units, taken_wh):
    """Upkeep, and the energy to make good what outages take and what is lost while waiting."""
    kept_wh = 12 * 0.02 * units * 12 * 100
    return units * 4.0 + (taken_wh + kept_wh) / 0.8 / 1000 * 0.4


def test_the_money_of_a_first_bank_kept_six_years():
    """Two strings of two: the outages take 500 Wh each, ten times a year."""
    job = make_job(batteries=[make_battery(**PRICED)], **MONEY)
    works = 4 * (5 + 2) + 2 * (40 + 3) + 4 * 30 * (0.5 + 0.1)
    wanted = GROSS * (4 * 100 + works) - 4 * 6 / 1.05**6
    wanted += sum(yearly_by_hand(4, 10 * 500) / 1.05 ** (year + 1) for year in range(6))
    assert cost_of(job, 1, 0, 6) == pytest.approx(wanted, abs=1e-9)
    assert columns(job).bank_upfront[1] == pytest.approx(GROSS * (4 * 100 + works), abs=1e-9)


def test_the_money_of_a_later_bank_kept_to_the_end():
    """What is left is a share of what was paid beyond scrap, and scrap comes back on top."""
    job = make_job(batteries=[make_battery(**PRICED)], **MONEY)
    price = 4 * 100 * 0.97**6 * GROSS
    works = 4 * (9 + 2) + 2 * (11 + 3) + 4 * 30 * (0.7 + 0.1)
    wanted = (price + works * GROSS) / 1.05**6
    wanted += sum(yearly_by_hand(4, 10 * 500) / 1.05 ** (year + 1) for year in range(6, 10))
    wanted -= (4 * 6 + 0.5 * (price - 4 * 6) * (1 - 4 / LIFE)) / 1.05**10
    assert cost_of(job, 1, 6, 10) == pytest.approx(wanted, abs=1e-9)


def test_the_money_of_banks_that_follow_one_another():
    """Bought when the one before is retired, at the price and the discount of that moment."""
    job = make_job(batteries=[make_battery(**PRICED, float_life_years=2.9)], **MONEY)
    life = 1 / (1 / 2.9 + 10 / (0.5 * 1000 / (500 / 4800)))
    times = [2 + number * life for number in range(3)]
    assert times[-1] < 10 <= times[-1] + life
    works = GROSS * (4 * (9 + 2) + 2 * (11 + 3) + 4 * 30 * (0.7 + 0.1))
    wanted = sum((4 * 100 * 0.97**t * GROSS + works) / 1.05**t for t in times)
    wanted -= sum(4 * 6 / 1.05**t for t in (*times[1:], 10))
    wanted += sum(yearly_by_hand(4, 10 * 500) / 1.05 ** (year + 1) for year in range(2, 10))
    last = 4 * 100 * 0.97 ** times[-1] * GROSS
    wanted -= 0.5 * (last - 4 * 6) * (1 - (10 - times[-1]) / life) / 1.05**10
    assert cost_of(job, 1, 2, 10) == pytest.approx(wanted, abs=1e-9)


def test_scrap_worth_more_than_the_bank_leaves_nothing_else():
    battery = make_battery(scrap_value=150.0, float_life_years=30.0)
    job = make_job(batteries=[battery], yearly=(), voltages=(12,), residual_share=1.0)
    assert cost_of(job, 0, 0, 10) == pytest.approx(100 - 150)


def test_float_current_takes_the_place_of_self_discharge():
    battery = make_battery(float_ma_ah=1.0, self_discharge_month=0.5, float_life_years=30.0)
    job = make_job(batteries=[battery], yearly=(), voltages=(12,), tariff=1.0, max_parallel=1)
    # 100 Ah · 1 mA/Ah · 13.5 V · 8760 h
    assert cost_of(job, 0, 0, 10) == pytest.approx(100 + 10 * 0.1 * 13.5 * 8.76)


def test_of_a_peak_only_the_loss_is_paid():
    """A peak of 300 W above the contract for half an hour, 120 times a year."""
    contract = Contract(power_w=1000.0, cost_year=10.0)
    job = make_job(
        batteries=[make_battery(float_life_years=30.0)],
        yearly=(),
        voltages=(12,),
        tariff=1.0,
        max_parallel=1,
        contracts=(contract,),
        peaks=(Peak(power_w=1300.0, minutes=30.0, times_a_month=10.0),),
    )
    lost_kwh = 120 * 0.15 * (1 / (0.8 * 0.8) - 1)
    c = columns(job, contract=contract)
    assert c.service.bought_wh.tolist() == pytest.approx([1000 * lost_kwh])
    # it wears like any other: 187.5 Wh of 1200
    wear = 120 / (500 / (187.5 / 1200))
    assert c.service.life_years.tolist() == pytest.approx([1 / (1 / 30 + wear)])


def test_works_of_other_bases_are_not_the_banks():
    works = [Work("Survey", "site", 99.0, "first"), Work("Mount", "inverter_unit", 77.0, "both")]
    assert cost_of(make_job(works=works), 0, 0, 10) == cost_of(make_job(), 0, 0, 10)


def test_works_per_parallel_string_are_due_from_two_strings_on():
    job = make_job(works=[Work("Fuse", "parallel_string", 7.0, "both")], voltages=(12,))
    works = bank_works(job, columns(job).banks, first=True)
    assert works.tolist() == [0.0, 14.0, 21.0, 28.0]
