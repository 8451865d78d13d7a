"""The ledger: every number is in it, with its unit and its source."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import datetime

import pytest

from optimizer import assumptions, choose, load
from optimizer.formulas.wiring import CONTINUOUS_FACTOR
from optimizer.inputs import shipped_chemistry_sources
from optimizer.model.job import Battery, Inverter, LoggedOutage, Outages, Site
from tests.unit.builders import every_work, make_battery, make_design, make_job, make_period


def by_subject(ledger):
    found = {}
    for one in ledger:
        found.setdefault(one.subject, {})[one.name] = one
    return found


@pytest.fixture(scope="module")
def house():
    job = load("house")
    design = choose(job).design
    return job, design, by_subject(assumptions(job, design))


def test_each_number_of_battery_inverter_and_site_is_there(house):
    job, design, found = house
    battery, inverter = design.banks[0].battery, design.inverter
    for subject, item, kind in (
        (f"Battery {battery.battery}", battery, Battery),
        (f"Inverter {inverter.inverter}", inverter, Inverter),
        ("Site", job.site, Site),
    ):
        for field in fields(kind):
            value = getattr(item, field.name)
            # size and phases play no part in any number
            if isinstance(value, float) and not field.name.endswith("_mm"):
                assert found[subject][field.name].value == value, (subject, field.name)
    assert found[f"Battery {battery.battery}"]["cycle_points"].value == "0.5:9000;0.8:6000;1:4200"


def test_each_counted_load_is_there(house):
    job, _, found = house
    for load_row in job.loads:
        counted = load_row.tier in job.site.tiers
        assert (f"Load {load_row.load}" in found) == counted
        if counted:
            assert found[f"Load {load_row.load}"]["running_w"].value == load_row.running_w


def test_sources(house):
    _, design, found = house
    battery = found[f"Battery {design.banks[0].battery.battery}"]
    shipped = shipped_chemistry_sources()["lfp", "peukert"]
    assert battery["peukert"].origin == "chemistry"
    assert shipped in battery["peukert"].source
    assert battery["capacity_ah"].origin == "catalog"
    price = design.banks[0].battery.price_date.isoformat()
    assert price in battery["price"].source
    assert found["Site"]["max_drop"].source.startswith("the default")
    assert found["Site"]["target_hours"].source == "site file"
    assert all(one.source for group in found.values() for one in group.values())


def test_units(house):
    _, _, found = house
    assert found["Site"]["tariff"].unit == "EUR per kWh"
    assert found["Site"]["horizon_years"].unit == "years"
    assert found["Site"]["mean_degc"].unit == "°C"
    assert found["Site"]["design_margin"].unit == ""


def test_constants_are_those_of_the_formulas(house):
    constants = house[2]["Constants"]
    factor = constants["continuous current that cable and fuse carry, times"]
    assert factor.value == CONTINUOUS_FACTOR
    assert factor.source == "common practice"


def test_windows_seasons_works_and_each_form_of_outages():
    job = replace(make_job(works=every_work(), yearly=((2.0, 3.0), (8.0, 0.5))))
    job = replace(job, loads=(replace(job.loads[0], windows=((22.0, 30.0), (6.5, 24.0))),))
    found = by_subject(assumptions(job, make_design()))
    assert found["Load Lamp"]["hours"].value == "22:00-6:00;6:30-24:00"
    assert found["Outages"]["of 8 h"].value == 0.5
    assert found["Work Mount"]["price per inverter_unit, first"].value == 50.0
    assert found["Site"]["months of year"].value.startswith("1, 2, 3")
    daily = Outages("daily", ((2.0, 90.0),), daily=((6.0, 8.0),), days_per_year=90.0)
    found = by_subject(assumptions(replace(job, outages=daily), make_design()))
    assert found["Outages"]["daily"].value == "6:00-8:00"
    charging = found["Scheduled cuts"]["charging voltage in the balance of a day"]
    assert (charging.value, charging.origin) == (pytest.approx(14.0), "constant")
    one = LoggedOutage(datetime(2025, 1, 10, 17, 0), datetime(2025, 1, 10, 19, 0))
    logged = Outages("log", ((2.0, 0.5),), (one,), 2.0)
    found = by_subject(assumptions(replace(job, outages=logged), make_design()))
    assert found["Outages"]["hours logged"].value == 2.0
    assert "2025-01-10" in found["Outages"]["hours logged"].source


def test_what_is_not_in_the_price_list_was_typed_in():
    typed = make_design(make_period(make_battery("Reed", absorption_v=14.4)))
    cuts = Outages("daily", ((2.0, 90.0),), daily=((6.0, 8.0),), days_per_year=90.0)
    found = by_subject(assumptions(replace(make_job(), outages=cuts), typed))
    assert found["Battery Reed"]["capacity_ah"].source == "typed in"
    assert found["Inverter Gable"]["power_w"].source == "price list"
    charging = found["Scheduled cuts"]["charging voltage in the balance of a day"]
    assert (charging.value, charging.origin) == (14.4, "catalog")


def test_a_battery_that_comes_twice_is_told_once():
    battery = make_battery()
    design = make_design(
        make_period(battery, start=0, end=5), make_period(battery, start=5, end=10)
    )
    ledger = assumptions(make_job(), design)
    assert sum(one.name == "capacity_ah" for one in ledger) == 1
