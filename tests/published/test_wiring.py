"""Resistance, drop, ampacity and fuses of battery cables."""

from __future__ import annotations

from optimizer import load
from optimizer.formulas.inverter import direct_current_a
from optimizer.formulas.wiring import (
    CONTINUOUS_FACTOR,
    awg_section_mm2,
    choose_cable,
    voltage_drop_v,
)
from tests.published.parts import CABLES, FUSES
from tests.published.table import Value, values

# IEC 60228 at 20 °C [Ω/km] (published): flexible (class 5)
CLASS_5 = {
    1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780, 35: 0.554, 50: 0.386,
    70: 0.272, 95: 0.206, 120: 0.161, 150: 0.129, 240: 0.0801,
}  # fmt: skip
ASTM = "ASTM B258"
LOOP = "installers' table of losses over a 30 ft loop at 100 A"
FEET_30_M = 30 * 0.3048
ROOM = {"system_v": 24, "room_degc": 25}


def conductor_ohm_per_km(section_mm2: float, resistivity: float = 1 / 58) -> float:
    """Solid copper at 20 °C (IEC 60028)."""
    return resistivity * 1000 / section_mm2


def loop_drop_v(gauge: str) -> float:
    return voltage_drop_v(FEET_30_M / 2, conductor_ohm_per_km(awg_section_mm2(gauge)), 100)


def fuse_a(power_w: float, efficiency: float, lowest_v: float) -> float:
    current_a = direct_current_a(power_w, efficiency, lowest_v)
    run = choose_cable(CABLES, FUSES, current_a=current_a, length_m=0.5, max_drop_v=1.0, **ROOM)
    return run.fuse.rating_a


@values(
    Value("AWG 4/0 [mm²]", lambda: awg_section_mm2("4/0"), "107.22", ASTM, "published"),
    Value("AWG 2/0 [mm²]", lambda: awg_section_mm2("2/0"), "67.43", ASTM, "published"),
    Value("AWG 1/0 [mm²]", lambda: awg_section_mm2("1/0"), "53.48", ASTM, "published"),
    Value("AWG 2 [mm²]", lambda: awg_section_mm2("2"), "33.63", ASTM, "published"),
    Value("AWG 4 [mm²]", lambda: awg_section_mm2("4"), "21.15", ASTM, "published"),
    Value("AWG 6 [mm²]", lambda: awg_section_mm2("6"), "13.30", ASTM, "published"),
    Value("100 A, 3 m, 35 mm² [V]", lambda: voltage_drop_v(3, CLASS_5[35], 100), "0.332",
          "2·L·I·R'", "arithmetic"),
    Value("125 A, 2 m, 50 mm² [V]", lambda: voltage_drop_v(2, CLASS_5[50], 125), "0.193",
          "2·L·I·R'", "arithmetic"),
    # no one resistivity gives all three
    Value("loop, 4 AWG [V]", lambda: loop_drop_v("4"), "0.75", LOOP, "secondary source", 0.015),
    Value("loop, 2 AWG [V]", lambda: loop_drop_v("2"), "0.48", LOOP, "secondary source", 0.015),
    Value("loop, 1/0 AWG [V]", lambda: loop_drop_v("1/0"), "0.30", LOOP, "secondary source", 0.015),
    Value("1 A, 20 m, 1.3 mm² [V]",
          lambda: voltage_drop_v(20, conductor_ohm_per_km(1.3, 0.01785), 1), "0.549",
          "worked example with ρ 0.01785", "public worked example"),
    Value("2 kW at 42 V [A]", lambda: direct_current_a(2000, 0.90, 42), "52.9", "P/(η·U)",
          "arithmetic"),
    Value("its fuse carries [A]", lambda: CONTINUOUS_FACTOR * direct_current_a(2000, 0.90, 42),
          "66.1", "1.25 × continuous", "arithmetic"),
    Value("its fuse [A]", lambda: fuse_a(2000, 0.90, 42), "80", "usual series", "from memory"),
    Value("3 kW at 21 V [A]", lambda: direct_current_a(3000, 0.90, 21), "158.7", "P/(η·U)",
          "arithmetic"),
    Value("its fuse carries [A]", lambda: CONTINUOUS_FACTOR * direct_current_a(3000, 0.90, 21),
          "198.4", "1.25 × continuous", "arithmetic"),
    Value("its fuse [A]", lambda: fuse_a(3000, 0.90, 21), "200", "usual series", "from memory"),
    Value("3 kW at 12 V [A]", lambda: direct_current_a(3000, 0.85, 12), "294", "P/(η·U)",
          "arithmetic"),
    Value("3 kW at 24 V [A]", lambda: direct_current_a(3000, 0.85, 24), "147", "P/(η·U)",
          "arithmetic"),
    Value("3 kW at 48 V [A]", lambda: direct_current_a(3000, 0.85, 48), "74", "P/(η·U)",
          "arithmetic"),
)  # fmt: skip
def test_value(value):
    value.check()


def test_the_demo_price_list_holds_the_standards_resistances():
    for cable in load("house").catalog.cables:
        assert cable.ohm_per_km == CLASS_5[cable.section_mm2]


def test_the_demo_price_list_promises_no_more_than_published_ampacities():
    # flexible single cores in free air, 60 °C rubber, two loaded (secondary source)
    published = {cable.section_mm2: cable.ampacity_a for cable in CABLES}
    shown = {c.section_mm2: c.ampacity_a for c in load("house").catalog.cables}
    for section_mm2, ampacity_a in published.items():
        assert 0.9 * ampacity_a <= shown[section_mm2] <= ampacity_a


def test_the_cable_carries_what_its_fuse_lets_through():
    # 158.7 A → 198.4 A: 50 mm² (175 A) is too thin, 70 mm² (216 A) carries it behind 200 A
    run = choose_cable(CABLES, FUSES, current_a=158.7, length_m=0.5, max_drop_v=1.0, **ROOM)
    assert (run.cable.section_mm2, run.runs, run.fuse.rating_a) == (70, 1, 200)
    assert CONTINUOUS_FACTOR * 158.7 <= run.fuse.rating_a <= run.cable.ampacity_a


def test_higher_voltage_takes_thinner_cable():
    # common practice: 3 kW at 85 % at 24 V and at 48 V
    sections = []
    for voltage_v in (24, 48):
        current_a = direct_current_a(3000, 0.85, voltage_v)
        run = choose_cable(
            CABLES, FUSES, current_a=current_a, length_m=2, max_drop_v=0.02 * voltage_v, **ROOM
        )
        sections.append(run.runs * run.cable.section_mm2)
    assert sections[0] > sections[1]


def test_demo_fuses_break_what_a_bank_can_push():
    # fuses for direct current with 20 kA (secondary source)
    assert all(fuse.breaking_ka >= 20 for fuse in load("house").catalog.fuses)
