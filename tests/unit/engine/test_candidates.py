"""What each set can be wired to, and the energies on both sides of the balance."""

from __future__ import annotations

import pytest

from optimizer.engine.candidates import build_candidates
from optimizer.model.requirement import Requirement
from tests.unit.builders import make_battery, make_inverter, make_job, make_load


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
    c = build_candidates(make_job(inverters=inverters))
    for row, volts in zip(c.compatible, c.sets.voltage_v, strict=True):
        assert set(c.banks.voltage_v[row].tolist()) == {volts}


def test_the_charger_refills_in_time():
    """100 Ah · 0.5 · 1.0 in 2 h are 25 A a string; the set gives 50 A, two 100 A."""
    job = make_job(recharge_hours=2.0, voltages=(12,))
    assert pairs(build_candidates(job)) == {(1, 1), (1, 2), (2, 1), (2, 2), (2, 3), (2, 4)}
    lifted = build_candidates(job, lifted=frozenset({Requirement.REFILL}))
    assert len(pairs(lifted)) == 8


def test_the_least_charge_rate_holds_where_time_is_long():
    job = make_job(batteries=[make_battery(charge_rate_min=0.2)], voltages=(12,))
    # 20 A a string at least, though 100 · 0.5 / 24 h would do with 2.1 A
    assert pairs(build_candidates(job)) == {(1, 1), (1, 2), (2, 1), (2, 2), (2, 3), (2, 4)}


def test_the_discharge_current_at_the_peak():
    """1000 W / 0.9 / 10.8 V = 102.9 A of 60 A a string: two strings."""
    job = make_job(
        make_load(running_w=1000.0),
        batteries=[make_battery(discharge_rate_max=0.6)],
        voltages=(12,),
    )
    assert {strings for _, strings in pairs(build_candidates(job))} == {2, 3, 4}
    lifted = build_candidates(job, lifted=frozenset({Requirement.DISCHARGE}))
    assert {strings for _, strings in pairs(lifted)} == {1, 2, 3, 4}


def test_usable_energy_falls_with_fast_and_uneven_discharge():
    battery = make_battery(peukert=1.25)
    flat = build_candidates(make_job(batteries=[battery], voltages=(12,), max_parallel=1))
    # exponent 1 − 1/k = 0.2; a flat load has no uneven factor
    assert flat.usable_wh(5).tolist() == pytest.approx([600 * (5 / 10) ** 0.2])
    assert flat.usable_wh(20).tolist() == pytest.approx([600])
    half = make_load(windows=((0.0, 2.0), (4.0, 6.0)))
    job = make_job(half, batteries=[battery], voltages=(12,), max_parallel=1)
    # worst window of 4 h holds one hour of 100 W: mean 25 W, (100/25)^0.25 for the whole energy
    assert build_candidates(job).usable_wh(4).tolist() == pytest.approx(
        [600 * (4 / 10) ** 0.2 / 4**0.25]
    )


def test_needed_energy_grows_and_carries_margin_and_idle_draw():
    job = make_job(design_margin=0.1, load_growth=0.05, horizon_years=3)
    needed = build_candidates(job).needed_wh(6)
    one, two = needed.tolist()
    assert one == pytest.approx([(600 * 1.05**y / 0.9 + 6 * 10) * 1.1 for y in range(3)])
    assert two == pytest.approx([(600 * 1.05**y / 0.9 + 6 * 20) * 1.1 for y in range(3)])


def test_health_falls_to_the_share_at_the_end_of_life():
    c = build_candidates(make_job(yearly=((0.5, 0.1),), voltages=(12,), max_parallel=1))
    life = c.banks.service_life_years[0]
    ages = c.arc_end - c.arc_start
    assert c.arc_health[0].tolist() == pytest.approx((1 - 0.2 * ages / life).tolist())
