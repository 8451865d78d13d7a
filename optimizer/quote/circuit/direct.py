"""The direct-current side: strings, fuses, isolators, busbars, cable and fuse of each inverter.

Where strings or inverters are two or more, every string and every inverter has a fuse of its own
between busbars; a single string then has one for the whole bank.
"""

from collections.abc import Iterator
from dataclasses import replace

from optimizer.answers.bank_limits import BankLimits, bank_limits
from optimizer.answers.installed import existing_of
from optimizer.engine.demand import demand_of
from optimizer.engine.variants import variant_of_design
from optimizer.formulas import wiring
from optimizer.formulas.inverter import battery_current_a, direct_current_a
from optimizer.formulas.tolerance import at_least
from optimizer.model.design import CableRun, Design
from optimizer.model.job import Fuse, Job
from optimizer.model.part import PartKind
from optimizer.quote.circuit.offers import part_of, smallest
from optimizer.quote.circuit.parts import CircuitPart, Rating
from optimizer.quote.figures import Figure, FigureKind, Given, Note, State, held, settled


def direct_parts(job: Job, design: Design) -> Iterator[CircuitPart]:
    """Yield the parts from the cells to the inverters' direct-current terminals."""
    bank, run, catalog = design.banks[0], design.wiring, job.catalog
    limits = bank_limits(existing_of(design))
    yield CircuitPart(
        PartKind.CELLS,
        quantity=bank.units,
        rating=Rating(bank.battery.capacity_ah, "Ah"),
        figures=(*_bank_figures(design), *_strength_figures(job, design, limits)),
        name=bank.battery.battery,
        ware=bank.battery,
    )
    if run is None:  # battery and inverter in one box, wired by its maker
        return
    whole_a, volts = limits.largest_a, float(design.voltage_v)
    wanted_a, current = wiring.CONTINUOUS_FACTOR * whole_a, (Given("I", whole_a, "A"),)
    is_divided = bank.strings > 1 or design.inverter_units > 1
    if is_divided:
        yield from _string_parts(job, design, whole_a)
    shunt = Figure(FigureKind.SHUNT, whole_a, inputs=current)
    yield part_of(catalog, PartKind.SHUNT, whole_a, shunt)
    main = Figure(FigureKind.MAIN_ISOLATOR, wanted_a, inputs=current)
    yield part_of(catalog, PartKind.MAIN_ISOLATOR, wanted_a, main, direct_v=volts)
    if is_divided:
        bars = Figure(FigureKind.BUSBAR, wanted_a, inputs=current)
        pairs = (bank.strings > 1) + (design.inverter_units > 1)  # of the strings, the inverters
        yield part_of(catalog, PartKind.BUSBAR, wanted_a, bars, quantity=2 * pairs)
    yield from _unit_parts(job, design, run)
    unknown = Figure(FigureKind.PRE_CHARGE, state=State.NOT_YET_KNOWN)
    yield part_of(catalog, PartKind.PRE_CHARGE, 0.0, unknown)


def _drawing(design: Design, symbol: str, power_w: float) -> tuple[Given, Given, Given]:
    """Return what a current of the bank follows from: a power on the inverter's other side."""
    efficiency, volts = design.inverter.efficiency, float(design.voltage_v)
    return Given(symbol, power_w, "W"), Given("η", efficiency), Given("U", volts, "V")


def _bank_figures(design: Design) -> Iterator[Figure]:
    bank = design.banks[0]
    battery = bank.battery
    series, strings = Given("s", bank.series), Given("n", bank.strings)
    volts, capacity = Given("U", battery.voltage_v, "V"), Given("C", battery.capacity_ah, "Ah")
    yield Figure(FigureKind.LAYOUT, inputs=(series, strings, Given("battery", battery.battery)))
    given = series, volts, Given("system", design.voltage_v, "V")
    yield Figure(FigureKind.STRING_VOLTAGE, bank.series * battery.voltage_v, inputs=given)
    bank_ah = bank.strings * battery.capacity_ah
    given = strings, capacity, Given("rate", battery.rate_h, "h")
    yield Figure(FigureKind.RATED_CAPACITY, bank_ah, inputs=given)
    yield Figure(
        FigureKind.ENERGY,
        bank.energy_wh / 1000,
        inputs=(Given("s · n", bank.units), volts, capacity, Given("depth", battery.max_dod)),
    )
    yield Figure(FigureKind.TORQUE)
    volts_v, efficiency = float(design.voltage_v), design.inverter.efficiency
    current_a = direct_current_a(design.power_w, efficiency, volts_v)
    given = _drawing(design, "m · P", design.power_w)
    yield Figure(FigureKind.NOMINAL_CURRENT, current_a, inputs=given)


def _strength_figures(job: Job, design: Design, limits: BankLimits) -> Iterator[Figure]:
    """Yield what is drawn from the bank running, starting and at full power, with its limits."""
    efficiency, demand = design.inverter.efficiency, demand_of(job)
    running_w = max(demand.peak_w, variant_of_design(job, design, demand).largest_excess_w)
    for kind, symbol, power_w, limit_a in (
        (FigureKind.RUNNING_CURRENT, "P_loads", running_w, limits.discharge_a),
        (FigureKind.START_CURRENT, "P_start", demand.surge_w, limits.start_a),
        (FigureKind.LARGEST_CURRENT, "m · P", design.power_w, limits.discharge_a),
    ):
        current_a = battery_current_a(power_w, efficiency, float(design.voltage_v))
        given = *_drawing(design, symbol, power_w), Given("allowed by the bank", limit_a, "A")
        if kind is FigureKind.LARGEST_CURRENT:  # nothing surveyed draws so much
            most = held(kind, current_a, limit_a, given, {False: Note.BEYOND_THE_BANK})
            yield replace(most, state=None)
        else:
            yield held(kind, current_a, limit_a, given)


def _string_parts(job: Job, design: Design, whole_a: float) -> Iterator[CircuitPart]:
    """Yield cable, fuse and isolator of each string."""
    strings, volts = design.banks[0].strings, float(design.voltage_v)
    string_a = whole_a / strings
    wanted_a = wiring.CONTINUOUS_FACTOR * string_a
    fuse = smallest(job.catalog.fuses, wanted_a, volts)
    rating_a = wanted_a if fuse is None else fuse.rating_a
    section_mm2, carries_a = _string_cable(job, rating_a)
    carries = Given("ampacity", carries_a, "A")
    given = Given("I", whole_a, "A"), Given("n", strings)
    share = Figure(FigureKind.STRING_CURRENT, string_a, inputs=given)
    cable = Figure(
        FigureKind.STRING_CABLE,
        section_mm2,
        inputs=(Given("fuse", rating_a, "A"), carries),
        state=State.SIZED if section_mm2 is not None else State.NOT_YET_KNOWN,
    )
    yield CircuitPart(
        PartKind.STRING_CABLE,
        quantity=2 * strings,
        rating=None if section_mm2 is None else Rating(section_mm2, "mm²"),
        figures=(share, cable),
    )
    sized = Figure(
        FigureKind.STRING_FUSE,
        rating_a,
        inputs=(Given("1.25 · I / n", wanted_a, "A"), carries),
        notes=() if fuse else (Note.NO_STRING_FUSE,),
        state=State.SIZED if fuse else State.NOT_YET_KNOWN,
    )
    yield CircuitPart(
        PartKind.STRING_FUSE,
        quantity=strings,
        rating=Rating(rating_a, "A", is_least=fuse is None),
        figures=(
            sized,
            _fuse_voltage(FigureKind.STRING_FUSE_VOLTAGE, fuse, volts),
            _fault(FigureKind.STRING_FAULT, design, fuse, max(1, strings - 1)),
        ),
        ware=fuse,
    )
    given_a = (Given("I", string_a, "A"),)
    isolator = Figure(FigureKind.STRING_ISOLATOR, wanted_a, inputs=given_a)
    kind = PartKind.STRING_ISOLATOR
    yield part_of(job.catalog, kind, wanted_a, isolator, quantity=strings, direct_v=volts)


def _string_cable(job: Job, fuse_a: float) -> tuple[float | None, float | None]:
    """Return the thinnest section on offer that a string's fuse protects, and what it carries."""
    for cable in sorted(job.catalog.cables, key=lambda one: one.section_mm2):
        carries_a = wiring.ampacity_a(cable, job.site.max_degc)
        if at_least(carries_a, fuse_a):
            return cable.section_mm2, carries_a
    return None, None


def _unit_parts(job: Job, design: Design, run: CableRun) -> Iterator[CircuitPart]:
    """Yield fuse and cable of each inverter."""
    inverter, units, volts = design.inverter, design.inverter_units, float(design.voltage_v)
    current_a = battery_current_a(inverter.power_w, inverter.efficiency, volts)
    wanted_a = wiring.CONTINUOUS_FACTOR * current_a
    together_a = run.runs * wiring.ampacity_a(run.cable, job.site.max_degc)
    rating_a = run.fuse.rating_a
    fuse = Figure(
        FigureKind.FUSE,
        rating_a,
        inputs=(Given("1.25 · I", wanted_a, "A"), Given("runs · ampacity", together_a, "A")),
        state=settled(bool(at_least(rating_a, wanted_a) and at_least(together_a, rating_a))),
    )
    yield CircuitPart(
        PartKind.INVERTER_FUSE,
        quantity=units,
        rating=Rating(rating_a, "A"),
        figures=(
            fuse,
            _fuse_voltage(FigureKind.FUSE_VOLTAGE, run.fuse, volts),
            _fault(FigureKind.SHORT_CIRCUIT, design, run.fuse, design.banks[0].strings),
        ),
        ware=run.fuse,
    )
    yield CircuitPart(
        PartKind.BATTERY_CABLE,
        quantity=2 * run.runs * job.site.battery_cable_m * units,
        unit="m",
        rating=Rating(run.cable.section_mm2, "mm²"),
        figures=tuple(_cable_figures(job, run, volts, current_a)),
        ware=run.cable,
    )


def _cable_figures(job: Job, run: CableRun, volts: float, current_a: float) -> Iterator[Figure]:
    """Yield what the cable of one inverter carries, and loses in cold and in warm copper."""
    site, cable = job.site, run.cable
    carries_a = wiring.ampacity_a(cable, site.max_degc)
    runs, current = Given("runs", run.runs), Given("I", current_a, "A")
    section = Given("section", cable.section_mm2, "mm²")
    yield Figure(
        FigureKind.CABLE,
        inputs=(section, runs, Given("ampacity", carries_a, "A"), current),
        state=settled(bool(at_least(run.runs * carries_a, wiring.CONTINUOUS_FACTOR * current_a))),
    )
    drop_v = wiring.voltage_drop_v(site.battery_cable_m, cable.ohm_per_km, current_a, run.runs)
    allowed_v = site.max_drop * volts
    length, allowed = Given("l", site.battery_cable_m, "m"), Given("allowed", allowed_v, "V")
    given = length, Given("R′", cable.ohm_per_km, "Ω/km"), runs, current, allowed
    yield held(FigureKind.VOLTAGE_DROP, drop_v, allowed_v, given)
    warm_degc = wiring.conductor_degc(cable, site.max_degc, current_a / run.runs)
    warm_v = drop_v * wiring.copper_factor(warm_degc)
    warm = held(
        FigureKind.WARM_DROP,
        warm_v,
        allowed_v,
        (Given("drop", drop_v, "V"), Given("θ", warm_degc, "°C"), allowed),
        {False: Note.COLD_DROP_ONLY},
    )
    yield warm if warm.state is State.SIZED else replace(warm, state=None)


def _fuse_voltage(kind: FigureKind, fuse: Fuse | None, direct_v: float) -> Figure:
    """Return the direct voltage that a fuse must break."""
    rated_v = None if fuse is None else fuse.rated_v
    given = Given("U", direct_v, "V"), Given("rated voltage", rated_v, "V")
    asked_v = wiring.FUSE_VOLTAGE_FACTOR * direct_v
    return held(kind, asked_v, rated_v, given, {None: Note.VOLTAGE_UNKNOWN})


def _fault(kind: FigureKind, design: Design, fuse: Fuse | None, feeding: int) -> Figure:
    """Return the fault current that so many strings feed, against what a fuse breaks."""
    unit_a = design.banks[0].battery.short_circuit_a
    breaking_ka = None if fuse is None else fuse.breaking_ka
    is_unknown = unit_a is None
    return held(
        kind,
        None if unit_a is None else feeding * unit_a / 1000,
        breaking_ka,
        (
            Given("I_sc of a unit", unit_a, "A"),
            Given("feeding", feeding),
            Given("breaking capacity", breaking_ka, "kA"),
        ),
        {
            None: Note.BATTERY_CURRENT_UNKNOWN if is_unknown else Note.BREAKING_CAPACITY_UNKNOWN,
            True: Note.FUSE_BREAKS,
            False: Note.FUSE_BREAKS_LESS,
        },
    )
