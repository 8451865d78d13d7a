"""The lead-acid worksheet and the shipped cold shares."""

from __future__ import annotations

import math

import pytest

from optimizer.engine.cashflow import nominal_wh
from optimizer.formulas.rate import fixed_time_share
from optimizer.formulas.sizing import (
    ageing_factor,
    bank_layout,
    battery_power_w,
    charge_ah,
    cold_factor,
    section_sizes_ah,
    worksheet_ah,
)
from optimizer.formulas.temperature import cold_share
from tests.published.parts import make_bank, make_battery, make_job, shipped
from tests.published.table import Value, values

IEEE_485 = "IEEE Std 485, table 1, 25 °C base"
WORKSHEET = "stand-alone system worksheet, rows at 40, 50 and 60 °F"
UFC = "UFC 3-520-01, appendix E (US DoD 2002)"
IEEE_1013 = "order of IEEE Std 1013"
FORUM = "worked example in a public forum, recomputed"
SIX_VOLTS = make_battery(voltage_v=6.0, class_v=6, capacity_ah=225.0)
HOXIE = {60: 1.67, 300: 5.95, 240: 5.00}


def fahrenheit(degf: float) -> float:
    return (degf - 32) / 1.8


def ups_sheet_ah() -> float:
    power_w = battery_power_w(10_000, 0.8, 0.85)
    return worksheet_ah(charge_ah(power_w * 0.5, 1.0, 189), ageing=1.25, margin=1.10)


@values(
    # the table's own rows: a slip of the pen in ours would show
    Value("cold −3.9 °C", lambda: cold_factor(-3.9), "1.52", IEEE_485, "from memory"),
    Value("cold −1.1 °C", lambda: cold_factor(-1.1), "1.43", IEEE_485, "from memory"),
    Value("cold 1.7 °C", lambda: cold_factor(1.7), "1.35", IEEE_485, "from memory"),
    Value("cold 7.2 °C", lambda: cold_factor(7.2), "1.25", IEEE_485, "from memory"),
    Value("cold 12.8 °C", lambda: cold_factor(12.8), "1.15", IEEE_485, "from memory"),
    Value("cold 18.3 °C", lambda: cold_factor(18.3), "1.08", IEEE_485, "from memory"),
    Value("cold 21.1 °C", lambda: cold_factor(21.1), "1.04", IEEE_485, "from memory"),
    Value("no credit for warmth", lambda: cold_factor(35), "1.00", IEEE_485, "from memory"),
    # the worksheet is in °F: a row falls between two of ours by up to 0.05 °C
    Value("cold 40 °F", lambda: cold_factor(fahrenheit(40)), "1.30", WORKSHEET, "secondary source"),
    Value("cold 50 °F", lambda: cold_factor(fahrenheit(50)), "1.19", WORKSHEET, "secondary source"),
    Value("cold 60 °F", lambda: cold_factor(fahrenheit(60)), "1.11", WORKSHEET, "secondary source"),
    Value("ageing 80 %", lambda: ageing_factor(0.80), "1.25", UFC, "published"),
    Value(
        "lead-acid is retired at 80 %",
        lambda: shipped("flooded").end_of_life_soh,
        "0.80",
        "UFGS-16265A",
        "published",
    ),
    Value("7.5 kVA [kW]", lambda: battery_power_w(7.5, 0.8, 0.92), "6.52", UFC, "published"),
    Value("10 kVA, half an hour [Ah]", ups_sheet_ah, "34.236", "a project's UPS sheet",
          "secondary source"),
    Value("worksheet: a day [Ah]", lambda: charge_ah(4800, 0.90, 48), "111.1", IEEE_1013,
          "arithmetic"),
    Value("worksheet: 1.5 days [Ah]", lambda: charge_ah(1.5 * 4800, 0.90, 48), "166.7", IEEE_1013,
          "arithmetic"),
    Value(
        "worksheet: half depth [Ah]",
        lambda: worksheet_ah(charge_ah(1.5 * 4800, 0.90, 48), max_dod=0.5),
        "333.3",
        IEEE_1013,
        "arithmetic",
    ),
    Value(
        "worksheet: cold [Ah]",
        lambda: worksheet_ah(charge_ah(1.5 * 4800, 0.90, 48), max_dod=0.5, cold=cold_factor(10)),
        "396.7",
        IEEE_1013,
        "arithmetic",
        0.15,  # 333.3 × 1.19: the sheet rounds before it multiplies
    ),
    Value(
        "three days at half depth [Ah]",
        lambda: worksheet_ah(charge_ah(3 * 1520, 0.85, 24), max_dod=0.5),
        "447",
        FORUM,
        "public worked example",
    ),
    Value("380 W for 4 h [Wh]", lambda: charge_ah(380 * 4, 0.648, 1), "2345.7", FORUM,
          "public worked example"),
    Value("380 W for 4 h [Ah]", lambda: charge_ah(380 * 4, 0.648, 12), "195.5", FORUM,
          "public worked example"),
    Value(
        "one section [Ah]",
        lambda: section_sizes_ah([50, 20], [60, 240], HOXIE.__getitem__)[0],
        "83.5",
        "IEEE Std 485, section method",
        "arithmetic",
    ),
    Value(
        "both sections [Ah]",
        lambda: section_sizes_ah([50, 20], [60, 240], HOXIE.__getitem__)[1],
        "147.5",
        "IEEE Std 485, section method",
        "arithmetic",
    ),
    Value(
        "sections with factors [Ah]",
        lambda: worksheet_ah(
            max(section_sizes_ah([50, 20], [60, 240], HOXIE.__getitem__)),
            cold=cold_factor(21.1),
            margin=1.10,
            ageing=ageing_factor(0.8),
        ),
        "210.9",
        "IEEE Std 485, section method",
        "arithmetic",
    ),
    Value(
        "energy of four units [Wh]",
        lambda: nominal_wh(make_job(), make_bank(SIX_VOLTS, 2, 2), 20),
        "5400",
        "units × volts × ampere-hours",
        "arithmetic",
    ),
    Value("depth for lasting", lambda: shipped("flooded").max_dod[-1], "0.5", "lead-acid to last",
          "common practice"),
)  # fmt: skip
def test_value(value):
    value.check()


@pytest.mark.parametrize(
    ("wanted_ah", "voltage_v", "unit_ah", "unit_v", "layout"),
    [
        (396.7, 48, 100, 12, (4, 4)),  # IEEE Std 1013's order, arithmetic
        (675, 24, 225, 6, (4, 3)),  # public forum, recomputed
    ],
)
def test_layout_of_a_bank(wanted_ah, voltage_v, unit_ah, unit_v, layout):
    assert bank_layout(wanted_ah, voltage_v, unit_ah, unit_v) == layout


@pytest.mark.parametrize("degc", [-3.9, 4.4, 10.0, 15.6, 21.1, 25.0])
@pytest.mark.parametrize("chemistry", ["flooded", "tubular", "agm", "gel"])
def test_shipped_cold_shares_are_the_standards_factors_turned_over(chemistry, degc):
    share = cold_share(shipped(chemistry).cold_points, degc)
    assert share == pytest.approx(1 / cold_factor(degc), abs=0.0011)


def test_a_handbook_is_milder_in_the_cold_than_the_default():
    # King & Knight, Uninterruptible Power Supplies, McGraw-Hill, p. 199 (published): at 10 °C
    # and the 8 h rate 0.895 of the capacity; the default stays on the safe side of it
    share = cold_share(shipped("flooded").cold_points, 10.0)
    assert share == pytest.approx(0.84, abs=0.005)
    assert share < 0.895


def test_a_worksheet_with_another_base_is_milder_at_the_freezing_point():
    # worksheet in public (secondary source), 80 °F base: 1.40 at −1.1 °C where the table of the
    # standard has 1.43
    assert cold_factor(-1.1) / 1.40 == pytest.approx(1.021, abs=0.001)


def test_below_the_table_nothing_is_known():
    assert math.isnan(cold_factor(-10))


def test_the_program_asks_for_no_less_than_the_worksheet_at_the_rated_hours():
    # at the rated hours there is no rate effect: sheet and model must say the same
    need_ah = worksheet_ah(charge_ah(1000, 0.9, 12), max_dod=0.5, cold=cold_factor(10))
    share = float(fixed_time_share(20, 20, 1.25)) * cold_share(shipped("agm").cold_points, 10.0)
    assert 1000 / 0.9 / 12 / (0.5 * share) == pytest.approx(need_ah, rel=1e-3)
