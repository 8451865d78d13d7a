"""What is bought when, the material list of the first purchase, and where the money goes."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Literal

import numpy as np

from optimizer.engine.cashflow import EQUIPMENT, PURCHASES, RETURNS, Kind, Payment
from optimizer.formulas.rounding import exact
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import (
    Applies,
    Battery,
    Cable,
    Fuse,
    Generator,
    Inverter,
    Job,
    Work,
)
from optimizer.model.shown import shown


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


MaterialKind = Literal["inverter", "battery", "cable", "fuse", "works", "generator"]
#: A row of the price list that the optimum is made of.
Ware = Inverter | Battery | Generator | Cable | Fuse | Work


@dataclass(frozen=True, slots=True)
class Material:
    """A line of a material list: quantity and unit, price of one.

    ``item`` is a name of the price list; of a cable its section, of a fuse its rating. ``ware`` is
    the row itself.
    """

    kind: MaterialKind
    item: str
    quantity: Decimal
    unit: str
    price_each: float
    ware: Ware = field(metadata=shown(hide=True))

    @property
    def amount(self) -> float:
        """The sum of the line, before markup and tax [currency]."""
        return float(self.quantity) * self.price_each


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
    run, bank, units = design.wiring, design.banks[0], Decimal(design.inverter_units)
    lines = [_line(design.inverter, units), _line(bank.battery, bank.units)]
    if run is not None:  # each inverter has its own
        cable_m = units * run.runs * 2 * exact(job.site.battery_cable_m)
        lines += [_line(run.cable, cable_m, "m"), _line(run.fuse, units)]
    if design.generator is not None:
        lines.append(_line(design.generator))
    vented = any(period.battery.gas == "vented" for period in design.banks)
    first = {"site": Decimal(1), "inverter_unit": units, "vented_bank": Decimal(vented)}
    return (*lines, *_works(job, first | _by_bank(bank), skipped="swap"))


def bought_again(job: Job, worn: Design | BankPeriod | Generator) -> tuple[Material, ...]:
    """Return what is bought when a design's inverters, a bank or a generator are worn."""
    match worn:
        case BankPeriod():
            line, counted = _line(worn.battery, worn.units), _by_bank(worn)
        case Generator():
            line, counted = _line(worn), {}
        case _:
            line = _line(worn.inverter, worn.inverter_units)
            counted = {"inverter_unit": line.quantity}
    return (line, *_works(job, counted, skipped="first"))


def _by_bank(bank: BankPeriod) -> dict[str, Decimal]:
    """Return what works on a bank are counted by."""
    return {
        "battery_unit": Decimal(bank.units),
        "string": Decimal(bank.strings),
        "parallel_string": Decimal(bank.strings if bank.strings > 1 else 0),
        "kg": bank.units * exact(bank.battery.mass_kg),
    }


def _works(job: Job, quantities: Mapping[str, Decimal], *, skipped: Applies) -> Iterator[Material]:
    for work in job.catalog.works:
        quantity = quantities.get(work.basis)
        if quantity and work.applies != skipped:
            yield _line(work, quantity, "kg" if work.basis == "kg" else "")


def _line(ware: Ware, quantity: Decimal | int = 1, unit: str = "") -> Material:
    kind: MaterialKind
    match ware:
        case Inverter():
            kind, item = "inverter", ware.inverter
        case Battery():
            kind, item = "battery", ware.battery
        case Generator():
            kind, item = "generator", ware.generator
        case Cable():
            kind, item = "cable", f"{ware.section_mm2:g} mm²"
        case Fuse():
            kind, item = "fuse", f"{ware.rating_a:g} A"
        case Work():
            kind, item = "works", ware.item
    price = ware.price_per_m if isinstance(ware, Cable) else ware.price
    return Material(kind, item, Decimal(quantity), unit, price, ware)


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
