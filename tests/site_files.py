"""Writes a small valid site and catalog, with whatever a test changes about them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from optimizer.errors import InputError
from optimizer.inputs.load import load_job

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

#: A whole file; one or more (old, new) replacements in the valid one; None for no such file.
Change = str | bytes | tuple[str, str] | list[tuple[str, str]] | None

FILES = {
    "site.toml": """\
[site]
name = "Weir cottage"
currency = "EUR"
loads = "loads.csv"

[seasons]
cold = [10, 11, 12, 1, 2, 3]
warm = [4, 5, 6, 7, 8, 9]

[resilience]
tiers = ["must"]
target_hours = 8
max_hours = 24
recharge_hours = 10

[outages]
log = "outages.csv"
log_years = 2

[economics]
horizon_years = 10
tariff = 0.3

[battery_room]
min_degc = 5
mean_degc = 15
max_degc = 30
vented_allowed = true

[limits]
voltages = [12, 24]
exclude = ["gel"]
""",
    "loads.csv": """\
load,tier,count,running_w,power_factor,starting_w,hours,duty,seasons
Fridge,must,1,90,0.85,600,0:00-24:00,0.4,
Lamps,must,4,8,0.95,,6:30-8:00;17:00-23:00,0.7,cold:1.2;warm:0.6
Pump,nice,1,500,0.8,,22:00-2:00,0.5,
""",
    "outages.csv": """\
start,end
2024-01-10T17:40,2024-01-10T20:10
2024-06-03T22:00,2024-06-04T01:00
2025-02-11T08:00,2025-02-11T08:30
""",
    "batteries.csv": """\
battery,chemistry,voltage_v,capacity_ah,rate_h,price,mass_kg,max_dod,charge_rate_max
Wharf 6,flooded,6,220,20,120,31,,
Wharf 12,agm,12,100,20,190,30,0.6,
Sluice 12,lfp,12.8,100,5,450,11,,0.7
""",
    "inverters.csv": """\
inverter,system_v,power_w,power_w_40c,power_va,surge_w,efficiency,no_load_w,standby_w,charger_a,\
transfer_ms,mass_kg,max_units,life_years,price
Tide 12,12,1200,1100,1400,2400,0.91,8,5,40,20,9,1,10,400
Tide 24,24,2400,,,4800,0.93,12,6,50,20,14,2,12,800
""",
    "works.csv": """\
item,basis,price,applies
Visit,site,150,first
Fitting,inverter_unit,90,both
""",
    "cables.csv": """\
section_mm2,ampacity_a,ohm_per_km,price_per_m
35,140,0.554,9
70,216,0.272,17
""",
    "fuses.csv": "rating_a,price\n100,10\n200,16\n",
}

CHEMISTRIES_HEAD = (
    "chemistry,family,gas,peukert,max_dod,float_life_years,halving_degc,cycle_points,"
    "end_of_life_soh,discharge_rate_max,charge_rate_min,charge_rate_max,charge_factor,round_trip,"
    "self_discharge_month,upkeep_year,scrap_value,price_drift,min_charge_degc,cold_points,"
    "max_series,max_parallel\n"
)


def write_site(folder: Path, changes: dict[str, Change] | None = None) -> Path:
    """Write the site and return the path of its site file."""
    for name, valid in FILES.items():
        (folder / name).write_text(valid, encoding="utf-8")
    for name, change in (changes or {}).items():
        path = folder / name
        if change is None:
            path.unlink()
        elif isinstance(change, bytes):
            path.write_bytes(change)
        elif isinstance(change, str):
            path.write_text(change, encoding="utf-8", newline="")
        else:
            text = FILES[name]
            for old, new in [change] if isinstance(change, tuple) else change:
                assert old in text, f"{old!r} is not in {name}"
                text = text.replace(old, new, 1)
            path.write_text(text, encoding="utf-8", newline="")
    return folder / "site.toml"


def assert_faults(folder: Path, changes: dict[str, Change], expected: list[tuple]) -> None:
    """Assert that the changed site has exactly these faults, in this order.

    Each is (file, row, column, a piece of what was found, a piece of what was wanted).
    """
    with pytest.raises(InputError) as caught:
        load_job(write_site(folder, changes))
    faults = caught.value.faults
    places = [(fault.file.removeprefix(f"{folder}/"), fault.row, fault.column) for fault in faults]
    assert places == [case[:3] for case in expected], str(caught.value)
    for fault, (*_, found, wanted) in zip(faults, expected, strict=True):
        assert found in fault.found
        assert wanted in fault.wanted


def messages_of(cases: list[tuple]) -> Callable[..., None]:
    """A test of each case: what is wrong, what is changed for it, the faults that are told."""

    @pytest.mark.parametrize(
        ("changes", "expected"),
        [pytest.param(changes, expected, id=what) for what, changes, expected in cases],
    )
    def test_message(tmp_path: Path, changes: dict[str, Change], expected: list[tuple]) -> None:
        assert_faults(tmp_path, changes, expected)

    return test_message
