"""Many sites under one budget, as tables."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from optimizer.model.programme import PlannedSite
from optimizer.programme.allotment import Allotment
from optimizer.programme.answers import AllotAnswer, Explained
from optimizer.programme.budget_curve import BudgetCurve, BudgetPoint
from optimizer.programme.curves import SitePoint
from optimizer.programme.survey import Programme
from optimizer.programme.terms import Goal
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, Value
from optimizer.report.words import allotment as words
from optimizer.report.words import council
from optimizer.report.words.writer import Sentence, Writer

#: Points of a budget curve that a page has room for.
_ROOM: Final = 16
_NOMINAL: Final = Sentence("Nominal: in money of that year, by each site's own inflation.")
_OF_MEANS: Final = Sentence("Hours, outages and energy: means over the people served.")
_MEANS: Final = (Goal.HOURS, Goal.SHARE, Goal.UNSERVED)
_KINDS: Final = {Goal.SHARE: Kind.SHARE, Goal.HOURS: Kind.HOURS, Goal.UNSERVED: Kind.NUMBER}


def sites(write: Writer, one: Explained, *, whole: bool = True) -> Grid:
    """Return what each site gets, those that get something first; with ``whole`` off them alone."""
    grid = lines(write, one.allotment)
    if whole:
        return grid
    equipped = one.allotment.equipped
    if equipped == len(grid.rows):
        return grid
    note = write.say_number(
        "{n} site gets nothing: {sites}.",
        "{n} sites get nothing: {sites}.",
        len(grid.rows) - equipped,
        sites=words.without(write, one.allotment),
    )
    return replace(grid, rows=grid.rows[:equipped], notes=[note])


def lines(write: Writer, found: Allotment) -> Grid:
    """Return what each site of an allotment gets, those that get something first."""
    title = write.say("Who gets what of {budget:money}", budget=found.budget)
    pairs = [(line.site, line.point) for line in found.lines]
    return _points(write, title, sorted(pairs, key=lambda pair: not pair[1].hours))


def curves(write: Writer, found: Programme) -> Grid:
    """Return every point of every site's curve."""
    title = write.say("What money buys at each site")
    pairs = [(one.site, point) for one in found.candidates for point in one.curve.points]
    return _points(write, title, pairs)


def _points(write: Writer, title: str, pairs: Iterable[tuple[PlannedSite, SitePoint]]) -> Grid:
    columns = [
        Column("site", write.say("Site")),
        Column("group", write.say("Group")),
        Column("people", write.say("People"), Kind.NUMBER),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("share_carried", write.say("Outages ridden through"), Kind.SHARE, 0),
        Column("kwh_unserved", write.say("Unserved a year"), Kind.NUMBER, 1, unit="kWh"),
        Column("upfront_cost", write.say("Upfront cost"), Kind.CENTS),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("equipment", write.say("Bank, series × strings; inverter set")),
        Column("later", write.say("Bought later")),
    ]
    rows: list[Row] = [
        [
            site.name,
            site.group,
            site.people,
            point.hours,
            point.service.share_carried,
            point.service.kwh_unserved,
            point.upfront_cost,
            point.life_cycle_cost,
            words.equipment(write, point),
            words.later(write, point),
        ]
        for site, point in pairs
    ]
    return Grid("sites", title, columns, rows)


def _means(write: Writer) -> list[Column]:
    """Return the columns of the means over the people served, in the order of `_MEANS`."""
    return [
        Column("hours", write.say("Autonomy"), Kind.HOURS, 1, unit="h"),
        Column("share_carried", write.say("Outages ridden through"), Kind.SHARE, 1),
        Column("kwh_unserved", write.say("Unserved a year"), Kind.NUMBER, 1, unit="kWh"),
    ]


def groups(write: Writer, one: Explained) -> Grid:
    """Return what each group gets, and all together."""
    columns = [
        Column("group", write.say("Group")),
        Column("sites", write.say("Sites"), Kind.NUMBER),
        Column("equipped", write.say("Equipped"), Kind.NUMBER),
        Column("people", write.say("People"), Kind.NUMBER),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("share", write.say("Of the money"), Kind.SHARE, 0),
        *_means(write),
    ]
    found = one.allotment
    rows: list[Row] = [
        [
            total.group or write.say("no group"),
            total.sites,
            total.equipped,
            total.people,
            total.upfront_cost,
            total.share,
            *map(total.mean, _MEANS),
        ]
        for total in one.groups
    ]
    rows.append(
        [
            write.say("All"),
            len(found.lines),
            found.equipped,
            found.people,
            found.upfront_cost,
            1.0 if found.upfront_cost else 0.0,
            *map(found.mean, _MEANS),
        ]
    )
    note = write.say(_OF_MEANS.english)
    return Grid("groups", write.say("By group"), columns, rows, [note], has_total=True)


def budgets(write: Writer, answer: AllotAnswer) -> Grid:
    """Return what each of the budgets brings, beside each other."""
    columns = [
        Column("budget", write.say("Budget"), Kind.MONEY, unit=write.currency),
        Column("upfront_cost", write.say("Spent"), Kind.MONEY),
        Column("equipped", write.say("Sites equipped"), Kind.NUMBER),
        *_means(write),
        Column("later", write.say("Bought later"), Kind.MONEY),
        Column("later_nominal", write.say("Bought later, nominal"), Kind.MONEY),
    ]
    rows: list[Row] = []
    for one in answer.answers:
        found = one.allotment
        later = [year for year in one.spending if year.year > 0]
        rows.append(
            [
                found.budget,
                found.upfront_cost,
                found.equipped,
                *map(found.mean, _MEANS),
                sum(year.bought for year in later),
                sum(year.bought_nominal for year in later),
            ]
        )
    notes = [
        write.say(_OF_MEANS.english),
        write.say(_NOMINAL.english),
        *words.supposed(write, answer.programme.supposed),
    ]
    return Grid("budgets", write.say("What each budget brings"), columns, rows, notes)


def groups_by_budget(write: Writer, answer: AllotAnswer) -> Grid:
    """Return what each group gets of each budget."""
    goal = answer.answers[0].allotment.terms.goal
    columns = [
        Column("group", write.say("Group")),
        Column("sites", write.say("Sites"), Kind.NUMBER),
        Column("people", write.say("People"), Kind.NUMBER),
    ]
    for number, one in enumerate(answer.answers, start=1):
        money = write.money(one.allotment.budget, whole=True)
        equipped = write.say("{money}: sites", money=money)
        spent, reached = write.say("money"), words.goal_short(write, goal)
        columns += [
            Column(f"equipped_{number}", equipped, Kind.NUMBER),
            Column(f"share_{number}", spent, Kind.SHARE, 0),
            Column(f"figure_{number}", reached, _KINDS[goal], 0 if goal is Goal.SHARE else 1),
        ]
    rows: list[Row] = []
    for place, total in enumerate(answer.answers[0].groups):
        row: list[Value | Cell] = [total.group or write.say("no group"), total.sites, total.people]
        for one in answer.answers:
            own = one.groups[place]
            row += [own.equipped, own.share, own.mean(goal)]
        rows.append(row)
    return Grid("groups", write.say("By group"), columns, rows)


def added(write: Writer, answer: AllotAnswer, named: int = council.NAMED) -> Grid:
    """Return for each budget the sites that it adds to those before, and those without anything.

    ``named`` is how many of either are named at most.
    """
    columns = [
        Column("budget", write.say("Budget"), Kind.MONEY),
        Column("sites", write.say("Sites it adds, those with the most people first")),
        Column("without", write.say("Sites that get nothing")),
    ]
    rows: list[Row] = [
        [
            one.allotment.budget,
            council.added_sites(write, one, answer, named),
            words.without(write, one.allotment, named),
        ]
        for one in answer.answers
    ]
    return Grid("added", write.say("Who gets equipment"), columns, rows)


def curve(write: Writer, answer: AllotAnswer, *, whole: bool = True) -> Grid:
    """Return what every budget reaches; with ``whole`` off, as much as a page has room for."""
    goal = answer.answers[0].allotment.terms.goal
    found = answer.curve
    columns = [
        Column("budget", write.say("Budget"), Kind.CENTS),
        Column("figure", words.goal_name(write, goal), _KINDS[goal], 1),
    ]
    points = found.points if whole else _spread(found)
    if not found.is_complete:
        columns.append(Column("bound", write.say("At best"), _KINDS[goal], 1))
    rows: list[Row] = [
        [one.budget, one.figure, *(() if found.is_complete else (one.bound,))] for one in points
    ]
    title = write.say("What every budget reaches")
    return Grid("curve", title, columns, rows, [words.curve_note(write, found)])


def _spread(found: BudgetCurve) -> Sequence[BudgetPoint]:
    """Return points at even distances of money."""
    if len(found.points) <= _ROOM:
        return found.points
    end = found.points[-1].budget
    wanted = [found.at(end * step / (_ROOM - 1)) for step in range(_ROOM)]
    return list(dict.fromkeys(wanted))


def spending(write: Writer, one: Explained) -> Grid:
    """Return what is paid year by year."""
    columns = [
        Column("year", write.say("Year"), Kind.NUMBER),
        Column("bought", write.say("Bought"), Kind.MONEY),
        Column("running", write.say("Running"), Kind.MONEY),
        Column("bought_nominal", write.say("Bought, nominal"), Kind.MONEY),
        Column("running_nominal", write.say("Running, nominal"), Kind.MONEY),
    ]
    rows: list[Row] = [
        [
            year.year + 1,
            year.bought,
            year.running,
            year.bought_nominal,
            year.running_nominal,
        ]
        for year in one.spending
    ]
    note = write.say(_NOMINAL.english)
    return Grid("spending", write.say("Spending by year"), columns, rows, [note])


def changes(write: Writer, one: Explained) -> Grid:
    """Return the sites that would get something else with a tenth less or more."""
    columns = [
        Column("budget", write.say("Budget"), Kind.MONEY),
        Column("site", write.say("Site")),
        Column("before", write.say("Now"), Kind.HOURS, unit="h"),
        Column("after", write.say("Then"), Kind.HOURS, unit="h"),
    ]
    rows: list[Row] = [
        [
            other.budget,
            change.after.site.name,
            change.before.point.hours,
            change.after.point.hours,
        ]
        for other in one.beside
        for change in other.changes
    ]
    title = write.say("Decisions that change with a tenth less or more")
    return Grid("changes", title, columns, rows, list(words.beside(write, one)))


def regret(write: Writer, one: Explained) -> Grid | None:
    """Return what is missed under other outages; None where they were not simulated."""
    found = one.regret
    if found is None:
        return None
    kind = _KINDS[found.goal]
    columns = [
        Column("world", write.say("If it turns out")),
        Column("figure", write.say("This choice"), kind, 1),
        Column("best", write.say("The best for it"), kind, 1),
        Column("regret", write.say("Missed"), kind, 1),
        Column("safest_regret", write.say("Missed by the safest choice"), kind, 1),
    ]
    rows: list[Row] = [
        [words.world(write, each.world), each.figure, each.best, each.regret, each.safest_regret]
        for each in found.worlds
    ]
    title = write.say(
        "Regret with {budget:money}: {goal}",
        budget=one.allotment.budget,
        goal=words.goal_name(write, found.goal),
    )
    return Grid("regret", title, columns, rows, [words.regret(write, found)])


def workbook(write: Writer, answer: AllotAnswer) -> list[Grid]:
    """Return every table, those of one budget numbered where there are several."""
    found = [budgets(write, answer), curve(write, answer)]
    for number, one in enumerate(answer.answers, start=1):
        own = [sites(write, one), groups(write, one), spending(write, one), changes(write, one)]
        own += [grid for grid in (regret(write, one),) if grid is not None]
        if len(answer.answers) > 1:
            own = [replace(grid, key=f"{grid.key}_{number}") for grid in own]
        found += own
    return found
