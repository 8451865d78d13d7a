"""What is bought when, and the material list of the first purchase."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

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
    """A line of the material list, at the first purchase: quantity and unit, price of one."""

    item: str
    quantity: float
    unit: str
    price_each: float


def purchases(payments: tuple[Payment, ...]) -> tuple[Purchase, ...]:
    """Return what is bought in each year, works included."""
    amounts: defaultdict[int, float] = defaultdict(float)
    items: defaultdict[int, list[str]] = defaultdict(list)
    for payment in payments:
        if payment.kind in {"inverter", "wiring", "battery", "works"}:
            amounts[payment.year] += payment.amount
            if payment.kind in {"inverter", "battery"}:
                items[payment.year].append(payment.item)
    return tuple(Purchase(year, amounts[year], tuple(items[year])) for year in sorted(amounts))


def materials(job: Job, design: Design) -> tuple[Material, ...]:
    """Return what is bought at the start, equipment before works."""
    run, length_m = design.wiring, job.site.battery_cable_m
    bank = design.banks[0]
    section = f"Battery cable {run.cable.section_mm2:g} mm²"
    lines = [
        Material(design.inverter.inverter, design.inverter_units, "", design.inverter.price),
        Material(bank.battery.battery, bank.units, "", bank.battery.price),
        Material(section, run.runs * 2 * length_m, "m", run.cable.price_per_m),
        Material(f"Battery fuse {run.fuse.rating_a:g} A", 1, "", run.fuse.price),
    ]
    vented = any(period.battery.gas == "vented" for period in design.banks)
    quantities = {
        "site": (1.0, ""),
        "inverter_unit": (float(design.inverter_units), ""),
        "battery_unit": (float(bank.units), ""),
        "string": (float(bank.strings), ""),
        "kg": (bank.units * bank.battery.mass_kg, "kg"),
        "vented_bank": (float(vented), ""),
    }
    for work in job.catalog.works:
        quantity, unit = quantities[work.basis]
        if quantity and work.applies != "swap":
            lines.append(Material(work.item, quantity, unit, work.price))
    return tuple(lines)
