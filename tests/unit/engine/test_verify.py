"""The plain checks: a true design passes, and each kind of tampering is named."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from optimizer import InternalError, load
from optimizer.engine.bank_checks import tightest_year
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.curve import Search
from optimizer.engine.variants import variant_of_design
from optimizer.engine.verify import checks, verify
from optimizer.model.design import CableRun
from optimizer.model.requirement import Requirement
from tests.unit.builders import CABLE, make_battery, make_inverter, make_job, make_load, with_site


@cache
def proven():
    """A job in which much is close to its limit, and its design for 8 hours."""
    battery = make_battery(peukert=1.1, float_life_years=8.0, upkeep_year=3.0)
    job = make_job(
        make_load(running_w=120.0, starting_w=800.0),
        batteries=[battery],
        tariff=0.3,
        residual_share=1.0,
        discount_rate=0.04,
        load_growth=0.01,
        max_bank_kg=400.0,
        budget=5000.0,
        lifetime_budget=9000.0,
    )
    return job, Search(job).cheapest(8)


def failed(job, design):
    with pytest.raises(InternalError) as caught:
        verify(job, design)
    text = str(caught.value)
    assert text.startswith("a design from the program fails its checks: ")
    return text


def with_bank(design, number=0, **changes):
    banks = list(design.banks)
    banks[number] = replace(banks[number], **changes)
    return replace(design, banks=tuple(banks))


def test_a_proven_design_passes():
    job, design = proven()
    verify(job, design)
    assert all(check.met for check in checks(job, design))
    assert design.banks[0].bought > 1  # there is a replacement to tamper with


@pytest.mark.slow
def test_every_point_of_the_demo_house_passes():
    job = load("house")
    for point in Search(job).points():
        verify(job, point)


def test_more_hours_than_it_carries():
    job, design = proven()
    text = failed(job, replace(design, hours=design.hours + 6))
    assert "energy: " in text
    assert "cost" not in text


@pytest.mark.parametrize("strings", [1, 9])
def test_another_number_of_strings(strings):
    job, design = proven()
    text = failed(job, with_bank(design, strings=strings))
    assert "plain arithmetic" in text
    assert ("energy: " in text) == (strings == 1)
    assert ("strings: " in text) == (strings == 9)


def test_more_units_in_series_than_the_maker_allows():
    job, design = proven()
    assert "series: " in failed(job, with_bank(design, series=5))


@pytest.mark.parametrize(
    ("name", "shown"), [("life_cycle_cost", "life-cycle cost"), ("upfront_cost", "upfront cost")]
)
def test_money_that_does_not_add_up(name, shown):
    job, design = proven()
    text = failed(job, replace(design, **{name: getattr(design, name) + 0.001}))
    assert f"{shown}: the program says" in text
    assert "energy" not in text


def test_rounding_in_the_money_is_forgiven():
    job, design = proven()
    verify(job, replace(design, life_cycle_cost=design.life_cycle_cost + 1e-6))


@pytest.mark.parametrize("change", [-1.0, 1.0])
def test_a_service_life_that_is_not_the_banks(change):
    job, design = proven()
    life = design.banks[0].service_life_years
    text = failed(job, with_bank(design, service_life_years=life + change))
    assert "stated_life: " in text


def test_wiring_too_thin():
    job, design = proven()
    thin = replace(CABLE, ampacity_a=100.0, ohm_per_km=3.0)
    text = failed(job, replace(design, wiring=CableRun(thin, 1, design.wiring.fuse)))
    assert "cable_current: " in text
    assert "fuse_protection: " in text
    assert "voltage_drop: " in text


@pytest.mark.parametrize("ampacity_a", [125.0, 128.0])
def test_a_quarter_more_than_the_current_is_asked_of_the_cable(ampacity_a):
    """1000 W / 0.9 / 10.8 V = 102.9 A, a quarter more 128.6 A."""
    job, design = proven()
    assert design.inverter_units == 1
    close = replace(CABLE, ampacity_a=ampacity_a)
    text = failed(job, replace(design, wiring=CableRun(close, 1, design.wiring.fuse)))
    assert "cable_current: " in text


@pytest.mark.parametrize("rating_a", [60.0, 125.0])
def test_a_fuse_that_does_not_hold(rating_a):
    job, design = proven()
    small = replace(design.wiring.fuse, rating_a=rating_a)
    wiring = replace(design.wiring, fuse=small)
    assert "fuse_current: " in failed(job, replace(design, wiring=wiring))


def test_a_gap_and_an_overlap_in_the_chain():
    job, design = proven()
    for other in (9, 11):
        assert "one bank at a time" in failed(job, with_bank(design, end=other))


def test_a_bank_kept_beyond_its_life():
    job, design = proven()
    old = replace(design.banks[0], bought=1)
    text = failed(job, replace(design, banks=(old,)))
    assert "age: " in text
    assert "renewals: " in text
    assert "one bank at a time" not in text


def test_a_bank_given_up_too_early():
    job, design = proven()
    (bank,) = design.banks
    early, second = replace(bank, end=1, bought=1), replace(bank, start=1)
    assert "least_service: " in failed(job, replace(design, banks=(early, second)))


@pytest.mark.parametrize(
    ("site", "name"),
    [
        ({"budget": 100.0}, "upfront_cost: "),
        ({"lifetime_budget": 100.0}, "life_cycle_cost: "),
        ({"max_bank_kg": 10.0}, "mass: "),
        ({"recharge_hours": 1.0}, "recharge: "),
        ({"min_degc": -3.0}, "lowest_temperature: "),
        ({"max_parallel": 1}, "strings: "),
    ],
)
def test_a_site_that_asks_more(site, name):
    job, design = proven()
    assert name in failed(with_site(job, **site), design)


def test_a_hot_room_and_a_hungry_motor():
    job, design = proven()
    load_, *_ = job.loads
    weak = replace(design.inverter, power_w_40c=50.0)
    text = failed(with_site(job, max_degc=40.0), replace(design, inverter=weak))
    assert "power: " in text
    assert "apparent_power: " in text
    hungry = replace(job, loads=(replace(load_, starting_w=90_000.0),))
    assert "surge: " in failed(hungry, design)


def test_a_current_the_bank_may_not_give():
    job, design = proven()
    weak = make_battery(peukert=1.1, float_life_years=8.0, discharge_rate_max=0.001)
    assert "discharge_current: " in failed(job, with_bank(design, battery=weak))


def test_a_vented_bank_where_none_may_stand():
    job, design = proven()
    wet = replace(design.banks[0].battery, gas="vented")
    assert "ventilated_place: " in failed(job, with_bank(design, battery=wet))


def test_all_faults_are_named_at_once():
    job, design = proven()
    text = failed(job, replace(design, hours=20, upfront_cost=1.0, life_cycle_cost=2.0))
    assert text.count(";") == 2
    assert all(what in text for what in ("energy: ", "life-cycle cost: ", "upfront cost: "))


# --- one check ----------------------------------------------------------------------------------


FLOOR, CEILING = CheckKind.POWER, CheckKind.MASS


def check(kind, required, provided):
    return Check(kind, required=required, provided=provided)


def test_margins_of_floors_and_ceilings():
    assert check(FLOOR, 100.0, 125.0).margin == pytest.approx(0.25)
    assert check(FLOOR, 100.0, 75.0).margin == pytest.approx(-0.25)
    assert check(CEILING, 100.0, 75.0).margin == pytest.approx(0.25)
    assert check(FLOOR, 0.0, 75.0).margin == float("inf")
    assert check(CheckKind.LOWEST_TEMPERATURE, -10.0, -5.0).margin == pytest.approx(0.5)


def test_met_within_a_billionth():
    assert check(FLOOR, 100.0, 100.0 * (1 - 5e-10)).met
    assert not check(FLOOR, 100.0, 100.0 * (1 - 2e-9)).met
    assert check(CEILING, 100.0, 100.0 * (1 + 5e-10)).met
    assert not check(CEILING, 100.0, 100.0 * (1 + 2e-9)).met
    assert not check(FLOOR, 100.0, float("nan")).met


def test_requirements_are_named_where_they_can_be_lifted():
    job, design = proven()
    found = {check.requirement for check in checks(job, design)} - {None}
    assert found == set(Requirement) - {
        Requirement.VENTED,
        Requirement.TRANSFER,
        Requirement.CUTS,
        Requirement.CONTRACT,
        Requirement.GENERATOR,
    }


def test_the_tightest_year_by_hand():
    """Flat need of 484.4 Wh; 600 Wh new, health 1 − 0.2 · age / life: the bank's last year."""
    job = make_job(voltages=(12,), max_parallel=1, yearly=((1.0, 1.0),), horizon_years=4)
    search = Search(job)
    design = search.cheapest(4)
    (bank,) = design.banks
    variant = variant_of_design(job, design, search.demand)
    year, need_wh, energy_wh = tightest_year(variant, design, bank)
    assert year == 3
    assert need_wh == pytest.approx(400 / 0.9 + 4 * 10)
    assert energy_wh == pytest.approx(600 * (1 - 0.2 * 4 / bank.service_life_years))


def test_the_tightest_year_of_a_shrinking_load_is_the_first():
    job = make_job(voltages=(12,), yearly=((1.0, 1.0),), horizon_years=4, load_growth=-0.1)
    search = Search(job)
    design = search.cheapest(4)
    variant = variant_of_design(job, design, search.demand)
    year, need_wh, _ = tightest_year(variant, design, design.banks[0])
    assert year == 0
    assert need_wh == pytest.approx(400 / 0.9 + 4 * 10 * design.inverter_units)


def test_a_room_at_the_first_cold_point_is_warm_enough():
    inverter = make_inverter(max_units=1)
    job = make_job(inverters=[inverter], min_degc=0.0)  # the battery's first cold point
    design = Search(job).cheapest(4)
    verify(job, design)
