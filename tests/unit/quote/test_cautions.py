"""What is unsafe if followed to the letter: each instruction that people act on, once."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from optimizer import frontier
from optimizer.comparison.tier_costs import tiers
from optimizer.engine.relaxations import Question, relaxations_of
from optimizer.inputs import site_keys
from optimizer.inputs.columns import columns_of
from optimizer.model.diagnosis import Opening, RelaxationKind
from optimizer.model.job import Fuse
from optimizer.quote.cautions import Caution, Hazard, RoomNote, cautions, hazards, room_notes
from optimizer.quote.electrical import electrical_sheet
from optimizer.quote.figures import FigureKind, Note, State
from optimizer.report.grids import circuit as grids
from optimizer.report.grids.tiers import tiers as tier_grid
from optimizer.report.quote import quote_bytes
from optimizer.report.words import electrical, figure_notes, handover, notes, relaxations
from optimizer.report.words.writer import Writer
from tests.published.parts import make_bank, make_battery, make_design, make_job, make_load
from tests.unit.quote.made import curve, quote

WRITE = Writer("EUR")
LEAD = make_battery("agm")
VENTED = make_battery("flooded", battery="Wet")
LFP = make_battery("lfp", voltage_v=12.8)


def job_of(**marks):
    return make_job(make_load("Pump", 100.0), make_load("Ventilator", 50.0, **marks))


def told(job, *batteries):
    """The cautions and room notes of a chain of banks, in words."""
    banks = [make_bank(one, start=2 * n, end=2 * n + 2) for n, one in enumerate(batteries)]
    design = make_design(*banks)
    said = electrical.cautions(WRITE, job.critical_loads)
    place = electrical.room_notes(WRITE, design)
    return [said[one] for one in cautions(job, design)], [place[one] for one in room_notes(design)]


def in_order(text, *words):
    places = [text.lower().index(word) for word in words]
    return places == sorted(places)


def test_the_yearly_test_keeps_lay_people_from_the_terminals():
    """No terminal is touched; the RCD's button puts out the light; topping up is another day."""
    sheet = quote("clinic").options[0].handover
    vented = replace(sheet, test=replace(sheet.test, top_up=True))
    steps = list(handover.test_steps(WRITE, vented))
    text = " ".join(steps)
    assert "Touch no terminals; covers stay closed." in text
    assert "everything behind it goes dark" in text
    assert text.count("Press the test button") == 1
    assert in_order(text, "give medical devices another supply first", "switch off the main")
    assert in_order(steps[-2], "another day", "after a full charge", "gloves and goggles")
    assert "proves the device, not the earthing" in text


def test_the_sheet_by_the_fuse_board_says_four_hazards_and_whom_to_call():
    sheet = replace(quote("clinic").options[0].handover, hazards=tuple(Hazard))
    lines = handover.hazards(WRITE, sheet, "0000 118")
    assert "live when the grid is off" in lines[0]
    assert "No flame, no sparks, no smoking" in lines[1]
    assert "swelling" in lines[2]
    assert "leave" in lines[2]
    assert "0000 118" in lines[3]
    assert "Oxygen concentrator" in lines[4]
    blank = handover.hazards(WRITE, sheet, None)
    assert "____" in blank[3]
    assert Hazard.NO_SPARKS not in hazards(make_design(make_bank(LFP)))
    assert Hazard.NO_SPARKS in hazards(make_design(make_bank(LFP), make_bank(LEAD, start=5)))


def test_a_heavier_bank_needs_the_structural_engineer():
    opening = Opening(RelaxationKind.BANK_MASS, now=150.0, needed=667.0)
    assert "if a structural engineer" in relaxations.opening(WRITE, opening)


@pytest.mark.parametrize("short_circuit_a", [None, 2000.0])
def test_not_yet_known_is_no_pass(short_circuit_a):
    """A fuse whose fault current or voltage nobody knows is never within the limit."""
    battery = make_battery("agm", short_circuit_a=short_circuit_a)
    design = make_design(make_bank(battery), power_w=1500.0)
    run = replace(design.wiring, fuse=Fuse(rating_a=200.0, price=1.0, breaking_ka=20.0))
    sheet = electrical_sheet(job_of(), replace(design, wiring=run))
    rows = {row[0]: row for row in grids.figures(WRITE, sheet).rows}
    fault = rows["Short-circuit current of the bank"]
    assert ("Within the limit" in fault[-1]) is (short_circuit_a is not None)
    assert ("Ask the maker" in fault[-1]) is (short_circuit_a is None)
    voltage = rows["Direct voltage that an inverter's fuse breaks"]
    assert voltage[-1].startswith("Not yet known.")
    states = {row[0]: row[4] for row in grids.circuit(WRITE, sheet.circuit).rows}
    assert states["Inverter fuse"] == "not yet known"


def test_the_order_of_connecting():
    said, _ = told(job_of(), LEAD)
    text = next(one for one in said if "In this order" in one)
    assert in_order(text, "isolator open", "polarity", "torque", "fuse in", "pre-charge", "closed")


def test_only_vented_banks_are_topped_up():
    for batteries, is_vented in (((LEAD,), False), ((VENTED,), True), ((LEAD, VENTED), True)):
        _, place = told(job_of(), *batteries)
        text = " ".join(place)
        assert ("top up" in text) is is_vented
        assert ("measure" in text) is is_vented


def test_valve_regulated_lead_acid_needs_air_too():
    help_text = str(columns_of(site_keys.BatteryRoomKeys)["vented_allowed"].help)
    assert "valve-regulated lead-acid needs fresh air too" in help_text
    figures = electrical_sheet(job_of(), make_design(make_bank(LEAD))).figures
    flow = next(one for one in figures if one.kind is FigureKind.BOOST_AIR)
    assert isinstance(flow.value, float)
    assert flow.value > 0


def test_a_later_bank_counts_for_air_distance_and_cautions():
    """Lithium now, vented from year 3: twelve volts and 100 Ah, six cells a block."""
    design = make_design(make_bank(LFP, end=2), make_bank(VENTED, start=2, end=10))
    sheet = electrical_sheet(job_of(), design)
    air = [one for one in sheet.figures if one.kind is FigureKind.SPARK_DISTANCE]
    assert len(air) == 1
    assert air[0].given("from year") == 3
    assert air[0].given("N") == 6
    assert air[0].value == pytest.approx(28.8 * (20 * 100 * 6) ** (1 / 3))
    assert Note.NOT_IN_SERVICE_YET in air[0].notes
    assert {Caution.HYDROGEN, Caution.ACID, Caution.LITHIUM_COLD} <= set(sheet.cautions)
    assert {RoomNote.ACID_PROOF, RoomNote.NO_FIRE} <= set(sheet.room_notes)
    both = make_design(make_bank(LEAD, end=2), make_bank(VENTED, start=2, end=10))
    kinds = [one.kind for one in electrical_sheet(job_of(), both).figures]
    assert kinds.count(FigureKind.SPARK_DISTANCE) == kinds.count(FigureKind.BOOST_AIR) == 2
    same = make_design(make_bank(LEAD, end=2), make_bank(LEAD, start=2, end=10))
    kinds = [one.kind for one in electrical_sheet(job_of(), same).figures]
    assert kinds.count(FigureKind.SPARK_DISTANCE) == 1


def test_whose_health_hangs_on_a_load_hears_of_a_second_source():
    """On the electrician's sheet, the household's, and in the quote's data."""
    said, _ = told(job_of(critical=True), LEAD)
    assert any("give Ventilator a second source" in one for one in said)
    said, _ = told(job_of(), LEAD)
    assert not any("second source" in one for one in said)
    data = json.loads(quote_bytes(quote("clinic"), ".json"))
    names = ["Oxygen concentrator", "Patient monitor"]
    for option in data["options"]:
        assert option["handover"]["critical"] == names
        assert "second_source" in option["electrical"]["cautions"]


@pytest.mark.slow
@pytest.mark.parametrize("command", [("check",), ("choose", "--hours", "4")])
def test_the_terminal_and_its_json_tell_of_it_too(keeplit, command):
    name, *options = command
    ran = keeplit(name, "clinic", *options)
    assert "Oxygen concentrator and Patient monitor a second source" in " ".join(ran.out.split())
    found = keeplit(name, "clinic", *options, "--json").json
    assert found["critical_loads"] == ["Oxygen concentrator", "Patient monitor"]


def test_all_wiring_belongs_to_a_licensed_electrician():
    assert "All wiring, the battery side included" in notes.caution(WRITE)


def test_the_rcds_button_does_not_prove_the_earthing():
    text = figure_notes.MEANINGS[FigureKind.RCD].english
    assert "Its button does not prove the earthing" in text
    assert "installer measures trip time and loop impedance" in text


def test_acid_is_rinsed_and_then_seen_by_a_doctor():
    said, _ = told(job_of(), LEAD)
    assert any(in_order(one, "rinse long", "medical help") for one in said if "The acid" in one)


@pytest.mark.slow
def test_no_customer_reads_that_a_clause_is_from_memory():
    for option in quote("house").options:
        for row in grids.figures(WRITE, option.sheet).rows:
            assert not any("from memory" in str(cell) for cell in row)


@pytest.mark.slow
def test_a_floor_load_rings_no_alarm():
    """The pressure stands beside its limit, with the area to spread it over; no verdict."""
    for option in quote("hall").options:
        floor = [one for one in option.sheet.figures if one.kind is FigureKind.FLOOR_PRESSURE]
        assert all(one.state is None for one in floor)


def test_what_the_bank_takes_bounds_charger_and_recharge_time():
    """A charger of 100 A behind a bank of 100 Ah that takes 0.2 an hour: 20 A are set."""
    battery = make_battery(
        "agm", charge_rate_min=0.0, charge_rate_max=0.2, max_dod=0.5, charge_factor=1.2
    )
    sheet = electrical_sheet(
        make_job(make_load("Lamp", 10.0), recharge_hours=2.0),
        make_design(make_bank(battery), charger_a=100.0),
    )
    found = {one.kind: one for one in sheet.figures}
    assert found[FigureKind.CHARGING_CURRENT].value == pytest.approx(20.0)
    assert Note.CHARGER_TURNED_DOWN in found[FigureKind.CHARGING_CURRENT].notes
    assert found[FigureKind.RECHARGE_TIME].value == pytest.approx(1.2 * 50 / 20)
    assert found[FigureKind.NEEDED_CHARGING_CURRENT].state is State.BEYOND_LIMIT
    assert FigureKind.LEAST_CHARGING_CURRENT not in found


@pytest.mark.parametrize(("hours", "state"), [(240.0, State.SIZED), (2.0, State.BEYOND_LIMIT)])
def test_each_limit_of_the_charging_current_has_its_figure(hours, state):
    """A charger of 4 A behind 100 Ah that ask for 0.05 an hour: 5 A, whatever the time."""
    battery = make_battery("agm", charge_rate_min=0.05, max_dod=0.5, charge_factor=1.2)
    sheet = electrical_sheet(
        make_job(make_load("Lamp", 10.0), recharge_hours=hours),
        make_design(make_bank(battery), charger_a=4.0),
    )
    found = {one.kind: one for one in sheet.figures}
    least, in_time = (
        found[FigureKind.LEAST_CHARGING_CURRENT],
        found[FigureKind.NEEDED_CHARGING_CURRENT],
    )
    assert (least.value, least.state) == (pytest.approx(5.0), State.BEYOND_LIMIT)
    assert (in_time.value, in_time.state) == (pytest.approx(1.2 * 50 / hours), state)


@pytest.mark.slow
def test_the_tiers_side_by_side_keep_what_stays_on():
    """A bed pump of the last tier counts with the first, and the table says so."""
    lamp, pump = make_load("Lamp", 60.0), make_load("Pump", 40.0, tier="nice", never_off=True)
    kettle = make_load("Kettle", 90.0, tier="nice")
    job = replace(curve("house").job, loads=(lamp, pump, kettle)).with_site(
        tiers=("essential",), max_hours=2, target_hours=1
    )
    found = tiers(job)
    assert found.staying_on == ("Pump",)
    with_pump = replace(job, loads=(lamp, replace(pump, tier="essential")))
    alone = frontier(with_pump)
    assert found.curves[0].curve.at(1).life_cycle_cost == pytest.approx(alone.at(1).life_cycle_cost)
    notes_below = tier_grid(WRITE, found, (1,)).notes
    assert any("Pump" in one for one in notes_below)


def test_no_advice_tampers_with_a_critical_motor():
    """Neither its start nor the peak below what stays on is to be tamed."""
    pump = make_load("Pump", 500.0, starting_w=3000.0, critical=True)
    job = make_job(pump, make_load("Lamp", 100.0))
    kinds = [one.kind for one in relaxations_of(Question(job, 4))]
    assert RelaxationKind.LARGEST_START not in kinds
    calm = make_job(replace(pump, critical=False), make_load("Lamp", 100.0))
    assert RelaxationKind.LARGEST_START in [one.kind for one in relaxations_of(Question(calm, 4))]
    both = make_job(
        make_load("A", 500.0, never_off=True),
        make_load("B", 400.0, only_with="A"),
        make_load("C", 100.0),
    )
    peak = next(one for one in relaxations_of(Question(both, 4)) if one.kind is RelaxationKind.PEAK)
    assert min(peak.settings) == 900.0
