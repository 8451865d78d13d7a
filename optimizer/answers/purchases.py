"""What is bought when, the material list of the first purchase, and where the money goes."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

import numpy as np

from optimizer.engine.cashflow import EQUIPMENT, PURCHASES, RETURNS, Kind, Payment
from optimizer.model.design import Design
from optimizer.model.job import Job


@dataclass(frozen=True, slots=True)
class Purchase:
    """What is bought in one year: its year and the sum paid, works included [currency].

    ``items`` is the equipment; empty where fuel alone is renewed.
    """

    year: int
    amount: float
    items: tuple[str, ...]


#: From so many of a kind on, one after another, their spacing says more than their years.
_MANY = 3


@dataclass(frozen=True, slots=True)
class Replacement:
    """Equipment that is bought again.

    Parameters
    ----------
    kind : Kind
        Inverter, battery or generator.
    item : str
        The model.
    times_years : tuple of float
        When it is bought, the first time included [a].
    every_years : float or None
        The time between them [a], where many follow one another at one distance.
    """

    kind: Kind
    item: str
    times_years: tuple[float, ...]
    every_years: float | None


@dataclass(frozen=True, slots=True)
class Material:
    """A line of the material list, at the first purchase: quantity and unit, price of one.

    ``item`` is a name of the price list; of a cable its section, of a fuse its rating.
    """

    kind: Literal["inverter", "battery", "cable", "fuse", "works", "generator"]
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


def replacements(payments: tuple[Payment, ...]) -> tuple[Replacement, ...]:
    """Return the equipment that is bought after the start, with every time it is bought."""
    times: defaultdict[tuple[Kind, str], list[float]] = defaultdict(list)
    for payment in payments:
        if payment.kind in EQUIPMENT:
            times[payment.kind, payment.item].append(payment.time_years)
    found = []
    for (kind, item), bought in times.items():
        apart = np.diff(bought)
        steady = len(bought) >= _MANY and np.allclose(apart, apart[0])
        if bought[-1] > 0:
            every = float(apart[0]) if steady else None
            found.append(Replacement(kind, item, tuple(bought), every))
    return tuple(found)


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
    if design.generator is not None:
        generator = design.generator
        lines.append(Material("generator", generator.generator, 1, "", generator.price))
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


class CostShare(StrEnum):
    """What a payment is part of; the first two are the upfront cost."""

    EQUIPMENT = "equipment"
    LABOUR = "labour"
    REPLACEMENTS = "replacements"
    RUNNING = "running"
    RESIDUAL_VALUE = "residual_value"


def share_of(payment: Payment) -> CostShare:
    """Return what a payment is part of."""
    if payment.kind in RETURNS:
        return CostShare.RESIDUAL_VALUE
    if payment.kind not in PURCHASES:
        return CostShare.RUNNING
    if payment.time_years > 0:
        return CostShare.REPLACEMENTS
    return CostShare.LABOUR if payment.kind is Kind.WORKS else CostShare.EQUIPMENT


def cost_shares(payments: Iterable[Payment], discount_rate: float) -> dict[CostShare, float]:
    """Return the present value of each share [currency]; together the life-cycle cost."""
    shares = dict.fromkeys(CostShare, 0.0)
    for payment in payments:
        shares[share_of(payment)] += payment.present_value(discount_rate)
    return shares
