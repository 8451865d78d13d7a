"""What a site has beside battery and inverter, and what tables say of it."""

from __future__ import annotations

import pytest

from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.load import load_job
from optimizer.model.job import Contract, GeneratorRules, Peak
from optimizer.model.warning import JobWarning, WarningKind
from tests.site_files import FILES, assert_faults, write_site

SITE = "site.toml"
GENERATORS = (
    "generator,power_w,litres_h_full,litres_h_idle,price,life_years\nHum 2,2000,1.2,0.4,500,8\n"
)
GENERATOR = "\n[generator]\nfuel_price = 1.9\nmax_stored_l = 20\n"


def site_with(more):
    return {SITE: FILES[SITE] + more}


def test_supply(tmp_path):
    more = (
        "\n[supply]\nvoltage_v = 120\ncontracts = [[3000, 84], [4500, 171]]\n"
        "peaks = [[4300, 12, 30]]\n"
    )
    site = load_job(write_site(tmp_path, site_with(more))).site
    assert site.supply_voltage_v == 120
    assert site.contracts == (
        Contract(power_w=3000, cost_year=84),
        Contract(power_w=4500, cost_year=171),
    )
    assert site.peaks == (Peak(power_w=4300, minutes=12, times_a_month=30),)


def test_without_a_section_nothing_is_chosen_beside(tmp_path):
    job = load_job(write_site(tmp_path, {"generators.csv": "not read\n"}))
    assert (job.site.supply_voltage_v, job.site.contracts, job.site.peaks) == (230, (), ())
    assert job.site.generator is None
    assert job.catalog.generators == ()


def test_generator(tmp_path):
    more = GENERATOR + 'quiet = "21:00-7:00"\nstart_after_h = 2\nfuel_keeps_years = 3\n'
    job = load_job(write_site(tmp_path, site_with(more) | {"generators.csv": GENERATORS}))
    assert job.site.generator == GeneratorRules(
        fuel_price=1.9, max_stored_l=20, quiet=(21, 31), start_after_h=2, fuel_keeps_years=3
    )
    assert job.site.generator.quiet_hours == 10
    (hum,) = job.catalog.generators
    assert (hum.power_va, hum.surge_w, hum.upkeep_year) == (2000, 2000, 0)


def test_a_generator_may_run_all_day_after_an_hour(tmp_path):
    job = load_job(write_site(tmp_path, site_with(GENERATOR) | {"generators.csv": GENERATORS}))
    assert job.site.generator == GeneratorRules(
        fuel_price=1.9, max_stored_l=20, quiet=None, start_after_h=1, fuel_keeps_years=1
    )


def test_tiers_let_go_and_months(tmp_path):
    changes = {
        SITE: [
            ("max_hours = 24", "max_hours = 24\ntier_hours = { nice = 2 }"),
            ("mean_degc = 15", f"mean_degc = 15\nmonthly_degc = {[10.0] * 6 + [20] * 6}"),
            ("[limits]", "[limits]\nlater_limit = 900"),
        ]
    }
    site = load_job(write_site(tmp_path, changes)).site
    assert site.tier_hours == {"nice": 2}
    assert site.monthly_degc == (10,) * 6 + (20,) * 6
    assert site.later_limit == 900


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("contracts = [[3000, 84], [2000, 90]]", ("contracts", "2000", "both rising")),
        ("contracts = [[3000, 84], [4000, 84]]", ("contracts", "4000", "both rising")),
        ("contracts = []", ("contracts", "an empty list", "both rising")),
        ("contracts = [[3000, 84], [4500]]", ("contracts", "[4500]", "both rising")),
        ("contracts = [[0, 84]]", ("contracts", "[0, 84]", "both rising")),
        ("peaks = [[4300, 12, 30]]", ("peaks", "without contracts", "contracts with it")),
        ("contracts = [[3000, 84]]\npeaks = [[4300, 241, 3]]", ("peaks", "241", "at most 240")),
        ("contracts = [[3000, 84]]\npeaks = [[4300, 12, 3001]]", ("peaks", "3001", "3000")),
        ("contracts = [[3000, 84]]\npeaks = [[4300, 12]]", ("peaks", "4300", "times a month")),
        (
            "contracts = [[3000, 84]]\npeaks = [[4300, 240, 180], [3500, 120, 6]]",
            ("peaks", "43920 minutes", "43800"),
        ),
        ("voltage_v = 99", ("voltage_v", "99", "from 100 to 415")),
    ],
)
def test_supply_faults(tmp_path, more, expected):
    column, found, wanted = expected
    changes = site_with(f"\n[supply]\n{more}\n")
    lines = changes[SITE].split("\n")
    line = next(n for n, text in enumerate(lines, 1) if text.startswith(column))
    assert_faults(tmp_path, changes, [(SITE, line, f"supply.{column}", found, wanted)])


@pytest.mark.parametrize(
    ("more", "column", "found", "wanted"),
    [
        ('quiet = "21:30-7:00"', "quiet", "21:30", "whole hours"),
        ('quiet = "21:00-7:00;8:00-9:00"', "quiet", "8:00", "one window"),
        ('quiet = "0:00-24:00"', "quiet", "24:00", "at least one hour of the day"),
        ("start_after_h = 0", "start_after_h", "0", "at least 1"),
        ("start_after_h = 25", "start_after_h", "25", "from 0 to 24"),
        ("fuel_keeps_years = 11", "fuel_keeps_years", "11", "from 1 to 10"),
    ],
)
def test_generator_faults(tmp_path, more, column, found, wanted):
    changes = site_with(GENERATOR + more + "\n") | {"generators.csv": GENERATORS}
    line = (FILES[SITE] + GENERATOR).count("\n") + 1
    assert_faults(tmp_path, changes, [(SITE, line, f"generator.{column}", found, wanted)])


def test_a_generator_starts_no_less_than_it_runs(tmp_path):
    table = GENERATORS.replace("power_w,", "power_w,surge_w,").replace("2000,", "2000,1500,")
    changes = site_with(GENERATOR) | {"generators.csv": table}
    expected = [("generators.csv", 2, "surge_w", "'1500'", "empty, or at least power_w (2000 W)")]
    assert_faults(tmp_path, changes, expected)


def test_a_section_without_what_it_needs(tmp_path):
    assert_faults(
        tmp_path,
        site_with("\n[generator]\n"),
        [
            (SITE, None, "generator.fuel_price", "no such key", "litre"),
            (SITE, None, "generator.max_stored_l", "no such key", "l"),
            ("generators.csv", None, None, "no such file", "generators.csv or generators.xlsx"),
        ],
    )


@pytest.mark.parametrize(
    ("months", "found", "wanted"),
    [
        ([12.0] * 12, "mean of 12.0", "mean mean_degc (±1)"),
        ([15.0] * 10 + [31, 0], "0 to 31", "between min_degc"),
        ([15.0] * 11, "15.0", "twelve"),
    ],
)
def test_months_that_do_not_fit(tmp_path, months, found, wanted):
    changes = {SITE: ("mean_degc = 15", f"mean_degc = 15\nmonthly_degc = {months}")}
    place = "battery_room.monthly_degc"
    assert_faults(tmp_path, changes, [(SITE, 27, place, found, wanted)])


def test_a_tier_that_no_load_has(tmp_path):
    changes = {SITE: ("max_hours = 24", "max_hours = 24\ntier_hours = { nic = 2 }")}
    assert_faults(
        tmp_path, changes, [(SITE, 14, "resilience.tier_hours.nic", "nic", "nearest known: nice")]
    )


def test_survey_of_what_a_household_does(tmp_path):
    changes = {
        "loads.csv": FILES["loads.csv"]
        .replace("seasons\n", "seasons,critical,never_off,with\n")
        .replace("0.4,\n", "0.4,,true,true,\n")
        .replace("warm:0.6\n", "warm:0.6,,,Fridge\n")
        .replace("0.5,\n", "0.5,,,FALSE,\n")
    }
    path = write_site(tmp_path, changes)
    fridge, lamps, pump = load_job(path).loads
    assert (fridge.critical, fridge.never_off, fridge.only_with) == (True, True, None)
    assert (lamps.critical, lamps.never_off, lamps.only_with) == (False, False, "Fridge")
    assert not pump.never_off
    assert draft_from_files(path).job().loads == (fridge, lamps, pump)


@pytest.mark.parametrize(
    ("other", "wanted"), [("Fridg", "nearest known: Fridge"), ("Lamps", "another load")]
)
def test_a_load_that_goes_with_none(tmp_path, other, wanted):
    changes = {
        "loads.csv": FILES["loads.csv"]
        .replace("seasons\n", "seasons,with\n")
        .replace("0.4,\n", "0.4,,\n")
        .replace("warm:0.6\n", f"warm:0.6,{other}\n")
        .replace("0.5,\n", "0.5,,\n")
    }
    assert_faults(tmp_path, changes, [("loads.csv", 3, "with", other, wanted)])


def test_depths_boxes_cables_and_fuses(tmp_path):
    changes = {
        "batteries.csv": FILES["batteries.csv"]
        .replace("charge_rate_max\n", "charge_rate_max,built_into,surge_rate_max\n")
        .replace("31,,", "31,0.5;0.8,,,")
        .replace("30,0.6,", "30,0.6,,Tide 12,2")
        .replace("11,,0.7", "11,,0.7,,"),
        "cables.csv": "section_mm2,ampacity_a,ohm_per_km,price_per_m,conductor_degc\n"
        "35,140,0.554,9,90\n70,216,0.272,17,\n",
        "fuses.csv": "rating_a,price,rated_v\n100,10,58\n200,16,\n",
        "inverters.csv": FILES["inverters.csv"]
        .replace("life_years,price\n", "life_years,price,grid_help,pass_through_a\n")
        .replace("10,400\n", "10,400,true,16\n")
        .replace("12,800\n", "12,800,,\n"),
    }
    job = load_job(write_site(tmp_path, changes))
    old = {"file": "inverters.csv", "old": "grid_help", "new": "works_in_parallel"}
    assert job.warnings == (JobWarning(WarningKind.OLD_COLUMN, old),)
    catalog = job.catalog
    wharf6, wharf12, sluice = catalog.batteries
    assert (wharf6.max_dods, wharf6.max_dod) == ((0.5, 0.8), 0.8)
    assert [one.max_dod for one in wharf6.at_each_depth()] == [0.5, 0.8]
    assert (wharf12.max_dods, wharf12.built_into, wharf12.surge_rate_max) == ((0.6,), "Tide 12", 2)
    assert sluice.built_into is None
    assert [cable.conductor_degc for cable in catalog.cables] == [90, 70]
    assert [fuse.rated_v for fuse in catalog.fuses] == [58, None]
    tide12, tide24 = catalog.inverters
    assert (tide12.works_in_parallel, tide12.pass_through_a) == (True, 16)
    assert (tide24.works_in_parallel, tide24.pass_through_a) == (None, None)


@pytest.mark.parametrize(
    ("depths", "wanted"), [("0.8;0.5", "rising"), ("0.5;1.2", "at most 1"), ("0;1", "above 0")]
)
def test_depths_that_are_none(tmp_path, depths, wanted):
    changes = {"batteries.csv": ("30,0.6,", f"30,{depths},")}
    assert_faults(tmp_path, changes, [("batteries.csv", 3, "max_dod", depths, wanted)])


def test_a_box_with_an_inverter_that_is_not_listed(tmp_path):
    changes = {
        "batteries.csv": FILES["batteries.csv"]
        .replace("charge_rate_max\n", "charge_rate_max,built_into\n")
        .replace("31,,", "31,,,Tide 13")
        .replace("30,0.6,", "30,0.6,,")
        .replace("11,,0.7", "11,,0.7,")
    }
    expected = [("batteries.csv", 2, "built_into", "Tide 13", "nearest known: Tide 12")]
    assert_faults(tmp_path, changes, expected)


@pytest.mark.parametrize(
    ("rates", "surge"), [("4,", 4.0), (",4", 4.0), ("0.2,0.3", 0.3), (",", None)]
)
def test_what_a_start_may_draw(tmp_path, rates, surge):
    """A battery's own rate for hours holds for seconds too, whatever its chemistry says."""
    changes = {
        "batteries.csv": FILES["batteries.csv"]
        .replace("charge_rate_max\n", "charge_rate_max,discharge_rate_max,surge_rate_max\n")
        .replace("31,,", f"31,,,{rates}")
        .replace("30,0.6,", "30,0.6,,,")
        .replace("11,,0.7", "11,,0.7,,")
    }
    battery = load_job(write_site(tmp_path, changes)).catalog.batteries[0]
    if surge is not None:
        assert battery.start_rate_max == surge


def test_a_start_below_the_rate_for_hours(tmp_path):
    changes = {
        "batteries.csv": FILES["batteries.csv"]
        .replace("charge_rate_max\n", "charge_rate_max,surge_rate_max\n")
        .replace("31,,", "31,,,0.1")
        .replace("30,0.6,", "30,0.6,,")
        .replace("11,,0.7", "11,,0.7,")
    }
    expected = [("batteries.csv", 2, "surge_rate_max", "0.1", "at least discharge_rate_max (0.3")]
    assert_faults(tmp_path, changes, expected)


def test_offsets_from_utc_tell_the_autumn_hour_apart(tmp_path):
    log = (
        "start,end\n2024-10-27T02:50+02:00,2024-10-27T02:10+01:00\n"
        "2024-10-27T02:20+01:00,2024-10-27T04:20+01:00\n2025-02-11T08:00+01:00,2025-02-11T09:00+01:00\n"
    )
    path = write_site(tmp_path, {"outages.csv": log})
    outages = load_job(path).outages.log
    assert [round(one.hours, 6) for one in outages] == [round(1 / 3, 6), 2, 1]
    assert outages[0].start.isoformat() == "2024-10-27T02:50:00"
    assert draft_from_files(path).job().outages.log == outages
