"""The direct-current side: strings, fuses, isolators, busbars, cable and fuse of each inverter.

Where strings or inverters are two or more, every string and every inverter has a fuse of its own
between busbars; a single string then has one for the whole bank.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.inverter import battery_current_a, direct_current_a
from optimizer.formulas.tolerance import at_least
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, FUSE_VOLTAGE_FACTOR, ampacity_a
from optimizer.model.part import PartKind
from optimizer.quote.circuit.offers import bears, part_of, smallest_fuse
from optimizer.quote.circuit.parts import CircuitPart, Rating
from optimizer.quote.circuit.run import cable_figures
from optimizer.quote.circuit.strength import strength_figures
from optimizer.quote.figures import Figure, FigureKind, Given, Note, State, settled

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import CableRun, Design
    from optimizer.model.job import Fuse, Job


def direct_parts(job: Job, design: Design) -> Iterator[CircuitPart]:
    """Yield the parts from the cells to the inverters' direct-current terminals."""
    bank, run = design.banks[0], design.wiring
    yield CircuitPart(
        kind=PartKind.CELLS,
        quantity=bank.units,
        rating=Rating(bank.battery.capacity_ah, "Ah"),
        figures=(*_bank_figures(design), *strength_figures(job, design)),
        name=bank.battery.battery,
        price_each=bank.battery.price,
    )
    if run is None:  # battery and inverter in one box, wired by its maker
        return
    whole_a = _whole_a(design)
    wanted_a = CONTINUOUS_FACTOR * whole_a
    current, volts = Given("I", whole_a, "A"), float(design.voltage_v)
    is_divided = bank.strings > 1 or design.inverter_units > 1
    if is_divided:
        yield from _string_parts(job, design)

    def sized(kind: FigureKind) -> Figure:
        return Figure(kind=kind, value=wanted_a, unit="A", inputs=(current,))

    shunt = Figure(kind=FigureKind.SHUNT, value=whole_a, unit="A", inputs=(current,))
    yield part_of(job.catalog, PartKind.SHUNT, whole_a, (shunt,))
    main = sized(FigureKind.MAIN_ISOLATOR)
    yield part_of(job.catalog, PartKind.MAIN_ISOLATOR, wanted_a, (main,), direct_v=volts)
    if is_divided:
        bars = sized(FigureKind.BUSBAR)
        pairs = (bank.strings > 1) + (design.inverter_units > 1)  # of the strings, the inverters
        yield part_of(job.catalog, PartKind.BUSBAR, wanted_a, (bars,), quantity=2 * pairs)
    yield from _unit_parts(job, design, run)
    unknown = Figure(kind=FigureKind.PRE_CHARGE, state=State.NOT_YET_KNOWN)
    yield part_of(job.catalog, PartKind.PRE_CHARGE, 0.0, (unknown,))


def _whole_a(design: Design) -> float:
    """Return what all inverters together draw at full power and the lowest voltage [A]."""
    power_w = design.inverter_units * design.inverter.power_w
    return battery_current_a(power_w, design.inverter.efficiency, float(design.voltage_v))


def _bank_figures(design: Design) -> Iterator[Figure]:
    bank = design.banks[0]
    battery = bank.battery
    series, strings = Given("s", bank.series), Given("n", bank.strings)
    volts, capacity = Given("U", battery.voltage_v, "V"), Given("C", battery.capacity_ah, "Ah")
    yield Figure(
        kind=FigureKind.LAYOUT, inputs=(series, strings, Given("battery", battery.battery))
    )
    yield Figure(
        kind=FigureKind.STRING_VOLTAGE,
        value=bank.series * battery.voltage_v,
        unit="V",
        inputs=(series, volts, Given("system", design.voltage_v, "V")),
    )
    yield Figure(
        kind=FigureKind.RATED_CAPACITY,
        value=bank.strings * battery.capacity_ah,
        unit="Ah",
        inputs=(strings, capacity, Given("rate", battery.rate_h, "h")),
    )
    yield Figure(
        kind=FigureKind.ENERGY,
        value=bank.units * battery.voltage_v * battery.capacity_ah / 1000,
        unit="kWh",
        inputs=(Given("s · n", bank.units), volts, capacity, Given("depth", battery.max_dod)),
    )
    yield Figure(kind=FigureKind.TORQUE)
    power_w, system_v = design.inverter_units * design.inverter.power_w, float(design.voltage_v)
    yield Figure(
        kind=FigureKind.NOMINAL_CURRENT,
        value=direct_current_a(power_w, design.inverter.efficiency, system_v),
        unit="A",
        inputs=(
            Given("m · P", power_w, "W"),
            Given("η", design.inverter.efficiency),
            Given("U", system_v, "V"),
        ),
    )


def _string_parts(job: Job, design: Design) -> Iterator[CircuitPart]:
    """Yield cable, fuse and isolator of each string."""
    strings, volts, whole_a = design.banks[0].strings, float(design.voltage_v), _whole_a(design)
    string_a = whole_a / strings
    wanted_a = CONTINUOUS_FACTOR * string_a
    fuse = smallest_fuse(job.catalog, wanted_a, volts)
    rating_a = wanted_a if fuse is None else fuse.rating_a
    section_mm2, carries_a = _string_cable(job, rating_a)
    share = Figure(
        kind=FigureKind.STRING_CURRENT,
        value=string_a,
        unit="A",
        inputs=(Given("I", whole_a, "A"), Given("n", strings)),
    )
    cable = Figure(
        kind=FigureKind.STRING_CABLE,
        value=section_mm2,
        unit="mm²",
        inputs=(Given("fuse", rating_a, "A"), Given("ampacity", carries_a, "A")),
        state=State.SIZED if section_mm2 is not None else State.NOT_YET_KNOWN,
    )
    yield CircuitPart(
        kind=PartKind.STRING_CABLE,
        quantity=2 * strings,
        rating=None if section_mm2 is None else Rating(section_mm2, "mm²"),
        figures=(share, cable),
    )
    sized = Figure(
        kind=FigureKind.STRING_FUSE,
        value=rating_a,
        unit="A",
        inputs=(Given("1.25 · I / n", wanted_a, "A"), Given("ampacity", carries_a, "A")),
        notes=() if fuse else (Note.NO_STRING_FUSE,),
        state=State.SIZED if fuse else State.NOT_YET_KNOWN,
    )
    yield CircuitPart(
        kind=PartKind.STRING_FUSE,
        quantity=strings,
        rating=Rating(rating_a, "A", is_least=fuse is None),
        figures=(
            sized,
            _fuse_voltage(FigureKind.STRING_FUSE_VOLTAGE, fuse, volts),
            _fault(FigureKind.STRING_FAULT, design, fuse, max(1, strings - 1)),
        ),
        price_each=None if fuse is None else fuse.price,
    )
    isolator = Figure(
        kind=FigureKind.STRING_ISOLATOR,
        value=wanted_a,
        unit="A",
        inputs=(Given("I", string_a, "A"),),
    )
    yield part_of(
        job.catalog,
        PartKind.STRING_ISOLATOR,
        wanted_a,
        (isolator,),
        quantity=strings,
        direct_v=volts,
    )


def _string_cable(job: Job, fuse_a: float) -> tuple[float | None, float | None]:
    """Return the thinnest section on offer that a string's fuse protects, and what it carries."""
    for cable in sorted(job.catalog.cables, key=lambda one: one.section_mm2):
        carries_a = ampacity_a(cable, job.site.max_degc)
        if at_least(carries_a, fuse_a):
            return cable.section_mm2, carries_a
    return None, None


def _unit_parts(job: Job, design: Design, run: CableRun) -> Iterator[CircuitPart]:
    """Yield fuse and cable of each inverter."""
    inverter, units, volts = design.inverter, design.inverter_units, float(design.voltage_v)
    current_a = battery_current_a(inverter.power_w, inverter.efficiency, volts)
    wanted_a = CONTINUOUS_FACTOR * current_a
    together_a = run.runs * ampacity_a(run.cable, job.site.max_degc)
    rating_a = run.fuse.rating_a
    fuse = Figure(
        kind=FigureKind.FUSE,
        value=rating_a,
        unit="A",
        inputs=(Given("1.25 · I", wanted_a, "A"), Given("runs · ampacity", together_a, "A")),
        state=settled(bool(at_least(rating_a, wanted_a) and at_least(together_a, rating_a))),
    )
    yield CircuitPart(
        kind=PartKind.INVERTER_FUSE,
        quantity=units,
        rating=Rating(rating_a, "A"),
        figures=(
            fuse,
            _fuse_voltage(FigureKind.FUSE_VOLTAGE, run.fuse, volts),
            _fault(FigureKind.SHORT_CIRCUIT, design, run.fuse, design.banks[0].strings),
        ),
        price_each=run.fuse.price,
    )
    yield CircuitPart(
        kind=PartKind.BATTERY_CABLE,
        quantity=2 * run.runs * job.site.battery_cable_m * units,
        unit="m",
        rating=Rating(run.cable.section_mm2, "mm²"),
        figures=tuple(cable_figures(job, design, run)),
        price_each=run.cable.price_per_m,
    )


def _fuse_voltage(kind: FigureKind, fuse: Fuse | None, direct_v: float) -> Figure:
    """Return the direct voltage that a fuse must break."""
    rated_v = None if fuse is None else fuse.rated_v
    return Figure(
        kind=kind,
        value=FUSE_VOLTAGE_FACTOR * direct_v,
        unit="V",
        limit=rated_v,
        inputs=(Given("U", direct_v, "V"), Given("rated voltage", rated_v, "V")),
        notes=(Note.VOLTAGE_UNKNOWN,) if rated_v is None else (),
        state=settled(bears(rated_v, direct_v)),
    )


def _fault(kind: FigureKind, design: Design, fuse: Fuse | None, feeding: int) -> Figure:
    """Return the fault current that so many strings feed, against what a fuse breaks."""
    unit_a = design.banks[0].battery.short_circuit_a
    breaking = None if fuse is None else fuse.breaking_ka
    value = None if unit_a is None else feeding * unit_a / 1000
    kept = None
    if value is None:
        note = Note.BATTERY_CURRENT_UNKNOWN
    elif breaking is None:
        note = Note.BREAKING_CAPACITY_UNKNOWN
    else:
        kept = bool(at_least(breaking, value))
        note = Note.FUSE_BREAKS if kept else Note.FUSE_BREAKS_LESS
    return Figure(
        kind=kind,
        value=value,
        unit="kA",
        limit=breaking,
        inputs=(
            Given("I_sc of a unit", unit_a, "A"),
            Given("feeding", feeding),
            Given("breaking capacity", breaking, "kA"),
        ),
        notes=(note,),
        state=settled(kept),
    )
