"""What is bought when, and the material list of the first purchase."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from optimizer.engine.cashflow import EQUIPMENT, PURCHASES

if TYPE_CHECKING:
    from optimizer.engine.cashflow import Payment
    from optimizer.model.design import Design
    from optimizer.model.job import Job


@dataclass(frozen=True, slots=True)
class Purchase:
    """Equipment bought in one year: its year and the sum paid, works included [currency]."""

    year: int
    amount: float
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Material:
    """A line of the material list, at the first purchase: quantity and unit, price of one.

    ``item`` is a name of the price list; of a cable its section, of a fuse its rating.
    """

    kind: Literal["inverter", "battery", "cable", "fuse", "works"]
    item: str
    quantity: float
    unit: str
    price_each: float


def purchases(payments: tuple[Payment, ...]) -> tuple[Purchase, ...]:
    """Return what equipment is bought in each year, works and fuel of that year included."""
    amounts: defaultdict[int, float] = defaultdict(float)
    items: defaultdict[int, list[str]] = defaultdict(list)
    for payment in payments:
        if payment.kind in PURCHASES:
            amounts[payment.year] += payment.amount
            if payment.kind in EQUIPMENT:
                items[payment.year].append(payment.item)
    return tuple(Purchase(year, amounts[year], tuple(items[year])) for year in sorted(items))


def materials(job: Job, design: Design) -> tuple[Material, ...]:
    """Return what is bought at the start, equipment before works."""
    run, length_m = design.wiring, job.site.battery_cable_m
    bank = design.banks[0]
    inverter, battery, units = design.inverter, bank.battery, design.inverter_units
    lines = [
        Material("inverter", inverter.inverter, units, "", inverter.price),
        Material("battery", battery.battery, bank.units, "", battery.price),
    ]
    if run is not None:  # each inverter has its own
        section, cable_m = f"{run.cable.section_mm2:g} mm²", units * run.runs * 2 * length_m
        lines += [
            Material("cable", section, cable_m, "m", run.cable.price_per_m),
            Material("fuse", f"{run.fuse.rating_a:g} A", units, "", run.fuse.price),
        ]
    vented = any(period.battery.gas == "vented" for period in design.banks)
    quantities = {
        "site": (1.0, ""),
        "inverter_unit": (float(design.inverter_units), ""),
        "battery_unit": (float(bank.units), ""),
        "string": (float(bank.strings), ""),
        "parallel_string": (float(bank.strings if bank.strings > 1 else 0), ""),
        "kg": (bank.units * bank.battery.mass_kg, "kg"),
        "vented_bank": (float(vented), ""),
    }
    for work in job.catalog.works:
        quantity, unit = quantities[work.basis]
        if quantity and work.applies != "swap":
            lines.append(Material("works", work.item, quantity, unit, work.price))
    return tuple(lines)
