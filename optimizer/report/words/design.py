"""Banks, inverter sets, purchases and whole designs in words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from optimizer.report.words.checks import check_name, is_of_one_bank

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.choice import Choice
    from optimizer.answers.purchases import Material, Purchase
    from optimizer.engine.check import Check
    from optimizer.model.design import BankPeriod, Design
    from optimizer.report.words.writer import Writer


def bank(write: Writer, period: BankPeriod, voltage_v: float) -> str:
    """Return a bank as the trade writes it: model, series × parallel, voltage.

    Series counts units in one string, parallel counts strings.
    """
    return write.say(
        "{battery}, {series} × {strings}, {voltage:figure} V",
        battery=period.battery.battery,
        series=period.series,
        strings=period.strings,
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
    if design.inverter_units == 1:
        return write.say("{inverter}", inverter=design.inverter.inverter)
    return write.say(
        "{units} × {inverter}", units=design.inverter_units, inverter=design.inverter.inverter
    )


def equipment(write: Writer, design: Design) -> str:
    """Return the first bank and the inverter set."""
    return write.say(
        "{bank}, behind {inverters}",
        bank=bank(write, design.banks[0], design.voltage_v),
        inverters=inverter_set(write, design),
    )


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
    return known.get(name) or write.say("{name}", name=name)


def replacements(write: Writer, purchases: Sequence[Purchase]) -> str:
    """Return what is bought after the start; the sixth year's start reads "year 6"."""
    later = [one for one in purchases if one.year > 0]
    if not later:
        return write.say("none")
    return "; ".join(
        write.say("year {year}: {items:list}", year=one.year + 1, items=one.items) for one in later
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
        "{bank} ({chemistry}) at {voltage:figure} V behind {inverters}.",
        bank=units(write, period),
        chemistry=chemistry(write, period.battery.chemistry),
        voltage=design.voltage_v,
        inverters=inverter_set(write, design),
    )
    return f"{money} {made_of}"


def binding(write: Writer, chosen: Choice) -> list[str]:
    """Return what limits a design, one sentence each."""
    one_bank = is_of_one_bank([one.check for one in chosen.explained])

    def name(check: Check) -> str:
        return check_name(write, replace(check, bank=None) if one_bank else check)

    lines = [
        write.say(
            "{check}: lifting it would save {saving:money}.",
            check=name(one.check),
            saving=one.saving,
        )
        for one in chosen.binding
        if one.binds
    ]
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
    return write.say("{item}", item=line.item)
