"""Hours worth buying: by hand where outages are the same every year, and as a least sum."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import InputError, hours_worth, load
from optimizer.model.job import Contract
from optimizer.model.outages import Outages
from optimizer.report.grids.hours_worth import rows
from optimizer.report.words.hours_worth import verdict
from optimizer.report.words.writer import Writer
from tests.unit import builders

from .jobs import small_house


def lamp(value_of_lost_load):
    """100 W through 50 cuts of 4 h a year: 20 kWh a year, 200 kWh in ten years without interest.

    One bank is on offer, and carries a whole cut: 500 for the inverter, 300 for the battery and
    300 for the next, 4 m of cable at 10, a fuse at 20.
    """
    job = builders.make_job(
        batteries=[builders.make_battery(capacity_ah=120.0, price=300.0, max_parallel=1)],
        voltages=(12,),
        max_hours=6,
        value_of_lost_load=value_of_lost_load,
    )
    return replace(job, outages=Outages("daily", daily=((8.0, 12.0),), days_per_year=50.0))


def test_a_bank_is_worth_buying_from_where_what_it_spares_costs_as_much():
    cost = 500 + 2 * 300 + 4 * 10 + 20
    begins = cost / 200
    below, above = (hours_worth(lamp(begins * share), years=20) for share in (0.999, 1.001))
    assert [one.kwh_unserved for one in below] == [20.0, 0.0]
    assert [one.life_cycle_cost for one in below] == [0.0, pytest.approx(cost)]
    assert below[0].lost == pytest.approx(200 * begins * 0.999)
    assert below.kwh_prices == (None, pytest.approx(begins))
    assert (below.best_hours, above.best_hours) == (0, 5)
    assert "nothing is worth buying" in verdict(Writer("EUR"), below)[0]
    assert "5 hours are worth buying" in verdict(Writer("EUR"), above)[0]


def test_the_supply_is_paid_for_with_equipment_and_without():
    plain = lamp(20.0)
    step = Contract(power_w=3000.0, cost_year=120.0)
    found = hours_worth(plain.with_site(contracts=(step,)), years=20)
    assert found[0].life_cycle_cost == pytest.approx(1200)  # ten years without interest
    assert found.kwh_prices == pytest.approx(hours_worth(plain, years=20).kwh_prices)
    assert found.best_hours == 5


def test_money_is_no_measure_for_what_health_hangs_on():
    job = lamp(1.0)
    loads = tuple(replace(one, critical=True) for one in job.loads)
    told = verdict(Writer("EUR"), hours_worth(replace(job, loads=loads), years=20))
    assert f"no measure for {loads[0].load}" in told[1]
    assert not any(
        "no measure" in one for one in verdict(Writer("EUR"), hours_worth(job, years=20))
    )


def test_the_best_is_the_least_sum_and_each_step_pays_from_its_own_price_on():
    job = small_house().with_site(max_hours=10, generator=None, contracts=())
    found = hours_worth(job.what_if({"lost-load": 60.0}), years=40)
    assert found[0].hours == 0
    assert found.best.in_all == min(one.life_cycle_cost + one.lost for one in found)
    assert 0 < found.best_hours < found[-1].hours
    unserved = [one.kwh_unserved for one in found]
    assert unserved == sorted(unserved, reverse=True)
    for number, price in enumerate(found.kwh_prices):
        if price is not None:
            here, there = hours_worth(job.what_if({"lost-load": price}), years=40)[
                number - 1 : number + 1
            ]
            assert here.in_all == pytest.approx(there.in_all)
            break
    grid = rows(Writer("EUR"), found)
    assert len(grid.rows) == len(found.runs)
    assert not any("fuel" in note for note in grid.notes)


def test_where_a_generator_misses_more_than_a_bank_its_fuel_is_why():
    job = load("house").what_if({"lost-load": 20.0, "outages": 32.0})
    found = hours_worth(job.with_site(max_hours=24), years=20)
    alone, beside = found.runs[-2][-1], found.runs[-1][0]
    assert (alone.design.generator, beside.design.generator is None) == (None, False)
    assert beside.kwh_unserved > alone.kwh_unserved
    assert "who refills at once misses less" in rows(Writer("EUR"), found).notes[-1]


def test_without_a_value_the_answer_says_where_to_state_it():
    job = load("house").with_site(value_of_lost_load=None)
    with pytest.raises(InputError, match="--set lost-load=VALUE"):
        hours_worth(job)
