"""Many sites under one budget, in sentences."""

import math
from collections.abc import Iterator, Sequence

from optimizer.programme.allotment import Allotment, Line
from optimizer.programme.answers import AllotAnswer, Explained
from optimizer.programme.budget_curve import BudgetCurve
from optimizer.programme.changes import Change
from optimizer.programme.curves import FACTORS, Scenario, SitePoint, World
from optimizer.programme.floors import HighestFloor
from optimizer.programme.regrets import ProgrammeRegret
from optimizer.programme.survey import Failure, FailureKind
from optimizer.programme.terms import Goal
from optimizer.report.words.design import models
from optimizer.report.words.faults import fault
from optimizer.report.words.notes import second_source
from optimizer.report.words.writer import Writer

#: So many sites that would get something else are named, the others counted.
_NAMED = 6
#: Likewise of those that get nothing, and of those that need a second source.
NAMED_WANTING = 24


def headline(write: Writer, found: Allotment) -> str:
    """Return what the money does, and for how many."""
    fields = {
        "equipped": _equipped(write, found),
        "people": round(found.people),
        "figure": found.mean(),
    }
    match found.terms.goal:
        case Goal.SHARE:
            return write.say(
                "{equipped}; of the outages that the {people} people they all serve would meet, "
                "{figure:share.1} are ridden through.",
                **fields,
            )
        case Goal.HOURS:
            return write.say(
                "{equipped}; in the mean over the {people} people they all serve, power lasts "
                "{figure:hours.1} into an outage.",
                **fields,
            )
        case Goal.UNSERVED:
            return write.say(
                "{equipped}; in the mean over the {people} people they all serve, "
                "{figure:number.1} kWh a year are still not served at their site.",
                **fields,
            )


def _equipped(write: Writer, found: Allotment) -> str:
    """Return how many sites get something, for how much of which budget."""
    fields = {"money": found.upfront_cost, "n": found.equipped, "sites": len(found.lines)}
    if round(found.upfront_cost) == round(found.budget):  # in whole units, as they are shown
        return write.say("{money:money} equips {n} of {sites} sites", **fields)
    return write.say(
        "Of {budget:money}, {money:money} equips {n} of {sites} sites",
        budget=found.budget,
        **fields,
    )


def figure(write: Writer, goal: Goal, value: float, decimals: int = 1) -> str:
    """Return a goal's mean over people, with its unit."""
    match goal:
        case Goal.SHARE:
            return write.share(value, decimals)
        case Goal.HOURS:
            return write.say("{value} h", value=write.hours(value, decimals))
        case Goal.UNSERVED:
            return write.say("{value} kWh", value=write.number(value, decimals))


def goal_name(write: Writer, goal: Goal) -> str:
    """Return what a goal counts, in the mean over the people served."""
    match goal:
        case Goal.SHARE:
            return write.say("Outages ridden through")
        case Goal.HOURS:
            return write.say("Hours of autonomy")
        case Goal.UNSERVED:
            return write.say("kWh unserved a year")


def goal_short(write: Writer, goal: Goal) -> str:
    """Return what a goal counts, short enough for the head of a column."""
    match goal:
        case Goal.SHARE:
            return write.say("ridden through")
        case Goal.HOURS:
            return write.say("hours")
        case Goal.UNSERVED:
            return write.say("kWh unserved")


def proof(write: Writer, found: Allotment) -> str:
    """Return how sure it is that nothing better is possible."""
    if found.gap == 0:
        if found.terms.seeks_least_money:
            return write.say("Proven: nothing that does as much costs less.")
        return write.say("Proven: no other choice within these limits does better.")
    return write.say(
        "Proven to within {gap:share.2}: no other choice within these limits betters it by more.",
        gap=found.gap,
    )


def curve_note(write: Writer, curve: BudgetCurve) -> str:
    """Return how complete the budget curve is."""
    if curve.is_complete:
        return write.say_number(
            "The whole curve has {n} point; none is left out.",
            "The whole curve has {n} points; none is left out.",
            len(curve.points),
        )
    return write.say_number(
        "{n} budget was looked at; no figure can be better by more than {gap:share.2}.",
        "{n} budgets were looked at; no figure can be better by more than {gap:share.2}.",
        len(curve.points),
        gap=curve.gap,
    )


def more(write: Writer, one: Explained) -> list[str]:
    """Return what a little more money brings, and which sites get it."""
    other, found = one.more, one.allotment
    extra = other.budget - found.budget
    if not other.changes or other.figure is None:
        nothing = write.say("{extra:money} more would change nothing.", extra=extra)
        return [*([nothing] if extra > 0 else []), *floor(write, one.floor)]
    goal = found.terms.goal
    for decimals in range(1, 4):  # as many as tell the two apart
        after = figure(write, goal, other.figure, decimals)
        before = figure(write, goal, found.mean(), decimals)
        if after != before:
            break
    said = write.say(
        "{extra:money} more would bring {after} instead of {before}.",
        extra=extra,
        after=after,
        before=before,
    )
    return [said, *moves(write, other.changes), *floor(write, one.floor)]


def floor(write: Writer, found: HighestFloor | None) -> Iterator[str]:
    """Yield what the money gives every site alike at the most, and what the next hours take."""
    if found is None:
        return
    if found.hours:
        yield write.say(
            "The highest floor that this money carries is {hours:hours} at every site, for "
            "{least:money} at least.",
            hours=found.hours,
            least=found.upfront_cost,
        )
    if found.next_upfront_cost is not None and math.isfinite(found.next_upfront_cost):
        yield write.say(
            "Giving every site {hours:hours} takes at least {least:money}.",
            hours=found.next_hours,
            least=found.next_upfront_cost,
        )


def supposed(write: Writer, told: Sequence[str]) -> list[str]:
    """Return what is supposed of the sites, as it was told; nothing where nothing is."""
    if not told:
        return []
    return [
        write.say(
            "Supposed of every site that has such a number, not what its files say: "
            "{changes:list}.",
            changes=told,
        )
    ]


def moves(write: Writer, changes: tuple[Change, ...]) -> Iterator[str]:
    """Yield which sites would get more, and which less."""
    gains = [_move(write, one) for one in changes if one.is_gain]
    losses = [_move(write, one) for one in changes if not one.is_gain]
    if gains:
        yield write.say("More: {sites}.", sites=some(write, gains, _NAMED))
    if losses:
        yield write.say("Less: {sites}.", sites=some(write, losses, _NAMED))


def _move(write: Writer, one: Change) -> str:
    return write.say(
        "{site} ({before} → {after} h)",
        site=one.after.site.name,
        before=one.before.point.hours,
        after=one.after.point.hours,
    )


def some(write: Writer, texts: Sequence[str], named: int) -> str:
    """Return the first of some sites, and how many more there are."""
    return "; ".join(write.first(texts, named))


def without(write: Writer, found: Allotment, named: int = NAMED_WANTING) -> str:
    """Return the sites that get nothing, those with critical loads and the most people first."""
    left = sorted((line for line in found.lines if not line.gets_something), key=_need)
    return some(write, [line.site.name for line in left], named) or write.say("none")


def critical(write: Writer, found: Allotment, named: int = NAMED_WANTING) -> list[str]:
    """Return that critical loads need a second source, and where, sites without equipment first."""
    lines = sorted((line for line in found.lines if line.site.critical_loads), key=_need)
    if not lines:
        return []
    where = write.say_number(
        "Health or safety hangs on loads at {n} site: {sites}.",
        "Health or safety hangs on loads at {n} sites: {sites}.",
        len(lines),
        sites=some(write, [line.site.name for line in lines], named),
    )
    loads = list(dict.fromkeys(load for line in lines for load in line.site.critical_loads))
    return [where, second_source(write, write.first(loads, named))]


def _need(line: Line) -> tuple[bool, bool, float]:
    """Where a line stands: nothing for critical loads first, then those with the most people."""
    return not line.site.critical_loads, line.gets_something, -line.site.people


def beside(write: Writer, one: Explained) -> Iterator[str]:
    """Yield which decisions change with a tenth less and a tenth more money."""
    found = one.allotment
    for other in one.beside:
        if other.figure is None:
            budget = other.budget
            yield write.say("With {budget:money} what must be cannot be paid.", budget=budget)
            continue
        share = other.budget / found.budget - 1 if found.budget else 0.0
        yield write.say_number(
            "With {budget:money} ({sign}{share:share}) {n} site of {sites} gets something else; "
            "{figure} is reached.",
            "With {budget:money} ({sign}{share:share}) {n} sites of {sites} get something else; "
            "{figure} is reached.",
            len(other.changes),
            budget=other.budget,
            sign="+" if share > 0 else "−",
            share=round(abs(share), 4),
            sites=len(found.lines),
            figure=figure(write, found.terms.goal, other.figure),
        )


def world(write: Writer, one: World) -> str:
    """Return how outages may be."""
    if one.scenario is None:
        return write.say("outages as they are")
    where = write.say("everywhere")
    if one.group is not None:
        where = write.say("in {group}", group=one.group)
    fields = {"factor": FACTORS[one.scenario], "where": where}
    if one.scenario is Scenario.LONGER:
        return write.say("outages {factor:figure} times as long {where}", **fields)
    return write.say("outages {factor:figure} times as often {where}", **fields)


def regret(write: Writer, found: ProgrammeRegret) -> str:
    """Return where most is missed, and how little the safest choice would miss."""
    worst = found.largest
    if not worst.regret > 0:
        return write.say("Whatever outages were tried, no other choice would do better.")
    return write.say(
        "It misses most with {world}: {figure}, where the best choice for that reaches {best}. The "
        "choice that never misses much misses {least} at the most.",
        world=world(write, worst.world),
        figure=figure(write, found.goal, worst.figure),
        best=figure(write, found.goal, worst.best),
        least=figure(write, found.goal, found.least_largest),
    )


def equipment(write: Writer, point: SitePoint) -> str:
    """Return bank and inverter set of a point, nothing where nothing is bought."""
    return write.say("nothing") if point.bought is None else models(write, point.bought)


def later(write: Writer, point: SitePoint) -> str:
    """Return what is bought after the start: years counted from 1, sums of today."""
    return "; ".join(
        write.say("year {year}: {amount:money}", year=year + 1, amount=amount)
        for year, amount in point.bought_later
    )


def failure(write: Writer, one: Failure) -> str:
    """Return why a site was left out."""
    match one.kind:
        case FailureKind.INPUT:
            told = "; ".join(fault(write, each) for each in one.faults)
            return write.say("{site} is left out: {told}", site=one.site, told=told)
        case FailureKind.NOTHING_FITS:
            return write.say("{site} is left out: nothing on offer fits it.", site=one.site)
        case FailureKind.PROGRAM:
            return write.say(
                "{site} is left out by a fault of keeplit itself: {message}",
                site=one.site,
                message=one.message,
            )


def curve_heading(write: Writer, answer: AllotAnswer) -> tuple[str, str]:
    """Return title and subtitle of a budget curve in a file."""
    goal = answer.answers[0].allotment.terms.goal
    title = write.say("{goal}, in the mean over the people served", goal=goal_name(write, goal))
    return title, curve_note(write, answer.curve)
