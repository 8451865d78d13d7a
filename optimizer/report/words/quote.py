"""The options of a quote in words: what each is, why it is here, what it costs and holds."""

from collections.abc import Iterator, Mapping

from optimizer.model.design import Design
from optimizer.quote import Option, PricedOption, Quote
from optimizer.quote.handover import Handover
from optimizer.quote.options import Why
from optimizer.report.words import quote_lines
from optimizer.report.words.beside import contract_step
from optimizer.report.words.design import chemistry as family
from optimizer.report.words.design import inverter_set, units
from optimizer.report.words.handover import short_hours
from optimizer.report.words.simulation import falls_short, whole_outage
from optimizer.report.words.warnings import supposed
from optimizer.report.words.writer import Sentence, Writer
from optimizer.simulate import Shortfall, Verdict

#: How many of the prices that are still invented are named.
_NAMED = 3


def option_name(write: Writer, design: Design) -> str:
    """Return a design's name by what it does: never a grade, what is better depends on the need."""
    kind = family(write, design.banks[0].battery.family)
    if design.generator is not None:
        return write.say("{hours:hours}, {family}, generator", hours=design.hours, family=kind)
    return write.say("{hours:hours}, {family}", hours=design.hours, family=kind)


def why(write: Writer, option: Option) -> str:
    """Return why an option is offered."""
    hours, kind = option.hours, option.design.banks[0].battery.family
    if option.why is Why.PICKED_HOURS and hours == option.design.hours:
        return write.say("The least cost of these hours")
    return write.say(
        _WHY[option.why].english, hours=hours, family=family(write, kind), money=option.money or 0
    )


_WHY: Mapping[Why, Sentence] = {
    Why.REQUIRED: Sentence("The least cost that carries the {hours:hours} required"),
    Why.LONGEST_ON_OFFER: Sentence("The longest on offer; {hours:hours} are not"),
    Why.CHEAPER: Sentence("Shorter than {hours:hours}, and at least a tenth cheaper"),
    Why.LONGER: Sentence("Hours beyond {hours:hours} at the least cost for each"),
    Why.PICKED_HOURS: Sentence("The least cost that carries {hours:hours}"),
    Why.PICKED_FAMILY: Sentence("The least cost of {family} for {hours:hours}"),
    Why.PICKED_BUDGET: Sentence("The longest that {money:money} upfront buys"),
    Why.PICKED_DESIGN: Sentence("Put together by hand"),
}


def beside(write: Writer, quote: Quote) -> Iterator[str]:
    """Yield what is supposed or invented, and what is too near to an option to stand beside it."""
    yield from supposed(write, quote.job)
    if quote.company.owned:
        yield write.say(
            "The least cost was looked for by the price list; what is yours already comes off "
            "afterwards."
        )
    if invented := quote.invented:
        yield write.say_number(
            "{n} price is still that of the invented demo price list: {items:list}.",
            "{n} prices are still those of the invented demo price list, among them {items:list}.",
            len(invented),
            items=[one.name or quote_lines.item(write, one) for one in invented[:_NAMED]],
        )
    for hours in quote.selection.twins:
        yield write.say(
            "For {hours:hours} the least cost is a design that is offered already.", hours=hours
        )
    more = quote.selection.for_little_more
    same = [one.design for one in quote.options if _differs_in_fuel(one, more)]
    if more is not None and same:
        yield write.say(
            "On request: the same equipment as for {few:hours} carries {many:hours} with "
            "{litres:number.1} l of fuel stored instead of {less:number.1} l.",
            few=same[0].hours,
            many=more.hours,
            litres=more.fuel_l,
            less=same[0].fuel_l,
        )
    elif more is not None:
        yield write.say(
            "On request: {hours:hours} for less than a tenth more than what is required, "
            "{upfront:money} upfront and {cost:money} over {years:years} ({equipment}).",
            hours=more.hours,
            upfront=more.upfront_cost,
            cost=more.life_cycle_cost,
            years=quote.job.site.horizon_years,
            equipment=equipment(write, more),
        )


def _differs_in_fuel(option: Option, other: Design | None) -> bool:
    return other is not None and option.design.equipment == other.equipment


def equipment(write: Writer, design: Design) -> str:
    """Return bank and inverter set, and the generator beside them."""
    text = write.say(
        "{bank} behind {inverters}",
        bank=units(write, design.banks[0]),
        inverters=inverter_set(write, design),
    )
    if design.generator is None:
        return text
    return write.say("{equipment}, {generator}", equipment=text, generator=generator(write, design))


def generator(write: Writer, design: Design) -> str:
    """Return the generator with the fuel to be stored for it, or that there is none."""
    if design.generator is None:
        return write.say("none")
    return write.say(
        "{name} with {litres:number.1} l of fuel",
        name=design.generator.generator,
        litres=design.fuel_l,
    )


def contract(write: Writer, design: Design) -> str:
    """Return the step of the supply contract that a design counts on."""
    if design.contract is None:
        return write.say("none")
    return contract_step(write, design.contract)


def summary(write: Writer, priced: PricedOption, years: int) -> str:
    """Return what an option costs, at the start and over the study period."""
    design = priced.design
    return write.say(
        "{hours:hours} without the grid: {total:cents} upfront; {cost:money} net over "
        "{years:years}, running costs and replacements added and the residual value deducted. "
        "{equipment}, at {volts} V.",
        hours=design.hours,
        total=priced.pricing.total,
        cost=priced.pricing.life_cycle_cost,
        years=years,
        equipment=equipment(write, design),
        volts=design.voltage_v,
    )


def simulation(write: Writer, found: Verdict) -> str:
    """Return what the independent simulation says of an option."""
    if found.holds and found.generator is not None:
        whole = whole_outage(write, found, found.generator)
        return write.say("Holds: {whole}, simulated without margin.", whole=whole)
    if not found.holds:
        return falls_short(write, found)
    return write.say(
        "Holds: simulated hour by hour, {hours} h from the worst start ({start:clock} in "
        "{season}, year {year}); {first} h in the first year.",
        hours=write.hours(found.hours, 1),
        start=found.start_hour,
        season=found.season,
        year=found.year + 1,
        first=write.hours(found.first_year_hours, 1),
    )


def simulation_short(write: Writer, found: Verdict) -> str:
    """Return the same in a few words."""
    if found.holds and found.generator is not None:
        return write.say("holds: {hours:hours} from every start", hours=found.claimed_hours)
    facts = {"hours": short_hours(write, found.hours), "season": found.season}
    if found.holds:
        return write.say("holds: {hours} h from the worst start in {season}", **facts)
    match found.shortfalls[0]:
        case Shortfall.HOURS:
            return write.say("falls short: {hours} h from the worst start in {season}", **facts)
        case Shortfall.CUTS:
            return write.say("falls short: not full again before the next cut")
        case Shortfall.NIGHTS:
            return write.say("falls short: not full before a night without the generator")


def masses(write: Writer, design: Design) -> str:
    """Return what bank and inverter set weigh, apart: one hangs, the other stands."""
    bank, units = design.banks[0], design.inverter_units
    return write.say(
        "{bank:number} kg bank, {inverters:number} kg inverter",
        bank=bank.mass_kg,
        inverters=units * design.inverter.mass_kg,
    )


def outage_energy(write: Writer, sheet: Handover) -> str:
    """Return the energy that the loads get from a full bank, new and in its last year."""
    return write.say(
        "{new} kWh new, {last} kWh in year {year}",
        new=write.hours(sheet.outage_kwh_new, 1),  # cut down, as hours are
        last=write.hours(sheet.outage_kwh_last, 1),
        year=sheet.last_year + 1,
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
        "list; between two marks nothing is for sale. Ringed: the options of this quote, "
        "whose prices hold the circuit's other parts too, as far as the price list has them."
    )
