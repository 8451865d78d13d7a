"""Protection at mains voltage: breakers, the copper behind them, earthing and bonding."""

from __future__ import annotations

import pytest

from optimizer.formulas.hydrogen import safety_distance_mm
from optimizer.formulas.protection import (
    BREAKERS_A,
    bonding_conductor_mm2,
    next_size,
    protective_conductor_mm2,
    section_behind_mm2,
)
from optimizer.formulas.wiring import ampacity_a, conductor_degc, copper_factor
from optimizer.model.job import Cable
from tests.published.table import Value, values

IEC_54 = "IEC 60364-5-54, clause 543, as two public pages print it (secondary source)"
BONDING = "IEC 60364-5-54, clause 544, as a public page prints it (secondary source)"
IEC_52 = "IEC 60364-5-52, method B1, two loaded conductors, PVC"
COPPER = "copper 1.20 times its resistance at 20 °C, warm at 70 °C"
DISTANCE = "IEC 62485-2, clause 7: 28.8 · ∛I_gas · ∛C · ∛N, the cautious reading of N"


def behind(rating_a: float) -> float:
    section_mm2 = section_behind_mm2(rating_a)
    assert section_mm2 is not None
    return section_mm2


@values(
    *(
        Value(f"protective conductor of a line of {line:g} mm²",
              lambda mm2=line: protective_conductor_mm2(mm2), printed, IEC_54, "secondary source")
        for line, printed in (
            (10, "10"), (16, "16"), (25, "16"), (35, "16"), (50, "25"), (70, "35"), (95, "50"),
            (240, "120"),
        )
    ),
    Value("alone and unprotected, of a line of 1.5 mm²",
          lambda: protective_conductor_mm2(1.5), "4", IEC_54, "secondary source"),
    Value("bonding, half of 25 mm², as made",
          lambda: bonding_conductor_mm2(25), "16", BONDING, "arithmetic"),
    Value("bonding, at least [mm²]",
          lambda: bonding_conductor_mm2(4), "6", BONDING, "secondary source"),
    Value("bonding, no need of more [mm²]",
          lambda: bonding_conductor_mm2(120), "25", BONDING, "secondary source"),
    Value("copper behind 100 A [mm²]", lambda: behind(100), "25", IEC_52, "secondary source"),
    Value("copper behind 16 A [mm²]", lambda: behind(16), "1.5", IEC_52, "from memory"),
    Value("copper behind 32 A [mm²]", lambda: behind(32), "4.0", IEC_52, "from memory"),
    Value("copper behind 63 A [mm²]", lambda: behind(63), "16", IEC_52, "from memory"),
    Value("copper at 70 °C", lambda: copper_factor(70), "1.20", COPPER, "published"),
    Value("distance from a block of 12 V, 100 Ah, 8 mA/Ah [mm]",
          lambda: safety_distance_mm(100, 8, cells=6), "486", DISTANCE, "from memory"),
    Value("the same, its cells not counted [mm]",
          lambda: safety_distance_mm(100, 8), "267", DISTANCE, "from memory"),
)  # fmt: skip
def test_protection(value):
    value.check()


@pytest.mark.parametrize("room_degc", [30.0, 40.0, 55.0])
def test_a_cable_at_its_ampacity_is_as_warm_as_its_insulation_bears(room_degc):
    """The rule behind the temperature factors of IEC 60364-5-52, read the other way."""
    cable = Cable(section_mm2=50.0, ampacity_a=166.0, ohm_per_km=0.386, price_per_m=1.0)
    assert conductor_degc(cable, room_degc, ampacity_a(cable, room_degc)) == pytest.approx(70.0)
    assert conductor_degc(cable, room_degc, 0.0) == room_degc


def test_the_next_breaker_carries_the_current():
    for current_a in (0.5, 6.0, 6.1, 24.9, 63.0, 125.0):
        rating_a = next_size(BREAKERS_A, current_a)
        assert rating_a is not None
        assert rating_a >= current_a
        assert all(one < current_a or one >= rating_a for one in BREAKERS_A)
    assert next_size(BREAKERS_A, 125.1) is None
