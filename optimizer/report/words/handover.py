"""The sheet that a household keeps, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.quote.lines import Part

if TYPE_CHECKING:
    from optimizer.quote.handover import Handover, PartDue, Units, YearlyTest
    from optimizer.report.words.writer import Writer

#: From here on hours are written without decimals.
_WHOLE_H = 10


def short_hours(write: Writer, hours: float) -> str:
    """Return hours of a table, cut down to a tenth below ten and to whole hours above."""
    return write.hours(hours, 0 if hours >= _WHOLE_H else 1)


def switch_off(write: Writer, sheet: Handover) -> str:
    """Return the fewest loads to switch off to double the hours, also with the first tier on."""
    found, spared, tier = sheet.switch_off, sheet.switch_off_spared, sheet.first_tier
    now, then = (short_hours(write, hours) for hours in (found.hours_now, found.hours_then))
    if not found.loads:
        if found.proven:
            return write.say(
                "No choice of loads doubles the {now} hours of the first year.", now=now
            )
        return write.say("To make the charge last longer, switch off the largest loads first.")
    said = [
        write.say(
            "Fewest to switch off to double the hours ({now} become {then} in the first year, from "
            "the worst start): {loads:list}.",
            now=now,
            then=then,
            loads=found.loads,
        )
    ]
    if spared.loads and spared.loads != found.loads:
        said.append(
            write.say(
                "With everything “{tier}” left on: {loads:list}.", tier=tier, loads=spared.loads
            )
        )
    elif not spared.loads and spared.proven:
        said.append(
            write.say("With everything “{tier}” left on, no choice doubles them.", tier=tier)
        )
    said.append(write.say("What somebody's health depends on stays on, whatever the hours."))
    return " ".join(said)


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


def test_steps(write: Writer, test: YearlyTest, last_year: int) -> list[str]:
    """Return the steps of the yearly test."""
    steps = [
        write.say(
            "Between 08:00 and 16:00 on a day when an outage does no harm, with the bank full: "
            "note the state of charge and the reading of the energy meter behind the inverter. "
            "Give medical devices another supply first."
        ),
        write.say(
            "Switch off the main supply switch. Lights may blink once; everything on the list "
            "above stays on. If something on it goes out, call the installer."
        ),
        write.say(
            "Leave it off for {hours:hours}. Touch no terminals; covers stay closed. If anything "
            "smells, smokes or is hot, leave and call the installer.",
            hours=test.hours,
        ),
        write.say(
            "For each kWh on the meter the state of charge may fall by {new:number.1} points while "
            "new, by {last:number.1} in year {year}. If it falls faster, call the installer.",
            new=test.fall_new * 100,
            last=test.fall_last * 100,
            year=last_year,
        ),
        write.say(
            "Press the test button of the RCD: it must trip, and everything behind it goes dark. "
            "Reset it."
        ),
        write.say(
            "Switch the supply back on. Charging starts within minutes; from empty it takes up to "
            "{hours:hours}.",
            hours=test.recharge_hours,
        ),
    ]
    if test.top_up:
        steps.append(
            write.say(
                "Another day, after a full charge, with gloves and goggles: look at the acid level "
                "of every cell; top up with distilled water only."
            )
        )
    return [*steps, write.say("Enter the result in the log.")]


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
