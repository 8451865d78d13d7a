"""The circuit of a design: which parts it has, how large, how far settled, at what price."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from optimizer.model.job import Cable, Contract, Fuse, Peak
from optimizer.model.part import LISTED_KINDS, ListedPart, PartKind
from optimizer.quote import Company, price, select
from optimizer.quote.circuit import Offered, make_circuit, parts_price
from optimizer.quote.electrical import electrical_sheet
from optimizer.quote.figures import FigureKind, Note, State
from optimizer.quote.options import Pick
from optimizer.quote.priced_lines import sold_at_start
from optimizer.quote.sums import Part
from optimizer.report.grids import circuit as grids
from optimizer.report.words import circuit as words
from optimizer.report.words.writer import Writer
from tests.published.parts import CABLES, make_bank, make_battery, make_design, make_job, make_load
from tests.unit.quote.made import curve, quote

DIRECT_FUSES = tuple(
    Fuse(rating_a=float(rating), price=9.0, breaking_ka=20.0, rated_v=80.0)
    for rating in (50, 80, 160, 200, 315)
)
PARTS = (
    *(ListedPart(kind, 10.0, rating, 80.0) for kind in LISTED_KINDS for rating in (40.0, 400.0)),
    ListedPart(PartKind.PRE_CHARGE, 7.0),
    ListedPart(PartKind.SURGE_PROTECTION, 8.0),
)


def job_of(parts=(), **site):
    job = make_job(make_load("Lamp", 500.0), **site)
    catalog = replace(job.catalog, fuses=DIRECT_FUSES, parts=parts)
    return replace(job, catalog=catalog)


def design_of(*, strings=1, units=1, volts=24, short_circuit_a=1500.0, **inverter):
    """Inverters of 2,000 W behind strings of 12 V units."""
    battery = make_battery("agm", short_circuit_a=short_circuit_a)
    bank = make_bank(battery, series=volts // 12, strings=strings)
    settings = {"power_w": 2000.0, "pass_through_a": 25.0, "phases": 1} | inverter
    design = make_design(bank, voltage_v=volts, **settings)
    run = replace(design.wiring, fuse=DIRECT_FUSES[2], cable=CABLES[2])
    return replace(design, inverter_units=units, wiring=run)


def kinds_of(circuit):
    return [part.kind for part in circuit.parts]


def figure_of(circuit, kind):
    return next(one for one in circuit.figures if one.kind is kind)


def test_one_string_and_one_inverter_need_no_busbar():
    found = kinds_of(make_circuit(job_of(), design_of()))
    missing = {
        PartKind.STRING_FUSE,
        PartKind.STRING_ISOLATOR,
        PartKind.STRING_CABLE,
        PartKind.BUSBAR,
        PartKind.GENERATOR_SWITCH,
    }
    assert set(found) == set(PartKind) - missing
    assert found == sorted(found, key=list(PartKind).index)


@pytest.mark.parametrize(
    ("strings", "units", "bars"), [(3, 1, 2), (1, 2, 2), (3, 2, 4), (11, 3, 4)]
)
def test_every_string_and_every_inverter_has_its_own_fuse(strings, units, bars):
    circuit = make_circuit(job_of(), design_of(strings=strings, units=units))
    assert circuit.part(PartKind.STRING_FUSE).quantity == strings
    assert circuit.part(PartKind.STRING_ISOLATOR).quantity == strings
    assert circuit.part(PartKind.INVERTER_FUSE).quantity == units
    assert circuit.part(PartKind.BUSBAR).quantity == bars
    assert circuit.part(PartKind.BATTERY_CABLE).quantity == 2 * 2.0 * units  # metres, both poles


def test_a_strings_fuse_carries_its_share_and_breaks_what_the_others_feed():
    """2,000 W / 0.9 / 21.6 V is 102.9 A; of four strings 25.7 A each, times 1.25: 32.2 A."""
    circuit = make_circuit(job_of(), design_of(strings=4))
    fuse = circuit.part(PartKind.STRING_FUSE)
    assert fuse.rating.value == 50.0
    assert figure_of(circuit, FigureKind.STRING_CURRENT).value == pytest.approx(25.72, abs=0.01)
    assert figure_of(circuit, FigureKind.STRING_FAULT).value == pytest.approx(
        4.5
    )  # three of 1.5 kA
    assert figure_of(circuit, FigureKind.SHORT_CIRCUIT).value == pytest.approx(6.0)
    assert fuse.state is State.SIZED
    cable = circuit.part(PartKind.STRING_CABLE)
    assert cable.rating.value == 35.0  # the thinnest that carries the fuse's 50 A
    weak = tuple(replace(one, breaking_ka=4.0) for one in DIRECT_FUSES)
    job = job_of()
    job = replace(job, catalog=replace(job.catalog, fuses=weak))
    assert make_circuit(job, design_of(strings=4)).part(PartKind.STRING_FUSE).state is (
        State.BEYOND_LIMIT
    )


def test_of_two_string_fuses_of_a_size_the_cheaper_is_taken():
    dear = tuple(replace(one, price=30.0) for one in DIRECT_FUSES)
    job = job_of()
    job = replace(job, catalog=replace(job.catalog, fuses=(*dear, *DIRECT_FUSES)))
    assert make_circuit(job, design_of(strings=4)).part(PartKind.STRING_FUSE).ware.price == 9.0


@pytest.mark.parametrize(
    ("fuse", "short_circuit_a", "state"),
    [
        (Fuse(rating_a=160.0, price=1.0, breaking_ka=20.0, rated_v=80.0), 1500.0, State.SIZED),
        (
            Fuse(rating_a=160.0, price=1.0, breaking_ka=20.0, rated_v=None),
            1500.0,
            State.NOT_YET_KNOWN,
        ),
        (
            Fuse(rating_a=160.0, price=1.0, breaking_ka=None, rated_v=80.0),
            1500.0,
            State.NOT_YET_KNOWN,
        ),
        (
            Fuse(rating_a=160.0, price=1.0, breaking_ka=20.0, rated_v=80.0),
            None,
            State.NOT_YET_KNOWN,
        ),
        (
            Fuse(rating_a=160.0, price=1.0, breaking_ka=20.0, rated_v=29.0),
            1500.0,
            State.BEYOND_LIMIT,
        ),  # 1.25 × 24 V is 30 V
        (
            Fuse(rating_a=160.0, price=1.0, breaking_ka=1.0, rated_v=80.0),
            1500.0,
            State.BEYOND_LIMIT,
        ),
        (
            Fuse(rating_a=160.0, price=1.0, breaking_ka=1.0, rated_v=None),
            1500.0,
            State.BEYOND_LIMIT,
        ),  # the worst counts
    ],
)
def test_a_fuse_is_sized_only_when_voltage_and_fault_current_are_known(
    fuse, short_circuit_a, state
):
    design = design_of(short_circuit_a=short_circuit_a)
    design = replace(design, wiring=replace(design.wiring, fuse=fuse))
    assert make_circuit(job_of(), design).part(PartKind.INVERTER_FUSE).state is state


def test_a_cable_in_a_hot_room_carries_less_than_its_fuse():
    """50 mm², 166 A at 30 °C: at 38 °C about 149 A (IEC 60364-5-52, PVC), below a fuse of 160 A."""
    design = design_of(volts=12, power_w=1000.0)
    run = replace(
        design.wiring,
        cable=Cable(section_mm2=50.0, ampacity_a=166.0, ohm_per_km=0.386, price_per_m=1.0),
        fuse=Fuse(rating_a=160.0, price=1.0, breaking_ka=20.0, rated_v=32.0),
    )
    for degc, state in ((30.0, State.SIZED), (38.0, State.BEYOND_LIMIT)):
        circuit = make_circuit(job_of(max_degc=degc), replace(design, wiring=run))
        assert figure_of(circuit, FigureKind.FUSE).state is state
    carries = next(
        one.value
        for one in figure_of(circuit, FigureKind.FUSE).inputs
        if one.symbol == "runs · ampacity"
    )
    assert carries == pytest.approx(148.5, abs=0.5)


def test_a_start_is_held_against_the_bank():
    """A start of 208 A at the lowest voltage, from a bank that allows 150 A for seconds."""
    load = make_load("Pump", 500.0, starting_w=208 * 0.9 * 0.9 * 12)
    job = replace(job_of(), loads=(load,))
    battery = make_battery("agm", discharge_rate_max=1.0, surge_rate_max=1.5)
    design = make_design(make_bank(battery), power_w=1500.0)
    found = figure_of(make_circuit(job, design), FigureKind.START_CURRENT)
    assert (found.value, found.limit) == (pytest.approx(208.0), pytest.approx(150.0))
    assert found.state is State.BEYOND_LIMIT
    table = grids.currents(Writer("EUR"), electrical_sheet(job, design))
    row = next(row for row in table.rows if row[0] == "Start of the largest motor on top of them")
    assert list(row[1:]) == [found.value, found.limit, "A", "beyond the limit"]
    full = next(row for row in table.rows if row[0] == "Inverters at full power, lowest voltage")
    assert full[4] == "beyond the limit, but no load listed draws it"
    strong = make_design(make_bank(replace(battery, discharge_rate_max=3.0)), power_w=1500.0)
    table = grids.currents(Writer("EUR"), electrical_sheet(job, strong))
    assert next(row for row in table.rows if row[0] == full[0])[4] is None


def test_the_supply_feeds_chargers_and_loads_alike():
    """Two chargers of 60 A at 56 V, 0.9 of the mains power arriving: 32.5 A besides the loads."""
    loads_a = 500.0 / 230
    bank = make_bank(make_battery("agm", capacity_ah=1000.0), series=4)
    design = make_design(bank, voltage_v=48, power_w=2000.0, charger_a=60.0, pass_through_a=25.0)
    design = replace(design, inverter_units=2)

    def figure(kind, design=design, **site):
        return figure_of(make_circuit(job_of(**site), design), kind)

    assert figure(FigureKind.CHARGER_INPUT).value == pytest.approx(32.46, abs=0.01)
    drawn = figure(FigureKind.SUPPLY_CURRENT)
    assert drawn.value == pytest.approx(32.46 + loads_a, abs=0.01)
    assert (drawn.limit, drawn.state) == (50.0, State.SIZED)
    one = replace(design, inverter_units=1, inverter=replace(design.inverter, charger_a=120.0))
    crowded = figure(FigureKind.SUPPLY_CURRENT, one)
    assert (crowded.state, crowded.notes) == (State.NOT_YET_KNOWN, (Note.LOWER_INPUT_LIMIT,))
    assert figure(FigureKind.SERVICE_FUSE).state is State.NOT_YET_KNOWN
    assert figure(FigureKind.SERVICE_FUSE, service_fuse_a=25.0).state is State.BEYOND_LIMIT
    assert figure(FigureKind.SERVICE_FUSE, service_fuse_a=40.0).state is State.SIZED
    weak = replace(design, inverter_units=1, inverter=replace(design.inverter, pass_through_a=2.0))
    assert figure(FigureKind.PASSED_THROUGH, weak).state is State.BEYOND_LIMIT
    contract = figure(
        FigureKind.CONTRACT_CURRENT,
        replace(design, contract=Contract(power_w=4600.0, cost_year=1.0)),
    )
    assert contract.value == pytest.approx(20.0)


def test_parts_come_from_the_price_list_where_it_has_them():
    design = design_of(strings=3, units=2)
    bare, listed = make_circuit(job_of(), design), make_circuit(job_of(PARTS), design)
    for kind in LISTED_KINDS:
        if kind is PartKind.GENERATOR_SWITCH:
            continue
        assert bare.part(kind).offered is Offered.NOT_LISTED
        assert listed.part(kind).offered is Offered.PRICED
    main = listed.part(PartKind.MAIN_ISOLATOR)
    assert main.rating.value == 400.0  # 257 A of two inverters: 40 A is too small
    assert words.rating(Writer("EUR"), bare.part(PartKind.MAIN_ISOLATOR)) == "at least 257 A"
    pricing = price(job_of(PARTS), design, Company())
    lines = {line.item.kind: line for line in pricing.first.lines if line.item.part is Part.CIRCUIT}
    assert set(lines) == {part.kind for part, _ in listed.priced_parts()}
    assert lines[PartKind.STRING_FUSE].quantity == 3
    assert lines[PartKind.BUSBAR].amount == 40
    shown = {row[0]: row[-1] for row in grids.circuit(Writer("EUR"), bare).rows}
    assert shown["Main isolator"] == "not in the price list"
    assert shown["Protective conductor"] == "by length, measured on site"


def test_a_switch_for_direct_current_must_state_its_voltage():
    low, silent = (
        [ListedPart(PartKind.MAIN_ISOLATOR, 5.0, 300.0, volts)] for volts in (20.0, None)
    )
    found = make_circuit(job_of(tuple(low)), design_of()).part(PartKind.MAIN_ISOLATOR)
    assert found.offered is Offered.NOT_LISTED
    found = make_circuit(job_of(tuple(silent)), design_of()).part(PartKind.MAIN_ISOLATOR)
    assert found.state is State.NOT_YET_KNOWN


def test_a_box_has_no_direct_current_side_of_its_own():
    circuit = make_circuit(job_of(), replace(design_of(), wiring=None))
    assert circuit.part(PartKind.INVERTER_FUSE) is None
    assert circuit.part(PartKind.DC_EARTH) is None
    assert circuit.part(PartKind.RCD) is not None
    assert circuit.part(PartKind.EARTHING_CONDUCTOR).rating.value == 4.0


def test_a_generator_has_an_interlocked_switch():
    option = next(one for one in quote().options if one.design.generator is not None)
    circuit = option.sheet.circuit
    switch = circuit.part(PartKind.GENERATOR_SWITCH)
    largest = max(
        figure_of(circuit, FigureKind.GENERATOR_CURRENT).value,
        figure_of(circuit, FigureKind.SUPPLY_CURRENT).value,
    )
    assert switch.rating.value >= largest
    told = {row[0]: row[-1] for row in grids.figures(Writer("EUR"), option.sheet).rows}
    assert "nothing feeds back into the grid" in told["Transfer switch, supply or generator"]


def test_warm_copper_loses_more():
    circuit = make_circuit(job_of(max_degc=35.0), design_of())
    cold, warm = (
        figure_of(circuit, kind) for kind in (FigureKind.VOLTAGE_DROP, FigureKind.WARM_DROP)
    )
    degc = next(one.value for one in warm.inputs if one.symbol == "θ")
    assert 35.0 < degc < 70.0
    assert warm.value == pytest.approx(cold.value * (1 + 0.00393 * (degc - 20)))


def test_what_is_open_is_said_to_be_open():
    circuit = make_circuit(job_of(PARTS), design_of())
    for kind in (PartKind.NEUTRAL_BOND, PartKind.DC_EARTH, PartKind.PRE_CHARGE):
        assert circuit.part(kind).state is State.NOT_YET_KNOWN
    assert circuit.state is State.NOT_YET_KNOWN
    assert circuit.part(PartKind.NEUTRAL_BOND).offered is Offered.DECISION


def test_every_kind_of_part_has_its_words():
    assert set(words.KINDS) == set(PartKind)
    assert set(words.OFFERED) == set(Offered)


def test_a_breaker_is_the_one_on_offer_and_spares_what_stands_behind_it():
    """2.2 A of loads and 3 A of charger: 6 A would do, 40 A is on offer, 25 A may pass."""
    bare, listed = (make_circuit(job_of(parts), design_of()) for parts in ((), PARTS))
    for circuit, rating_a, copper_mm2 in ((bare, 6.0, 1.5), (listed, 40.0, 6.0)):
        part = circuit.part(PartKind.SUPPLY_BREAKER)
        figure = figure_of(circuit, FigureKind.SUPPLY_BREAKER)
        assert (part.rating.value, figure.value) == (rating_a, rating_a)
        assert figure.given("copper behind") == copper_mm2
    figure = figure_of(listed, FigureKind.SUPPLY_BREAKER)
    assert (figure.state, figure.notes) == (State.NOT_YET_KNOWN, (Note.ABOVE_TRANSFER_SWITCH,))
    large = make_circuit(job_of(), design_of(power_va=40_000.0))
    assert figure_of(large, FigureKind.BREAKER).value is None
    assert large.part(PartKind.OUTPUT_BREAKER).state is State.NOT_YET_KNOWN


@pytest.mark.slow
@pytest.mark.parametrize("budget", [2600.0, 3800.0])
def test_what_a_budget_buys_pays_for_the_circuit_too(budget):
    """The designs are chosen without these parts: the offer stays within the budget with them."""
    job = curve().job
    (option,) = select(curve(), [Pick(budget=budget)]).options
    offered = price(job, option.design, Company())
    assert offered.total <= Decimal(budget)
    beside = parts_price(job, option.design)
    assert beside > 50
    assert float(offered.total) == pytest.approx(
        sold_at_start(job, option.design) + beside, abs=0.1
    )


def test_beside_a_small_contract_the_supplys_own_power_passes_through():
    """A contract of 3,000 W, a peak of 4,600: 13 A pass through, 20 A leave by the output."""
    small, large = (
        Contract(power_w=3000.0, cost_year=10.0),
        Contract(power_w=6000.0, cost_year=90.0),
    )
    peaks = (Peak(power_w=4600.0, minutes=10.0, times_a_month=20.0),)
    job = job_of(contracts=(small, large), peaks=peaks)
    design = design_of(works_in_parallel=True)
    helped, alone = (
        make_circuit(job, replace(design, contract=contract)) for contract in (small, large)
    )
    assert figure_of(helped, FigureKind.PASSED_THROUGH).value == pytest.approx(3000 / 230)
    assert figure_of(alone, FigureKind.PASSED_THROUGH).value == pytest.approx(500 / 230)
    output = figure_of(helped, FigureKind.OUTPUT_CURRENT)
    assert output.value == pytest.approx(4600 / 230)
    assert Note.WITH_THE_SUPPLY in output.notes
    assert figure_of(helped, FigureKind.BREAKER).value == 20.0
    assert figure_of(alone, FigureKind.OUTPUT_CURRENT).value == pytest.approx(2000 / 230)
