"""The sheet that a household keeps, in words."""

import math
from collections.abc import Iterator

from optimizer.answers.beside import Running
from optimizer.formulas.load import DAY_H
from optimizer.model.job import GeneratorRules, Job
from optimizer.quote.cautions import Hazard
from optimizer.quote.handover import Handover, KeptLoad, PartDue, Units
from optimizer.quote.sums import Part
from optimizer.report.words.notes import second_source
from optimizer.report.words.writer import Writer

#: From here on hours are written without decimals.
_WHOLE_H = 10


def short_hours(write: Writer, hours: float) -> str:
    """Return hours of a table, cut down to a tenth below ten and to whole hours above."""
    return write.hours(hours, 0 if hours >= _WHOLE_H else 1)


def hours(write: Writer, sheet: Handover, job: Job) -> list[str]:
    """Return what is to be known about the hours: the generator's part, what to switch off."""
    running, rules = sheet.generator, job.site.generator
    if running is None or rules is None:
        return [switch_off(write, sheet)]
    return [" ".join(_running(write, running, rules)), switch_off(write, sheet)]


def _running(write: Writer, running: Running, rules: GeneratorRules) -> Iterator[str]:
    yield write.say(
        "These are the hours of the bank alone. The generator makes them {outage:hours}: start it "
        "when the grid has been out for {after:hours} and let it run, with up to "
        "{litres:number.1} l of fuel, none older than {keeps:years}.",
        outage=running.outage_hours,
        after=rules.start_after_h,
        litres=running.stored_l,
        keeps=running.keeps_years,
    )
    if rules.quiet is not None:
        begin, end = (round(hour) % DAY_H for hour in rules.quiet)
        yield write.say(
            "From {begin:clock} to {end:clock} it stays off and the bank carries the night.",
            begin=begin,
            end=end,
        )
    yield write.say(
        "Outdoors only, away from doors and windows: its exhaust kills. It is never plugged into a "
        "socket of the house; it feeds in only where the installer has connected it."
    )


def switch_off(write: Writer, sheet: Handover) -> str:
    """Return the fewest loads to switch off to double the hours, and what stays on whatever."""
    found = sheet.switch_off
    now, then = (short_hours(write, hours) for hours in (found.hours_now, found.hours_then))
    if found.loads:
        first = write.say(
            "Fewest to switch off to double the hours ({now} become {then} in the first year, from "
            "the worst start): {loads:list}.",
            now=now,
            then=then,
            loads=found.loads,
        )
    elif found.proven:
        first = write.say(
            "Switching off every load that may go still does not double the {now} hours of the "
            "first year.",
            now=now,
        )
    else:
        first = write.say(
            "To make the charge last longer, switch off the largest of the loads that may go."
        )
    stays = write.say("Everything “{tier}” stays on throughout.", tier=sheet.first_tier)
    if sheet.staying_on:
        stays = write.say(
            "Everything “{tier}” stays on throughout, plus {loads:list}.",
            tier=sheet.first_tier,
            loads=sheet.staying_on,
        )
    return " ".join([first, stays])


def hazards(write: Writer, sheet: Handover, telephone: str | None) -> list[str]:
    """Return what everybody in the house is to know, one line a hazard, the critical loads last.

    ``telephone`` is the installer's; a line to fill in where it is not known.
    """
    number = telephone or "_" * 24
    told = {
        Hazard.LIVE_WITHOUT_GRID: write.say(
            "Sockets and cables stay live when the grid is off: the battery cannot be switched "
            "off. Covers stay closed."
        ),
        Hazard.NO_SPARKS: write.say(
            "No flame, no sparks, no smoking by the battery; nothing in front of its air openings."
        ),
        Hazard.LEAVE: write.say(
            "Smell, smoke, heat, swelling, or water near it: touch nothing, leave, close the door, "
            "call the fire brigade and then the installer."
        ),
        Hazard.WHOM_TO_CALL: write.say(
            "Installer: {number}. Fire brigade: dial your emergency "
            "number and say that there is a battery in the house.",
            number=number,
        ),
    }
    lines = [told[one] for one in sheet.hazards]
    return [*lines, second_source(write, sheet.critical)] if sheet.critical else lines


def outage_energy(write: Writer, sheet: Handover) -> str:
    """Return how much one outage may take."""
    return write.say(
        "{new} kWh while new, {last} kWh in year {year}: read the energy meter behind the inverter "
        "when the grid fails; when it has counted so much, the bank is at its lowest allowed state "
        "of charge. The less is on, the longer it lasts.",
        new=write.hours(sheet.outage_kwh_new, 1),  # cut down, as hours are
        last=write.hours(sheet.outage_kwh_last, 1),
        year=sheet.last_year + 1,
    )


def stays(write: Writer, sheet: Handover) -> list[str]:
    """Return what stays on, a line a tier."""
    tiers = dict.fromkeys(one.tier for one in sheet.kept)
    return [
        write.say(
            "{tier}: {loads:list}.",
            tier=tier,
            loads=[_counted(write, one) for one in sheet.kept if one.tier == tier],
        )
        for tier in tiers
    ]


def _counted(write: Writer, kept: KeptLoad) -> str:
    if kept.count == 1:
        return kept.load
    return write.say("{n} × {load}", n=kept.count, load=kept.load)


def switching(write: Writer) -> list[str]:
    """Return how it is shut down and bypassed; where each switch is, the installer writes in."""
    blank = "_" * 16
    return [
        write.say(
            "To shut it down: switch off the inverter ({one}), then the battery isolator ({two}). "
            "What stays on goes dark; the battery itself stays live.",
            one=blank,
            two=blank,
        ),
        write.say(
            "To bypass it while the grid is there: shut it down, then turn the bypass switch "
            "({one}). Where none is fitted, call the installer; take no cover off.",
            one=blank,
        ),
        write.say("To start it again: isolator, then inverter, then the bypass back."),
    ]


def test_steps(write: Writer, sheet: Handover) -> Iterator[str]:
    """Yield the steps of the yearly check; a meter is read only where one was sold."""
    test, generator = sheet.test, sheet.generator
    if sheet.has_monitor:
        yield write.say(
            "Between 08:00 and 16:00 on a day when an outage does no harm, with the bank full: "
            "note the state of charge and the reading of the energy meter behind the inverter. "
            "Give medical devices another supply first."
        )
    else:
        yield write.say(
            "Between 08:00 and 16:00 on a day when an outage does no harm, with the bank full. "
            "Give medical devices another supply first."
        )
    yield write.say(
        "Switch off the main supply switch. Lights may blink once; everything that is to stay on "
        "stays on. If something of it goes out, call the installer."
    )
    if generator is not None:
        yield write.say("Leave the generator off, and block its own start if it has one.")
    yield write.say(
        "Leave the supply off for {hours:hours}: all of it stays on that long. Touch no terminals; "
        "covers stay closed. If anything smells, smokes or is hot, leave and call the installer.",
        hours=test.hours,
    )
    if sheet.has_monitor:
        yield write.say(
            "For each kWh on the meter the state of charge may fall by {new:number.1} points while "
            "new, by {last:number.1} in year {year}. If it falls faster, call the installer.",
            new=test.fall_new * 100,
            last=test.fall_last * 100,
            year=sheet.last_year + 1,
        )
    if generator is not None:
        yield write.say(
            "Start the generator and let it run for half an hour with everything that is to stay "
            "on on; if it does not start or anything goes out, call the installer. Use up fuel "
            "older than {keeps:years} elsewhere and store fresh.",
            keeps=generator.keeps_years,
        )
    yield write.say(
        "Press the test button of the RCD once: it must trip, and everything behind it goes dark. "
        "Reset it. The button proves the device, not the earthing: that the installer measures."
    )
    yield write.say(
        "Switch the supply back on. Charging starts within minutes; from empty it takes about "
        "{hours:hours.0}.",
        hours=math.ceil(test.recharge_hours),
    )
    if test.top_up:
        yield write.say(
            "Another day, after a full charge, with gloves and goggles: look at the acid level of "
            "every cell; top up with distilled water only."
        )
    yield write.say("Enter the result in the log.")


def part(write: Writer, due: PartDue) -> str:
    """Return a part that is due one day."""
    units = _units(write, due.units)
    if due.part is Part.INVERTER:
        return write.say("Inverter set, {units}", units=units)
    if due.part is Part.GENERATOR:
        return write.say("Generator, {units}", units=units)
    if due.following is None:
        return write.say("Battery bank, {units}", units=units)
    then = _units(write, due.following)
    return write.say("Battery bank, {units}, then {then}", units=units, then=then)


def _units(write: Writer, units: Units) -> str:
    return write.say("{n} × {name}", n=units.count, name=units.name)
