"""A design as priced lines that add up to the cent, and its later replacements."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from math import isclose
from typing import ClassVar, Final

from optimizer.answers.purchases import Material, bought_again, materials
from optimizer.errors import Fault, InputError
from optimizer.formulas.money import drifted_price
from optimizer.formulas.rounding import exact, parts, rounded
from optimizer.formulas.tolerance import whole_years
from optimizer.inputs.company_keys import EXTRA_UNITS
from optimizer.inputs.faults import one_of
from optimizer.inputs.faults import shown as quoted
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Basis, Battery, Cable, Fuse, Generator, Job, Work
from optimizer.model.part import ListedPart
from optimizer.model.phrase import Phrase
from optimizer.quote.circuit import DIRECT_KINDS, make_circuit
from optimizer.quote.company import Company, Stage
from optimizer.quote.sums import MARKED, Bought, Heading, Item, Line, Net, Part, Rates, Sum

#: Where works stand unless the company file moves them.
_HEADING_BY_BASIS: Final[dict[Basis, Heading]] = {"vented_bank": Heading.BOX_OR_VENTILATION}


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
class Margin:
    """A line as the installer alone reads it: what it costs, brings, and leaves before tax."""

    line: Line
    cost: Decimal
    selling: Decimal

    @property
    def margin(self) -> Decimal:
        """Selling price less cost."""
        return self.selling - self.cost

    @property
    def share(self) -> Decimal:
        """The margin as a share of the selling price."""
        return self.margin / self.selling if self.selling else Decimal(0)


@dataclass(frozen=True, slots=True)
class Pricing:
    """A whole option in money.

    ``life_cycle_cost`` is the design's, with what this quote asks at the start in the place of the
    price list's sum: discounts, extras and the company's own rates included.
    """

    currency: str
    first: Sum
    plan: tuple[Due, ...]
    replacements: tuple[Replacement, ...]
    life_cycle_cost: float

    also: ClassVar = ("total",)

    @property
    def total(self) -> Decimal:
        """What is to be paid at the start."""
        return self.first.total

    @property
    def margins(self) -> Iterator[Margin]:
        """What each line leaves to the installer alone, markups and discounts included."""
        off = sum((one.rate for one in self.first.added if one.is_discount), Decimal(0))
        marks = [one for one in self.first.added if not one.is_discount]
        for line in self.first.lines:
            own = [one.rate for one in marks if MARKED[one.kind] is line.is_labour]
            selling = line.amount * (1 + sum(own, Decimal(0))) * (1 - off)
            cost = rounded(line.quantity * line.cost_each, self.currency)
            yield Margin(line, cost, rounded(selling, self.currency))

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


def price(job: Job, design: Design, company: Company) -> Pricing:
    """Return a design as priced lines, payment plan and later replacements, on a company's terms.

    Raises
    ------
    InputError
        The company file names works or models that the price list does not have.
    """
    _check_names(job, company)
    nets = [
        *_nets(materials(job, design), company),
        *_circuit_parts(job, design),
        *_extras(company),
    ]
    first = Rates.of(job, company).added_up(_without_owned(nets, company))
    plan = parts(first.total, [stage.share for stage in company.stages], job.site.currency)
    return Pricing(
        currency=job.site.currency,
        first=first,
        plan=tuple(Due(stage, amount) for stage, amount in zip(company.stages, plan, strict=True)),
        replacements=tuple(_replacements(job, design, company)),
        life_cycle_cost=design.life_cycle_cost + float(first.total) - sold_at_start(job, design),
    )


def sold_at_start(job: Job, design: Design) -> float:
    """Return the model's upfront cost without the fuel for a generator, which is not sold here."""
    rules = job.site.generator
    return design.upfront_cost - (0.0 if rules is None else design.fuel_l * rules.fuel_price)


def _extras(company: Company) -> Iterator[Net]:
    for extra in company.extras:
        usual = Heading.LABOUR if extra.unit == "hour" else Heading.EQUIPMENT
        yield Net(
            Heading(extra.heading) if extra.heading else usual,
            Item(part=Part.EXTRA, name=extra.item),
            extra.quantity,
            EXTRA_UNITS[extra.unit],
            extra.price,
            own_tax=extra.tax,
        )


def _without_owned(nets: list[Net], company: Company) -> Iterator[Net]:
    """Yield lines; units that the customer has stand on lines of their own, at no price."""
    left = {name: Decimal(count) for name, count in company.owned}
    for net in nets:
        is_model = isinstance(net.ware, Bought)
        taken = min(left.get(net.item.name, Decimal(0)), net.quantity) if is_model else Decimal(0)
        if taken:
            left[net.item.name] -= taken
            own = replace(net.item, is_owned=True, warranty_years=None)
            yield replace(net, item=own, quantity=taken, cost_each=Decimal(0), ware=None)
        if net.quantity > taken:
            yield replace(net, quantity=net.quantity - taken)


def _nets(bought: Iterable[Material], company: Company) -> Iterator[Net]:
    """Yield lines of a material list under the headings of a quote."""
    for one in bought:
        heading, ware = Heading.EQUIPMENT, one.ware
        match ware:
            case Work():
                heading, item = _work_heading(ware, company), Item(part=Part.WORK, name=ware.item)
            case Cable() | Fuse():
                heading = Heading.CABLE_AND_FUSE
                size = ware.section_mm2 if isinstance(ware, Cable) else ware.rating_a
                item = Item(part=Part(one.kind), size=size)
            case _:
                years = ware.warranty_years
                item = Item(part=Part(one.kind), name=one.item, warranty_years=years)
        if isinstance(ware, Battery):
            item = replace(item, voltage_v=ware.voltage_v, capacity_ah=ware.capacity_ah)
        yield Net(heading, item, one.quantity, one.unit, exact(one.price_each), ware)


def _work_heading(work: Work, company: Company) -> Heading:
    if work.item in company.box_or_ventilation:
        return Heading.BOX_OR_VENTILATION
    if work.item in company.protective_devices:
        return Heading.PROTECTIVE_DEVICES
    return _HEADING_BY_BASIS.get(work.basis, Heading.LABOUR)


def _circuit_parts(job: Job, design: Design) -> Iterator[Net]:
    """Yield the other parts of the circuit that the price list has."""
    for part, ware in make_circuit(job, design).priced_parts():
        item = Item(
            part=Part.CIRCUIT,
            kind=part.kind,
            size=None if part.rating is None else part.rating.value,
            warranty_years=ware.warranty_years if isinstance(ware, ListedPart) else None,
        )
        is_direct = part.kind in DIRECT_KINDS
        heading = Heading.CABLE_AND_FUSE if is_direct else Heading.PROTECTIVE_DEVICES
        yield Net(heading, item, exact(part.quantity), "", exact(ware.price), ware)


def _replacements(job: Job, design: Design, company: Company) -> Iterator[Replacement]:
    site, generator = job.site, design.generator
    worn: list[tuple[Design | Generator, float]] = [(design, design.inverter.life_years)]
    worn += [] if generator is None else [(generator, generator.life_years)]
    found: list[tuple[float, Sum]] = []
    for one, life_years in worn:
        life, total = whole_years(life_years), sum_again(job, one, company)
        found += [(year, total) for year in range(life, site.horizon_years, life)]
    for bank in design.banks:
        total = sum_again(job, bank, company)
        found += [(time_years, total) for time_years in bank.purchase_years if time_years > 0]
    gross = (1 + site.markup) * (1 + site.tax_rate)
    for time_years, total in sorted(found, key=lambda one: one[0]):
        counted = 0.0
        for line in total.lines:
            cost, ware = float(line.quantity * line.cost_each), line.ware
            drift = ware.price_drift if isinstance(ware, Battery) else 0.0
            counted += drifted_price(cost, drift, time_years)
        yield Replacement(time_years, total.lines[0].item.name, total, counted * gross)


def sum_again(job: Job, worn: Design | BankPeriod | Generator, company: Company) -> Sum:
    """Return what new inverters, a bank or a generator cost when worn, at today's prices."""
    return Rates.of(job, company).added_up(_nets(bought_again(job, worn), company))


def _check_names(job: Job, company: Company) -> None:
    """Raise InputError with every work and model of the company file that is not for sale."""
    catalog = job.catalog
    works = [work.item for work in catalog.works]
    models = [one.battery for one in catalog.batteries]
    models += [one.inverter for one in catalog.inverters]
    models += [one.generator for one in catalog.generators]
    work, model = Phrase("a work of the price list"), Phrase("a model of the price list")
    named = [
        *(("headings.box_or_ventilation", one, works, work) for one in company.box_or_ventilation),
        *(("headings.protective_devices", one, works, work) for one in company.protective_devices),
        *((f"owned.{one}", one, models, model) for one, _ in company.owned),
    ]
    faults = [
        Fault(
            company.file,
            None,
            key,
            Phrase("{name}, which the price list does not have", name=quoted(name)),
            one_of(what, name, known),
        )
        for key, name, known, what in named
        if name not in known
    ]
    if faults:
        raise InputError(faults)
