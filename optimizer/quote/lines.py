"""A design as priced lines that add up to the cent, and its later replacements."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum, auto
from itertools import groupby
from math import isclose
from typing import TYPE_CHECKING, ClassVar

from optimizer.errors import Fault, InputError
from optimizer.formulas.rounding import exact, parts, rounded
from optimizer.formulas.tolerance import whole_years
from optimizer.inputs.faults import one_of
from optimizer.inputs.faults import shown as quoted
from optimizer.model.job import Battery, Generator, Inverter
from optimizer.model.shown import shown
from optimizer.quote.company import Stage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Basis, Job
    from optimizer.quote.company import Company


class Heading(StrEnum):
    """Under which heading a line stands, in the order of a quote."""

    EQUIPMENT = auto()
    CABLE_AND_FUSE = auto()
    BOX_OR_VENTILATION = auto()
    PROTECTIVE_DEVICES = auto()
    LABOUR = auto()


class Part(StrEnum):
    """What a line is for."""

    INVERTER = auto()
    BATTERY = auto()
    GENERATOR = auto()
    CABLE = auto()
    FUSE = auto()
    WORK = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """What is priced: a model or a work by its name, or a size of cable [mm²] or fuse [A].

    ``voltage_v`` and ``capacity_ah`` are a battery's.
    """

    part: Part
    name: str = ""
    size: float | None = None
    voltage_v: float | None = None
    capacity_ah: float | None = None


#: Where works stand unless the company file moves them.
_HEADING_BY_BASIS: dict[Basis, Heading] = {"vented_bank": Heading.BOX_OR_VENTILATION}


@dataclass(frozen=True, slots=True)
class Line:
    """One priced line.

    ``price_each`` is what the customer reads, ``cost_each`` what the price list says: they differ
    where the markup is spread into the prices. All before tax, in the site's currency.
    """

    heading: Heading
    item: Item
    quantity: Decimal
    unit: str
    price_each: Decimal
    amount: Decimal
    cost_each: Decimal = field(metadata=shown(hide=True))
    supplier: str | None = field(default=None, metadata=shown(hide=True))
    supplier_code: str | None = field(default=None, metadata=shown(hide=True))
    price_date: date | None = None


@dataclass(frozen=True, slots=True)
class Sum:
    """Lines added up: their sum, the markup on it (0 where it is spread), the tax, the total."""

    lines: tuple[Line, ...]
    net: Decimal
    markup: Decimal
    tax: Decimal

    also: ClassVar = ("total",)

    @property
    def total(self) -> Decimal:
        """What is to be paid."""
        return self.net + self.markup + self.tax

    def by_heading(self) -> list[tuple[Heading, list[Line]]]:
        """Return the lines under their headings, in order."""
        return [(name, list(found)) for name, found in groupby(self.lines, lambda x: x.heading)]


@dataclass(frozen=True, slots=True)
class Replacement:
    """What is bought again later: when (counted from 0), what, and its sum at today's prices.

    ``model_amount`` is what the life-cycle cost counts for it: unrounded, and with the yearly
    change of battery prices that the price list expects.
    """

    time_years: float
    item: str
    sum: Sum
    model_amount: float

    also: ClassVar = ("year",)

    @property
    def year(self) -> int:
        """The year in which it is bought, from 0."""
        return whole_years(self.time_years)


@dataclass(frozen=True, slots=True)
class Due:
    """One payment of the plan and its amount."""

    stage: Stage
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Pricing:
    """A whole option in money.

    ``model_total`` is the upfront cost that the optimum was found with [currency, unrounded],
    without the fuel for a generator, which is not sold here.
    """

    currency: str
    markup_rate: Decimal
    markup_spread: bool
    tax_rate: Decimal
    first: Sum
    plan: tuple[Due, ...]
    replacements: tuple[Replacement, ...]
    model_total: float

    also: ClassVar = ("difference",)

    @property
    def total(self) -> Decimal:
        """What is to be paid at the start."""
        return self.first.total

    @property
    def replacement_runs(self) -> tuple[tuple[Replacement, ...], ...]:
        """The replacements; together those alike that stand one life, two, … after the start."""
        alike: dict[tuple[str, Decimal], list[Replacement]] = {}
        for one in self.replacements:
            alike.setdefault((one.item, one.sum.total), []).append(one)
        runs: list[tuple[Replacement, ...]] = []
        for same in alike.values():
            lives = [one.time_years / same[0].time_years for one in same]
            steady = all(isclose(life, place) for place, life in enumerate(lives, start=1))
            runs += [tuple(same)] if steady else [(one,) for one in same]
        return tuple(runs)

    @property
    def difference(self) -> Decimal:
        """The total less the unrounded model's upfront cost."""
        return self.total - exact(self.model_total)


def price(job: Job, design: Design, company: Company) -> Pricing:
    """Return a design as priced lines, payment plan and later replacements.

    Parameters
    ----------
    job, design : Job, Design
        The site with its price list, and what is offered.
    company : Company
        How the markup is shown, the payment plan, and works moved under other headings.

    Raises
    ------
    InputError
        The company file moves works that the price list does not have.
    """
    _check_headings(job, company)
    first = _sum(job, company, [*_equipment(job, design), *_works(job, design, company)])
    rules = job.site.generator
    fuel = 0.0 if rules is None else design.fuel_l * rules.fuel_price  # the customer's to buy
    plan = parts(first.total, [stage.share for stage in company.stages], job.site.currency)
    return Pricing(
        currency=job.site.currency,
        markup_rate=exact(job.site.markup),
        markup_spread=company.markup == "spread",
        tax_rate=exact(job.site.tax_rate),
        first=first,
        plan=tuple(Due(stage, amount) for stage, amount in zip(company.stages, plan, strict=True)),
        replacements=tuple(_replacements(job, design, company)),
        model_total=design.upfront_cost - fuel,
    )


@dataclass(frozen=True, slots=True)
class _Net:
    """A line before the way of pricing is settled: at the price list's price."""

    heading: Heading
    item: Item
    quantity: Decimal
    unit: str
    cost_each: Decimal
    model: Battery | Inverter | Generator | None = None


def _equipment(job: Job, design: Design) -> Iterator[_Net]:
    run, bank = design.wiring, design.banks[0]
    yield _set_line(design)
    yield _bank_line(bank)
    if design.generator is not None:
        yield _generator_line(design.generator)
    if run is None:  # battery and inverter in one box
        return
    units = Decimal(design.inverter_units)  # each with its own cable and fuse
    length_m = 2 * run.runs * exact(job.site.battery_cable_m) * units
    cable = Item(part=Part.CABLE, size=run.cable.section_mm2)
    yield _Net(Heading.CABLE_AND_FUSE, cable, length_m, "m", exact(run.cable.price_per_m))
    fuse = Item(part=Part.FUSE, size=run.fuse.rating_a)
    yield _Net(Heading.CABLE_AND_FUSE, fuse, units, "", exact(run.fuse.price))


def _set_line(design: Design) -> _Net:
    inverter = design.inverter
    item = Item(part=Part.INVERTER, name=inverter.inverter)
    units = Decimal(design.inverter_units)
    return _Net(Heading.EQUIPMENT, item, units, "", exact(inverter.price), inverter)


def _bank_line(bank: BankPeriod) -> _Net:
    battery = bank.battery
    item = Item(
        part=Part.BATTERY,
        name=battery.battery,
        voltage_v=battery.voltage_v,
        capacity_ah=battery.capacity_ah,
    )
    return _Net(Heading.EQUIPMENT, item, Decimal(bank.units), "", exact(battery.price), battery)


def _generator_line(generator: Generator) -> _Net:
    item = Item(part=Part.GENERATOR, name=generator.generator)
    return _Net(Heading.EQUIPMENT, item, Decimal(1), "", exact(generator.price), generator)


def _bank_quantities(bank: BankPeriod) -> dict[Basis, tuple[Decimal, str]]:
    return {
        "battery_unit": (Decimal(bank.units), ""),
        "string": (Decimal(bank.strings), ""),
        "parallel_string": (Decimal(bank.strings if bank.strings > 1 else 0), ""),
        "kg": (bank.units * exact(bank.battery.mass_kg), "kg"),
    }


def _works(job: Job, design: Design, company: Company) -> Iterator[_Net]:
    vented = any(bank.battery.gas == "vented" for bank in design.banks)
    quantities: dict[Basis, tuple[Decimal, str]] = {
        "site": (Decimal(1), ""),
        "inverter_unit": (Decimal(design.inverter_units), ""),
        "vented_bank": (Decimal(int(vented)), ""),
        **_bank_quantities(design.banks[0]),
    }
    yield from _works_of(job, company, quantities, first=True)


def _works_of(
    job: Job, company: Company, quantities: dict[Basis, tuple[Decimal, str]], *, first: bool
) -> Iterator[_Net]:
    skipped = "swap" if first else "first"
    for work in job.catalog.works:
        quantity, unit = quantities.get(work.basis, (Decimal(0), ""))
        if not quantity or work.applies == skipped:
            continue
        heading = _HEADING_BY_BASIS.get(work.basis, Heading.LABOUR)
        if work.item in company.box_or_ventilation:
            heading = Heading.BOX_OR_VENTILATION
        elif work.item in company.protective_devices:
            heading = Heading.PROTECTIVE_DEVICES
        item = Item(part=Part.WORK, name=work.item)
        yield _Net(heading, item, quantity, unit, exact(work.price))


def _sum(job: Job, company: Company, nets: list[_Net]) -> Sum:
    currency, markup = job.site.currency, exact(job.site.markup)
    spread = company.markup == "spread"
    lines = []
    for net in sorted(nets, key=lambda one: list(Heading).index(one.heading)):
        each = net.cost_each
        if spread and markup:
            # by weight or length a hundredth of a unit more or less would soon be money
            finer = 100 if net.unit else 1
            each = rounded(each * (1 + markup) * finer, currency) / finer
        lines.append(
            Line(
                net.heading,
                net.item,
                net.quantity,
                net.unit,
                each,
                rounded(net.quantity * each, currency),
                net.cost_each,
                net.model.supplier if net.model else None,
                net.model.supplier_code if net.model else None,
                net.model.price_date if net.model else None,
            )
        )
    total = sum((line.amount for line in lines), Decimal(0))
    added = Decimal(0) if spread else rounded(total * markup, currency)
    tax = rounded((total + added) * exact(job.site.tax_rate), currency)
    return Sum(tuple(lines), total, added, tax)


def _replacements(job: Job, design: Design, company: Company) -> Iterator[Replacement]:
    found: list[tuple[float, str, list[_Net], float]] = []
    horizon, generator = job.site.horizon_years, design.generator
    life = whole_years(design.inverter.life_years)
    for year in range(life, horizon, life):
        found.append((year, design.inverter.inverter, _next_set(job, design, company), 1.0))
    if generator is not None:
        life = whole_years(generator.life_years)
        for year in range(life, horizon, life):
            found.append((year, generator.generator, [_generator_line(generator)], 1.0))
    for bank in design.banks:
        for time_years in bank.purchase_years:
            if time_years > 0:
                drift = (1 + bank.battery.price_drift) ** time_years
                nets = _next_bank(job, bank, company)
                found.append((time_years, bank.battery.battery, nets, drift))
    gross = (1 + job.site.markup) * (1 + job.site.tax_rate)
    for time_years, item, nets, drift in sorted(found, key=lambda one: one[0]):
        counted = sum(
            float(net.quantity * net.cost_each) * (drift if net.model else 1.0) for net in nets
        )
        yield Replacement(time_years, item, _sum(job, company, nets), counted * gross)


def _next_set(job: Job, design: Design, company: Company) -> list[_Net]:
    units: dict[Basis, tuple[Decimal, str]] = {
        "inverter_unit": (Decimal(design.inverter_units), "")
    }
    return [_set_line(design), *_works_of(job, company, units, first=False)]


def _next_bank(job: Job, bank: BankPeriod, company: Company) -> list[_Net]:
    return [_bank_line(bank), *_works_of(job, company, _bank_quantities(bank), first=False)]


def next_set(job: Job, design: Design, company: Company) -> Sum:
    """Return what a new inverter set costs when the first is worn, at today's prices."""
    return _sum(job, company, _next_set(job, design, company))


def next_bank(job: Job, bank: BankPeriod, company: Company) -> Sum:
    """Return what a bank costs when it replaces another, at today's prices."""
    return _sum(job, company, _next_bank(job, bank, company))


def next_generator(job: Job, generator: Generator, company: Company) -> Sum:
    """Return what a generator costs when the first is worn, at today's prices."""
    return _sum(job, company, [_generator_line(generator)])


def _check_headings(job: Job, company: Company) -> None:
    known = [work.item for work in job.catalog.works]
    faults = [
        Fault(
            company.file,
            None,
            f"headings.{key}",
            f"{quoted(item)}, which the price list does not have",
            one_of("a work of the price list", item, known),
        )
        for key in ("box_or_ventilation", "protective_devices")
        for item in getattr(company, key)
        if item not in known
    ]
    if faults:
        raise InputError(faults)
