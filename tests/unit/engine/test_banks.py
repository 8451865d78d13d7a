"""Banks as columns: which pass, and what they give and take."""

from __future__ import annotations

import numpy as np
import pytest

from optimizer.engine.banks import build_banks
from optimizer.model.requirement import Requirement
from tests.unit.builders import make_battery, make_job


def banks_of(job, family=None, lifted=()):
    return build_banks(job, family, frozenset(lifted))


def shapes(banks):
    counts = zip(banks.series, banks.strings, banks.voltage_v, strict=True)
    return [(banks.battery(index).battery, *map(int, three)) for index, three in enumerate(counts)]


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
    # watt-hours by the unit's own 6.4 V
    assert banks.stored_wh.tolist() == pytest.approx([1280, 2560, 2560, 5120])
    assert banks.discharge_a.tolist() == [100, 200, 100, 200]
    # 14 V for each 12 V where the row does not say
    assert banks.charging_v.tolist() == pytest.approx([14, 14, 28, 28])


def test_each_depth_is_a_bank_of_its_own():
    battery = make_battery(max_dods=(0.3, 0.8), max_dod=0.8, max_parallel=2)
    banks = banks_of(make_job(batteries=[battery], voltages=(12,)))
    assert banks.column("max_dod").tolist() == [0.3, 0.3, 0.8, 0.8]
    assert banks.strings.tolist() == [1, 2, 1, 2]
    assert [banks.battery(index).max_dod for index in (0, 3)] == [0.3, 0.8]


def test_start_rate_where_it_is_stated():
    banks = banks_of(make_job(batteries=[make_battery(surge_rate_max=3.0)], voltages=(12,)))
    assert banks.start_a.tolist() == [300, 600, 900, 1200]
    assert banks_of(make_job(voltages=(12,))).start_a.tolist() == [100, 200, 300, 400]


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
    assert {b.battery for b in banks_of(job, "lithium").models} == {"Birch"}
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
    assert banks.cold.tolist() == pytest.approx([0.85])


def test_no_battery_at_all_makes_empty_columns():
    banks = banks_of(make_job(batteries=[]))
    assert len(banks) == 0
    assert banks.stored_wh.shape == banks.vented.shape == (0,)
    assert np.isnan(banks.column("price")).sum() == 0
