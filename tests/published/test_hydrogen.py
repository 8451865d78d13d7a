"""Gas from charging batteries."""

from __future__ import annotations

import pytest

from optimizer.formulas.hydrogen import (
    AIR_M3_PER_AH,
    air_flow_m3_per_h,
    gassing_ma_per_ah,
    opening_cm2,
    safety_distance_mm,
)
from tests.published.table import Value, values

IEC = "IEC 62485-2, clause 7"
TABLE = "IEC 62485-2, clause 7, gassing currents"
ROOM = "battery room with nickel-cadmium cells, 0.0504 unrounded"
#: The clause's own product: dilution, hydrogen of an ampere-hour [m³/Ah], safety factor.
UNROUNDED_M3_PER_AH = 24 * 0.42e-3 * 5


def vented(mode: str) -> float:
    return air_flow_m3_per_h(24, 200, gassing_ma_per_ah("vented", mode))


def regulated(mode: str) -> float:
    return air_flow_m3_per_h(24, 200, gassing_ma_per_ah("valve_regulated", mode))


def nickel_cadmium(gassing: float) -> float:
    return air_flow_m3_per_h(95, 1450, gassing) * UNROUNDED_M3_PER_AH / AIR_M3_PER_AH


@values(
    Value("vented, float [mA/Ah]", lambda: gassing_ma_per_ah("vented", "float"), "5", TABLE,
          "published"),
    Value("vented, boost [mA/Ah]", lambda: gassing_ma_per_ah("vented", "boost"), "20", TABLE,
          "published"),
    Value("valve-regulated, float [mA/Ah]",
          lambda: gassing_ma_per_ah("valve_regulated", "float"), "1",
          TABLE, "published"),
    Value("valve-regulated, boost [mA/Ah]",
          lambda: gassing_ma_per_ah("valve_regulated", "boost"), "8",
          TABLE, "published"),
    Value("95 cells at 5 mA/Ah [m³/h]", lambda: nickel_cadmium(5), "34.71", ROOM,
          "public worked example"),
    Value("95 cells at 50 mA/Ah [m³/h]", lambda: nickel_cadmium(50), "347.13", ROOM,
          "public worked example"),
    Value("95 cells at 200 mA/Ah [m³/h]", lambda: nickel_cadmium(200), "1388.52", ROOM,
          "public worked example"),
    Value("24 vented cells, float [m³/h]", lambda: vented("float"), "1.20", IEC, "arithmetic"),
    Value("24 vented cells, boost [m³/h]", lambda: vented("boost"), "4.80", IEC, "arithmetic"),
    Value("opening, float [cm²]", lambda: opening_cm2(vented("float")), "33.6", IEC, "arithmetic"),
    Value("opening, boost [cm²]", lambda: opening_cm2(vented("boost")), "134.4", IEC, "arithmetic"),
    Value("24 regulated cells, float [m³/h]", lambda: regulated("float"), "0.24", IEC,
          "arithmetic"),
    Value("24 regulated cells, boost [m³/h]", lambda: regulated("boost"), "1.92", IEC,
          "arithmetic"),
    Value("distance [mm]", lambda: safety_distance_mm(200, 20), "457", IEC, "from memory"),
)  # fmt: skip
def test_value(value):
    value.check()


def test_lithium_gives_no_gas_in_service():
    assert gassing_ma_per_ah("none", "float") == gassing_ma_per_ah("none", "boost") == 0


def test_a_table_per_hundred_ampere_hours_is_a_trap():
    # a secondary table prints mA per 100 Ah: a room sized by it would get a hundredth of the air
    assert vented("boost") / air_flow_m3_per_h(24, 200, 20 / 100) == pytest.approx(100)


def test_the_clause_rounds_its_own_product():
    assert round(UNROUNDED_M3_PER_AH, 4) == 0.0504
    assert round(UNROUNDED_M3_PER_AH, 2) == AIR_M3_PER_AH
