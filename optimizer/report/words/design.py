"""Banks, inverter sets, purchases and whole designs in words."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from optimizer.answers.choice import Choice, Explained
from optimizer.answers.purchases import Material, Purchase, Replacement
from optimizer.answers.stops import Stop
from optimizer.engine.cashflow import Kind
from optimizer.engine.check import Check, CheckKind
from optimizer.formulas.tolerance import whole_years
from optimizer.model.design import BankPeriod, CableRun, Design
from optimizer.report.words.beside import beside
from optimizer.report.words.checks import check_name, is_of_one_bank, requirement_name
from optimizer.report.words.writer import Writer, plain

if TYPE_CHECKING:  # start-up time: every command about a site says something of a design
    from optimizer.comparison.first_purchases import FirstPurchase

#: Below this a service life is told before anything else [a].
SHORT_LIFE_YEARS = 2
_KILO = 1000


def bank(write: Writer, period: BankPeriod, voltage_v: float) -> str:
    """Return a bank as the trade writes it: model, series × parallel, voltage.

    Series counts units in one string, parallel counts strings. The depth is told where the price
    list leaves a choice of it: the same bank may be meant to be drawn less deep, and last longer.
    """
    battery = period.battery
    named = bank_named(write, battery.battery, period.series, period.strings, voltage_v)
    if len(battery.max_dods) <= 1:
        return named
    return write.say("{bank}, {depth:share.0} deep", bank=named, depth=battery.max_dod)


def bank_named(write: Writer, battery: str, series: int, strings: int, voltage_v: float) -> str:
    """Return a bank as `bank` does, of which no more is known than its model's name."""
    return write.say(
        "{battery}, {series} × {strings}, {voltage:figure} V",
        battery=battery,
        series=series,
        strings=strings,
        voltage=voltage_v,
    )


def units(write: Writer, period: BankPeriod) -> str:
    """Return a bank as it is put together, at the beginning of a sentence."""
    battery = period.battery.battery
    if period.units == 1:
        return write.say("One {battery}", battery=battery)
    if period.strings == 1:
        return write.say("{n} × {battery} in series", n=period.units, battery=battery)
    if period.series == 1:
        return write.say("{n} × {battery} in parallel", n=period.units, battery=battery)
    return write.say(
        "{n} × {battery}, {series} in series, {strings} strings",
        n=period.units,
        battery=battery,
        series=period.series,
        strings=period.strings,
    )


def inverter_set(write: Writer, design: Design) -> str:
    """Return an inverter set: how many of which model."""
    return inverters_named(write, design.inverter_units, design.inverter.inverter)


def inverters_named(write: Writer, units: int, inverter: str) -> str:
    """Return how many inverters of a name."""
    if units == 1:
        return plain(inverter)
    return write.say("{units} × {inverter}", units=units, inverter=inverter)


def models(write: Writer, one: "FirstPurchase") -> str:
    """Return bank, inverter set and generator, of which their models' names are known."""
    parts = [
        bank_named(write, one.battery, one.series, one.strings, one.voltage_v),
        inverters_named(write, one.inverter_units, one.inverter),
    ]
    if one.generator is not None:
        parts.append(plain(one.generator))
    return "; ".join(parts)


def equipment(write: Writer, design: Design) -> str:
    """Return the first bank, the inverter set and what stands beside."""
    named = write.say(
        "{bank}, behind {inverters}",
        bank=bank(write, design.banks[0], design.voltage_v),
        inverters=inverter_set(write, design),
    )
    if design.generator is None:
        return named
    return write.say("{named}, beside {name}", named=named, name=design.generator.generator)


def chemistry(write: Writer, name: str) -> str:
    """Return a chemistry or family as people write it; a name of the user's own stays.

    >>> from optimizer.report.words.writer import Writer
    >>> [chemistry(Writer("EUR"), name) for name in ("lfp", "lead", "nickel 1.5")]
    ['LFP', 'lead-acid', 'nickel 1.5']
    """
    known = {
        **{key: key.upper() for key in ("agm", "lfp", "lto", "nmc", "nca")},
        "lead": write.say("lead-acid"),
        "flooded": write.say("vented lead-acid"),
        "gel": write.say("gel"),
        "lithium": write.say("lithium"),
        "mixed": write.say("mixed chain"),
    }
    return known.get(name) or plain(name)


def replacements(write: Writer, found: Sequence[Replacement], sums: Sequence[Purchase] = ()) -> str:
    """Return what is bought again: the years of a few, the spacing of many.

    The sixth year's start reads "year 6". Where the years' ``sums`` are given, each year's stands
    by it, and what follows one another has one sum for all.
    """
    amounts = {one.year: one.amount for one in sums if one.year > 0}
    times: defaultdict[float, list[str]] = defaultdict(list)
    for one in found:
        for time_years in one.times_years if one.every_years is None else ():
            times[round(time_years, 2)].append(one.item)
    texts = [_renewals(write, one) for one in found if one.every_years is not None]
    many = bool(texts)
    for time_years in sorted(time for time in times if time > 0):
        year, items = whole_years(time_years), times[time_years]
        text = write.say("year {year}: {items:list}", year=year + 1, items=items)
        if year < time_years:  # in the middle of a year, when a life is over
            text = write.say("after {time:years.1}: {items:list}", time=time_years, items=items)
        if year in amounts and not many:
            amount = amounts.pop(year)  # where two fall in one year, the sum of both
            text = write.say("{bought}, {amount:money}", bought=text, amount=amount)
        texts.append(text)
    if many and amounts:
        texts.append(write.say("{sum:money} in all", sum=sum(amounts.values())))
    return "; ".join(texts) or write.say("none")


def _renewals(write: Writer, one: Replacement) -> str:
    """Return equipment of which many follow one another."""
    if one.kind is Kind.BATTERY:
        return write.say(
            "{n} banks of {item}, one every {time:years}",
            n=len(one.times_years),
            item=one.item,
            time=one.every_years,
        )
    return write.say(
        "{n} × {item}, one every {time:years}",
        n=len(one.times_years),
        item=one.item,
        time=one.every_years,
    )


def next_purchase(write: Writer, purchase: Purchase | None, study_years: int) -> str:
    """Return the next purchase: year, items and sum, at today's prices with drift."""
    if purchase is None:
        return write.say("Next purchase: none within {study:years}.", study=study_years)
    return write.say(
        "Next purchase: {items:list} in year {year}, {amount:money}.",
        items=purchase.items,
        year=purchase.year + 1,
        amount=purchase.amount,
    )


def choice(write: Writer, chosen: Choice) -> str:
    """Return the answer in a few sentences a customer understands."""
    design, study = chosen.design, chosen.job.site.horizon_years
    period = design.banks[0]
    money = write.say(
        "{hours:hours} without the grid: {upfront:money} upfront; {cost:money} net over "
        "{study:years}, running costs and replacements added and the residual value deducted.",
        hours=design.hours,
        upfront=design.upfront_cost,
        cost=design.life_cycle_cost,
        study=study,
    )
    made_of = write.say(
        "{bank} ({chemistry}, {energy:figure.2} kWh) at {voltage:figure} V behind {inverters} "
        "({power:figure.2} kW).",
        bank=units(write, period),
        chemistry=chemistry(write, period.battery.chemistry),
        energy=period.energy_wh / _KILO,
        voltage=design.voltage_v,
        inverters=inverter_set(write, design),
        power=design.power_w / _KILO,
    )
    idle = idle_hours(write, design.hours, chosen.busy_hours)
    end = "" if chosen.stopped_by is None else stopped(write, chosen.stopped_by, design.hours)
    texts = [short_life(write, design), money, idle, made_of, end, *beside(write, chosen)]
    return " ".join(text for text in texts if text)


def stopped(write: Writer, stop: Stop, hours: int) -> str:
    """Return why nothing longer is shown."""
    match stop:
        case Stop.MONEY:
            return write.say("The money ends it there: for more, longer hours are on offer.")
        case Stop.OFFER:
            return write.say("The money does not end it: nothing on offer here holds longer.")
        case Stop.LOOKED:
            return write.say("Nothing beyond {hours:hours} was looked for.", hours=hours)


def idle_hours(write: Writer, hours: int, busy_hours: int) -> str:
    """Return how much of an autonomy is idle, empty where a load draws power throughout."""
    if busy_hours >= hours:
        return ""
    return write.say(
        "Of these {hours:hours} the loads draw power in {busy:hours} at most; in the others "
        "nothing on the list is on.",
        hours=hours,
        busy=busy_hours,
    )


def short_life(write: Writer, design: Design) -> str:
    """Return the warning that a bank wears out soon, empty where it does not."""
    shortest = min(design.banks, key=lambda bank: bank.service_life_years)
    if shortest.service_life_years >= SHORT_LIFE_YEARS:
        return ""
    return write.say_number(
        "The outages here wear a bank of {battery} out in {life:years.1}: {n} is bought within "
        "{study:years}.",
        "The outages here wear a bank of {battery} out in {life:years.1}: {n} are bought within "
        "{study:years}.",
        shortest.bought,
        battery=shortest.battery.battery,
        life=shortest.service_life_years,
        study=shortest.end - shortest.start,
    )


def binding(write: Writer, chosen: Choice) -> list[str]:
    """Return what limits a design, one sentence each."""
    one_bank = is_of_one_bank([one.check for one in chosen.explained])

    def name(check: Check) -> str:
        return check_name(write, replace(check, bank=None) if one_bank else check)

    lines = [_binds(write, name(one.check), one) for one in chosen.binding if one.binds]
    if lines:
        return lines
    closest = chosen.binding[0].check
    return [
        write.say("Lifting any single requirement gives no cheaper design."),
        write.say(
            "Closest to its limit: {check}, {margin:share.1} to spare.",
            check=name(closest),
            margin=max(0.0, closest.margin),
        ),
    ]


def _binds(write: Writer, name: str, one: Explained) -> str:
    """Return what a requirement costs; of the energy, its last hour."""
    # what rounds to nothing in whole units is told to the cent
    saving = write.money(one.saving, whole=one.saving >= 1)
    if one.check.kind is CheckKind.ENERGY:
        return write.say("{check}: one hour less would save {saving}.", check=name, saving=saving)
    if one.check.requirement is None:
        return write.say("{check}: lifting it would save {saving}.", check=name, saving=saving)
    family = requirement_name(write, one.check.requirement)
    return write.say(
        "{check} ({family}): lifting it would save {saving}.",
        check=name,
        family=family,
        saving=saving,
    )


def cash_lines(write: Writer) -> dict[str, str]:
    """Return the lines money is paid in, in the order of the model, with their headings."""
    return {
        "inverter": write.say("Inverter set"),
        "wiring": write.say("Wiring"),
        "battery": write.say("Bank"),
        "works": write.say("Labour and fittings"),
        "generator": write.say("Generator"),
        "fuel": write.say("Fuel"),
        "contract": write.say("Supply contract"),
        "standby": write.say("Standby"),
        "upkeep": write.say("Upkeep"),
        "energy": write.say("Energy used"),
        "losses": write.say("Losses"),
        "value": write.say("Residual value"),
        "scrap": write.say("Scrap value"),
    }


def material(write: Writer, line: Material) -> str:
    """Return what a line of the material list buys."""
    match line.kind:
        case "cable":
            return write.say("Battery cable {section}", section=line.item)
        case "fuse":
            return write.say("Battery fuse {rating}", rating=line.item)
    return plain(line.item)


def wiring(write: Writer, run: CableRun) -> str:
    """Return cable and fuse of one inverter."""
    fields = {"section": run.cable.section_mm2, "rating": run.fuse.rating_a}
    if run.runs == 1:
        return write.say("{section:figure} mm², fuse {rating:figure} A", **fields)
    return write.say(
        "{n} runs of {section:figure} mm², fuse {rating:figure} A", n=run.runs, **fields
    )


def headline(write: Writer, design: Design) -> str:
    """Return the answer in a line: what is bought, and the hours it carries."""
    bank = design.banks[0]
    fields = {
        "family": chemistry(write, bank.battery.family),
        "energy": bank.energy_wh / _KILO,
        "power": design.power_w / _KILO,
        "hours": design.hours,
    }
    if design.generator is None:
        return write.say(
            "{family:capital}, {energy:number.1}\N{NO-BREAK SPACE}kWh behind a "
            "{power:figure.2}\N{NO-BREAK SPACE}kW inverter-charger: "
            "{hours:hours} without the grid.",
            **fields,
        )
    return write.say(
        "{family:capital}, {energy:number.1}\N{NO-BREAK SPACE}kWh behind a "
        "{power:figure.2}\N{NO-BREAK SPACE}kW inverter-charger, with a "
        "{generator:figure.2}\N{NO-BREAK SPACE}kW generator: {hours:hours} without the grid.",
        generator=design.generator.power_w / _KILO,
        **fields,
    )


def in_short(write: Writer, site: str, design: Design) -> str:
    """Return the answer in the few words that stay in sight while the job is changed."""
    bank = design.banks[0]
    return write.say(
        "{hours} h · {family}, {energy:number.1} kWh, {power:figure.2} kW · {upfront:money} "
        "upfront · {site}",
        site=site,
        family=chemistry(write, bank.battery.family),
        energy=bank.energy_wh / _KILO,
        power=design.power_w / _KILO,
        hours=design.hours,
        upfront=design.upfront_cost,
    )
