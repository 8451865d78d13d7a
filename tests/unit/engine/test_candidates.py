"""What each set can be wired to, and the energies on both sides of the balance."""

from __future__ import annotations

import pytest

from optimizer.model.job import Contract, Peak
from optimizer.model.requirement import Requirement
from tests.unit.builders import make_battery, make_inverter, make_job, make_load

from .columns import columns


def pairs(candidates):
    """Which (units of the set, strings of the bank) are wired to each other."""
    sets, banks = candidates.sets, candidates.banks
    return {
        (int(sets.units[i]), int(banks.strings[b]))
        for i in range(len(sets))
        for b in range(len(banks))
        if candidates.compatible[i, b]
    }


def test_only_banks_of_the_sets_voltage():
    inverters = [make_inverter("A", max_units=1), make_inverter("B", system_v=24, max_units=1)]
    c = columns(make_job(inverters=inverters))
    for row, volts in zip(c.compatible, c.sets.voltage_v, strict=True):
        assert set(c.banks.voltage_v[row].tolist()) == {volts}


def test_the_charger_refills_in_time():
    """100 Ah · 0.5 · 1.0 in 2 h are 25 A a string; the set gives 50 A, two 100 A."""
    job = make_job(recharge_hours=2.0, voltages=(12,))
    assert pairs(columns(job)) == {(1, 1), (1, 2), (2, 1), (2, 2), (2, 3), (2, 4)}
    lifted = columns(job, lifted={Requirement.REFILL})
    assert len(pairs(lifted)) == 8


def test_the_least_charge_rate_holds_where_time_is_long():
    job = make_job(batteries=[make_battery(charge_rate_min=0.2)], voltages=(12,))
    # 20 A a string at least, though 100 · 0.5 / 24 h would do with 2.1 A
    assert pairs(columns(job)) == {(1, 1), (1, 2), (2, 1), (2, 2), (2, 3), (2, 4)}


def test_the_discharge_current_at_the_peak():
    """1000 W / 0.9 / 10.8 V = 102.9 A of 60 A a string: two strings."""
    job = make_job(
        make_load(running_w=1000.0),
        batteries=[make_battery(discharge_rate_max=0.6, surge_rate_max=2.0)],
        voltages=(12,),
    )
    assert {strings for _, strings in pairs(columns(job))} == {2, 3, 4}
    lifted = columns(job, lifted={Requirement.DISCHARGE, Requirement.START})
    assert {strings for _, strings in pairs(lifted)} == {1, 2, 3, 4}


def test_a_bank_takes_no_more_than_it_may():
    """A charger of 50 A on a bank that takes 20 A a string: 25 A a string are needed."""
    battery = make_battery(charge_rate_max=0.2)
    job = make_job(batteries=[battery], recharge_hours=2.0, voltages=(12,))
    assert pairs(columns(job)) == set()


def test_the_start_of_a_motor_from_the_bank():
    """1800 W / 0.9 / 10.8 V = 185.2 A for the seconds of a start: two strings of 100 A."""
    job = make_job(make_load(running_w=100.0, starting_w=1800.0), voltages=(12,))
    assert {strings for _, strings in pairs(columns(job))} == {2, 3, 4}
    strong = make_battery(surge_rate_max=2.0)
    job = make_job(
        make_load(running_w=100.0, starting_w=1800.0), batteries=[strong], voltages=(12,)
    )
    assert {strings for _, strings in pairs(columns(job))} == {1, 2, 3, 4}


def test_a_box_goes_with_its_own_banks_and_as_many_of_them():
    inverters = [make_inverter("Open"), make_inverter("Box", price=0.0)]
    batteries = [make_battery("Plain"), make_battery("Boxed", built_into="Box")]
    c = columns(make_job(inverters=inverters, batteries=batteries, voltages=(12,)))
    found = {
        (c.sets.inverters[i].inverter, c.banks.battery(b).battery, int(c.sets.units[i]))
        for i in range(len(c.sets))
        for b in range(len(c.banks))
        if c.compatible[i, b] and c.banks.strings[b] == c.sets.units[i]
    }
    wanted = {("Open", "Plain"), ("Box", "Boxed")}
    assert found == {(*pair, units) for pair in wanted for units in (1, 2)}
    assert {
        (int(c.sets.units[i]), int(c.banks.strings[b]))
        for i, b in zip(*c.compatible.nonzero(), strict=True)
        if c.sets.boxed[i]
    } == {(1, 1), (2, 2)}


def test_usable_energy_falls_with_fast_and_uneven_discharge():
    battery = make_battery(peukert=1.25)
    flat = columns(make_job(batteries=[battery], voltages=(12,), max_parallel=1))
    # half of the bank in 4 h: the current that would empty it in 8; exponent 1 − 1/k = 0.2
    assert flat.usable_wh(4).tolist() == pytest.approx([600 * (8 / 10) ** 0.2])
    assert flat.usable_wh(5).tolist() == flat.usable_wh(20).tolist() == pytest.approx([600])
    half = make_load(windows=((0.0, 2.0), (4.0, 6.0)))
    job = make_job(half, batteries=[battery], voltages=(12,), max_parallel=1)
    # worst window of 4 h holds one hour of 100 W: mean 25 W, (100/25)^0.25 for the whole energy
    assert columns(job).usable_wh(4).tolist() == pytest.approx([600 * (8 / 10) ** 0.2 / 4**0.25])


def test_tiers_let_go_lower_the_need():
    loads = (make_load(), make_load("Heater", tier="useful", running_w=200.0))
    tiers = {"tiers": ("needed", "useful"), "tier_hours": {"useful": 2}}
    needed = columns(make_job(*loads, **tiers, horizon_years=1)).needed_wh(6)
    assert needed[0].tolist() == pytest.approx([(6 * 100 + 2 * 200) / 0.9 + 6 * 10])


def test_needed_energy_grows_and_carries_margin_and_idle_draw():
    job = make_job(design_margin=0.1, load_growth=0.05, horizon_years=3)
    needed = columns(job).needed_wh(6)
    one, two = needed.tolist()
    assert one == pytest.approx([(600 * 1.05**y / 0.9 + 6 * 10) * 1.1 for y in range(3)])
    assert two == pytest.approx([(600 * 1.05**y / 0.9 + 6 * 20) * 1.1 for y in range(3)])


def test_health_falls_to_the_share_at_the_end_of_life():
    c = columns(make_job(yearly=((0.5, 0.1),), voltages=(12,), max_parallel=1))
    (life,) = c.service.life_years.tolist()
    wanted = [1 - 0.2 * age / life for age in range(1, 10)]
    assert c.health[0, :9].tolist() == pytest.approx(wanted)
    assert c.health[0, 9] == pytest.approx(0.8)  # retired within the tenth year


def test_the_bank_keeps_what_the_worst_peak_takes():
    """300 W above the contract for half an hour: 166.7 of 1200 Wh at full health, depth 0.1389."""
    contract = Contract(power_w=1000.0, cost_year=10.0)
    job = make_job(
        yearly=(),
        voltages=(12,),
        max_parallel=1,
        contracts=(contract,),
        peaks=(
            Peak(power_w=1300.0, minutes=30.0, times_a_month=1.0),
            Peak(power_w=1100.0, minutes=60.0, times_a_month=1.0),
        ),
        inverters=[make_inverter(works_in_parallel=True)],
    )
    c = columns(job, contract=contract)
    kept = c.kept_health(0.9)
    left = c.health[0, 0]
    depth = 300 / 0.9 * 0.5 / (1200 * left)
    assert kept[0, 0] == pytest.approx(left * (1 - depth / 0.5))
