"""A quote in words: the offer, its options, its prices and its terms."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.rounding import exact
from optimizer.quote.company import StageKind
from optimizer.quote.handover import months_after
from optimizer.quote.lines import Heading, Part
from optimizer.quote.options import Why
from optimizer.report.words.design import chemistry as family
from optimizer.report.words.design import inverter_set
from optimizer.report.words.handover import short_hours

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from optimizer.model.design import Design
    from optimizer.quote import Company, Option, PricedOption, Pricing, Quote
    from optimizer.quote.company import Stage
    from optimizer.quote.lines import Item, Replacement
    from optimizer.quote.options import LeftOut
    from optimizer.report.words.writer import Writer
    from optimizer.simulate import Verdict


def title(write: Writer, company: Company) -> str:
    """Return a quote's title, with its number where it has one."""
    if company.number is None:
        return write.say("Quote")
    return write.say("Quote {number}", number=company.number)


def addressed(write: Writer, quote: Quote) -> str:
    """Return for whom a quote is."""
    site, customer = quote.job.site.name, quote.company.customer
    if customer is None:
        return write.say("For {site}", site=site)
    return write.say("For {customer}, {site}", customer=customer, site=site)


def opening(write: Writer, quote: Quote) -> str:
    """Return what is offered, in a few sentences."""
    site, low, high = quote.job.site, quote.options[0].pricing, quote.options[-1].pricing
    offered = write.say_number(
        "One option for riding through grid failures, {low:cents}, tax included.",
        "{n} options for riding through grid failures, {low:cents} to {high:cents}, tax included.",
        len(quote.options),
        low=low.total,
        high=high.total,
    )
    kept = write.say(
        "On stays what the survey lists as {tiers:list}; {hours:hours} of autonomy are required. A "
        "bank carries its hours from the worst moment of the worst season, still in its last year.",
        tiers=[write.say("“{tier}”", tier=tier) for tier in site.tiers],
        hours=site.target_hours,
    )
    return f"{offered} {kept}"


def option_name(write: Writer, design: Design) -> str:
    """Return a design's name by what it does: never a grade, what is better depends on the need."""
    kind = family(write, design.banks[0].battery.family)
    if design.generator is not None:
        return write.say("{hours:hours}, {family}, generator", hours=design.hours, family=kind)
    return write.say("{hours:hours}, {family}", hours=design.hours, family=kind)


def why(write: Writer, option: Option) -> str:
    """Return why an option is offered."""
    hours = option.hours
    match option.why:
        case Why.REQUIRED:
            return write.say("The least cost that carries the {hours:hours} required", hours=hours)
        case Why.LONGEST_ON_OFFER:
            return write.say("The longest on offer; {hours:hours} are not", hours=hours)
        case Why.PICKED if hours == option.design.hours:
            return write.say("The least cost of these hours")
        case Why.PICKED:
            return write.say("The least cost that carries {hours:hours}", hours=hours)
        case Why.LONGEST_FOR_TWICE:
            return write.say(
                "The longest for at most twice the life-cycle cost of {hours:hours}", hours=hours
            )
    return {
        Why.BEND: write.say(
            "Where the curve bends: beyond it an hour costs more, on average, than before it"
        ),
        Why.END: write.say(
            "An end of the curve: no point lies below the straight line between its ends"
        ),
        Why.LONGEST_OF_BUDGET: write.say("The longest that the budget buys"),
        Why.NEXT_APART: write.say("The next point of the curve that stands apart"),
    }[option.why]


def left_out(write: Writer, one: LeftOut) -> str:
    """Return which design is left out, and what takes its place."""
    names = {"one": option_name(write, one.design), "other": option_name(write, one.same_as)}
    if one.differs_in_fuel:
        few, many = sorted([one.design, one.same_as], key=lambda design: design.hours)
        told = write.say(
            "{one} becomes {other} with {litres:number.1} l of fuel stored instead of "
            "{less:number.1} l; nothing else changes.",
            one=option_name(write, few),
            other=option_name(write, many),
            litres=many.fuel_l,
            less=few.fuel_l,
        )
        if one.instead is None:
            return told
        name = option_name(write, one.instead)
        return write.say("{fuel} {instead} is offered beside them.", fuel=told, instead=name)
    if one.instead is None:
        return write.say("{one} and {other} count as the same; nothing else stands apart.", **names)
    return write.say(
        "{one} and {other} count as the same; {instead} takes its place.",
        instead=option_name(write, one.instead),
        **names,
    )


def bank(write: Writer, design: Design) -> str:
    """Return the bank that is put in place: strings, units, model."""
    first = design.banks[0]
    counts = {"n": first.units, "name": first.battery.battery}
    if first.units == 1:
        return write.say("One {name}", name=first.battery.battery)
    if first.strings == 1:
        return write.say("{n} × {name} in series", **counts)
    if first.series == 1:
        return write.say("{n} × {name} in parallel", **counts)
    return write.say(
        "{n} × {name}, {series} in series, {strings} strings",
        series=first.series,
        strings=first.strings,
        **counts,
    )


def equipment(write: Writer, design: Design) -> str:
    """Return bank, inverter set and generator."""
    fields = {"bank": bank(write, design), "inverters": inverter_set(write, design)}
    if design.generator is not None:
        name = design.generator.generator
        return write.say("{bank} behind {inverters}, generator {name}", name=name, **fields)
    return write.say("{bank} behind {inverters}", **fields)


def summary(write: Writer, priced: PricedOption, years: int) -> str:
    """Return what an option costs, at the start and over the study period."""
    design = priced.option.design
    return write.say(
        "{hours:hours} without the grid: {total:cents} upfront; {cost:money} net over "
        "{years:years}, running costs and replacements added and the residual value deducted. "
        "{equipment}, at {volts} V.",
        hours=design.hours,
        total=priced.pricing.total,
        cost=design.life_cycle_cost,
        years=years,
        equipment=equipment(write, design),
        volts=design.voltage_v,
    )


def simulation(write: Writer, found: Verdict) -> str:
    """Return what the independent simulation says of an option."""
    if found.holds and found.generator is not None:
        return write.say(
            "Holds: an outage of {hours:hours} simulated hour by hour from every start, the "
            "generator running {run:hours.1} at most and burning {used:number.1} of the "
            "{stored:number.1} l stored.",
            hours=found.claimed_hours,
            run=found.generator.running_hours,
            used=found.generator.fuel_l,
            stored=found.generator.stored_l,
        )
    facts = {
        "hours": write.hours(found.hours, 1),
        "start": found.start_hour,
        "season": found.season,
        "year": found.year + 1,
        "first": write.hours(found.first_year_hours, 1),
    }
    if not found.holds:
        return write.say(
            "Falls short: simulated hour by hour, {hours} h from the worst start ({start:clock} "
            "in {season}, year {year}); {first} h in the first year.",
            **facts,
        )
    return write.say(
        "Holds: simulated hour by hour, {hours} h from the worst start ({start:clock} in "
        "{season}, year {year}); {first} h in the first year.",
        **facts,
    )


def simulation_short(write: Writer, found: Verdict) -> str:
    """Return the same in a few words."""
    if found.holds and found.generator is not None:
        return write.say("holds: {hours:hours} from every start", hours=found.claimed_hours)
    facts = {"hours": short_hours(write, found.hours), "season": found.season}
    if not found.holds:
        return write.say("falls short: {hours} h from the worst start in {season}", **facts)
    return write.say("holds: {hours} h from the worst start in {season}", **facts)


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
    """Return what a line is for."""
    match of.part:
        case Part.INVERTER:
            return write.say("Inverter-charger {name}", name=of.name)
        case Part.BATTERY:
            return write.say(
                "Battery {name}, {volts:figure.4} V {capacity:figure.4} Ah",
                name=of.name,
                volts=of.voltage_v,
                capacity=of.capacity_ah,
            )
        case Part.GENERATOR:
            return write.say("Generator {name}", name=of.name)
        case Part.CABLE:
            return write.say("Battery cable {size:figure} mm²", size=of.size)
        case Part.FUSE:
            return write.say("Battery fuse {size:figure} A", size=of.size)
        case Part.WORK:
            return write.say("{name}", name=of.name)


def stage(write: Writer, of: Stage) -> str:
    """Return when a payment is due."""
    match of.kind:
        case StageKind.WITH_ORDER:
            return write.say("Deposit with the order")
        case StageKind.AT_HANDOVER:
            return write.say("Rest at handover")
        case StageKind.NAMED:
            return write.say("{name}", name=of.name)


def rounding(write: Writer, pricing: Pricing) -> str:
    """Return how lines are rounded and what it does to this total."""
    return write.say(
        "Each line is rounded to the smallest unit of the currency, halves up; every sum is the "
        "sum of the rounded lines above it. Unrounded, the total would be {unrounded:number.5}: a "
        "difference of {difference:number.5}.",
        unrounded=exact(pricing.model_total),
        difference=pricing.difference,
    )


def old_price(write: Writer, of: Item, day: date) -> str:
    """Return the warning for a price that is more than a year old."""
    return write.say(
        "The price of {item} is of {day:date}, more than a year ago; it may have changed.",
        item=item(write, of),
        day=day,
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


def not_included(write: Writer, quote: Quote) -> list[str]:
    """Return what is not included: the company's own list, then what holds for every quote."""
    litres = max(option.option.design.fuel_l for option in quote.options)
    fuel = write.say("Fuel for the generator, up to {litres:number} l to store", litres=litres)
    return [
        *quote.company.not_included,
        *([fuel] if litres else []),
        write.say("Anything that no line above names"),
        write.say(
            "An energy meter behind the inverter and a battery monitor, where the inverter has none"
        ),
        write.say("Replacements and running costs: shown, not sold"),
        write.say("Approvals, inspections and notices that the local code asks for"),
    ]


def validity(write: Writer, quote: Quote) -> str:
    """Return until when a quote holds."""
    return write.say("This quote holds until {day:date}.", day=quote.valid_until)


def what_hours_mean(write: Writer) -> str:
    """Return what stands behind the hours, and whom they are not enough for."""
    return write.say(
        "The hours hold for the loads as surveyed, with the margin stated there, from any hour of "
        "any day, in every year until the bank is due. More load, a colder room or an older bank "
        "than planned shorten them. They are a plan, not a guarantee of supply: whoever depends on "
        "power for life needs a second source."
    )


def cost_note(write: Writer, rate: float) -> str:
    """Return what the life-cycle cost counts."""
    return write.say(
        "Life-cycle cost: paid upfront, plus running costs and replacements, less the residual "
        "value; all at {rate:share} a year in today's money.",
        rate=rate,
    )


def curve_note(write: Writer) -> str:
    """Return how the curve is read."""
    return write.say(
        "Each mark is the least cost that carries its hours, proven over everything in the price "
        "list; between two marks nothing is for sale. Ringed: the options of this quote."
    )


def written_files(write: Writer, names: Sequence[str]) -> list[str]:
    """Return which files have been written, or how to have some."""
    if not names:
        return [
            write.say("Nothing written; -o FILE makes the PDF, workbook, CSV or JSON to hand over.")
        ]
    return [write.say("Written: {name}", name=name) for name in names]
