"""The place of the bank on the electrical sheet: floor, hydrogen and air, temperatures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.formulas.charging import cells_known_or_lead
from optimizer.formulas.hydrogen import (
    air_flow_m3_per_h,
    gassing_ma_per_ah,
    opening_cm2,
    safety_distance_mm,
)
from optimizer.quote.figures import Figure, FigureKind, Given, Note, settled

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.formulas.hydrogen import ChargingMode
    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job

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
    bank = design.banks[0]
    battery = bank.battery
    mass_kg = bank.units * battery.mass_kg
    count = (Given("units", bank.units), Given("mass", battery.mass_kg, "kg"))
    yield Figure(kind=FigureKind.BANK_MASS, value=mass_kg, unit="kg", inputs=count)
    weight_kn = mass_kg * _GRAVITY / 1000
    if battery.length_mm is None or battery.width_mm is None:
        yield Figure(kind=FigureKind.FLOOR_PRESSURE, unit="kN/m²", notes=(Note.SIZE_UNKNOWN,))
    else:
        pressure = weight_kn / (bank.units * battery.length_mm * battery.width_mm / 1e6)
        kept = pressure <= FLOOR_KN_PER_M2
        yield Figure(
            kind=FigureKind.FLOOR_PRESSURE,
            value=pressure,
            unit="kN/m²",
            inputs=(
                *count,
                Given("length", battery.length_mm, "mm"),
                Given("width", battery.width_mm, "mm"),
            ),
            limit=FLOOR_KN_PER_M2,
            notes=() if kept else (Note.SPREAD_THE_LOAD,),
        )
    yield Figure(
        kind=FigureKind.FLOOR_AREA,
        value=weight_kn / FLOOR_KN_PER_M2,
        unit="m²",
        inputs=(Given("mass", mass_kg, "kg"),),
    )
    yield Figure(
        kind=FigureKind.INVERTER_MASS,
        value=design.inverter_units * design.inverter.mass_kg,
        unit="kg",
        inputs=(Given("m", design.inverter_units), Given("mass", design.inverter.mass_kg, "kg")),
    )


def air_figures(design: Design) -> Iterator[Figure]:
    """Yield the air that each gassing bank of the chain needs, and the distance kept from it."""
    first = design.banks[0].battery
    if first.gas == "none":
        yield Figure(kind=FigureKind.NO_HYDROGEN, inputs=(Given("chemistry", first.chemistry),))
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
    string_v = bank.series * float(battery.class_v)
    cells = cells_known_or_lead(battery.chemistry, string_v)
    capacity_ah = bank.strings * battery.capacity_ah
    named: tuple[Given, ...] = ()
    notes: tuple[Note, ...] = ()
    if is_later:
        named = (Given("battery", battery.battery), Given("from year", bank.start + 1))
        notes = (Note.NOT_IN_SERVICE_YET,)
    for mode, air, opening in _AIR:
        gassing = gassing_ma_per_ah(battery.gas, mode)
        flow = air_flow_m3_per_h(cells, capacity_ah, gassing)
        given = (
            Given("z", cells),
            Given("I_gas", gassing, "mA/Ah"),
            Given("C_bank", capacity_ah, "Ah"),
        )
        yield Figure(kind=air, value=flow, unit="m³/h", inputs=(*given, *named), notes=notes)
        yield Figure(
            kind=opening,
            value=opening_cm2(flow),
            unit="cm²",
            inputs=(Given("Q", flow, "m³/h"), *named),
            notes=notes,
        )
    gassing = gassing_ma_per_ah(battery.gas, "boost")
    block = cells_known_or_lead(battery.chemistry, float(battery.class_v))
    yield Figure(
        kind=FigureKind.SPARK_DISTANCE,
        value=safety_distance_mm(battery.capacity_ah, gassing, block),
        unit="mm",
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
        kind=FigureKind.ROOM_TEMPERATURE,
        value=(site.min_degc, site.max_degc),
        unit="°C",
        inputs=(
            Given("mean", site.mean_degc, "°C"),
            Given("halving", battery.halving_degc, "°C"),
        ),
    )
    lowest = max(battery.min_charge_degc, battery.cold_points[0][0])
    yield Figure(
        kind=FigureKind.LOWEST_TEMPERATURE,
        value=lowest,
        unit="°C",
        inputs=(Given("room, lowest", site.min_degc, "°C"),),
        is_usual="min_charge_degc" in battery.sources,
        state=settled(site.min_degc >= lowest),
    )
