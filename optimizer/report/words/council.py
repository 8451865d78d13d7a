"""The page for those who decide on a programme, in sentences."""

import math
from collections.abc import Iterator
from itertools import pairwise

from optimizer.programme.allotment import Allotment
from optimizer.programme.answers import AllotAnswer, Explained
from optimizer.programme.terms import Goal
from optimizer.report.words.allotment import beside, curve_note, proof, regret, some
from optimizer.report.words.writer import Writer

#: So many sites are named in a row of the table, the others counted.
NAMED = 9


def title(write: Writer, answer: AllotAnswer) -> str:
    """Return the heading."""
    return write.say_number(
        "Power through outages: which sites, for one budget",
        "Power through outages: which sites, for {n} budgets",
        len(answer.answers),
    )


def lead(write: Writer, answer: AllotAnswer) -> str:
    """Return what is decided here, and by what."""
    found = answer.answers[0].allotment
    groups = [one.group for one in answer.answers[0].groups if one.group]
    fields = {
        "sites": len(found.lines),
        "people": round(found.people),
        "aim": aim(write, found.terms.goal),
    }
    if groups:
        return write.say(
            "{sites} sites in {groups:list} serve {people} people. Each may get a battery with an "
            "inverter, of several sizes, or nothing. {aim}",
            groups=groups,
            **fields,
        )
    return write.say(
        "{sites} sites serve {people} people. Each may get a battery with an inverter, of several "
        "sizes, or nothing. {aim}",
        **fields,
    )


def aim(write: Writer, goal: Goal) -> str:
    """Return what the choice makes best."""
    match goal:
        case Goal.SHARE:
            return write.say(
                "The choice lets the people served ride through as many of their outages as the "
                "money allows; every person counts the same."
            )
        case Goal.HOURS:
            return write.say(
                "The choice makes power last as long into an outage as the money allows, in the "
                "mean over the people served; every person counts the same."
            )
        case Goal.UNSERVED:
            return write.say(
                "The choice leaves as little energy unserved as the money allows, in the mean over "
                "the people served; every person counts the same."
            )


def terms(write: Writer, found: Allotment) -> Iterator[str]:
    """Yield what else holds, one sentence each."""
    asked = found.terms
    must = sum(line.site.min_hours > 0 for line in found.lines)
    if must:
        yield write.say_number(
            "{n} site must get the hours that its users depend on, whatever it costs.",
            "{n} sites must get the hours that their users depend on, whatever it costs.",
            must,
        )
    if asked.floor_hours:
        yield write.say("No site gets less than {hours:hours}.", hours=asked.floor_hours)
    if asked.group_share:
        yield write.say(
            "Each group gets {share:share} of the money spent or more.", share=asked.group_share
        )
    for group, share in asked.group_shares.items():
        yield write.say(
            "{group} gets {share:share} of the money spent or more.", group=group, share=share
        )
    if asked.later_limit is not None:
        yield write.say(
            "What must be bought again costs {money:money} at most in any later year, in money of "
            "today.",
            money=asked.later_limit,
        )
    for year, money in asked.later_limits.items():
        yield write.say(
            "What must be bought again in year {year} costs {money:money} at most, in money of "
            "today.",
            year=year + 1,
            money=money,
        )


def steps(write: Writer, answer: AllotAnswer) -> Iterator[str]:
    """Yield what money brings from each budget to the next, for a round sum of it."""
    for before, after in pairwise(one.allotment for one in answer.answers):
        between = after.upfront_cost - before.upfront_cost
        if between <= 0:
            continue
        unit = 10.0 ** math.floor(math.log10(between))
        gained = abs(after.mean() - before.mean()) * unit / between
        fields = {"low": before.budget, "high": after.budget, "unit": unit, "gained": gained}
        match after.terms.goal:
            case Goal.SHARE:
                yield write.say(
                    "From {low:money} to {high:money}, each {unit:money} more carries people "
                    "through another {gained:share.1} of their outages.",
                    **fields,
                )
            case Goal.HOURS:
                yield write.say(
                    "From {low:money} to {high:money}, each {unit:money} more adds "
                    "{gained:number.1} h.",
                    **fields,
                )
            case Goal.UNSERVED:
                yield write.say(
                    "From {low:money} to {high:money}, each {unit:money} more serves "
                    "{gained:number.1} kWh a year.",
                    **fields,
                )


def added_sites(write: Writer, one: Explained, answer: AllotAnswer, named: int) -> str:
    """Return the sites that a budget equips and the one before it does not."""
    pairs = [(line, 0) for line in one.allotment.lines]
    place = answer.answers.index(one)
    if place:
        earlier = [line.point.hours for line in answer.answers[place - 1].allotment.lines]
        pairs = list(zip(one.allotment.lines, earlier, strict=True))
    new = [line for line, had in pairs if line.gets_something and not had]
    larger = sum(line.point.hours > had > 0 for line, had in pairs)
    new.sort(key=lambda line: -line.site.people)
    names = [
        write.say("{site} ({hours} h)", site=line.site.name, hours=line.point.hours) for line in new
    ]
    said = some(write, names, named)
    if larger:
        rest = write.say_number("{n} site gets more hours", "{n} sites get more hours", larger)
        said = write.say("{said}. {rest}", said=said, rest=rest) if said else rest
    return said


def later(write: Writer, answer: AllotAnswer) -> str:
    """Return in which year most must be bought again, at the largest budget."""
    one = answer.answers[-1]
    due = [year for year in one.spending if year.year > 0 and year.bought > 0]
    if not due:
        return write.say("Nothing has to be bought again.")
    dearest = max(due, key=lambda year: year.bought)
    return write.say(
        "Banks and inverters wear out and are bought again. With {budget:money} most of that falls "
        "due in year {year}: {most:money} in money of today, {nominal:money} in money of that "
        "year.",
        budget=one.allotment.budget,
        year=dearest.year + 1,
        most=dearest.bought,
        nominal=dearest.bought_nominal,
    )


def sureness(write: Writer, answer: AllotAnswer) -> list[str]:
    """Return how sure all of it is."""
    last = answer.answers[-1]
    said = [proof(write, last.allotment), curve_note(write, answer.curve)]
    said += beside(write, last)
    if last.regret is not None:
        said.append(regret(write, last.regret))
    return said


def left_out(write: Writer, answer: AllotAnswer) -> str:
    """Return how many sites could not be looked at; nothing where none."""
    if not answer.programme.failures:
        return ""
    return write.say_number(
        "{n} site is left out: {names}.",
        "{n} sites are left out: {names}.",
        len(answer.programme.failures),
        names="; ".join(one.site for one in answer.programme.failures),
    )
