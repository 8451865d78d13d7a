"""The alternating-current side: supply, generator, inverter, output."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from optimizer.answers.installed import existing_of, recharge_of
from optimizer.engine.demand import demand_of
from optimizer.engine.variants import variant_of_design
from optimizer.formulas import protection
from optimizer.formulas.generator import CHARGER_EFFICIENCY
from optimizer.formulas.inverter import COMPUTER_HOLD_MS, keeps_computers_up
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import at_least
from optimizer.model.design import Design
from optimizer.model.job import Catalog, Job
from optimizer.model.part import PartKind
from optimizer.quote.circuit.offers import part_of
from optimizer.quote.circuit.parts import CircuitPart, Rating
from optimizer.quote.figures import Figure, FigureKind, Given, Note, held, settled

_BREAKER_FIGURES: Final = {
    PartKind.SUPPLY_BREAKER: FigureKind.SUPPLY_BREAKER,
    PartKind.OUTPUT_BREAKER: FigureKind.BREAKER,
}


def mains_parts(job: Job, design: Design) -> Iterator[CircuitPart]:
    """Yield the parts from the inverter to the supply, and on to the loads."""
    inverter, catalog, supply_v = design.inverter, job.catalog, job.site.supply_voltage_v
    yield CircuitPart(
        PartKind.INVERTER,
        quantity=design.inverter_units,
        rating=Rating(inverter.power_w, "W"),
        figures=tuple(_inverter_figures(job, design)),
        name=inverter.inverter,
        ware=inverter,
    )
    supply_a = sum(_drawn_a(job, design))
    breaker = _breaker(catalog, PartKind.SUPPLY_BREAKER, supply_a, _passes_a(design))
    yield replace(breaker, figures=(*_supply_figures(job, design), *breaker.figures))
    supply = Given("U", supply_v, "V")
    surge_v = protection.SURGE_VOLTAGE_FACTOR * supply_v
    surge = Figure(FigureKind.SURGE_PROTECTION, surge_v, inputs=(supply,))
    yield part_of(catalog, PartKind.SURGE_PROTECTION, 0.0, surge)
    if design.generator is not None:
        power_va = design.generator.power_va
        drawn_a = power_va / supply_v
        given = Given("I_generator", drawn_a, "A"), Given("I_supply", supply_a, "A")
        wanted_a = max(drawn_a, supply_a)
        yield part_of(
            catalog,
            PartKind.GENERATOR_SWITCH,
            wanted_a,
            Figure(
                FigureKind.GENERATOR_CURRENT, drawn_a, inputs=(Given("S", power_va, "VA"), supply)
            ),
            Figure(FigureKind.GENERATOR_SWITCH, wanted_a, inputs=given),
        )
    output_a, output = _output(job, design)
    breaker = _breaker(catalog, PartKind.OUTPUT_BREAKER, output_a)
    surges = _surge_figures(job, design, breaker)
    yield replace(breaker, figures=(output, *breaker.figures, *surges))
    rated_a = _rated_a(breaker)
    rcd = Figure(FigureKind.RCD, inputs=(Given("breaker", rated_a, "A"),))
    yield part_of(catalog, PartKind.RCD, rated_a, rcd)


def _breaker(
    catalog: Catalog, kind: PartKind, current_a: float, bears_a: float | None = None
) -> CircuitPart:
    """Return the breaker for a current, with the section of copper that it protects.

    ``bears_a`` is what stands behind it and is not to be fused higher [A], where that is known.
    """
    standard_a = protection.next_size(protection.BREAKERS_A, current_a)
    chosen = part_of(catalog, kind, standard_a or current_a)
    rating_a = None if standard_a is None else _rated_a(chosen)
    section_mm2 = None if rating_a is None else protection.section_behind_mm2(rating_a)
    is_borne = bears_a is None or rating_a is None or bool(at_least(bears_a, rating_a))
    notes = [Note.NO_BREAKER] if rating_a is None else []
    notes += [] if is_borne else [Note.ABOVE_TRANSFER_SWITCH]
    figure = Figure(
        _BREAKER_FIGURES[kind],
        rating_a,
        limit=bears_a,
        inputs=(Given("I", current_a, "A"), Given("copper behind", section_mm2, "mm²")),
        notes=tuple(notes),
        state=settled(True if is_borne and rating_a is not None else None),
    )
    return replace(chosen, figures=(figure,))


def _rated_a(part: CircuitPart) -> float:
    return 0.0 if part.rating is None else part.rating.value


def _passes_a(design: Design) -> float | None:
    """Return what the transfer switches carry together [A], None where that is not stated."""
    each_a = design.inverter.pass_through_a
    return None if each_a is None else design.inverter_units * each_a


def _wires(job: Job, design: Design) -> tuple[float, tuple[Given, Given]]:
    """Return the voltages of all phases together [V], and what they follow from."""
    phases, supply_v = design.inverter.phases or 1, job.site.supply_voltage_v
    return phases * supply_v, (Given("phases", phases), Given("U", supply_v, "V"))


def _drawn_a(job: Job, design: Design) -> tuple[float, float]:
    """Return what chargers and loads draw from the supply, each phase [A]."""
    bank, (wires_v, _) = design.banks[0], _wires(job, design)
    charging_v = bank.series * bank.battery.charging_v
    set_a = recharge_of(job, existing_of(design)).charger_a
    charger_a = set_a * charging_v / CHARGER_EFFICIENCY / wires_v
    return charger_a, _passed_va(job, design) / wires_v


def _helped_w(job: Job, design: Design) -> float:
    """Return what the inverters add to a supply whose contract is too small for its peaks [W]."""
    return variant_of_design(job, design, demand_of(job)).largest_excess_w


def _passed_va(job: Job, design: Design) -> float:
    """Return what passes through to the loads: the contract's whole power where it is helped."""
    peak_va, contract = demand_of(job).peak_va, design.contract
    if contract is None or _helped_w(job, design) <= 0:
        return peak_va
    return max(peak_va, contract.power_w)


def _inverter_figures(job: Job, design: Design) -> Iterator[Figure]:
    inverter, units = design.inverter, design.inverter_units
    count = Given("m", units)
    factor = heat_factor(inverter.power_w, inverter.power_w_40c, job.site.max_degc)
    yield Figure(
        FigureKind.HOT_POWER,
        units * inverter.power_w * factor,
        inputs=(
            count,
            Given("P", inverter.power_w, "W"),
            Given("f", factor),
            Given("room, highest", job.site.max_degc, "°C"),
        ),
    )
    up = keeps_computers_up(inverter.transfer_ms)
    yield Figure(
        FigureKind.TRANSFER_TIME,
        inverter.transfer_ms,
        limit=COMPUTER_HOLD_MS,
        inputs=(Given("limit", COMPUTER_HOLD_MS, "ms"),),
        notes=(Note.COMPUTERS_STAY_UP if up else Note.COMPUTERS_RESTART,),
        state=settled(up),
    )
    used_kwh = units * inverter.no_load_w * 24 / 1000
    given = count, Given("P₀", inverter.no_load_w, "W")
    yield Figure(FigureKind.OWN_USE, used_kwh, inputs=given)


def _supply_figures(job: Job, design: Design) -> Iterator[Figure]:
    """Yield what the supply gives: to the charger, through to the loads, and both together."""
    bank, (wires_v, wires) = design.banks[0], _wires(job, design)
    set_a = recharge_of(job, existing_of(design)).charger_a
    charger_a, loads_a = _drawn_a(job, design)
    yield Figure(
        FigureKind.CHARGER_INPUT,
        charger_a,
        inputs=(
            Given("I_charge", set_a, "A"),
            Given("U_charge", bank.series * bank.battery.charging_v, "V"),
            Given("η_charge", CHARGER_EFFICIENCY),
            *wires,
        ),
    )
    carries_a = _passes_a(design)
    switch = Given("transfer switch", carries_a, "A")
    passed = Given("S_loads", _passed_va(job, design), "VA"), *wires, switch
    kind, unknown = FigureKind.PASSED_THROUGH, Note.PASS_THROUGH_UNKNOWN
    yield held(kind, loads_a, carries_a, passed, {None: unknown})
    drawn_a = charger_a + loads_a
    has_room = carries_a is None or bool(at_least(carries_a, drawn_a))
    yield Figure(
        FigureKind.SUPPLY_CURRENT,
        drawn_a,
        limit=carries_a,
        inputs=(Given("I_charger", charger_a, "A"), Given("I_loads", loads_a, "A"), switch),
        notes=() if has_room else (Note.LOWER_INPUT_LIMIT,),
        state=settled(True if has_room and carries_a is not None else None),
    )
    service_a = job.site.service_fuse_a
    kept = None if service_a is None else bool(at_least(service_a, drawn_a))
    note = {None: Note.SERVICE_FUSE_UNKNOWN, False: Note.OVER_SERVICE_FUSE}.get(kept)
    yield Figure(
        FigureKind.SERVICE_FUSE,
        service_a,
        inputs=(Given("I_supply", drawn_a, "A"),),
        notes=() if note is None else (note,),
        state=settled(kept),
    )
    if design.contract is not None:
        power_w = design.contract.power_w
        given = Given("contract", power_w, "W"), *wires
        yield Figure(FigureKind.CONTRACT_CURRENT, power_w / wires_v, inputs=given)


def _output(job: Job, design: Design) -> tuple[float, Figure]:
    """Return the output current: of the inverters, or of a peak that supply and inverters share."""
    helped_w, (wires_v, wires) = _helped_w(job, design), _wires(job, design)
    shared_w = 0.0 if helped_w <= 0 else _passed_va(job, design) + helped_w
    volt_amperes = max(design.inverter_units * design.inverter.power_va, shared_w)
    current_a = volt_amperes / wires_v
    notes = () if design.inverter.phases else (Note.PHASES_UNKNOWN,)
    return current_a, Figure(
        FigureKind.OUTPUT_CURRENT,
        current_a,
        inputs=(Given("m · S", volt_amperes, "VA"), *wires),
        notes=(*notes, Note.WITH_THE_SUPPLY) if helped_w > 0 else notes,
    )


def _surge_figures(job: Job, design: Design, breaker: CircuitPart) -> Iterator[Figure]:
    """Yield what the inverters can give for seconds against what trips the breaker at once."""
    if breaker.figures[0].value is None:
        return
    wires_v, wires = _wires(job, design)
    surge_w = design.inverter_units * design.inverter.surge_w
    surge_a, trip_a = surge_w / wires_v, protection.TYPE_B_FACTOR * _rated_a(breaker)
    yield Figure(
        FigureKind.SURGE_CURRENT,
        surge_a,
        inputs=(Given("m · P_surge", surge_w, "W"), *wires, Given("trip", trip_a, "A")),
        notes=(Note.TRIPS if surge_a >= trip_a else Note.DOES_NOT_TRIP,),
    )
