"""The place of the bank on the electrical sheet: floor, hydrogen and air, temperatures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.formulas.charging import cells_in_series
from optimizer.formulas.hydrogen import (
    AIR_M3_PER_AH,
    air_flow_m3_per_h,
    gassing_ma_per_ah,
    opening_cm2,
    safety_distance_mm,
)
from optimizer.quote.figures import Figure, Given, Topic

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
_LEAD_CELL_V: Final = 2.0


def floor_figures(design: Design) -> Iterator[Figure]:
    """Yield mass and floor pressure of the bank that is put in place at the start."""
    bank = design.banks[0]
    battery = bank.battery
    topic: Topic = "Mass and floor"
    mass_kg = bank.units * battery.mass_kg
    count = (Given("units", bank.units), Given("mass", battery.mass_kg, "kg"))
    yield Figure(
        "Mass and floor", "Mass of the bank", mass_kg, "kg", "units · mass", count, "price list"
    )
    weight_kn = mass_kg * _GRAVITY / 1000
    if battery.length_mm is None or battery.width_mm is None:
        remark = "The price list does not state the battery's length and width."
        yield Figure(topic, "Pressure on the floor", "unknown", remark=remark)
    else:
        area_m2 = bank.units * battery.length_mm * battery.width_mm / 1e6
        pressure = weight_kn / area_m2
        yield Figure(
            topic,
            "Pressure under the units, one layer, no gaps",
            pressure,
            "kN/m²",
            "mass · g / (units · length · width)",
            (
                *count,
                Given("length", battery.length_mm, "mm"),
                Given("width", battery.width_mm, "mm"),
            ),
            "arithmetic",
            "A dwelling's floor is reckoned at 1.5–2.0 kN/m² (EN 1991-1-1, from memory)"
            + (": spread the load." if pressure > FLOOR_KN_PER_M2 else "."),
            pressure <= FLOOR_KN_PER_M2,
        )
    yield Figure(
        topic,
        "Floor to spread it over on an upper storey",
        weight_kn / FLOOR_KN_PER_M2,
        "m²",
        "mass · g / (1000 · 1.5 kN/m²)",
        (Given("mass", mass_kg, "kg"),),
        "EN 1991-1-1, homes (from memory)",
        "Nothing else counted; a solid ground floor needs less care.",
    )
    yield Figure(
        topic,
        "Mass of the inverter set, on the wall",
        design.inverter_units * design.inverter.mass_kg,
        "kg",
        "m · mass",
        (Given("m", design.inverter_units), Given("mass", design.inverter.mass_kg, "kg")),
        "price list",
        "Not above the bank where it gives off gas.",
    )


def cells_of(bank: BankPeriod) -> int:
    """Return the cells in series of a bank; 2 V a cell where the chemistry is not known."""
    known = cells_in_series(bank.battery.chemistry, bank.series * float(bank.battery.class_v))
    return known or round(bank.series * bank.battery.class_v / _LEAD_CELL_V)


def air_figures(design: Design) -> Iterator[Figure]:
    """Yield the air that a gassing bank needs, floating and charging, and the distance kept."""
    bank = design.banks[0]
    battery = bank.battery
    topic: Topic = "Hydrogen and air"
    if battery.gas == "none":
        yield Figure(
            topic,
            "Hydrogen",
            "none in normal use",
            source=f"chemistry {battery.chemistry}",
            remark="No ventilation for hydrogen; the room still has to carry off heat, and the "
            "maker's instructions for a damaged battery prevail.",
        )
        return
    cells, capacity_ah = cells_of(bank), bank.strings * battery.capacity_ah
    modes: tuple[tuple[ChargingMode, str], ...] = (
        ("float", "floating"),
        ("boost", "in absorption"),
    )
    for mode, words in modes:
        gassing = gassing_ma_per_ah(battery.gas, mode)
        flow = air_flow_m3_per_h(cells, capacity_ah, gassing)
        shared = (
            Given("n", cells, "cells"),
            Given("I_gas", gassing, "mA/Ah"),
            Given("C", capacity_ah, "Ah"),
        )
        yield Figure(
            topic,
            f"Fresh air, {words}",
            flow,
            "m³/h",
            f"{AIR_M3_PER_AH:g} · n · I_gas · C / 1000",
            shared,
            "IEC 62485-2:2010, clause 7.2 (0.05: 0.0504 rounded)",
        )
        yield Figure(
            topic,
            f"Inlet and outlet, each, {words}",
            opening_cm2(flow),
            "cm²",
            "28 · Q",
            (Given("Q", flow, "m³/h"),),
            "IEC 62485-2:2010, clause 7.3",
            "Natural draught: inlet low, outlet high, opposite." if mode == "boost" else "",
        )
    gassing = gassing_ma_per_ah(battery.gas, "boost")
    yield Figure(
        topic,
        "No sparks or glowing parts nearer than",
        safety_distance_mm(battery.capacity_ah, gassing),
        "mm",
        "28.8 · (I_gas · C)^(1/3)",
        (Given("I_gas", gassing, "mA/Ah"), Given("C of a unit", battery.capacity_ah, "Ah")),
        "IEC 62485-2, clause 7.6 (from memory)",
        "Measured from the gas openings: no switch, fuse or socket within it.",
    )


def room_figures(job: Job, design: Design) -> Iterator[Figure]:
    """Yield the temperatures of the room against what the bank bears."""
    site, battery = job.site, design.banks[0].battery
    topic: Topic = "Room"
    yield Figure(
        topic,
        "Temperature, from–to",
        (site.min_degc, site.max_degc),
        "°C",
        inputs=(
            Given("mean", site.mean_degc, "°C"),
            Given("halving above 20 °C", battery.halving_degc, "°C"),
        ),
        source="the site",
        remark="Each step of halving above 20 °C halves the float life.",
    )
    lowest = max(battery.min_charge_degc, battery.cold_points[0][0])
    yield Figure(
        topic,
        "Lowest the battery bears",
        lowest,
        "°C",
        inputs=(Given("room, lowest", site.min_degc, "°C"),),
        source=battery.sources.get("min_charge_degc", "price list"),
        meets=site.min_degc >= lowest,
    )
