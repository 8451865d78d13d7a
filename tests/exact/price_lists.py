"""Small random price lists, drawn from short lists of round figures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .case import Table

_MADE: dict[str, st.SearchStrategy[Any]] = {}


def of(values: Sequence[Any]) -> st.SearchStrategy[Any]:
    """Any of these; a strategy is made once, which takes longer than to draw from it."""
    key = repr(values)
    if key not in _MADE:
        _MADE[key] = st.sampled_from(values)
    return _MADE[key]


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
    "charge_rate_min": [0.1],
    "round_trip": [0.7, 1.0],
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
                "pass_through_a": draw(of(["", "", 4, 10, 25])),
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
