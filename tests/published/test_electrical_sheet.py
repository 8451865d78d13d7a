"""The figures of the electrical sheet, as an electrician reads them, against their sources.

The sheet takes 0.90 of the system voltage as the lowest; where a source names another voltage,
the power is chosen so that the current is the source's.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer.formulas.wiring import choose_cable
from optimizer.model.design import CableRun
from optimizer.model.job import Fuse
from optimizer.quote.cautions import Caution, RoomNote
from optimizer.quote.electrical import electrical_sheet
from optimizer.quote.figures import FigureKind as Kind
from optimizer.quote.figures import Note, State, Topic
from optimizer.report.grids.circuit import figures as figures_grid
from optimizer.report.words import electrical, figure_notes
from optimizer.report.words import figures as figure_words
from optimizer.report.words.writer import Writer
from tests.published.parts import CABLES, FUSES, make_bank, make_battery, make_design, make_job
from tests.published.table import Value, values

IEC_62485 = "IEC 62485-2, clause 7"
DROP = "2·L·I·R'"
RATING = "fuse of at least 1.25 × the continuous current, from the usual series"


def sheet_of(job, design):
    return {figure.kind: figure for figure in electrical_sheet(job, design).figures}


def is_within(figure) -> bool:
    assert figure.state is not State.NOT_YET_KNOWN
    return figure.state is State.SIZED


def lead_bank(gas: str):
    """24 cells of 2 V and 200 Ah in series."""
    battery = make_battery("flooded", voltage_v=2.0, class_v=2, capacity_ah=200.0)
    return make_bank(replace(battery, gas=gas), series=24)


def air(gas: str, name: Kind) -> float:
    return sheet_of(make_job(), make_design(lead_bank(gas), voltage_v=48))[name].value


def gassing_ma(gas: str, name: Kind) -> float:
    figure = sheet_of(make_job(), make_design(lead_bank(gas), voltage_v=48))[name]
    return next(given.value for given in figure.inputs if given.symbol == "I_gas")


def at_current(amps: float, volts: int, *, length_m: float = 2.0, section: float = 95.0):
    """A site and a design whose current at the lowest voltage is as wanted."""
    job = make_job(battery_cable_m=length_m, max_drop=0.1)
    power_w = amps * 0.9 * volts * 0.90
    units = volts // 12
    design = make_design(make_bank(make_battery(), series=units), voltage_v=volts, power_w=power_w)
    cable = next(cable for cable in CABLES if cable.section_mm2 == section)
    return job, replace(design, wiring=CableRun(cable, 1, FUSES[-1]))


def drop_v(amps: float, length_m: float, section: float) -> float:
    job, design = at_current(amps, 12, length_m=length_m, section=section)
    return sheet_of(job, design)[Kind.VOLTAGE_DROP].value


def fuse_figure(power_w: float, volts: int, lowest_v: float):
    """The fuse for a power at a lowest voltage, efficiency 0.90."""
    amps = power_w / 0.90 / lowest_v
    job, design = at_current(amps, volts)
    run = choose_cable(
        CABLES, FUSES, current_a=amps, length_m=0.5, max_drop_v=1.0, system_v=volts, room_degc=25
    )
    return sheet_of(job, replace(design, wiring=run))[Kind.FUSE]


def nominal_a(volts: int) -> float:
    bank = make_bank(make_battery(), series=volts // 12)
    design = make_design(bank, voltage_v=volts, power_w=3000.0, efficiency=0.85)
    return sheet_of(make_job(), design)[Kind.NOMINAL_CURRENT].value


@values(
    Value("24 vented cells 200 Ah, float [m³/h]", lambda: air("vented", Kind.FLOAT_AIR),
          "1.20", IEC_62485, "arithmetic"),
    Value("the same, boost [m³/h]",
          lambda: air("vented", Kind.BOOST_AIR), "4.80", IEC_62485,
          "arithmetic"),
    Value("openings, float [cm²]", lambda: air("vented", Kind.FLOAT_OPENING),
          "33.6", IEC_62485, "arithmetic"),
    Value("openings, boost [cm²]",
          lambda: air("vented", Kind.BOOST_OPENING), "134.4",
          IEC_62485, "arithmetic"),
    Value("valve-regulated, float [m³/h]", lambda: air("valve_regulated", Kind.FLOAT_AIR),
          "0.24", IEC_62485, "arithmetic"),
    Value("valve-regulated, boost [m³/h]",
          lambda: air("valve_regulated", Kind.BOOST_AIR), "1.92",
          IEC_62485, "arithmetic"),
    Value("gassing current, vented, float [mA/Ah]",
          lambda: gassing_ma("vented", Kind.FLOAT_AIR), "5", IEC_62485, "published"),
    Value("gassing current, vented, boost [mA/Ah]",
          lambda: gassing_ma("vented", Kind.BOOST_AIR), "20",
          IEC_62485, "published"),
    Value("gassing current, valve-regulated, float [mA/Ah]",
          lambda: gassing_ma("valve_regulated", Kind.FLOAT_AIR), "1",
          IEC_62485, "published"),
    Value("gassing current, valve-regulated, boost [mA/Ah]",
          lambda: gassing_ma("valve_regulated", Kind.BOOST_AIR), "8",
          IEC_62485, "published"),
    Value("distance, 20 mA/Ah, 200 Ah [mm]",
          lambda: air("vented", Kind.SPARK_DISTANCE), "457", IEC_62485,
          "from memory"),
)  # fmt: skip
def test_hydrogen(value):
    value.check()


@values(
    Value("100 A, 3 m, 35 mm² [V]", lambda: drop_v(100, 3, 35), "0.332", DROP, "arithmetic"),
    Value("125 A, 2 m, 50 mm² [V]", lambda: drop_v(125, 2, 50), "0.193", DROP, "arithmetic"),
    Value("3 kW at 85 %, 12 V [A]", lambda: nominal_a(12), "294", "P / η / U", "arithmetic"),
    Value("3 kW at 85 %, 24 V [A]", lambda: nominal_a(24), "147", "P / η / U", "arithmetic"),
    Value("3 kW at 85 %, 48 V [A]", lambda: nominal_a(48), "74", "P / η / U", "arithmetic"),
    Value("2,000 W, 42 V: 1.25 × current [A]",
          lambda: fuse_figure(2000, 48, 42).inputs[0].value, "66.1", RATING, "arithmetic"),
    Value("2,000 W, 42 V: fuse [A]", lambda: fuse_figure(2000, 48, 42).value, "80", RATING,
          "arithmetic"),
    Value("3,000 W, 21 V: 1.25 × current [A]",
          lambda: fuse_figure(3000, 24, 21).inputs[0].value, "198.4", RATING, "arithmetic"),
    Value("3,000 W, 21 V: fuse [A]", lambda: fuse_figure(3000, 24, 21).value, "200", RATING,
          "arithmetic"),
)  # fmt: skip
def test_direct_current(value):
    value.check()


@pytest.mark.parametrize(("amps", "meets"), [(112.0, True), (112.5, False)])
def test_a_cable_of_35_mm2_carries_140_a(amps, meets):
    """Two flexible single cores in free air, 60 °C rubber (secondary source); 1.25 × 112 = 140."""
    job, design = at_current(amps, 24, section=35.0)
    assert is_within(sheet_of(job, design)[Kind.CABLE]) is meets


@pytest.mark.parametrize(("strings", "meets"), [(2, True), (3, False)])
def test_a_fuse_must_break_what_the_bank_can_give(strings, meets):
    """A DC fuse breaks 20 kA (secondary source); 2 × 7.1 kA is within it, 3 × 7.1 kA beyond."""
    bank = make_bank(make_battery(short_circuit_a=7100.0), series=4, strings=strings)
    design = make_design(bank, voltage_v=48)
    design = replace(
        design,
        wiring=replace(design.wiring, fuse=Fuse(rating_a=400.0, price=1.0, breaking_ka=20.0)),
    )
    figure = sheet_of(make_job(), design)[Kind.SHORT_CIRCUIT]
    assert figure.value == pytest.approx(7.1 * strings)
    assert is_within(figure) is meets


MEMORY = "usual charging voltages of a cell; the maker's sheet prevails"


def charging(chemistry: str, name: Kind, end: int, **battery) -> float:
    bank = make_bank(make_battery(chemistry, **battery))
    value = sheet_of(make_job(), make_design(bank))[name].value
    return value[end] if isinstance(value, tuple) else value


LFP_48 = {"voltage_v": 51.2, "class_v": 48}


@values(
    *(
        Value(f"{chemistry}, {name}, {('low', 'high')[end]} [V]",
              lambda c=chemistry, n=name, e=end, b=battery: charging(c, n, e, **b),
              printed, MEMORY, "from memory", tolerance=1e-6)
        for chemistry, battery, name, end, printed in (
            ("flooded", {}, Kind.ABSORPTION_VOLTAGE, 0, "14.40"),  # 6 × 2.40
            ("flooded", {}, Kind.ABSORPTION_VOLTAGE, 1, "14.70"),  # 6 × 2.45
            ("flooded", {}, Kind.FLOAT_VOLTAGE, 0, "13.38"),  # 6 × 2.23
            ("flooded", {}, Kind.FLOAT_VOLTAGE, 1, "13.62"),  # 6 × 2.27
            ("agm", {}, Kind.ABSORPTION_VOLTAGE, 0, "14.40"),
            ("agm", {}, Kind.FLOAT_VOLTAGE, 1, "13.80"),
            ("gel", {}, Kind.ABSORPTION_VOLTAGE, 0, "14.10"),
            ("gel", {}, Kind.FLOAT_VOLTAGE, 0, "13.50"),
            ("lfp", LFP_48, Kind.ABSORPTION_VOLTAGE, 0, "55.20"),  # 16 × 3.45
            ("lfp", LFP_48, Kind.ABSORPTION_VOLTAGE, 1, "57.60"),
            ("lfp", LFP_48, Kind.FLOAT_VOLTAGE, 1, "54.40"),
        )
    )
)  # fmt: skip
def test_charging_voltages(value):
    value.check()


def test_the_makers_voltages_go_before_the_usual_ones():
    """By the unit: four of 14.3 V in series are 57.2 V (arithmetic)."""
    battery = make_battery("agm", absorption_v=14.3, float_v=13.6)
    found = sheet_of(make_job(), make_design(make_bank(battery, series=4), voltage_v=48))
    assert found[Kind.ABSORPTION_VOLTAGE].value == pytest.approx(57.2)
    assert found[Kind.FLOAT_VOLTAGE].value == pytest.approx(54.4)
    assert Note.MAKERS_VOLTAGE in found[Kind.ABSORPTION_VOLTAGE].notes


def refilled(name: Kind, **site) -> float:
    """A bank of 100 Ah drawn by 80 Ah, factor 1.2, behind a charger of 0.675 A."""
    battery = make_battery(max_dod=0.8, charge_factor=1.2, charge_rate_min=0.0)
    design = make_design(make_bank(battery), charger_a=0.675)
    return sheet_of(make_job(**site), design)[name].value


@values(
    Value("80 Ah at factor 1.2 in 36 h [A]",
          lambda: refilled(Kind.NEEDED_CHARGING_CURRENT, recharge_hours=36.0), "2.67",
          "k · Q / T", "arithmetic"),
    Value("80 Ah at factor 1.2 behind 0.675 A [h]",
          lambda: refilled(Kind.RECHARGE_TIME), "142", "k · Q / I",
          "arithmetic"),
    Value("40 W without load, a day [kWh]",
          lambda: sheet_of(make_job(), make_design(make_bank(make_battery()), no_load_w=40.0))[
              Kind.OWN_USE].value, "0.960", "P · 24 h", "arithmetic"),
    Value("300 kg on 0.6 × 0.4 m [kN/m²]",
          lambda: sheet_of(make_job(), make_design(make_bank(make_battery(
              mass_kg=300.0, length_mm=600.0, width_mm=400.0))))[
              Kind.FLOOR_PRESSURE].value, "12.3", "m · g / A",
          "arithmetic"),
)  # fmt: skip
def test_refill_own_use_and_floor(value):
    value.check()


@pytest.mark.parametrize(("transfer_ms", "meets"), [(20.0, True), (21.0, False)])
def test_computers_bear_20_ms_without_voltage(transfer_ms, meets):
    """ITI (CBEMA) curve: no voltage is borne for up to 20 ms (published)."""
    design = make_design(make_bank(make_battery()), transfer_ms=transfer_ms)
    assert is_within(sheet_of(make_job(), design)[Kind.TRANSFER_TIME]) is meets


def test_a_dwellings_floor_is_kept_or_not():
    """1.5 kN/m² is the lower end for homes (EN 1991-1-1, from memory): 30 kg on 0.5 × 0.5 m
    press with 1.18 kN/m², 60 kg with 2.35 (arithmetic)."""
    for mass_kg, is_spread in ((30.0, False), (60.0, True)):
        battery = make_battery(mass_kg=mass_kg, length_mm=500.0, width_mm=500.0)
        found = sheet_of(make_job(), make_design(make_bank(battery)))
        assert (Note.SPREAD_THE_LOAD in found[Kind.FLOOR_PRESSURE].notes) is is_spread
        assert found[Kind.FLOOR_AREA].value == pytest.approx(mass_kg * 9.80665 / 1500)


def test_every_figure_is_named_and_names_its_source():
    battery = make_battery(length_mm=500.0, width_mm=300.0, short_circuit_a=3000.0)
    design = make_design(make_bank(battery, series=2, strings=2), voltage_v=24)
    sheet, write = electrical_sheet(make_job(), design), Writer("EUR")
    grid = figures_grid(write, sheet)
    keys = [column.key for column in grid.columns]
    rows = [dict(zip(keys, row, strict=True)) for row in grid.rows if any(row[1:])]
    told = [one for figures in sheet.by_topic().values() for one in figures]
    assert len(rows) == len(told) == len(sheet.figures) > 50
    for row, figure in zip(rows, told, strict=True):
        assert row["figure"]
        assert row["source"]
        assert figure.inputs or "·" not in (row["formula"] or "")


def test_every_kind_of_figure_note_and_caution_has_its_words():
    write, design = Writer("EUR"), make_design(make_bank(make_battery()))
    assert set(figure_words.NAMES) == set(Kind)
    assert set(figure_notes.NOTES) == set(Note)
    assert set(electrical.TOPICS) == set(Topic)
    assert set(electrical.cautions(write, ())) == set(Caution)
    assert set(electrical.room_notes(write, design)) == set(RoomNote)


def test_a_later_bank_of_another_chemistry_is_told():
    lead = make_bank(make_battery("agm"), end=5)
    lithium = make_bank(make_battery("lfp", voltage_v=12.8), start=5)
    design = make_design(lead, lithium)
    notes = electrical_sheet(make_job(), design).room_notes
    assert RoomNote.OTHER_CHEMISTRY_LATER in notes
    told = electrical.room_notes(Writer("EUR"), design)[RoomNote.OTHER_CHEMISTRY_LATER]
    assert "another chemistry (lfp)" in told


def test_an_unknown_chemistry_has_its_makers_voltages_alone():
    battery = replace(make_battery("agm"), chemistry="zinc")
    found = sheet_of(make_job(), make_design(make_bank(battery)))
    assert found[Kind.ABSORPTION_VOLTAGE].value is None
    assert electrical.value(Writer("EUR"), found[Kind.ABSORPTION_VOLTAGE]) == "by the maker's sheet"
    assert found[Kind.FLOAT_AIR].inputs[0].value == 6  # 2 V a cell where nothing is known


@pytest.mark.parametrize(
    ("unit", "series", "cells"),
    [
        ({"voltage_v": 25.6, "class_v": 24}, 2, 16),  # 2 × 8 of 3.2 V
        ({"voltage_v": 22.4, "class_v": 24}, 2, 14),  # seven each
        ({"voltage_v": 48.0, "class_v": 48}, 1, 15),
        ({"voltage_v": 51.2, "class_v": 48}, 1, 16),
    ],
)
def test_cells_of_lithium_are_counted_by_the_units_own_voltage(unit, series, cells):
    """3.2 V a cell (from memory); no class of voltage tells fifteen cells from sixteen."""
    design = make_design(make_bank(make_battery("lfp", **unit), series=series), voltage_v=48)
    found = sheet_of(make_job(), design)
    assert found[Kind.COMPENSATION].given("z") == cells
    assert found[Kind.ABSORPTION_VOLTAGE].value[0] == pytest.approx(3.45 * cells)


def test_cells_of_lead_are_counted_by_the_class():
    """A unit of 12 V listed with 13.1 V has six cells, 3 to 5 mV each (from memory)."""
    design = make_design(make_bank(make_battery("agm", voltage_v=13.1), series=2), voltage_v=24)
    assert sheet_of(make_job(), design)[Kind.COMPENSATION].value == pytest.approx((36.0, 60.0))


@pytest.mark.parametrize(
    ("chemistry", "charger_a", "minutes"),
    [
        ("agm", 10.0, 166),  # 1.2 · 1 h · ln(0.1 / 0.01) = 2.763 h
        ("lfp", 15.0, 3),  # 1.2 · 0.1 h · ln(0.015 / 0.01) = 0.049 h
        ("lfp", 10.0, None),  # the current never falls before the bank is full
    ],
)
def test_the_absorption_time_is_in_minutes_that_can_be_set(chemistry, charger_a, minutes):
    """By the ampere-hour law (from memory), of 100 Ah; rounded up (arithmetic)."""
    battery = make_battery(chemistry, charge_factor=1.2, charge_rate_max=1.0)
    sheet = electrical_sheet(make_job(), make_design(make_bank(battery), charger_a=charger_a))
    found = next(one for one in sheet.figures if one.kind is Kind.ABSORPTION_TIME)
    assert (found.value, found.unit) == (minutes, "min")
    assert electrical.value(Writer("EUR"), found) == (None if minutes else "none")
