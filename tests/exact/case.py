"""A site and its price list, read by hand from the files' own words.

Shares nothing with the product, not even its records: TOML by the standard library, tables as rows
of text, a blank cell filled from the chemistry's row. Expects files that are right; what is wrong
with a file is for the product to say.
"""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from datetime import datetime
from types import SimpleNamespace as Row
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

Table = list[dict[str, Any]]

TABLES = ("batteries", "chemistries", "inverters", "works", "cables", "fuses", "generators")

#: Defaults of the site file by section; None: not given.
DEFAULTS: dict[str, dict[str, Any]] = {
    "site": {},
    "resilience": {
        "tier_hours": {},
        "max_hours": 48,
        "design_margin": 0.10,
        "recharge_hours": 24,
        "load_growth": 0.0,
        "coincidence": 1.0,
        "reference_efficiency": 0.88,
    },
    "economics": {
        "horizon_years": 10,
        "discount_rate": 0.03,
        "tax_rate": 0.0,
        "markup": 0.0,
        "residual_share": 1.0,
        "min_service_share": 0.5,
    },
    "battery_room": {"monthly_degc": None, "vented_allowed": False},
    "wiring": {"battery_cable_m": 2.0, "max_drop": 0.02},
    "supply": {"voltage_v": 230.0, "contracts": [], "peaks": []},
    "generator": {"quiet": None, "start_after_h": 1, "fuel_keeps_years": 1},
    "limits": {
        "budget": None,
        "lifetime_budget": None,
        "later_limit": None,
        "max_bank_kg": None,
        "max_parallel": 10**6,
        "voltages": [12, 24, 48],
        "exclude": [],
    },
}

#: What a battery's row may leave to its chemistry's.
FROM_CHEMISTRY = (
    "family",
    "gas",
    "peukert",
    "max_dod",
    "float_life_years",
    "float_life_degc",
    "halving_degc",
    "cycle_points",
    "end_of_life_soh",
    "discharge_rate_max",
    "surge_rate_max",
    "charge_rate_min",
    "charge_rate_max",
    "charge_factor",
    "round_trip",
    "self_discharge_month",
    "float_ma_ah",
    "upkeep_year",
    "scrap_value",
    "price_drift",
    "min_charge_degc",
    "cold_points",
    "max_series",
    "max_parallel",
)

VOLTAGE_CLASSES = (2, 3, 6, 8, 12, 24, 48)


@dataclass
class Case:
    """Everything a site's files say, numbers as numbers."""

    site: Row  # one attribute for each key of the site file, whatever its section
    seasons: dict[str, list[int]]
    loads: list[Row]
    log: list[tuple[datetime, datetime]]
    log_years: float
    typed: list[tuple[float, float]]
    daily: list[tuple[float, float]]  # hours of the day; the end may pass 24
    days_per_year: float
    batteries: list[Row]
    inverters: list[Row]
    works: list[Row]
    cables: list[Row]
    fuses: list[Row]
    generators: list[Row]


def read_folder(folder: Path) -> Case:
    """The case in a folder with ``site.toml`` and its tables."""
    site = tomllib.loads((folder / "site.toml").read_text(encoding="utf-8"))
    catalog = folder / site["site"].get("catalog", ".")
    files = {name: catalog / f"{name}.csv" for name in TABLES}
    files["loads"] = folder / site["site"]["loads"]
    if "log" in site["outages"]:
        files["log"] = folder / site["outages"]["log"]
    tables = {}
    for name, path in files.items():
        if path.exists():
            with path.open(encoding="utf-8", newline="") as lines:
                tables[name] = list(csv.DictReader(lines))
    return read_case(site, tables)


def read_case(document: dict[str, Any], tables: dict[str, Table]) -> Case:
    """The case that a site file, parsed, and its tables of text describe."""
    keys: dict[str, Any] = {}
    for section, defaults in DEFAULTS.items():
        keys |= {**defaults, **document.get(section, {})}
    keys["quiet_h"] = [int(end) for end in window(keys["quiet"])] if keys["quiet"] else [0, 0]
    outages = document["outages"]
    chemistries = {row["chemistry"]: row for row in tables["chemistries"]}
    return Case(
        site=Row(**keys),
        seasons=document.get("seasons") or {"year": list(range(1, 13))},
        loads=[_load(row) for row in tables["loads"]],
        log=[
            (datetime.fromisoformat(row["start"]), datetime.fromisoformat(row["end"]))
            for row in tables.get("log", [])
        ],
        log_years=outages.get("log_years", 1.0),
        typed=[(hours, times) for hours, times in outages.get("typed", [])],
        daily=sorted(window(text) for text in outages.get("daily", [])),
        days_per_year=outages.get("days_per_year", 0.0),
        batteries=[_battery(row, chemistries[row["chemistry"]]) for row in tables["batteries"]],
        inverters=[_inverter(row) for row in tables["inverters"]],
        works=[_plain(row, words=("item", "basis", "applies")) for row in tables["works"]],
        cables=[_plain(row, conductor_degc=70.0) for row in tables["cables"]],
        fuses=[_plain(row, rated_v=None) for row in tables["fuses"]],
        generators=[_generator(row) for row in tables.get("generators", [])]
        if "generator" in document
        else [],
    )


def window(text: str) -> tuple[float, float]:
    """Hours of the day, ``22:00-6:30`` as (22.0, 30.5)."""
    start, end = (
        int(hour) + int(minute) / 60
        for hour, minute in (clock.split(":") for clock in text.split("-"))
    )
    return start, end if end > start else end + 24


def _given(row: dict[str, Any], key: str) -> bool:
    return row.get(key) not in (None, "")


def _plain(row: dict[str, Any], words: tuple[str, ...] = (), **blank: Any) -> Row:
    """Numbers but for the columns named as words; a blank or missing cell as ``blank`` says."""
    values = dict(blank)
    for key, cell in row.items():
        if _given(row, key):
            values[key] = cell if key in words else float(cell)
    return Row(**values)


def _pairs(text: str) -> list[tuple[float, float]]:
    items = (item.split(":") for item in text.split(";"))
    return [(float(left), float(right)) for left, right in items]


def _load(row: dict[str, Any]) -> Row:
    running_w = float(row["running_w"])
    return Row(
        tier=row["tier"],
        count=int(row["count"]),
        running_w=running_w,
        power_factor=float(row["power_factor"]),
        starting_w=float(row["starting_w"]) if _given(row, "starting_w") else running_w,
        windows=[window(text) for text in row["hours"].split(";")],
        duty=float(row["duty"]),
        seasons={
            name: float(share)
            for name, share in (item.split(":") for item in row["seasons"].split(";"))
        }
        if _given(row, "seasons")
        else {},
    )


def _battery(row: dict[str, Any], chemistry: dict[str, Any]) -> Row:
    filled = {key: chemistry[key] for key in FROM_CHEMISTRY if _given(chemistry, key)}
    filled |= {key: cell for key, cell in row.items() if _given(row, key)}
    filled.setdefault("surge_rate_max", filled["discharge_rate_max"])
    filled.setdefault("float_life_degc", 20)
    depths, cycles, cold = (filled.pop(key) for key in ("max_dod", "cycle_points", "cold_points"))
    battery = _plain(
        filled,
        words=("battery", "chemistry", "family", "gas", "built_into"),
        float_ma_ah=None,
        absorption_v=None,
        float_v=None,
        built_into=None,
    )
    battery.max_dods = [float(depth) for depth in str(depths).split(";")]
    battery.cycle_points, battery.cold_points = _pairs(cycles), _pairs(cold)
    battery.class_v = next(
        volts for volts in VOLTAGE_CLASSES if 0.95 <= battery.voltage_v / volts <= 1.10
    )
    return battery


def _inverter(row: dict[str, Any]) -> Row:
    inverter = _plain(
        {key: cell for key, cell in row.items() if key != "works_in_parallel"},
        words=("inverter",),
        pass_through_a=None,
        power_w_40c=float(row["power_w"]),
        power_va=float(row["power_w"]),
    )
    inverter.works_in_parallel = str(row.get("works_in_parallel")).lower() == "true"
    return inverter


def _generator(row: dict[str, Any]) -> Row:
    power_w = float(row["power_w"])
    return _plain(row, words=("generator",), power_va=power_w, surge_w=power_w, upkeep_year=0.0)
