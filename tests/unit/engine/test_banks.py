"""Banks as columns: which pass, how long they serve, and the money of one by plain arithmetic."""

from __future__ import annotations

import numpy as np
import pytest

from optimizer.engine.banks import bank_money, build_banks
from optimizer.engine.demand import demand_of
from optimizer.model.job import Work
from optimizer.model.requirement import Requirement
from tests.unit.builders import every_work, make_battery, make_job

ARCS = np.triu_indices(11, 1)


def banks_of(job, family=None, lifted=()):
    return build_banks(job, demand_of(job), family, frozenset(lifted))


def shapes(banks):
    rows = zip(banks.batteries, banks.series, banks.strings, banks.voltage_v, strict=True)
    return [(battery.battery, *map(int, counts)) for battery, *counts in rows]


def cost_of(job, bank, start, end):
    banks = banks_of(job)
    cost, _ = bank_money(job, banks, *ARCS)
    arc = int(np.flatnonzero((ARCS[0] == start) & (ARCS[1] == end))[0])
    return float(cost[bank, arc])


def test_series_and_strings_at_every_voltage():
    battery = make_battery(voltage_v=6.4, class_v=6, max_series=4, max_parallel=2)
    banks = banks_of(make_job(batteries=[battery]))
    # 8 in series for 48 V are more than 4
    assert shapes(banks) == [
        ("Slate", 2, 1, 12),
        ("Slate", 2, 2, 12),
        ("Slate", 4, 1, 24),
        ("Slate", 4, 2, 24),
    ]
    assert banks.units.tolist() == [2, 4, 4, 8]
    # watt-hours by the unit's own 6.4 V, depth 0.5
    assert banks.usable_wh.tolist() == pytest.approx([640, 1280, 1280, 2560])
    assert banks.discharge_a.tolist() == [100, 200, 100, 200]


def test_a_unit_of_a_higher_class_than_the_system_is_left_out():
    banks = banks_of(make_job(batteries=[make_battery(voltage_v=48.0, class_v=48)]))
    assert set(banks.voltage_v.tolist()) == {48}


@pytest.mark.parametrize(
    ("site", "battery", "lifted"),
    [
        ({"vented_allowed": False}, {"gas": "vented"}, Requirement.VENTED),
        ({"min_degc": -1.0}, {}, Requirement.COLD),  # below the first cold point
        ({"min_degc": 3.0}, {"min_charge_degc": 5.0}, Requirement.COLD),
        ({"max_bank_kg": 29.0}, {}, Requirement.MASS),
        ({"exclude": ("Slate",)}, {}, None),
        ({"exclude": ("agm",)}, {}, None),
    ],
)
def test_what_the_site_rules_out(site, battery, lifted):
    job = make_job(batteries=[make_battery(**battery)], **site)
    assert len(banks_of(job)) == 0
    if lifted is not None:
        assert len(banks_of(job, lifted=[lifted])) > 0


def test_family():
    job = make_job(batteries=[make_battery(), make_battery("Birch", family="lithium")])
    assert {b.battery for b in banks_of(job, "lithium").batteries} == {"Birch"}
    assert len(banks_of(job, "sodium")) == 0


def test_the_fewer_of_the_makers_and_the_sites_strings():
    job = make_job(max_parallel=2, voltages=(12,))
    assert banks_of(job).strings.tolist() == [1, 2]
    assert banks_of(job, lifted=[Requirement.STRINGS]).strings.tolist() == [1, 2, 3, 4]
    assert banks_of(make_job(max_parallel=9, voltages=(12,))).strings.tolist() == [1, 2, 3, 4]


def test_mass_met_exactly_passes():
    assert banks_of(make_job(max_bank_kg=60.0, voltages=(12,))).strings.tolist() == [1, 2]


def test_cold_takes_capacity():
    battery = make_battery(cold_points=((0.0, 0.7), (20.0, 1.0)))
    banks = banks_of(make_job(batteries=[battery], voltages=(12,), max_parallel=1))
    assert banks.usable_wh.tolist() == pytest.approx([1200 * 0.85 * 0.5])


def test_service_life_by_hand():
    """100 W for 4 h at 0.8 are 500 Wh of 1200: depth 0.41667, 1200 cycles, 10 a year; 5 a float."""
    job = make_job(mean_degc=30.0, voltages=(12,), max_parallel=1)
    banks = banks_of(job)
    assert banks.service_life_years.tolist() == pytest.approx([1 / (1 / 5 + 10 / 1200)])
    assert banks.service_life_years.tolist() == pytest.approx([4.8])
    assert banks.whole_life_years.tolist() == [4]
    assert banks.least_years.tolist() == pytest.approx([2.4])


def test_outages_of_one_length_add_up_and_depth_is_capped():
    typed = ((4.0, 4.0), (12.0, 2.0), (4.0, 6.0))
    banks = banks_of(make_job(yearly=typed, mean_degc=30.0, voltages=(12,), max_parallel=1))
    # 12 h would take 1500 Wh: no deeper than 0.5, where 1000 cycles are given
    assert banks.service_life_years.tolist() == pytest.approx([1 / (0.2 + 10 / 1200 + 2 / 1000)])


def test_the_least_service_is_never_longer_than_the_whole_life():
    job = make_job(mean_degc=30.0, min_service_share=1.0, voltages=(12,), max_parallel=1)
    assert banks_of(job).least_years.tolist() == [4]


def test_a_bank_that_lasts_less_than_a_year_serves_never():
    job = make_job(batteries=[make_battery(float_life_years=0.9)], voltages=(12,))
    cost, _ = bank_money(job, banks_of(job), *ARCS)
    assert np.isinf(cost).all()


def test_a_replaced_bank_serves_its_least_time_but_the_last_need_not():
    job = make_job(mean_degc=30.0, voltages=(12,), max_parallel=1)  # lives 4.8 a, at least 2.4
    finite = {
        (start, end)
        for start, end in zip(*(side.tolist() for side in ARCS), strict=True)
        if np.isfinite(cost_of(job, 0, start, end))
    }
    assert {end - start for start, end in finite if end < 10} == {3, 4}
    assert {10 - start for start, end in finite if end == 10} == {1, 2, 3, 4}


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


def yearly_by_hand(units, taken_wh):
    """Upkeep, and the energy to make good what outages take and what is lost while waiting."""
    kept_wh = 12 * 0.02 * units * 12 * 100
    return units * 4.0 + (taken_wh + kept_wh) / 0.8 / 1000 * 0.4


def test_the_money_of_a_first_bank_kept_six_years():
    """Two strings of two: the outages take 500 Wh each, ten times a year."""
    job = make_job(batteries=[make_battery(**PRICED)], **MONEY)
    two = 1  # strings 1, 2, 3, 4 at 24 V
    works = 4 * (5 + 2) + 2 * (40 + 3) + 4 * 30 * (0.5 + 0.1)
    wanted = GROSS * (4 * 100 + works) - 4 * 6 / 1.05**6
    wanted += sum(yearly_by_hand(4, 10 * 500) / 1.05 ** (year + 1) for year in range(6))
    assert cost_of(job, two, 0, 6) == pytest.approx(wanted, abs=1e-9)
    _, upfront = bank_money(job, banks_of(job), *ARCS)
    assert upfront[two] == pytest.approx(GROSS * (4 * 100 + works), abs=1e-9)


def test_the_money_of_a_later_bank_kept_to_the_end():
    job = make_job(batteries=[make_battery(**PRICED)], **MONEY)
    life = 1 / (1 / 10 + 10 / (0.5 * 1000 / (500 / 4800)))
    price = 4 * 100 * 0.97**6 * GROSS
    works = 4 * (9 + 2) + 2 * (11 + 3) + 4 * 30 * (0.7 + 0.1)
    wanted = (price + works * GROSS) / 1.05**6
    wanted += sum(yearly_by_hand(4, 10 * 500) / 1.05 ** (year + 1) for year in range(6, 10))
    wanted -= (4 * 6 + 0.5 * price * (1 - 4 / life)) / 1.05**10
    assert cost_of(job, 1, 6, 10) == pytest.approx(wanted, abs=1e-9)


def test_works_of_other_bases_are_not_the_banks():
    works = [Work("Survey", "site", 99.0, "first"), Work("Mount", "inverter_unit", 77.0, "both")]
    assert cost_of(make_job(works=works), 0, 0, 10) == cost_of(make_job(), 0, 0, 10)


def test_no_battery_at_all_makes_empty_columns():
    banks = banks_of(make_job(batteries=[]))
    assert len(banks) == 0
    cost, upfront = bank_money(make_job(batteries=[]), banks, *ARCS)
    assert cost.shape == (0, 55)
    assert upfront.shape == (0,)
