"""What a job holds once its files have been read."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import MISSING, fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from optimizer.errors import InputError
from optimizer.inputs.load import load_job
from optimizer.model.job import Battery, Season, Site
from optimizer.model.warning import JobWarning, WarningKind
from optimizer.report.words.warnings import job_warning
from optimizer.report.words.writer import Writer
from tests.site_files import FILES, write_site

CASES = Path(__file__).parents[2] / "cases"


def test_site(tmp_path):
    site = load_job(write_site(tmp_path)).site
    assert (site.name, site.currency, site.tiers) == ("Weir cottage", "EUR", ("must",))
    assert site.seasons == (
        Season("cold", (10, 11, 12, 1, 2, 3)),
        Season("warm", (4, 5, 6, 7, 8, 9)),
    )
    assert (site.target_hours, site.max_hours, site.voltages) == (8, 24, (12, 24))
    assert site.exclude == ("gel",)
    assert (site.min_degc, site.mean_degc, site.max_degc) == (5, 15, 30)


def test_voltages_are_whole(tmp_path):
    site = load_job(write_site(tmp_path, {"site.toml": ("[12, 24]", "[12.0, 24]")})).site
    assert [repr(volts) for volts in site.voltages] == ["12", "24"]


def test_defaults_are_those_of_the_site(tmp_path):
    changes = {
        "site.toml": [
            ("max_hours = 24\nrecharge_hours = 10\n", ""),
            ("horizon_years = 10\n", ""),
            ("vented_allowed = true\n", ""),
            ('[limits]\nvoltages = [12, 24]\nexclude = ["gel"]\n', ""),
        ]
    }
    site = load_job(write_site(tmp_path, changes)).site
    for field in fields(Site)[9:]:  # the required ones come first
        default = field.default if field.default is not MISSING else field.default_factory()
        assert getattr(site, field.name) == default, field.name


def test_year_stands_in_for_seasons(tmp_path):
    changes = {
        "site.toml": (
            "[seasons]\ncold = [10, 11, 12, 1, 2, 3]\nwarm = [4, 5, 6, 7, 8, 9]\n",
            "",
        ),
        "loads.csv": ("cold:1.2;warm:0.6", "year:1.1"),
    }
    job = load_job(write_site(tmp_path, changes))
    assert job.site.seasons == (Season("year", tuple(range(1, 13))),)
    assert job.loads[1].season_multipliers == {"year": 1.1}


def test_loads(tmp_path):
    fridge, lamps, pump = load_job(write_site(tmp_path)).loads
    assert (fridge.count, fridge.running_w, fridge.starting_w, fridge.duty) == (1, 90, 600, 0.4)
    assert lamps.windows == ((6.5, 8.0), (17.0, 23.0))
    assert lamps.season_multipliers == {"cold": 1.2, "warm": 0.6}
    assert lamps.starting_w == lamps.running_w == 8
    assert pump.windows == ((22.0, 26.0),)
    assert pump.season_multipliers == {}


def test_log(tmp_path):
    outages = load_job(write_site(tmp_path)).outages
    assert outages.form == "log"
    assert outages.yearly == ((2.5, 0.5), (3.0, 0.5), (0.5, 0.5))
    assert outages.log_years == 2
    assert [outage.hours for outage in outages.log] == [2.5, 3.0, 0.5]


def test_log_out_of_order_is_put_in_order(tmp_path):
    head, *rows = FILES["outages.csv"].splitlines()
    text = "\n".join([head, *reversed(rows)])
    assert load_job(write_site(tmp_path, {"outages.csv": text})).outages == (
        load_job(write_site(tmp_path)).outages
    )


def test_log_of_one_outage(tmp_path):
    text = "\n".join(FILES["outages.csv"].splitlines()[:2])
    job = load_job(write_site(tmp_path, {"outages.csv": text}))
    assert job.outages.yearly == ((2.5, 0.5),)
    assert job.warnings == ()


def test_log_that_fills_its_years(tmp_path):
    text = "start,end\n2024-01-01T00:00,2024-01-01T03:00\n2025-12-31T20:00,2026-01-01T00:00\n"
    job = load_job(write_site(tmp_path, {"outages.csv": text}))  # 731 days, a leap year in it
    assert job.outages.yearly == ((3.0, 0.5), (4.0, 0.5))


def with_outages(text):
    return {"site.toml": ('log = "outages.csv"\nlog_years = 2', text)}


def test_paths_are_relative_to_the_site_file(tmp_path, monkeypatch):
    site = write_site(tmp_path)
    job, away = load_job(site), tmp_path / "away"
    away.mkdir()
    monkeypatch.chdir(away)
    assert load_job(site) == job


def test_typed(tmp_path):
    job = load_job(write_site(tmp_path, with_outages("typed = [[2.5, 160], [20, 1.5]]")))
    assert job.outages.form == "typed"
    assert job.outages.yearly == ((2.5, 160.0), (20.0, 1.5))


def test_daily(tmp_path):
    text = 'daily = ["06:00-08:30", "22:00-1:00"]\ndays_per_year = 120'
    outages = load_job(write_site(tmp_path, with_outages(text))).outages
    assert outages.yearly == ((2.5, 120.0), (3.0, 120.0))
    assert outages.daily == ((6.0, 8.5), (22.0, 25.0))
    assert outages.days_per_year == 120


def test_warnings(tmp_path):
    hours = with_outages("typed = [[200, 20], [3, 2]]")
    (warning,) = load_job(write_site(tmp_path, hours)).warnings
    assert warning == JobWarning(WarningKind.LONG_OUTAGES, {"hours": 200.0})
    assert "200 h or more" in job_warning(Writer("EUR"), warning)
    log = "start,end\n2024-01-10T06:00,2024-01-10T08:00\n2024-01-10T14:00,2024-01-10T15:00\n"
    (warning,) = load_job(write_site(tmp_path, {"outages.csv": log})).warnings
    gap = {"recharge_hours": 10.0, "gap_hours": 6.0}
    assert warning == JobWarning(WarningKind.GAPS_TOO_SHORT, gap)
    said = "recharge_hours (10 h) exceeds the usual gap in the outage log (6 h)"
    assert said in job_warning(Writer("EUR"), warning)
    hot = {"inverters.csv": ("1100,1400", "1300,1400")}
    (warning,) = load_job(write_site(tmp_path, hot)).warnings
    assert warning == JobWarning(WarningKind.RATING_RISES, {"inverter": "Tide 12"})
    assert "Inverter Tide 12" in job_warning(Writer("EUR"), warning)


def test_an_inverter_whose_box_is_off_the_list_is_told(tmp_path):
    free = {"inverters.csv": ("1,10,400", "1,10,0")}
    job = load_job(write_site(tmp_path, free))
    (warning,) = job.warnings
    assert warning == JobWarning(WarningKind.LOST_BOX, {"inverter": "Tide 12"})
    assert "Inverter Tide 12 counts as free" in job_warning(Writer("EUR"), warning)
    boxed = free | {
        "batteries.csv": FILES["batteries.csv"]
        .replace("charge_rate_max\n", "charge_rate_max,built_into\n")
        .replace("31,,", "31,,,Tide 12")
        .replace("30,0.6,", "30,0.6,,")
        .replace("11,,0.7", "11,,0.7,")
    }
    assert load_job(write_site(tmp_path, boxed)).warnings == ()


def test_degrees_fahrenheit_are_never_taken_for_celsius_without_a_word(tmp_path):
    """A room of 32 to 59 °F, given without the unit, lies within the range of °C."""
    room = [("min_degc = 5", "min_degc = 32"), ("mean_degc = 15", "mean_degc = 50")]
    site = write_site(tmp_path, {"site.toml": [*room, ("max_degc = 30", "max_degc = 59")]})
    (warning,) = load_job(site).warnings
    assert warning == JobWarning(WarningKind.HOT_ROOM, {"mean_degc": 50.0})
    assert "Fahrenheit meant" in job_warning(Writer("EUR"), warning)
    units = [("min_degc = 5", 'min_degc = "32 °F"'), ("mean_degc = 15", 'mean_degc = "50 °F"')]
    site = write_site(tmp_path, {"site.toml": [*units, ("max_degc = 30", 'max_degc = "59 °F"')]})
    found = load_job(site)
    assert found.warnings == ()
    assert (found.site.min_degc, found.site.mean_degc) == pytest.approx((0, 10))
    hot = write_site(tmp_path, {"site.toml": [("max_degc = 30", "max_degc = 88")]})
    with pytest.raises(InputError, match='"88 °F" if degrees Fahrenheit were meant'):
        load_job(hot)


def test_battery_row_before_catalog_chemistry_before_shipped(tmp_path):
    changes = {"chemistries.csv": "chemistry,max_dod,round_trip\nagm,0.55,0.81\n"}
    batteries = load_job(write_site(tmp_path, changes)).catalog.batteries
    agm = batteries[1]
    assert (agm.max_dod, agm.round_trip, agm.peukert) == (0.6, 0.81, 1.1)
    assert "max_dod" not in agm.sources
    assert agm.sources["round_trip"] == "chemistry agm in the catalog"
    assert agm.sources["peukert"].startswith("chemistry agm shipped: secondary source")
    assert (agm.family, agm.gas) == ("lead", "valve_regulated")


def test_a_chemistry_of_the_catalogs_own(tmp_path):
    text = (
        "chemistry,family,gas,peukert,max_dod,float_life_years,halving_degc,cycle_points,"
        "end_of_life_soh,discharge_rate_max,charge_rate_min,charge_rate_max,charge_factor,"
        "round_trip,self_discharge_month,upkeep_year,scrap_value,price_drift,min_charge_degc,"
        "cold_points,max_series,max_parallel\n"
        "salt,sodium,none,1.02,0.9,12,10,0.8:4000,0.7,1,0,1,1.1,0.8,0.01,0,0,0,-20,-20:0.9;0:1,2,4\n"
    )
    changes = {"chemistries.csv": text, "batteries.csv": ("agm", "salt")}
    battery = load_job(write_site(tmp_path, changes)).catalog.batteries[1]
    assert (battery.family, battery.gas, battery.max_series) == ("sodium", "none", 2)
    assert battery.cycle_points == ((0.8, 4000.0),)


def test_every_field_of_a_battery_is_filled_or_unknown(tmp_path):
    optional = {field.name for field in fields(Battery) if field.default is None}
    for battery in load_job(write_site(tmp_path)).catalog.batteries:
        for field in fields(Battery):
            if field.name not in optional:
                assert getattr(battery, field.name) is not None, field.name
        assert battery.price_date is None


def test_voltage_classes(tmp_path):
    batteries = load_job(write_site(tmp_path)).catalog.batteries
    assert [battery.class_v for battery in batteries] == [6, 12, 12]


def test_inverters_blanks_are_power_w(tmp_path):
    first, second = load_job(write_site(tmp_path)).catalog.inverters
    assert (first.power_w_40c, first.power_va) == (1100, 1400)
    assert (second.power_w_40c, second.power_va) == (2400, 2400)


def test_works_and_chemistries_are_optional(tmp_path):
    assert load_job(write_site(tmp_path, {"works.csv": None})).catalog.works == ()


def test_catalog_by_argument_and_by_key(tmp_path):
    prices, other = tmp_path / "prices", tmp_path / "other"
    prices.mkdir()
    other.mkdir()
    write_site(prices, {"fuses.csv": ("100,10", "100,11")})
    write_site(other, {"fuses.csv": ("100,10", "100,12")})
    site = write_site(tmp_path, {"site.toml": ('"loads.csv"', '"loads.csv"\ncatalog = "prices"')})
    assert load_job(site).catalog.fuses[0].price == 11
    assert load_job(site, other).catalog.fuses[0].price == 12
    assert load_job(str(write_site(tmp_path))).catalog.fuses[0].price == 10


@pytest.mark.parametrize("case", ["worked", "worked2", "worked3"])
def test_complete_sites_load(case):
    job = load_job(CASES / case / "site.toml")
    named = {
        bank["battery"]
        for rows in json.loads((CASES / case / "expected.json").read_text())["optimum"].values()
        for row in rows
        if row
        for bank in row.get("banks") or ()
    }
    assert named <= {battery.battery for battery in job.catalog.batteries}
    assert job.warnings == ()


@pytest.mark.slow
def test_ten_thousand_loads(tmp_path):
    rows = [f"L{n},must,2,{n % 90 + 1},0.9,,{n % 23}:00-{n % 23 + 1}:00,1," for n in range(10_000)]
    job = load_job(write_site(tmp_path, {"loads.csv": FILES["loads.csv"] + "\n".join(rows)}))
    assert len(job.loads) == 10_003


@pytest.mark.slow
def test_import_weight():
    code = (
        "import sys, optimizer.inputs.load as i; "
        "i.load_job(sys.argv[1]); print({'pandas', 'openpyxl', 'pulp'} & set(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(CASES / "worked" / "site.toml")],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[3],
    )
    assert done.stdout.strip() == "set()"


def faults_of(site):
    """The faults of a site; any other exception goes through and fails the test."""
    try:
        load_job(site)
    except InputError as error:
        return error.faults or (None,)  # an error without a fault is one too
    return ()


@pytest.mark.slow
@settings(max_examples=150)
@given(
    name=st.sampled_from(sorted(FILES)),
    place=st.floats(0, 1),
    cut=st.integers(0, 30),
    put=st.one_of(
        st.binary(max_size=12),
        st.sampled_from(
            [b'"', b",", b";", b"\n", b"[", b"]", b"=", b"-", b"1e999", b"\xff\xfe", b"9" * 5000]
        ),
    ),
)
def test_damaged_files_never_end_in_a_traceback(tmp_path, name, place, cut, put):
    site = write_site(tmp_path)
    content = FILES[name].encode()
    start = int(place * len(content))
    (tmp_path / name).write_bytes(content[:start] + put + content[start + cut :])
    assert all(fault is not None and fault.found and fault.wanted for fault in faults_of(site))
