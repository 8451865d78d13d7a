"""The demo: it loads, it offers enough, and its three sites tell the story they were made for."""

import re
from dataclasses import replace
from datetime import date
from importlib.resources import files
from itertools import pairwise

import pytest

import catalogs_demo
from optimizer import choose, frontier, load

pytestmark = pytest.mark.slow

SITES = ("house", "clinic", "hall")


@pytest.fixture(scope="module")
def jobs():
    return {name: load(name) for name in SITES}


@pytest.fixture(scope="module")
def house_curve(jobs):
    return frontier(jobs["house"]).points


def families(design):
    """Return the families of the design's banks."""
    return {bank.battery.family for bank in design.banks}


def at_target(job, family=None):
    """Return the cheapest design at the site's target hours."""
    return choose(job, family=family).design


def longest_for(job, budget, family=None):
    """Return the longest autonomy that an upfront budget buys."""
    return choose(job, budget=budget, family=family).design


def test_all_sites_share_one_price_list_and_load_without_warnings(jobs):
    for job in jobs.values():  # generators are read where a site asks for one
        assert replace(job.catalog, generators=()) == replace(jobs["house"].catalog, generators=())
    assert [bool(job.catalog.generators) for job in jobs.values()] == [True, False, False]
    assert [job.warnings for job in jobs.values()] == [(), (), ()]
    assert {job.site.currency for job in jobs.values()} == {"EUR"}


def test_enough_is_on_offer(jobs):
    catalog = jobs["house"].catalog
    assert len(catalog.batteries) >= 24
    assert {battery.chemistry for battery in catalog.batteries} >= {
        "flooded",
        "tubular",
        "agm",
        "gel",
        "lfp",
    }
    assert len(catalog.inverters) >= 14
    for voltage in (12, 24, 48):
        assert sum(inverter.system_v == voltage for inverter in catalog.inverters) >= 3
    bases = {work.basis for work in catalog.works}
    assert bases == {"site", "inverter_unit", "battery_unit", "string", "kg", "vented_bank"}
    assert all(fuse.breaking_ka is not None for fuse in catalog.fuses)


def test_batteries_weigh_what_such_batteries_weigh(jobs):
    # Common practice: lead-acid about 25–40 Wh/kg, lithium iron phosphate units about 90–140.
    bounds = {"lead": (25, 40), "lithium": (90, 140)}
    for battery in jobs["house"].catalog.batteries:
        if battery.built_into is not None:
            continue  # weighs what the inverter in its box weighs too
        least, most = bounds[battery.family]
        share = battery.voltage_v * battery.capacity_ah / battery.mass_kg
        assert least <= share <= most, battery.battery


def test_inverters_are_plausible(jobs):
    # Common practice: surge about twice to three times, no-load draw near 1 % of the rating.
    for inverter in jobs["house"].catalog.inverters:
        assert 1.8 <= inverter.surge_w / inverter.power_w <= 3, inverter.inverter
        assert 0.004 <= inverter.no_load_w / inverter.power_w <= 0.015, inverter.inverter
        assert 0.8 <= inverter.power_w_40c / inverter.power_w < 1, inverter.inverter


def test_cables_have_the_resistance_of_class_5_conductors(jobs):
    # IEC 60228 class 5, plain copper at 20 °C [Ω/km].
    standard = {
        6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780, 35: 0.554, 50: 0.386, 70: 0.272,
        95: 0.206, 120: 0.161, 150: 0.129,
    }  # fmt: skip
    cables = jobs["house"].catalog.cables
    assert {cable.section_mm2: cable.ohm_per_km for cable in cables} == standard
    assert all(a.ampacity_a < b.ampacity_a for a, b in pairwise(cables))


def test_some_prices_are_old_and_some_facts_unknown(jobs):
    catalog = jobs["house"].catalog
    dates = [row.price_date for row in (*catalog.batteries, *catalog.inverters)]
    known = [found for found in dates if found is not None]
    written = date(2026, 11, 25)
    old = [found for found in known if (written - found).days > 365]
    assert 2 <= len(old) <= len(known) / 4
    assert max(known) <= written
    assert 0 < sum(battery.length_mm is None for battery in catalog.batteries) <= 4
    assert 0 < sum(battery.absorption_v is None for battery in catalog.batteries) <= 4


def test_the_logs_are_three_years_with_winter_storms_and_a_day_long_outage(jobs):
    for name in ("house", "hall"):
        log = jobs[name].outages.log
        assert 2.5 < (log[-1].end - log[0].start).days / 365 <= 3
        assert max(outage.hours for outage in log) > 24
        stormy = sum(outage.start.month in (10, 11, 12, 1, 2, 3) for outage in log)
        assert stormy > 0.6 * len(log)


def test_the_clinic_is_cut_twice_a_day(jobs):
    assert len(jobs["clinic"].outages.daily) == 2


def test_each_kind_of_choice_is_somewhere_on_the_curve_of_the_house(jobs, house_curve):
    assert len(house_curve) >= 10
    assert house_curve[-1].hours == 48
    banks = [bank.battery for design in house_curve for bank in design.banks]
    assert {battery.family for battery in banks} == {"lead", "lithium"}
    assert len({battery.chemistry for battery in banks}) >= 3
    assert any(len(battery.max_dods) > 1 for battery in banks)
    assert len({design.contract for design in house_curve}) > 1
    # a small generator goes before a bank for days
    longest = house_curve[-1]
    assert longest.generator is not None
    assert longest.fuel_l <= jobs["house"].site.generator.max_stored_l
    assert all(design.generator is None for design in house_curve[:4])


def test_a_box_with_battery_and_inverter_is_on_offer(jobs):
    catalog = jobs["house"].catalog
    (box,) = [battery for battery in catalog.batteries if battery.built_into is not None]
    (inside,) = [one for one in catalog.inverters if one.inverter == box.built_into]
    assert inside.price == 0
    assert box.price > 0


def test_each_site_shows_something_that_others_do_not(jobs):
    house, clinic, hall = (jobs[name].site for name in SITES)
    assert house.contracts
    assert house.peaks
    assert house.generator is not None
    assert clinic.monthly_degc is not None
    assert hall.tier_hours == {"useful": 12}


def test_both_families_carry_the_house_for_two_days(jobs):
    for family in ("lead", "lithium"):
        curve = frontier(jobs["house"], family=family).points
        assert len(curve) >= 10
        assert curve[-1].hours == 48


@pytest.mark.parametrize(("name", "budget"), [("house", 3000), ("hall", 11500)])
def test_where_money_is_short_lead_buys_more_hours(jobs, name, budget):
    lead, lithium = (longest_for(jobs[name], budget, word) for word in ("lead", "lithium"))
    assert lead.hours >= lithium.hours + 4
    assert lead.life_cycle_cost > lithium.life_cycle_cost
    assert "lead" in families(longest_for(jobs[name], budget))


@pytest.mark.parametrize("name", ["clinic", "hall"])
def test_at_the_target_lithium_costs_least(jobs, name):
    best = at_target(jobs[name])
    assert best.hours >= jobs[name].site.target_hours
    assert families(best) == {"lithium"}


def test_daily_cuts_wear_lead_out(jobs):
    lead, lithium = (at_target(jobs["clinic"], word) for word in ("lead", "lithium"))
    assert lead.life_cycle_cost > lithium.life_cycle_cost
    assert (
        max(bank.service_life_years for bank in lead.banks) < jobs["clinic"].site.horizon_years / 3
    )
    assert sum(bank.bought for bank in lead.banks) > sum(bank.bought for bank in lithium.banks)


def test_the_hall_is_a_48_v_site_of_some_kilowatts(jobs):
    best = at_target(jobs["hall"])
    assert best.voltage_v == 48
    assert 2000 <= best.inverter.power_w * best.inverter_units <= 5000


@pytest.mark.parametrize("name", SITES)
def test_the_site_file_explains_itself(name):
    text = (files(catalogs_demo) / name / "site.toml").read_text(encoding="utf-8")
    assert len(re.findall(r"#\s+\w+", text)) >= 10
