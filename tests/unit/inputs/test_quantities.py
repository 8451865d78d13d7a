"""Numbers with their unit, as people write them."""

from __future__ import annotations

import subprocess
import sys

import pytest

from optimizer.inputs.load import load_job
from tests.site_files import FILES, assert_faults, write_site

LOADS, BATTERIES = "loads.csv", "batteries.csv"


def fridge(folder, *, running="90", starting="600", hours="0:00-24:00", duty="0.4", site=""):
    row = f"Fridge,must,1,{running},0.85,{starting},{hours},{duty},"
    text = FILES[LOADS].replace("Fridge,must,1,90,0.85,600,0:00-24:00,0.4,", row)
    changes = {LOADS: text, "site.toml": FILES["site.toml"] + site}
    return load_job(write_site(folder, changes)).loads[0]


@pytest.mark.parametrize(
    ("cell", "watts"),
    [
        ("1.5 kW", 1500),
        ("1.5kW", 1500),
        ("1/2 hp", 372.849935791),  # 550 ft lbf/s a horsepower: 745.69987 W
        ("450 VA", 450 * 0.85),
        ("0.45 kVA", 450 * 0.85),
        ("6 A", 6 * 230 * 0.85),
        ("35 kWh/month", 35_000 / 730),
        ("1.2 kWh/day", 50),
        ("438 kWh per year", 50),
    ],
)
def test_watts_of_a_load(tmp_path, cell, watts):
    load = fridge(tmp_path, running=cell, starting="")
    assert load.running_w == pytest.approx(watts, rel=1e-9)
    assert load.starting_w == load.running_w


def test_amperes_at_the_supply_of_the_site(tmp_path):
    load = fridge(tmp_path, running="2 A", site="\n[supply]\nvoltage_v = 120\n")
    assert load.running_w == pytest.approx(2 * 120 * 0.85)


@pytest.mark.parametrize(("hours", "duty"), [("0:00-24:00", "1"), ("", ""), ("0-24", "0.4")])
def test_an_average_runs_around_the_clock(tmp_path, hours, duty):
    load = fridge(tmp_path, running="35 kWh/month", hours=hours, duty=duty)
    assert (load.duty, load.windows) == (1, ((0, 24),))


def test_an_average_of_some_hours_is_none(tmp_path):
    row = "Fridge,must,1,35 kWh/month,0.85,600,18:00-23:00,1,"
    changes = {LOADS: FILES[LOADS].replace("Fridge,must,1,90,0.85,600,0:00-24:00,0.4,", row)}
    expected = [(LOADS, 2, "hours", "18:00", "the watts are an average of the day")]
    assert_faults(tmp_path, changes, expected)


@pytest.mark.parametrize(
    ("cell", "watts"), [("6x", 540), ("6 ×", 540), ("0.6 kW", 600), ("4 A", 4 * 230 * 0.85)]
)
def test_starting_watts(tmp_path, cell, watts):
    assert fridge(tmp_path, starting=cell).starting_w == pytest.approx(watts)


def test_times_the_running_watts_that_have_a_unit_themselves(tmp_path):
    load = fridge(tmp_path, running="0.1 kW", starting="5x")
    assert (load.running_w, load.starting_w) == (100, 500)


def battery(folder, old, new):
    return load_job(write_site(folder, {BATTERIES: (old, new)})).catalog.batteries[2]


def test_a_battery_in_other_units(tmp_path):
    assert battery(tmp_path, "100,5,450", "5.12 kWh,5,450").capacity_ah == pytest.approx(400)
    assert battery(tmp_path, "450,11", "450,104 lb").mass_kg == pytest.approx(47.1736, abs=1e-4)


def test_other_columns(tmp_path):
    changes = {
        BATTERIES: FILES[BATTERIES]
        .replace("charge_rate_max\n", "charge_rate_max,length_mm,min_charge_degc,halving_degc\n")
        .replace("31,,", "31,,,17.4 in,50 °F,18 °F")
        .replace("30,0.6,", "30,0.6,,,,")
        .replace("11,,0.7", "11,,0.7,,,"),
        "inverters.csv": ("0.91,8,5,40", "91 %,8,5,40"),
        "fuses.csv": "rating_a,price,breaking_ka\n0.1 kA,10,20000 A\n",
    }
    catalog = load_job(write_site(tmp_path, changes)).catalog
    one = catalog.batteries[0]
    assert one.length_mm == pytest.approx(441.96)
    assert one.min_charge_degc == pytest.approx(10)
    assert one.halving_degc == pytest.approx(10)
    assert catalog.inverters[0].efficiency == pytest.approx(0.91)
    assert (catalog.fuses[0].rating_a, catalog.fuses[0].breaking_ka) == (100, 20)


def test_a_decimal_comma_before_a_unit(tmp_path):
    text = FILES[LOADS].replace(",", ";").replace("0.", "0,")
    text = text.replace("cold:1.2;warm:0,6", '"cold:1,2;warm:0,6"').replace(";90;", ";0,15 kW;")
    text = text.replace("6:30-8:00;17:00-23:00", '"6:30-8:00;17:00-23:00"')
    assert load_job(write_site(tmp_path, {LOADS: text})).loads[0].running_w == 150


def test_keys_of_the_site_in_quotes(tmp_path):
    changes = {"site.toml": [("min_degc = 5", 'min_degc = "41 °F"'), ("= 30", '= "30 °C"')]}
    site = load_job(write_site(tmp_path, changes)).site
    assert (site.min_degc, site.max_degc) == pytest.approx((5, 30))


@pytest.mark.parametrize(
    ("old", "cell", "column", "both"),
    [
        ("100", "100 kg", "capacity_ah", "'kg' does not belong to capacity_ah"),
        ("11", "11 A", "mass_kg", "'A' does not belong to mass_kg, which is in kg"),
        ("450", "450 kW", "price", "'kW' does not belong to price, which is in money"),
    ],
)
def test_a_unit_of_something_else_names_both(tmp_path, old, cell, column, both):
    row = "Sluice 12,lfp,12.8,100,5,450,11,,0.7"
    changes = {BATTERIES: (row, row.replace(f",{old},", f",{cell},"))}
    assert_faults(tmp_path, changes, [(BATTERIES, 4, column, cell, both)])


def test_apparent_power_is_no_power(tmp_path):
    changes = {"inverters.csv": ("12,1200,1100,1400", "12,1200 VA,1100,1400")}
    expected = [("inverters.csv", 2, "power_w", "1200 VA", "'VA' does not belong to power_w")]
    assert_faults(tmp_path, changes, expected)


@pytest.mark.parametrize("cell", ["6-Aug", "6 Aug", "90 furlongz", "90 W W/", "1/2"])
def test_what_is_no_unit_stays_what_it_was(tmp_path, cell):
    changes = {LOADS: ("90,0.85", f"{cell},0.85")}
    assert_faults(tmp_path, changes, [(LOADS, 2, "running_w", cell, "a number above 0")])


@pytest.mark.slow
def test_the_units_library_waits_for_a_unit():
    code = (
        "import sys; from optimizer.inputs.load import load_job; from optimizer.inputs.demo import "
        "site_file; load_job(site_file('house')); print('pint' in sys.modules)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "False"
