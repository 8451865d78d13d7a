"""The money of a quote in words: lines, what is added, taxes, payments, replacements."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from optimizer.quote import Pricing
from optimizer.quote.build import OldPrice
from optimizer.quote.company import Stage, StageKind
from optimizer.quote.handover import months_after
from optimizer.quote.priced_lines import Replacement
from optimizer.quote.sums import Added, AddedKind, Heading, Item, Part, TaxPart
from optimizer.report.words.circuit import KINDS
from optimizer.report.words.writer import Sentence, Writer, plain


def headings(write: Writer) -> dict[Heading, str]:
    """Return the headings of lines."""
    return {
        Heading.EQUIPMENT: write.say("Equipment"),
        Heading.CABLE_AND_FUSE: write.say("Cable and fuse"),
        Heading.BOX_OR_VENTILATION: write.say("Box or ventilation"),
        Heading.PROTECTIVE_DEVICES: write.say("Protective devices"),
        Heading.LABOUR: write.say("Labour and fittings"),
    }


def item(write: Writer, of: Item) -> str:
    """Return what a line is for, and whether the customer has it already."""
    if of.is_owned:
        return write.say("{item}, yours already", item=item(write, replace(of, is_owned=False)))
    if of.part is Part.CIRCUIT:
        return _circuit_part(write, of)
    return write.say(
        _ITEMS[of.part].english,
        name=of.name,
        size=of.size,
        volts=of.voltage_v,
        capacity=of.capacity_ah,
    )


_ITEMS: Mapping[Part, Sentence] = {
    Part.INVERTER: Sentence("Inverter-charger {name}"),
    Part.BATTERY: Sentence("Battery {name}, {volts:figure.4} V {capacity:figure.4} Ah"),
    Part.GENERATOR: Sentence("Generator {name}"),
    Part.CABLE: Sentence("Battery cable {size:figure} mm²"),
    Part.FUSE: Sentence("Battery fuse {size:figure} A"),
    Part.WORK: Sentence("{name}"),
    Part.EXTRA: Sentence("{name}"),
}


def added(write: Writer, one: Added) -> str:
    """Return what is added to the lines, or taken off."""
    match one.kind:
        case AddedKind.MARKUP_GOODS:
            return write.say("Markup on goods")
        case AddedKind.MARKUP_LABOUR:
            return write.say("Markup on labour and fittings")
        case AddedKind.DISCOUNT:
            return write.say("Discount: {name}", name=one.name)


def tax(write: Writer, part: TaxPart, *, is_alone: bool) -> str:
    """Return the tax of one rate, with what it is on where there are several."""
    if is_alone:
        return write.say("Tax")
    return write.say("Tax on {base:cents}", base=part.base)


def stage(write: Writer, of: Stage) -> str:
    """Return when a payment is due."""
    match of.kind:
        case StageKind.WITH_ORDER:
            return write.say("Deposit with the order")
        case StageKind.AT_HANDOVER:
            return write.say("Rest at handover")
        case StageKind.NAMED:
            return plain(of.name)


def rounding(write: Writer) -> str:
    """Return how lines are rounded."""
    return write.say(
        "Each line is rounded to the smallest unit of the currency, halves up; every sum is the "
        "sum of the rounded lines above it."
    )


def warranties(write: Writer, pricing: Pricing) -> str:
    """Return the makers' warranties of what is sold, empty where nothing of a maker is."""
    models = {Part.INVERTER, Part.BATTERY, Part.GENERATOR}
    items = [line.item for line in pricing.first.lines if line.item.part in models]
    sold = [one for one in items if not one.is_owned]
    known = [
        write.say("{name} {years:years}", name=one.name, years=one.warranty_years)
        for one in sold
        if one.warranty_years is not None
    ]
    unknown = [one.name for one in sold if one.warranty_years is None]
    said = []
    if known:
        said.append(write.say("The makers' warranty: {known:list}.", known=known))
    if unknown:
        said.append(
            write.say("The price list states no maker's warranty for {names:list}.", names=unknown)
        )
    return " ".join(said)


def old_price(write: Writer, old: OldPrice) -> str:
    """Return the warning for a price that is more than a year old."""
    return write.say(
        "The price of {item} is of {day:date}, more than a year ago; it may have changed.",
        item=item(write, old.item),
        day=old.price_date,
    )


def replacement_time(write: Writer, day: date, run: Sequence[Replacement]) -> str:
    """Return when something is replaced, years counted from 1; of many the distance."""
    first = run[0]
    if len(run) > 1:
        return write.say("{n} times, one every {time:years}", n=len(run), time=first.time_years)
    due = months_after(day, 12 * first.year)
    return write.say("start of year {year} ({due:date})", year=first.year + 1, due=due)


def replaced(write: Writer, pricing: Pricing, years: int) -> str:
    """Return what is replaced within the study period, with years and sums."""
    if not pricing.replacements:
        return write.say("nothing within {years:years}", years=years)
    return "; ".join(_replaced(write, run) for run in pricing.replacement_runs)


def _replaced(write: Writer, run: Sequence[Replacement]) -> str:
    first = run[0]
    fields = {"item": first.item, "amount": first.sum.total}
    if len(run) > 1:
        return write.say(
            "{n} × {item}, one every {time:years}, {amount:money} today each",
            n=len(run),
            time=first.time_years,
            **fields,
        )
    return write.say("year {year}: {item}, {amount:money} today", year=first.year + 1, **fields)


def _circuit_part(write: Writer, of: Item) -> str:
    """Return a part of the circuit with its rating, where it has one."""
    name = write.say(KINDS[of.kind].english) if of.kind else ""
    if of.size is None:
        return name
    return write.say("{name}, {size:figure} A", name=name, size=of.size)
