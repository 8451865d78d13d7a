"""Priced lines added up to the cent: markups, discounts, tax by rate."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from decimal import Decimal
from enum import StrEnum, auto
from itertools import groupby
from typing import ClassVar, Final, Self, TypeAlias

from optimizer.answers import purchases
from optimizer.formulas.rounding import exact, rounded
from optimizer.model.job import Battery, Generator, Inverter, Job
from optimizer.model.part import ListedPart, PartKind
from optimizer.model.shown import shown
from optimizer.quote.company import Company, Share

#: Rows of the price list that say of whom they are bought, and all that is sold.
Bought: TypeAlias = Battery | Inverter | Generator | ListedPart
Ware: TypeAlias = purchases.Ware | ListedPart

_ZERO = Decimal(0)


class Heading(StrEnum):
    """Under which heading a line stands, in the order of a quote."""

    EQUIPMENT = auto()
    CABLE_AND_FUSE = auto()
    BOX_OR_VENTILATION = auto()
    PROTECTIVE_DEVICES = auto()
    LABOUR = auto()


class Part(StrEnum):
    """What a line is for, in the order under a heading."""

    INVERTER = auto()
    BATTERY = auto()
    GENERATOR = auto()
    CABLE = auto()
    FUSE = auto()
    CIRCUIT = auto()
    WORK = auto()
    EXTRA = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """What is priced: a model, work or extra by its name, or a size of cable [mm²] or fuse [A].

    ``kind`` is that of another part of the circuit, whose size is its rating [A].
    ``voltage_v`` and ``capacity_ah`` are a battery's; ``warranty_years`` the maker's, where known;
    ``is_owned`` where the customer has it already.
    """

    part: Part
    kind: PartKind | None = None
    name: str = ""
    size: float | None = None
    voltage_v: float | None = None
    capacity_ah: float | None = None
    warranty_years: float | None = None
    is_owned: bool = False


@dataclass(frozen=True, slots=True)
class Net:
    """A line before the way of pricing is settled: at the price list's price.

    ``ware`` is the row of the price list that is sold; ``own_tax`` a rate of its own.
    """

    heading: Heading
    item: Item
    quantity: Decimal
    unit: str
    cost_each: Decimal = field(metadata=shown(hide=True))
    ware: Ware | None = field(default=None, metadata=shown(hide=True))
    own_tax: Decimal | None = field(default=None, metadata=shown(hide=True))

    @property
    def is_labour(self) -> bool | None:
        """Whether it takes the markup of labour, or that of goods; None for an extra: neither."""
        return None if self.item.part is Part.EXTRA else self.heading is Heading.LABOUR


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Net):
    """One priced line.

    ``price_each`` is what the customer reads, ``cost_each`` what the price list says: they differ
    where the markup is spread into the prices. All before tax, in the site's currency.
    """

    price_each: Decimal
    amount: Decimal
    tax_rate: Decimal

    also: ClassVar = ("price_date",)

    @property
    def bought(self) -> Bought | None:
        """The row of the price list, where it says of whom it is bought, and since when."""
        return self.ware if isinstance(self.ware, Bought) else None

    @property
    def price_date(self) -> date | None:
        """The day its price is of."""
        return self.bought.price_date if self.bought else None


class AddedKind(StrEnum):
    """What is added to the lines, or taken off."""

    MARKUP_GOODS = auto()
    MARKUP_LABOUR = auto()
    DISCOUNT = auto()


#: Which lines a markup is on: those of labour, or of goods.
MARKED: Final = {AddedKind.MARKUP_GOODS: False, AddedKind.MARKUP_LABOUR: True}


@dataclass(frozen=True, slots=True)
class Added:
    """A share of the lines that is added or, where ``amount`` is negative, taken off."""

    kind: AddedKind
    name: str
    rate: Decimal
    amount: Decimal

    @property
    def is_discount(self) -> bool:
        """Whether it is taken off."""
        return self.kind is AddedKind.DISCOUNT


@dataclass(frozen=True, slots=True)
class TaxPart:
    """The tax of one rate: on how much, and how much it is."""

    rate: Decimal
    base: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Sum:
    """Lines added up: their sum, what is added and taken off, the tax by rate, the total."""

    lines: tuple[Line, ...]
    added: tuple[Added, ...]
    taxes: tuple[TaxPart, ...]

    also: ClassVar = ("net", "tax", "total")

    @property
    def net(self) -> Decimal:
        """The sum of the lines."""
        return sum((line.amount for line in self.lines), _ZERO)

    @property
    def tax(self) -> Decimal:
        """The tax of every rate."""
        return sum((part.amount for part in self.taxes), _ZERO)

    @property
    def before_tax(self) -> Decimal:
        """The lines with what is added and taken off."""
        return self.net + sum((one.amount for one in self.added), _ZERO)

    @property
    def total(self) -> Decimal:
        """What is to be paid."""
        return self.before_tax + self.tax

    def by_heading(self) -> list[tuple[Heading, list[Line]]]:
        """Return the lines under their headings, in order."""
        return [(name, list(found)) for name, found in groupby(self.lines, lambda x: x.heading)]


@dataclass(frozen=True, slots=True)
class Rates:
    """How lines become prices: markups and taxes of goods (False) and of labour (True), discounts.

    ``is_spread`` where markups stand inside the prices; discounts are taken off the lines with
    their markups.
    """

    currency: str
    is_spread: bool
    markup: dict[bool, Decimal]
    tax: dict[bool, Decimal]
    discounts: Sequence[Share] = ()

    @classmethod
    def of(cls, job: Job, company: Company) -> Self:
        """Return the company's own rates, the site's where it has none."""
        site = job.site

        def shares(goods: float | None, labour: float | None, usual: float) -> dict[bool, Decimal]:
            own = {False: goods, True: labour}
            return {kind: exact(usual if one is None else one) for kind, one in own.items()}

        return cls(
            site.currency,
            company.markup == "spread",
            shares(company.markup_goods, company.markup_labour, site.markup),
            shares(company.tax_goods, company.tax_labour, site.tax_rate),
            company.discounts,
        )

    def added_up(self, nets: Iterable[Net]) -> Sum:
        """Return lines under their headings in order, with all that is added.

        Each line is rounded to the smallest unit of the currency, halves up; markups, discounts
        and taxes likewise, each for the lines of one tax rate.
        """
        headings, parts = list(Heading), list(Part)

        def place(net: Net) -> tuple[int, int]:
            return headings.index(net.heading), parts.index(net.item.part)

        lines = [self._line(net) for net in sorted(nets, key=place)]
        added: dict[tuple[AddedKind, str, Decimal], Decimal] = defaultdict(Decimal)
        taxes = []
        for rate in sorted({line.tax_rate for line in lines}, reverse=True):
            taxed = [line for line in lines if line.tax_rate == rate]
            base = sum((line.amount for line in taxed), _ZERO)
            for key, amount in self._added_to(taxed, base):
                added[key] += amount
                base += amount
            taxes.append(TaxPart(rate, base, self._rounded(base * rate)))
        sums = tuple(Added(*key, amount) for key, amount in added.items())
        kinds = list(AddedKind)
        ordered = sorted(sums, key=lambda one: kinds.index(one.kind))
        return Sum(tuple(lines), tuple(ordered), tuple(taxes))

    def _added_to(
        self, lines: Sequence[Line], base: Decimal
    ) -> Iterable[tuple[tuple[AddedKind, str, Decimal], Decimal]]:
        """Yield what is added to the lines of one tax rate, discounts last."""
        for kind, is_labour in MARKED.items():
            share = self.markup[is_labour]
            marked = [line for line in lines if line.is_labour is is_labour]
            amount = self._rounded(sum((line.amount for line in marked), _ZERO) * share)
            if amount and not self.is_spread:
                base += amount
                yield (kind, "", share), amount
        for one in self.discounts:
            yield (AddedKind.DISCOUNT, one.name, one.share), -self._rounded(base * one.share)

    def _line(self, net: Net) -> Line:
        rates = net.heading is Heading.LABOUR
        markup, each = self.markup[rates], net.cost_each
        if self.is_spread and markup and net.is_labour is not None:
            # by weight or length a hundredth of a unit more or less would soon be money
            finer = 100 if net.unit else 1
            each = self._rounded(each * (1 + markup) * finer) / finer
        return Line(
            **{one.name: getattr(net, one.name) for one in fields(Net)},
            price_each=each,
            amount=self._rounded(net.quantity * each),
            tax_rate=self.tax[rates] if net.own_tax is None else net.own_tax,
        )

    def _rounded(self, amount: Decimal) -> Decimal:
        return rounded(amount, self.currency)
