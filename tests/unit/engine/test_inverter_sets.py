"""Inverter sets as columns: which pass, and the money of one set by plain arithmetic."""

from __future__ import annotations

import pytest

from optimizer.engine.inverter_sets import build_sets
from optimizer.model.job import Cable, Contract, Fuse, Peak
from optimizer.model.requirement import Requirement
from tests.unit.builders import every_work, make_battery, make_inverter, make_job, make_load

from .columns import variant


def sets_of(job, *lifted):
    return build_sets(variant(job), frozenset(lifted))


def names(sets):
    return [
        (inverter.inverter, int(units))
        for inverter, units in zip(sets.inverters, sets.units, strict=True)
    ]


def test_one_to_max_units_of_each_model_in_the_lists_order():
    inverters = [make_inverter("First"), make_inverter("Second", max_units=1)]
    sets = sets_of(make_job(inverters=inverters))
    assert names(sets) == [("First", 1), ("First", 2), ("Second", 1)]
    assert len(sets) == 3
    # no-load draw and charger add up over units
    assert sets.no_load_w.tolist() == [10, 20, 10]
    assert sets.charger_a.tolist() == [50, 100, 50]
    # 100 W / 0.9 / (0.90 · 12 V): whatever the number of units
    assert sets.peak_current_a == pytest.approx([10.28807] * 3, abs=1e-5)


@pytest.mark.parametrize(
    ("load", "inverter", "units"),
    [
        ({"running_w": 1500.0}, {}, [2]),
        ({"running_w": 1000.0}, {}, [1, 2]),  # met exactly
        ({"running_w": 700.0, "power_factor": 0.5}, {}, [2]),  # 1400 VA
        ({"running_w": 500.0, "starting_w": 2500.0}, {}, [2]),  # 2500 W at the start
        ({"running_w": 2100.0}, {}, []),
    ],
)
def test_power_apparent_power_and_surge(load, inverter, units):
    sets = sets_of(make_job(make_load(**load), inverters=[make_inverter(**inverter)]))
    assert sets.units.tolist() == units


def test_heat_derates_power_but_not_surge():
    """Half way from 25 to 40 °C half of the loss is there: 900 W and 900 VA of 1000."""
    inverter = make_inverter(power_w_40c=800.0, max_units=1)
    hot = {"max_degc": 32.5, "inverters": [inverter]}
    assert len(sets_of(make_job(make_load(running_w=900.0), **hot))) == 1
    assert len(sets_of(make_job(make_load(running_w=901.0), **hot))) == 0
    assert len(sets_of(make_job(make_load(running_w=890.0, power_factor=0.98), **hot))) == 0
    assert len(sets_of(make_job(make_load(running_w=500.0, starting_w=2000.0), **hot))) == 1


def test_voltage_and_exclusion_of_the_site():
    inverters = [make_inverter("A"), make_inverter("B", system_v=24)]
    assert {n for n, _ in names(sets_of(make_job(inverters=inverters, voltages=(24,))))} == {"B"}
    assert {n for n, _ in names(sets_of(make_job(inverters=inverters, exclude=("B",))))} == {"A"}


def test_each_unit_has_its_own_cable_and_fuse():
    """102.9 A a unit, however many there are; over 4 m one run drops 0.318 V of 0.24 V."""
    assert [(run.runs, run.fuse.rating_a) for run in sets_of(make_job()).wiring] == [(1, 160)] * 2
    far = sets_of(make_job(battery_cable_m=4.0))
    assert [run.runs for run in far.wiring] == [2, 2]


def test_a_box_needs_no_cable():
    battery = make_battery(built_into="Gable")
    job = make_job(
        batteries=[battery],
        cables=[Cable(section_mm2=10.0, ampacity_a=63.0, ohm_per_km=1.91, price_per_m=3.0)],
    )
    sets = sets_of(job)
    assert sets.wiring == (None, None)
    assert sets.boxed.all()
    assert sets.upfront_cost.tolist() == [500.0, 1000.0]


def test_the_transfer_switch_carries_all_loads():
    """1000 VA at 230 V are 4.35 A."""
    job = make_job(make_load(running_w=1000.0), inverters=[make_inverter(pass_through_a=4.0)])
    assert sets_of(job).units.tolist() == [2]
    assert sets_of(job, Requirement.TRANSFER).units.tolist() == [1, 2]


@pytest.mark.parametrize(
    ("inverter", "units"),
    [
        ({"works_in_parallel": True}, [1, 2]),
        ({"works_in_parallel": False}, []),
        ({}, []),  # blank is no
        ({"works_in_parallel": True, "power_w": 250.0, "power_w_40c": 250.0}, [2]),  # 300 W of help
        ({"works_in_parallel": True, "pass_through_a": 3.0}, [2]),  # 1000 W at 230 V: 4.35 A
    ],
)
def test_help_at_peaks_of_the_supply(inverter, units):
    contract = Contract(power_w=1000.0, cost_year=10.0)
    job = make_job(
        inverters=[make_inverter(**inverter)],
        contracts=(contract,),
        peaks=(Peak(power_w=1300.0, minutes=30.0, times_a_month=10.0),),
    )
    assert build_sets(variant(job, contract), frozenset()).units.tolist() == units


def test_a_set_without_cable_or_fuse_is_not_offered():
    job = make_job(
        cables=[Cable(section_mm2=10.0, ampacity_a=63.0, ohm_per_km=1.91, price_per_m=3.0)],
        fuses=[Fuse(rating_a=63.0, price=9.0)],
    )
    assert len(sets_of(job)) == 0
    assert [run.runs for run in sets_of(job, Requirement.WIRING).wiring] == [4, 4]


@pytest.mark.parametrize(
    ("requirement", "load"),
    [
        (Requirement.POWER, {"running_w": 2100.0}),
        (Requirement.SURGE, {"running_w": 100.0, "starting_w": 9900.0}),
    ],
)
def test_a_lifted_requirement_lets_sets_pass(requirement, load):
    job = make_job(make_load(**load), inverters=[make_inverter(surge_w=4000.0)])
    assert len(sets_of(job)) == 0
    assert len(sets_of(job, requirement)) == 2


def test_the_money_of_one_set():
    """Two units living 4.5 years over 10 years at 5 %: bought in years 0, 4 and 8."""
    inverter = make_inverter(life_years=4.5, standby_w=6.0)
    job = make_job(
        inverters=[inverter],
        works=every_work(),
        discount_rate=0.05,
        tax_rate=0.2,
        markup=0.1,
        residual_share=0.5,
        tariff=0.3,
        battery_cable_m=1.5,
    )
    sets = sets_of(job)
    two = names(sets).index(("Gable", 2))
    gross = 1.1 * 1.2
    cable = 2 * 1.5 * 10 + 20  # one run there and back, a fuse of 160 A
    upfront = gross * (2 * (500 + 50 + 7 + cable) + 200)
    swap = gross * 2 * (500 + 30 + 7)
    cost = upfront + swap / 1.05**4 + swap / 1.05**8
    cost -= 0.5 * gross * 2 * 500 * (2 / 4) / 1.05**10  # the third set is 2 of 4 years old
    standby = 2 * 6 * 8.76 * 0.3
    cost += sum(standby / 1.05 ** (year + 1) for year in range(10))
    assert sets.upfront_cost[two] == pytest.approx(upfront, abs=1e-9)
    assert sets.life_cycle_cost[two] == pytest.approx(cost, abs=1e-9)


def test_a_set_that_lasts_to_the_end_leaves_no_value():
    job = make_job(inverters=[make_inverter(max_units=1)], residual_share=1.0)
    sets = sets_of(job)
    # 500 for the set; cable of 2 m there and back at 10, and a fuse at 20
    assert sets.upfront_cost.tolist() == [pytest.approx(560.0)]
    assert sets.life_cycle_cost.tolist() == [pytest.approx(560.0)]
    longer = make_job(inverters=[make_inverter(max_units=1, life_years=16.0)], residual_share=1.0)
    assert sets_of(longer).life_cycle_cost.tolist() == [pytest.approx(560 - 500 * 6 / 16)]
