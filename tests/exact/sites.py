"""Small random sites with a price list, as the files would have them.

Values are drawn from short lists of round figures: failures shrink to something readable, equal
costs and limits met exactly come up, and most sites have a design. Every feature of the model is
drawn beside every other; what is seldom in a real site is not seldom here.
"""

from __future__ import annotations

import csv
import json
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from .case import Case, Table, read_case

if TYPE_CHECKING:
    from pathlib import Path

of = st.sampled_from

SAME_FOR_ALL = ("chemistries", "cables", "fuses")


@dataclass(repr=False)
class SiteFiles:
    """What the files of a site say: the site file as a document, the tables as rows."""

    document: dict[str, dict[str, Any]]
    tables: dict[str, Table] = field(default_factory=dict)

    def __repr__(self) -> str:
        """The files' own text, without the tables that are the same for every site."""
        lines = [self.site_text()]
        for name, rows in self.tables.items():
            if name not in SAME_FOR_ALL:
                lines += [f"{name}:", *(str(_filled(row)) for row in rows)]
        return "\n".join(lines)

    def case(self) -> Case:
        document = {section: _filled(keys) for section, keys in self.document.items()}
        return read_case(document, self.tables)

    def write(self, folder: Path) -> Path:
        """Write the files and return the site file's path."""
        for name, rows in self.tables.items():
            with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
                columns = list(dict.fromkeys(column for row in rows for column in row))
                writer = csv.DictWriter(file, columns)
                writer.writeheader()
                writer.writerows(rows)
        path = folder / "site.toml"
        path.write_text(self.site_text(), encoding="utf-8")
        return path

    def site_text(self) -> str:
        lines = []
        for section, keys in self.document.items():
            lines.append(f"[{section}]")
            lines += [f"{key} = {toml(value)}" for key, value in _filled(keys).items()]
        return "\n".join(lines) + "\n"


def _filled(row: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in row.items() if value not in (None, "")}


def toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {toml(item)}" for key, item in value.items()) + "}"
    return json.dumps(value)


def clock(minutes: int) -> str:
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


# --- loads and outages ------------------------------------------------------------------------

SEASONS = (
    None,
    {"wet": [5, 6, 7, 8, 9], "dry": [10, 11, 12, 1, 2, 3, 4]},
    {"cold": [12, 1, 2], "hot": [6, 7, 8, 9], "mild": [3, 4, 5, 10, 11]},
)


@st.composite
def load_hours(draw: st.DrawFn) -> str:
    """One or two windows of the day; the second may cross midnight."""
    if draw(of([True, False, False])):
        return "0:00-24:00"
    start = 30 * draw(st.integers(0, 40)) + draw(of([0, 0, 10]))
    end = start + 30 * draw(st.integers(1, 14))
    if end >= 23 * 60 or draw(st.booleans()):
        return f"{clock(start)}-{clock(end)}"
    later = draw(st.integers(end // 30 + 1, 47)) * 30
    # Ends before the first begins again a day later: windows of one load do not overlap.
    length = 30 * draw(st.integers(1, max(1, min(16, (24 * 60 + start - later) // 30))))
    return f"{clock(start)}-{clock(end)};{clock(later)}-{clock(later + length)}"


@st.composite
def loads(draw: st.DrawFn, seasons: dict[str, list[int]] | None) -> Table:
    rows = []
    for number in range(draw(st.integers(1, 4))):
        running_w = draw(of([60.0, 25.5, 150.0, 250.0, 400.0, 600.0]))
        shares = {
            name: share
            for name in seasons or {}
            if (share := draw(of([None, None, 0.0, 0.6, 1.2]))) is not None
        }
        rows.append(
            {
                "load": f"load {number}",
                "tier": draw(of(["needed", "needed", "wished"])) if number else "needed",
                "count": draw(of([1, 1, 2])),
                "running_w": running_w,
                "power_factor": draw(of([1.0, 0.9, 0.7])),
                "starting_w": draw(of(["", "", 2 * running_w, 3 * running_w])),
                "hours": draw(load_hours()),
                "duty": draw(of([1.0, 0.8, 0.3])),
                "seasons": ";".join(f"{name}:{share}" for name, share in shares.items()),
            }
        )
    return rows


CUTS = (
    ["06:00-08:30"],
    ["22:00-02:00"],
    ["06:15-08:45", "18:30-21:00"],
    ["05:30-11:15", "13:40-20:05"],
    ["02:00-03:00", "11:00-12:10", "16:30-17:00"],
    ["21:00-01:20", "08:00-10:00"],
    ["07:00-20:00"],
)


@st.composite
def outages(draw: st.DrawFn, log: Table) -> dict[str, Any]:
    """The section of the site file; a log fills the table given."""
    form = draw(of(["typed", "log", "daily", "daily"]))
    if form == "daily":
        return {"daily": draw(of(CUTS)), "days_per_year": draw(of([12, 60, 200, 366]))}
    if form == "typed":
        rows = st.tuples(of([0.5, 1.5, 4, 9, 20, 50]), of([0.4, 3, 20, 150]))
        return {"typed": [list(row) for row in draw(st.lists(rows, min_size=1, max_size=3))]}
    at = datetime(2023, 1, 11, 17, 40)
    for _ in range(draw(st.integers(1, 5))):
        end = at + timedelta(minutes=draw(of([45, 150, 7, 465, 930, 1600, 4400])))
        log.append({"start": at.isoformat("T", "minutes"), "end": end.isoformat("T", "minutes")})
        at = end + timedelta(minutes=draw(of([300, 90125, 45000, 131415])))
    return {"log": "log.csv", "log_years": draw(of([2, 3, 1.5]))}


# --- the price list ---------------------------------------------------------------------------

CHEMISTRY_COLUMNS = (
    "chemistry",
    "family",
    "gas",
    "peukert",
    "max_dod",
    "float_life_years",
    "halving_degc",
    "cycle_points",
    "end_of_life_soh",
    "min_charge_degc",
    "charge_rate_min",
    "charge_rate_max",
    "charge_factor",
    "discharge_rate_max",
    "surge_rate_max",
    "round_trip",
    "self_discharge_month",
    "upkeep_year",
    "scrap_value",
    "price_drift",
    "max_series",
    "max_parallel",
    "cold_points",
    "float_life_degc",
    "float_ma_ah",
)
CHEMISTRIES = [
    dict(zip(CHEMISTRY_COLUMNS, row.split(","), strict=True))
    for row in (
        "wet,lead,vented,1.22,0.5;0.8,8,10,0.2:2800;0.5:1100;0.8:600,0.8,-10,0.05,0.5,1.2,"
        "0.5,2,0.8,0.03,2,8,0,24,3,-3.9:0.658;10:0.84;25:1,,1",
        "sealed,lead,valve_regulated,1.15,0.5,9,10,0.3:1500;0.8:420,0.8,-10,0.05,0.4,1.15,"
        "0.8,,0.84,0.02,0,8,0,24,4,-10:0.6;25:1,25,0.6",
        "paste,lead,valve_regulated,1.4,0.6,6.5,8,0.8:900,0.7,-10,0,0.5,1,1,2,1,0.02,0,0,0.02,24,5,"
        "-5:0.7;25:1,,",
        "iron,lithium,none,1.03,0.9,15,15,0.5:6000;0.8:4000;1.0:2500,0.8,0,0,0.5,1.02,1,2,0.95,"
        "0.02,0,0,-0.04,4,6,-20:0.55;0:0.88;25:1,25,0.05",
        "salt,other,vented,1,1,12,15,0.3:1600;1.0:350,0.6,-20,0,0.6,1.05,1,,0.8,0.03,0,12,-0.02,"
        "24,4,-20:0.7;25:1,,",
    )
]
FAMILY = {row["chemistry"]: row["family"] for row in CHEMISTRIES}
SHAPES = {
    "lead": ((12.0, 12), (12.0, 12), (6.0, 6), (2.0, 2), (8.0, 8), (24.0, 24)),
    "lithium": ((3.2, 3), (12.8, 12), (25.6, 24), (51.2, 48), (48.0, 48)),
    "other": ((12.0, 12), (48.0, 48), (1.95, 2)),
}

#: Columns a battery's row may give in place of its chemistry's, and what it gives.
GIVEN: dict[str, list[Any]] = {
    "peukert": [1, 1.1, 1.3],
    "max_dod": ["0.5;0.8", "0.6;0.9;1.0", "1", "0.4"],
    "float_life_years": [1.3, 4, 7.5, 12, 16],
    "float_life_degc": [15, 25],
    "cycle_points": ["0.2:2500;0.5:1000;0.8:550", "0.5:150", "0.3:700;0.5:330;0.8:180"],
    "end_of_life_soh": [0.6, 0.95],
    "discharge_rate_max": [2, 0.4],
    "surge_rate_max": [2.2, 4],
    "charge_rate_max": [0.2, 0.6],
    "charge_factor": [1, 1.2],
    "float_ma_ah": [0, 1.5],
    "upkeep_year": [4, 20],
    "scrap_value": [7, 40],
    "price_drift": [-0.2, -0.05, 0.03],
    "min_charge_degc": [8],
    "cold_points": ["-10:0.6;10:0.85;25:1"],
    "max_series": [2, 4],
    "max_parallel": [2, 6],
    "absorption_v": [1.18],  # times the class
    "float_v": [1.13],
}


@st.composite
def batteries(draw: st.DrawFn, voltages: list[int], boxed: dict[str, Any] | None) -> Table:
    rows = []
    for number in range(draw(of([3, 2, 4, 1]))):
        chemistry = draw(of(CHEMISTRIES))["chemistry"]
        family = FAMILY[chemistry]
        # Mostly of a voltage that can serve: a battery that cannot is a shorter price list.
        serving = [s for s in SHAPES[family] if any(volts % s[1] == 0 for volts in voltages)]
        voltage_v, class_v = draw(of(draw(of([serving] * 5 + [SHAPES[family]])) or serving))
        rows.append(_battery(draw, f"battery {number}", chemistry, voltage_v, class_v))
    if boxed:
        volts = boxed["system_v"]
        inside = _battery(draw, "inside", "iron", volts * 16 / 15, volts)
        inside |= {"built_into": boxed["inverter"], "max_parallel": draw(of([1, 3, 3]))}
        rows.append(inside)
    return rows


def _battery(
    draw: st.DrawFn, name: str, chemistry: str, voltage_v: float, class_v: int
) -> dict[str, Any]:
    light = FAMILY[chemistry] == "lithium"
    capacity_ah = draw(of([100.0, 60.0, 200.0, 300.0]))
    per_kwh = draw(of([240.0, 330.0, 420.0] if light else [70.0, 100.0, 150.0, 220.0]))
    row = {
        "battery": name,
        "chemistry": chemistry,
        "voltage_v": round(voltage_v, 3),
        "capacity_ah": capacity_ah,
        "rate_h": draw(of([5.0, 10.0, 20.0])),
        "price": round(per_kwh * voltage_v * capacity_ah / 1000),
        "mass_kg": round(voltage_v * capacity_ah / (100 if light else 38), 1),
        **dict.fromkeys(GIVEN, ""),
        "built_into": "",
    }
    for column in draw(st.lists(of(list(GIVEN)), unique=True, max_size=6)):
        row[column] = draw(of(GIVEN[column]))
        if column in ("absorption_v", "float_v"):
            row[column] *= class_v
    return row


POWERS_W = {
    12: [1500.0, 800.0, 2200.0],
    24: [2200.0, 1000.0, 3500.0],
    48: [3500.0, 1400.0, 5000.0],
}


@st.composite
def inverters(draw: st.DrawFn, voltages: list[int]) -> Table:
    rows = []
    for number in range(draw(st.integers(1, 3))):
        system_v = draw(of(voltages))
        power_w = draw(of(POWERS_W[system_v]))
        rows.append(
            {
                "inverter": f"inverter {number}",
                "system_v": system_v,
                "power_w": power_w,
                "power_w_40c": draw(of(["", 0.85 * power_w])),
                "power_va": draw(of(["", 1.2 * power_w])),
                "surge_w": power_w * draw(of([2.2, 1.5])),
                "efficiency": draw(of([0.88, 0.92, 0.95])),
                "no_load_w": draw(of([0, 8, 20])),
                "standby_w": draw(of([0, 6])),
                "charger_a": round(power_w * draw(of([1.0, 1.5, 1.0, 0.5, 0.2])) / system_v),
                "transfer_ms": 15,
                "mass_kg": 10,
                "max_units": draw(of([3, 2, 1])),
                "life_years": draw(of([4, 7.5, 10, 12])),
                "price": round(power_w * draw(of([0.3, 0.4, 0.55])) + 40),
                "pass_through_a": draw(of(["", "", "", 10, 25])),
                "works_in_parallel": draw(of(["true", "true", "true", "false", ""])),
            }
        )
    return rows


CABLES = [
    dict(zip(("section_mm2", "ampacity_a", "ohm_per_km", "price_per_m"), row, strict=True))
    | {"conductor_degc": degc}
    for row, degc in (
        ((10.0, 63.0, 1.91, 3.0), ""),
        ((25.0, 112.0, 0.78, 6.5), 90),
        ((50.0, 168.0, 0.386, 12.0), ""),
        ((95.0, 258.0, 0.206, 11.0), 90),  # cheaper than the one before: the first still wins
        ((120.0, 300.0, 0.161, 30.0), 70),
    )
]
FUSES = [
    {"rating_a": rating_a, "price": price, "rated_v": rated_v}
    for rating_a, price, rated_v in (
        (63.0, 9.0, ""),
        (100.0, 11.0, 32),
        (125.0, 15.0, 80),
        (160.0, 10.0, ""),
        (250.0, 22.0, 58),
        (400.0, 34.0, 80),
    )
]
WORKS = [
    dict(zip(("item", "basis", "price", "applies"), row, strict=True))
    for row in (
        ("survey", "site", 150.0, "first"),
        ("fixing", "inverter_unit", 100.0, "first"),
        ("changing", "inverter_unit", 80.0, "swap"),
        ("wiring in", "inverter_unit", 45.0, "both"),
        ("placing", "battery_unit", 9.0, "first"),
        ("exchanging", "battery_unit", 14.0, "swap"),
        ("lifting", "battery_unit", 6.0, "both"),
        ("isolator", "string", 38.0, "first"),
        ("isolator check", "string", 11.0, "swap"),
        ("string fuse", "parallel_string", 41.0, "both"),
        ("balancing", "parallel_string", 25.0, "first"),
        ("freight", "kg", 0.4, "both"),
        ("late freight", "kg", 0.7, "swap"),
        ("locker", "vented_bank", 200.0, "first"),
        ("fan", "vented_bank", 60.0, "first"),
    )
]


@st.composite
def generators(draw: st.DrawFn) -> Table:
    rows = []
    for number in range(draw(of([1, 2]))):
        power_w = draw(of([2200.0, 4000.0, 1000.0]))
        rows.append(
            {
                "generator": f"generator {number}",
                "power_w": power_w,
                "power_va": draw(of(["", 1.25 * power_w])),
                "surge_w": draw(of([3 * power_w, 1.9 * power_w, ""])),
                "litres_h_full": round(power_w / draw(of([1400, 2000])), 2),
                "litres_h_idle": draw(of([0, 0.2, 0.3])),
                "price": round(power_w * draw(of([0.2, 0.35]))),
                "life_years": draw(of([3, 7.5, 10])),
                "upkeep_year": draw(of(["", 15])),
            }
        )
    return rows


# --- the site ---------------------------------------------------------------------------------

ROOMS = (
    {"min_degc": 15, "mean_degc": 18, "max_degc": 30},
    {"min_degc": 25, "mean_degc": 27, "max_degc": 36},
    {"min_degc": 5, "mean_degc": 18, "max_degc": 45},
    {"min_degc": -2, "mean_degc": 10, "max_degc": 25},
    {
        "min_degc": 12,
        "mean_degc": 25,
        "max_degc": 38,
        "monthly_degc": [16, 18, 22, 27, 31, 33, 32, 31, 28, 24, 20, 18],
    },
)
CONTRACTS = ([[900, 40], [2000, 190]], [[1500, 60], [2600, 310], [5000, 690]], [[4000, 200]])
PEAKS = ([[2300, 12, 30]], [[1800, 40, 12], [2900, 8, 4]], [[2600, 90, 2]], [])


@st.composite
def limits(draw: st.DrawFn) -> dict[str, Any]:
    def rarely(*values: float) -> float | None:
        return draw(of([None] * 10 + list(values)))

    return {
        "budget": rarely(2500.0, 4000.0, 6000.0),
        "lifetime_budget": rarely(5000.0, 8000.0),
        "later_limit": draw(of([None] * 6 + [300.0, 900.0, 1800.0])),
        "max_bank_kg": rarely(120.0, 300.0),
        "max_parallel": rarely(1, 3),
        "voltages": draw(of([[12, 24, 48]] * 7 + [[12, 48], [24]])),
        "exclude": draw(of([[]] * 9 + [["battery 0"], ["inverter 0"], ["wet"], ["iron"]])),
    }


@st.composite
def site_files(draw: st.DrawFn) -> SiteFiles:
    """Any small site: one to four loads, one to four batteries, one to four inverters."""
    seasons = draw(of(SEASONS))
    voltages = draw(of([[12], [24], [48], [12, 24], [24, 48], [12, 24, 48]]))
    files = SiteFiles({}, {"chemistries": CHEMISTRIES, "cables": CABLES, "fuses": FUSES})
    tables = files.tables
    tables["loads"] = draw(loads(seasons))
    tables["inverters"] = draw(inverters(voltages))
    boxed = None
    if draw(of([False, False, False, True])):
        boxed = tables["inverters"][0]
        boxed["price"] = draw(of([0, 0, 150]))
    tables["batteries"] = draw(batteries(voltages, boxed))
    tables["works"] = draw(st.lists(of(WORKS), unique_by=lambda work: work["item"], max_size=8))
    with_generator = draw(of([False, False, True]))
    if with_generator:
        tables["generators"] = draw(generators())
    max_hours = draw(of([20, 30, 40])) if with_generator else draw(st.integers(2, 14))
    tiers_kept = draw(of([{}, {}, {"wished": 2}, {"needed": 5, "wished": 1}]))
    kept = ("needed", "wished") if draw(of([True, True, False])) else ("needed",)
    if all(row["tier"] == "needed" for row in tables["loads"]):
        kept = ("needed",)
    log: Table = []
    files.document = {
        "site": {"name": "random", "currency": "EUR", "loads": "loads.csv", "catalog": "."},
        **({"seasons": seasons} if seasons else {}),
        "resilience": {
            "tiers": list(kept),
            "tier_hours": {tier: hours for tier, hours in tiers_kept.items() if tier in kept},
            "target_hours": draw(st.integers(1, max_hours)),
            "max_hours": max_hours,
            "design_margin": draw(of([0.0, 0.1])),
            "recharge_hours": draw(of([24, 48, 24, 8])),
            "load_growth": draw(of([0.0, 0.02, -0.03, 0.1, -0.15])),
            "coincidence": draw(of([1.0, 0.8])),
            "reference_efficiency": draw(of([0.88, 1.0])),
        },
        "outages": draw(outages(log)),
        "economics": {
            "horizon_years": draw(st.integers(1, 12)),
            "discount_rate": draw(of([0.03, 0.0, 0.08, -0.02])),
            "tariff": draw(of([0.3, 0.0])),
            "tax_rate": draw(of([0.0, 0.2])),
            "markup": draw(of([0.0, 0.15])),
            "residual_share": draw(of([1.0, 0.5, 0.0])),
            "min_service_share": draw(of([0.5, 0.0, 1.0, 0.25])),
        },
        "battery_room": {**draw(of(ROOMS)), "vented_allowed": draw(of([True, True, True, False]))},
        "wiring": {
            "battery_cable_m": draw(of([1.5, 4.0])),
            "max_drop": draw(of([0.03, 0.015])),
        },
        "limits": draw(limits()),
    }
    if log:
        tables["log"] = log
    if draw(of([False, False, True])):
        files.document["supply"] = {
            "voltage_v": draw(of([230, 120])),
            "contracts": draw(
                of([[[900, 40], [2000, 190]], [[1500, 60], [2600, 310], [5000, 690]]])
            ),
            "peaks": draw(of(PEAKS)),
        }
    if with_generator:
        files.document["generator"] = {
            "quiet": draw(of([None, "21:00-7:00", "0:00-5:00", "22:00-02:00"])),
            "start_after_h": draw(of([1, 2, 5])),
            "fuel_price": draw(of([1.8, 0.0])),
            "max_stored_l": draw(of([60, 12, 25])),
            "fuel_keeps_years": draw(of([1, 2, 3])),
        }
    return files
