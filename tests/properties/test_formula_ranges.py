"""Every formula states the range of what it returns, and keeps it at the ends of its inputs' own.

The range stands in the docstring, in the line under Returns: ``float in [0, 1]``, one for each part
of a tuple. A truth value has no other range than its two values. No range is wider than a
hundred times what is reached.
"""

from __future__ import annotations

import inspect
import math
import pkgutil
import re
from dataclasses import fields, is_dataclass
from decimal import Decimal
from importlib import import_module
from itertools import product

import numpy as np
import pytest

from optimizer import formulas
from optimizer.formulas.ageing import SHORTEST_LIFE_YEARS
from optimizer.formulas.protection import BREAKERS_A, SECTIONS_MM2
from optimizer.formulas.windows import Stretches, windows
from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.columns import LEAST, columns_of
from optimizer.inputs.design_file import DesignKeys
from optimizer.inputs.rows import CableRow, FuseRow, GeneratorRow, InverterRow, LoadRow
from optimizer.inputs.site_keys import (
    BatteryRoomKeys,
    EconomicsKeys,
    GeneratorKeys,
    ResilienceKeys,
    WiringKeys,
)
from optimizer.model.design import CableRun
from optimizer.model.job import Cable, Fuse, Load, Season

FORMULAS = {
    f"{module.name}.{name}": one
    for module in pkgutil.iter_modules(formulas.__path__)
    for name, one in vars(import_module(f"optimizer.formulas.{module.name}")).items()
    if inspect.isfunction(one)
    and not name.startswith("_")
    and one.__module__ == f"optimizer.formulas.{module.name}"
}
STATED = re.compile(r"in \[(\S+), (\S+)\]")


def ends(model, column, times=1):
    """Both ends of a field's range, the upper one for so many pieces together."""
    limits = columns_of(model)[column].limits
    low = limits["ge"] if "ge" in limits else (limits["gt"] or LEAST)
    return low, limits.get("le", limits.get("lt")) * times


STRINGS = ends(DesignKeys, "strings")[1]
IN_SERIES = ends(BatteryRow, "max_series")[1]
UNITS = ends(DesignKeys, "units")[1]
LOADS = 1_000  # rows of a survey, as many as a list may have
HOURS = ends(ResilienceKeys, "max_hours")
HORIZON = ends(EconomicsKeys, "horizon_years")
ROOM_DEGC = ends(BatteryRoomKeys, "max_degc")
RATE = ends(EconomicsKeys, "discount_rate")
MONTHLY = math.expm1(math.log1p(RATE[0]) / 12), 0.0, RATE[1]  # from that of a month
DRIFT = ends(BatteryRow, "price_drift")
LIFE = SHORTEST_LIFE_YEARS, ends(BatteryRow, "float_life_years")[1]
BANK_AH = ends(BatteryRow, "capacity_ah", STRINGS)
BANK_V = ends(BatteryRow, "voltage_v", IN_SERIES)
PEUKERT = ends(BatteryRow, "peukert")
SOH = ends(BatteryRow, "end_of_life_soh")
LOAD_W = LOADS * ends(LoadRow, "count")[1] * ends(LoadRow, "running_w")[1]
MULTIPLIERS = 0.0, 10.0  # of a season, as the loader takes them
POWER_W = 0.0, LOAD_W * MULTIPLIERS[1]
DAYS_W = [np.full((1, 24), one) for one in POWER_W] + [np.eye(1, 24) * POWER_W[1]]
ENERGY_WH = 0.0, POWER_W[1] * HOURS[1]
CURRENT_A = 0.0, ends(InverterRow, "charger_a", UNITS)[1]
MONEY = -1e12, ends(BatteryRow, "price")[1]
GASES = ["vented", "valve_regulated", "none"]
CELLS = [1, round(BANK_V[1] / 2)]
DEPTH = ends(DesignKeys, "max_dod")
MOST_CYCLES = 1e300
POINTS = [[(depth, end)] for depth in DEPTH for end in (1.0, MOST_CYCLES)] + [
    [(low, MOST_CYCLES), (high, cycles)]
    for low, high in (DEPTH, (1e-300, np.nextafter(1e-300, 1)), (0.5, np.nextafter(0.5, 1)))
    for cycles in (1.0, np.nextafter(MOST_CYCLES, 0))
]
LAYERS = [[(math.inf, day), (2.0, day)] for day in DAYS_W]
CABLES = [
    Cable(section_mm2=50.0, ampacity_a=a, ohm_per_km=ohm, price_per_m=price, conductor_degc=degc)
    for a in ends(CableRow, "ampacity_a")
    for ohm in ends(CableRow, "ohm_per_km")
    for price in ends(CableRow, "price_per_m")
    for degc in (60.001, ends(CableRow, "conductor_degc")[1])
]
FUSES = [Fuse(rating_a=a, price=MONEY[1]) for a in ends(FuseRow, "rating_a")]
SEASON = Season("all", tuple(range(1, 13)))
SURVEYS = [
    [
        Load(
            load="pump",
            tier="all",
            count=count * LOADS,
            running_w=watts,
            power_factor=factor,
            starting_w=ends(LoadRow, "starting_w")[1],
            windows=((0.0, 24.0),),
            duty=1.0,
            season_multipliers={"all": times},
        )
    ]
    for count in ends(LoadRow, "count")
    for watts in ends(LoadRow, "running_w")
    for factor in ends(LoadRow, "power_factor")
    for times in MULTIPLIERS
] + [[]]

#: What a parameter may be, by its name; below, where one formula means another thing by it.
BY_NAME = {
    "absorption_v": BANK_V,
    "age_years": ends(DesignKeys, "age_years"),
    "amount": [Decimal(-(10**26)), Decimal(10**26)],
    "cable": CABLES,
    "cables": [CABLES],
    "capacity_ah": BANK_AH,
    "cells": CELLS,
    "charge_ah": (0.0, BANK_AH[1]),
    "charge_factor": ends(BatteryRow, "charge_factor"),
    "charger_w": POWER_W,
    "charging_v": BANK_V,
    "chemistry": ["flooded", "tubular", "agm", "gel", "lfp", "zinc"],
    "coincidence": ends(ResilienceKeys, "coincidence"),
    "cold_points": [[(-40.0, LEAST), (60.0, 1.0)]],
    "current_a": (0.0, LEAST, 10.0, CURRENT_A[1]),
    "currency": ["JPY", "EUR", "KWD", "CLF"],
    "cycle_points": POINTS,
    "degc": (*ROOM_DEGC, 200.0, 1085.0),
    "depth": DEPTH,
    "depths": [np.array([[0.0, DEPTH[0]], [1.0, 1.0]])],
    "design_margin": ends(ResilienceKeys, "design_margin"),
    "earthing_mm2": (LEAST, SECTIONS_MM2[-1], 4e4),
    "efficiency": ends(InverterRow, "efficiency"),
    "end_of_life_soh": SOH,
    "energy_ac_wh": ENERGY_WH,
    "float_life_years": LIFE,
    "float_ma_ah": ends(BatteryRow, "float_ma_ah"),
    "float_v": BANK_V,
    "fuses": [FUSES],
    "gas": GASES,
    "gassing": [True, False],
    "gassing_ma_per_ah": (0.0, 20.0),
    "gauge": ["36", "4", "0", "2/0", "99999999", "-99999999", "99999999/0"],
    "halving_degc": ends(BatteryRow, "halving_degc"),
    "hours": HOURS,
    "hours_a_day": (0, 24),
    "layers": LAYERS,
    "least": (0.0, 17.0, SECTIONS_MM2[-1], CURRENT_A[1]),
    "length_m": ends(WiringKeys, "battery_cable_m"),
    "line_mm2": (LEAST, 20.0, SECTIONS_MM2[-1], 4e4),
    "litres_h_full": ends(GeneratorRow, "litres_h_full"),
    "litres_h_idle": ends(GeneratorRow, "litres_h_idle"),
    "load_a": CURRENT_A,
    "load_w": [np.full(24, one) for one in POWER_W],
    "loads": SURVEYS,
    "max_dod": DEPTH,
    "max_drop_v": (LEAST, BANK_V[1]),
    "mode": ["float", "boost"],
    "no_load_w": ends(InverterRow, "no_load_w", UNITS),
    "ohm_per_km": ends(CableRow, "ohm_per_km"),
    "per_cell": [(3.0, 5.0), (2.5, 2.6), (3.35, 3.6)],
    "peukert": PEUKERT,
    "peukerts": [np.array(PEUKERT)],
    "power_w": (LEAST, POWER_W[1]),
    "price": (0.0, MONEY[1]),
    "price_drift": DRIFT,
    "profiles": DAYS_W,
    "provided": POWER_W,
    "quiet_from_h": (0, 23),
    "quiet_hours": (0, 23),
    "rate": RATE,
    "rate_h": ends(BatteryRow, "rate_h"),
    "rated_degc": ends(BatteryRow, "float_life_degc"),
    "rated_years": ends(BatteryRow, "float_life_years"),
    "rating_a": (LEAST, 16.0, 151.0, CURRENT_A[1]),
    "required": POWER_W,
    "room_degc": ROOM_DEGC,
    "round_trip": ends(BatteryRow, "round_trip"),
    "run": [CableRun(cable, 4, fuse) for cable in CABLES for fuse in FUSES],
    "run_h": (0, HOURS[1]),
    "runs": (1, 4),
    "season": [SEASON],
    "seasons": [[SEASON]],
    "service_life_years": LIFE,
    "share": (0.0, 1e34),  # the largest load over the smallest bank
    "shares": [[Decimal(1)], [Decimal("0.333"), Decimal("0.667")], []],
    "sizes": [BREAKERS_A, SECTIONS_MM2],
    "start": (0, HORIZON[1]),
    "start_after_h": ends(GeneratorKeys, "start_after_h"),
    "start_h": (0.0, 23.999),
    "stretches": [windows(layers, hours) for layers in LAYERS for hours in HOURS],
    "string_v": BANK_V,
    "system_v": BANK_V,
    "temperature_degc": ROOM_DEGC,
    "temperatures_degc": [list(ROOM_DEGC), [ROOM_DEGC[1]] * 12],
    "terminal_v": BANK_V,
    "times_a_year": [np.array([0.0, 1e4]), np.array([1e4, 1e4])],
    "total": [Decimal(0), Decimal(10**26)],
    "transfer_ms": ends(InverterRow, "transfer_ms"),
    "value": MONEY,
    "voltage_v": BANK_V,
    "wear_per_year": (0.0, 1e48),
    "years": HORIZON,
}
#: What the loader refuses: the first above the second.
REFUSED = [("litres_h_idle", "litres_h_full")]
LIVES = [np.array(LIFE)]
BY_FORMULA = {
    "ageing.service_life_years": {"float_life_years": (1e-22, 40.0)},
    "generator.litres": {"power_w": ends(GeneratorRow, "power_w")},
    "generator.refillable_wh": {"power_w": ends(GeneratorRow, "power_w")},
    "hydrogen.opening_cm2": {"air_flow_m3_per_h": (0.0, 1e8)},
    "load.hourly_shares": {"windows": [[], [(0.0, 24.0)], [(6.5, 8.0), (23.5, 30.0)]]},
    "money.capital_recovery_factor": {"rate": MONTHLY, "years": (1, 12 * HORIZON[1])},
    "money.yearly_costs_factor": {"rate": MONTHLY, "end": (0, 12 * HORIZON[1])},
    "rate.depth_taken": {"hours": (1.0, HOURS[1])},
    "renewals.sum_of_powers": {
        "log_ratio": (-44.0, -5e-324, 0.0, 5e-324, 0.457 * LIFE[0]),
        "count": (0.0, 1.0, 1 + HORIZON[1] / LIFE[0]),
    },
    "renewals.yearly_health": {"service_life_years": LIVES, "end_of_life_soh": [np.array(SOH)]},
    "temperature.heat_factor": {
        "power_w": ends(InverterRow, "power_w"),
        "power_w_40c": ends(InverterRow, "power_w_40c"),
    },
    "windows.clock_wh": {"season": [0]},
    "wiring.choose_cable": {"current_a": (LEAST, 100.0, 1e24)},
    "wiring.conductor_degc": {"current_a": (0.0, 1e24)},
    "wiring.voltage_drop_v": {"current_a": (0.0, 1e24)},
}


def stated(formula):
    """The ranges that a formula states in the line under Returns, and that line."""
    if "bool" in str(inspect.signature(formula).return_annotation):
        return [(0.0, 1.0)], "bool"
    lines = inspect.getdoc(formula).splitlines()
    assert "Returns" in lines, "it states no range: no Returns"
    line = lines[lines.index("Returns") + 2]
    found = [(float(low), float(high)) for low, high in STATED.findall(line)]
    assert found, f"it states no range: {line}"
    assert all(math.isfinite(low) and math.isfinite(high) and low < high for low, high in found)
    return found, line


def figures(value):
    """Every number in what a formula returned."""
    if isinstance(value, CableRun):
        return [float(value.runs)]
    if isinstance(value, Stretches):
        return [*figures(value.energy_wh), value.largest_wh]
    if is_dataclass(value):
        return [one for field in fields(value) for one in figures(getattr(value, field.name))]
    if isinstance(value, (tuple, list)):
        return [one for part in value for one in figures(part)]
    return np.ravel(np.asarray(value, dtype=float)).tolist()


def at_the_ends(name, formula):
    """What a formula returns at every combination of the ends of its parameters."""
    own = BY_FORMULA.get(name, {})
    names = list(inspect.signature(formula).parameters)
    for values in product(*(own[one] if one in own else BY_NAME[one] for one in names)):
        given = dict(zip(names, values, strict=True))
        if not any(given.get(low, 0) > given.get(high, 0) for low, high in REFUSED):
            yield given, formula(**given)


@pytest.mark.parametrize("name", FORMULAS)
def test_what_it_returns_is_finite_and_within_the_range_it_states(name):
    formula = FORMULAS[name]
    ranges, line = stated(formula)
    most = [-math.inf] * len(ranges)
    for given, value in at_the_ends(name, formula):
        if value is None:
            assert "None" in line, f"None at {given}"
            continue
        parts = value if isinstance(value, tuple) and len(ranges) > 1 else [value]
        for at, ((low, high), part) in enumerate(zip(ranges, parts, strict=True)):
            for one in figures(part):
                if one == math.inf and "infinite" in line:
                    continue
                assert low <= one <= high, f"{one:g} at {given}, stated {line}"
                most[at] = max(most[at], one)
    assert all(one >= high / 100 for one, (_, high) in zip(most, ranges, strict=True)), most
