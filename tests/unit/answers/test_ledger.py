"""The ledger: every number is in it, with its unit and its source."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import datetime

import pytest

from optimizer import assumptions, choose, load
from optimizer.answers.ledger import Source, Subject
from optimizer.formulas.wiring import CONTINUOUS_FACTOR
from optimizer.inputs.chemistry import shipped_chemistry_sources
from optimizer.model.job import Battery, Inverter, Site
from optimizer.model.outages import LoggedOutage, Outages
from tests.unit.builders import every_work, make_battery, make_design, make_job, make_period

SITE, OUTAGES = (Subject.SITE, ""), (Subject.OUTAGES, "")


def by_subject(ledger):
    found = {}
    for one in ledger:
        name = one.name if one.operand is None else (one.name, one.operand)
        found.setdefault((one.subject, one.of), {})[name] = one
    return found


@pytest.fixture(scope="module")
def clinic():
    job = load("clinic")
    design = choose(job).design
    return job, design, by_subject(assumptions(job, design))


def test_each_number_of_battery_inverter_and_site_is_there(clinic):
    job, design, found = clinic
    battery, inverter = design.banks[0].battery, design.inverter
    for subject, item, kind in (
        ((Subject.BATTERY, battery.battery), battery, Battery),
        ((Subject.INVERTER, inverter.inverter), inverter, Inverter),
        (SITE, job.site, Site),
    ):
        for field in fields(kind):
            value = getattr(item, field.name)
            # size and phases play no part in any number
            if isinstance(value, float) and not field.name.endswith("_mm"):
                assert found[subject][field.name].value == value, (subject, field.name)
    assert (
        found[Subject.BATTERY, battery.battery]["cycle_points"].value == "0.5:9000;0.8:6000;1:4200"
    )


def test_each_counted_load_is_there(clinic):
    job, _, found = clinic
    for load_row in job.loads:
        counted = load_row.tier in job.site.tiers
        assert ((Subject.LOAD, load_row.load) in found) == counted
        if counted:
            assert found[Subject.LOAD, load_row.load]["running_w"].value == load_row.running_w


def test_sources(clinic):
    _, design, found = clinic
    battery = found[Subject.BATTERY, design.banks[0].battery.battery]
    shipped = shipped_chemistry_sources()["lfp", "peukert"]
    assert battery["peukert"].origin == "chemistry"
    assert battery["peukert"].source is Source.CHEMISTRY
    assert shipped in battery["peukert"].detail
    assert battery["capacity_ah"].origin == "catalog"
    price = design.banks[0].battery.price_date.isoformat()
    assert battery["price"].detail == price
    assert found[SITE]["max_drop"].source is Source.DEFAULT
    assert found[SITE]["target_hours"].source is Source.SITE_FILE
    assert all(one.source for group in found.values() for one in group.values())


def test_units(clinic):
    _, _, found = clinic
    assert found[SITE]["tariff"].unit == "EUR per kWh"
    assert found[SITE]["horizon_years"].unit == "years"
    assert found[SITE]["mean_degc"].unit == "°C"
    assert found[SITE]["design_margin"].unit == ""


def test_constants_are_those_of_the_formulas(clinic):
    constants = clinic[2][Subject.CONSTANTS, ""]
    factor = constants["continuous_factor"]
    assert factor.value == CONTINUOUS_FACTOR
    assert factor.source is Source.COMMON_PRACTICE


def test_windows_seasons_works_and_each_form_of_outages():
    job = replace(make_job(works=every_work(), yearly=((2.0, 3.0), (8.0, 0.5))))
    job = replace(job, loads=(replace(job.loads[0], windows=((22.0, 30.0), (6.5, 24.0))),))
    found = by_subject(assumptions(job, make_design()))
    assert found[Subject.LOAD, "Lamp"]["hours"].value == "22:00-6:00;6:30-24:00"
    assert found[OUTAGES]["times_per_year", 8.0].value == 0.5
    assert found[Subject.WORK, "Mount"]["price_per_inverter_unit", "first"].value == 50.0
    assert found[SITE]["months", "year"].value.startswith("1, 2, 3")
    daily = Outages("daily", daily=((6.0, 8.0),), days_per_year=90.0)
    found = by_subject(assumptions(replace(job, outages=daily), make_design()))
    assert found[OUTAGES]["daily"].value == "6:00-8:00"
    charging = found[Subject.SCHEDULED_CUTS, ""]["charging_voltage"]
    assert (charging.value, charging.origin) == (pytest.approx(14.0), "constant")
    one = LoggedOutage(datetime(2025, 1, 10, 17, 0), datetime(2025, 1, 10, 19, 0))
    logged = Outages("log", log=(one,), log_years=2.0)
    found = by_subject(assumptions(replace(job, outages=logged), make_design()))
    assert found[OUTAGES]["hours_logged"].value == 2.0
    assert "2025-01-10" in found[OUTAGES]["hours_logged"].detail


def test_what_is_not_in_the_price_list_was_typed_in():
    typed = make_design(make_period(make_battery("Reed", absorption_v=14.4)))
    cuts = Outages("daily", daily=((6.0, 8.0),), days_per_year=90.0)
    found = by_subject(assumptions(replace(make_job(), outages=cuts), typed))
    assert found[Subject.BATTERY, "Reed"]["capacity_ah"].source is Source.TYPED_IN
    assert found[Subject.INVERTER, "Gable"]["power_w"].source is Source.PRICE_LIST
    charging = found[Subject.SCHEDULED_CUTS, ""]["charging_voltage"]
    assert (charging.value, charging.origin) == (14.4, "catalog")


def test_a_battery_that_comes_twice_is_told_once():
    battery = make_battery()
    design = make_design(
        make_period(battery, start=0, end=5), make_period(battery, start=5, end=10)
    )
    ledger = assumptions(make_job(), design)
    assert sum(one.name == "capacity_ah" for one in ledger) == 1
