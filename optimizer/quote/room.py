"""The place of the bank on the electrical sheet: floor, hydrogen and air, temperatures."""

from collections.abc import Iterator
from typing import Final

from optimizer.formulas import hydrogen
from optimizer.formulas.charging import LEAD_CELL_V
from optimizer.formulas.hydrogen import ChargingMode
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job
from optimizer.quote.figures import Figure, FigureKind, Given, Note, settled

#: Standard gravity [m/s²].
_GRAVITY: Final = 9.80665
#: What the floor of a dwelling is reckoned to bear [kN/m²]: the lower end of EN 1991-1-1 for
#: homes (1.5–2.0), below the 40 lb/ft² (1.9) of US practice.
FLOOR_KN_PER_M2: Final = 1.5
_AIR: Final[tuple[tuple[ChargingMode, FigureKind, FigureKind], ...]] = (
    ("float", FigureKind.FLOAT_AIR, FigureKind.FLOAT_OPENING),
    ("boost", FigureKind.BOOST_AIR, FigureKind.BOOST_OPENING),
)


def floor_figures(design: Design) -> Iterator[Figure]:
    """Yield mass and floor pressure of the bank that is put in place at the start."""
    bank, inverter, units = design.banks[0], design.inverter, design.inverter_units
    battery = bank.battery
    count = (Given("units", bank.units), Given("mass", battery.mass_kg, "kg"))
    yield Figure(FigureKind.BANK_MASS, bank.mass_kg, inputs=count)
    weight_kn = bank.mass_kg * _GRAVITY / 1000
    if bank.floor_m2 is None:
        yield Figure(FigureKind.FLOOR_PRESSURE, notes=(Note.SIZE_UNKNOWN,))
    else:
        pressure = weight_kn / bank.floor_m2
        size = Given("length", battery.length_mm, "mm"), Given("width", battery.width_mm, "mm")
        yield Figure(
            FigureKind.FLOOR_PRESSURE,
            pressure,
            limit=FLOOR_KN_PER_M2,
            inputs=(*count, *size),
            notes=() if pressure <= FLOOR_KN_PER_M2 else (Note.SPREAD_THE_LOAD,),
        )
    given: tuple[Given, ...] = (Given("mass", bank.mass_kg, "kg"),)
    yield Figure(FigureKind.FLOOR_AREA, weight_kn / FLOOR_KN_PER_M2, inputs=given)
    given = Given("m", units), Given("mass", inverter.mass_kg, "kg")
    yield Figure(FigureKind.INVERTER_MASS, units * inverter.mass_kg, inputs=given)


def air_figures(design: Design) -> Iterator[Figure]:
    """Yield the air that each gassing bank of the chain needs, and the distance kept from it."""
    first = design.banks[0].battery
    if first.gas == "none":
        yield Figure(FigureKind.NO_HYDROGEN, inputs=(Given("chemistry", first.chemistry),))
    told: set[object] = set()
    for bank in design.banks:
        asked = (bank.battery.battery, bank.series, bank.strings)
        if bank.battery.gas == "none" or asked in told:
            continue
        told.add(asked)
        yield from _air_of(bank, is_later=bank is not design.banks[0])


def _air_of(bank: BankPeriod, *, is_later: bool) -> Iterator[Figure]:
    """Yield what one bank asks for; a bank bought later is named with the year it comes."""
    battery = bank.battery
    cells = round(bank.series * battery.class_v / LEAD_CELL_V)
    capacity_ah = bank.strings * battery.capacity_ah
    named: tuple[Given, ...] = ()
    notes: tuple[Note, ...] = ()
    if is_later:
        named = (Given("battery", battery.battery), Given("from year", bank.start + 1))
        notes = (Note.NOT_IN_SERVICE_YET,)
    for mode, air, opening in _AIR:
        gassing = hydrogen.gassing_ma_per_ah(battery.gas, mode)
        flow = hydrogen.air_flow_m3_per_h(cells, capacity_ah, gassing)
        given = (
            Given("z", cells),
            Given("I_gas", gassing, "mA/Ah"),
            Given("C_bank", capacity_ah, "Ah"),
        )
        yield Figure(air, flow, inputs=(*given, *named), notes=notes)
        aired = Given("Q", flow, "m³/h")
        yield Figure(opening, hydrogen.opening_cm2(flow), inputs=(aired, *named), notes=notes)
    gassing = hydrogen.gassing_ma_per_ah(battery.gas, "boost")
    block = round(battery.class_v / LEAD_CELL_V)
    yield Figure(
        FigureKind.SPARK_DISTANCE,
        hydrogen.safety_distance_mm(battery.capacity_ah, gassing, block),
        inputs=(
            Given("I_gas", gassing, "mA/Ah"),
            Given("C", battery.capacity_ah, "Ah"),
            Given("N", block),
            *named,
        ),
        notes=notes,
    )


def room_figures(job: Job, design: Design) -> Iterator[Figure]:
    """Yield the temperatures of the room against what the bank bears."""
    site, battery = job.site, design.banks[0].battery
    yield Figure(
        FigureKind.ROOM_TEMPERATURE,
        (site.min_degc, site.max_degc),
        inputs=(Given("mean", site.mean_degc, "°C"), Given("halving", battery.halving_degc, "°C")),
    )
    lowest = max(battery.min_charge_degc, battery.cold_points[0][0])
    yield Figure(
        FigureKind.LOWEST_TEMPERATURE,
        lowest,
        inputs=(Given("room, lowest", site.min_degc, "°C"),),
        is_usual="min_charge_degc" in battery.sources,
        state=settled(site.min_degc >= lowest),
    )
