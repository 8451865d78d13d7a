"""What code builds is held to the facts of the files."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import (
    Existing,
    InputError,
    assess,
    choose,
    compare,
    frontier,
    load,
    outages,
    staircase,
    trade_off,
)
from optimizer.comparison.parameters import what_if_parameters_of
from optimizer.inputs.built import checked
from optimizer.model.outages import Outages


@pytest.mark.parametrize("ask", [choose, compare, frontier, staircase, trade_off])
def test_no_question_is_answered_for_a_site_out_of_range(ask):
    job = load("house")
    wrong = replace(job, site=replace(job.site, discount_rate=-2.0, max_drop=0.5))
    with pytest.raises(InputError) as caught:
        ask(wrong)
    assert [fault.column for fault in caught.value.faults] == [
        "economics.discount_rate",
        "wiring.max_drop",
    ]
    assert "above -0.05 and below 0.5" in caught.value.faults[0].wanted


def test_a_number_without_bound_is_none():
    with pytest.raises(InputError, match="voltage_v"):
        checked(load("house").with_site(supply_voltage_v=float("nan")))


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_what_was_read_passes(site):
    job = load(site)
    assert checked(job) is job


def _with(job, table, **changes):
    rows = getattr(job.catalog, table)
    first = replace(rows[0], **changes)
    return replace(job, catalog=replace(job.catalog, **{table: (first, *rows[1:])}))


@pytest.mark.parametrize(
    ("table", "changes", "told"),
    [
        ("batteries", {"price": -1.0}, ".price: found -1.0; wanted"),
        ("batteries", {"capacity_ah": float("nan")}, ".capacity_ah: found nan; wanted"),
        ("batteries", {"max_dod": 1.5}, ".max_dod: found"),
        ("batteries", {"cycle_points": ((0.5, 0.0),)}, ".cycle_points, cold_points: found"),
        ("inverters", {"efficiency": 1.2}, ".efficiency: found 1.2; wanted"),
        ("inverters", {"max_units": 1.5}, ".max_units: found 1.5; wanted"),
        ("inverters", {"power_w": "much"}, ".power_w: found 'much'; wanted"),
        ("cables", {"ohm_per_km": 0.0}, ".ohm_per_km: found 0.0; wanted"),
        ("fuses", {"price": float("inf")}, ".price: found inf; wanted"),
        ("works", {"price": -5.0}, ".price: found -5.0; wanted"),
        ("generators", {"life_years": 0.0}, ".life_years: found 0.0; wanted"),
        ("parts", {"price": -5.0}, ".price: found -5.0; wanted"),
    ],
)
def test_a_row_of_prices_out_of_range_is_told_with_its_name(table, changes, told):
    with pytest.raises(InputError) as caught:
        choose(_with(load("house"), table, **changes))
    (fault,) = caught.value.faults
    assert fault.file == table
    assert told in str(fault)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"running_w": -80.0}, "loads, Refrigerator.running_w: found -80.0; wanted"),
        ({"windows": ((8.0, 6.0),)}, "loads, Refrigerator.windows: found ((8.0, 6.0),); wanted"),
        ({"season_multipliers": {"winter": -1.0}}, "loads, Refrigerator.winter: found -1.0"),
    ],
)
def test_a_load_out_of_range_is_told_with_its_name(changes, told):
    job = load("house")
    first = replace(job.loads[0], **changes)
    with pytest.raises(InputError, match="Refrigerator") as caught:
        frontier(replace(job, loads=(first, *job.loads[1:])))
    assert told in str(caught.value)


def test_an_outage_that_cannot_be_is_told():
    job = load("house")
    wrong = replace(job, outages=Outages("typed", ((-2.0, 12.0),)))
    with pytest.raises(InputError, match=r"outages, hours: found -2\.0"):
        choose(wrong)


def test_a_bank_put_together_by_hand_is_held_to_the_facts_of_its_file():
    job = load("house")
    bank = Existing(
        job.catalog.inverters[0], 0, job.catalog.batteries[0], 1, 24, charge_at_start=1.5
    )
    for ask in (assess, outages):
        with pytest.raises(InputError) as caught:
            ask(job, bank)
        told = [fault.column for fault in caught.value.faults]
        assert told == ["design.units", "design.charge_at_start"]


def test_what_is_supposed_at_its_ends_is_within_the_ranges():
    for site in ("house", "clinic", "hall"):
        job = load(site)
        for one in what_if_parameters_of(job):
            for value in (one.low, one.high):
                assert checked(one.at(job, value))
