"""What the independent simulation says, as tables."""

from collections.abc import Sequence

from optimizer.answers.independent_simulation import IndependentSimulation
from optimizer.model.job import Job
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row
from optimizer.report.words import simulation as words
from optimizer.report.words.writer import Writer


def hours_by_age(write: Writer, found: IndependentSimulation) -> Grid:
    """Return the hours of each bank when new, at half its service and in its last year."""
    top = found.horizon_hours
    columns = [
        Column("bank", write.say("Bank")),
        Column("shortest_hours", write.say("Worst start"), Kind.HOURS, 1, "h"),
        Column("worst_start", write.say("which is")),
        Column("mean_hours", write.say("Mean"), Kind.HOURS, 1, "h"),
        Column("longest_hours", write.say("Best start"), Kind.HOURS, 1, "h"),
    ]

    rows: list[Row] = [
        [
            words.age(write, one),
            capped(one.shortest_hours, top),
            words.start(write, one.season, one.start_hour),
            capped(one.mean_hours, top),
            capped(one.longest_hours, top),
        ]
        for one in found.ages
    ]
    title = write.say("Simulated hours without the grid")
    if found.verdict.generator is not None:
        title = write.say("Simulated hours without the grid and the generator")
    return Grid("hours_by_age", title, columns, rows)


def tiers(write: Writer, found: IndependentSimulation) -> tuple[Grid, ...]:
    """Return what each tier of loads costs in hours; nothing where there is one tier only."""
    if len(found.tiers) <= 1:
        return ()
    top = found.horizon_hours
    columns = [
        Column("tier", write.say("Tier")),
        Column("counted", write.say("Carried today"), Kind.YES_NO),
        Column("hours_with", write.say("With it"), Kind.HOURS, 1, "h"),
        Column("hours_without", write.say("Without it"), Kind.HOURS, 1, "h"),
        Column("cost_hours", write.say("It costs"), Kind.HOURS, 1, "h"),
    ]
    rows: list[Row] = [
        [
            one.tier,
            one.counted,
            capped(one.hours_with, top),
            capped(one.hours_without, top),
            Cell(one.cost_hours, Kind.HOURS, 1, sign="≥" if one.hours_without >= top else ""),
        ]
        for one in found.tiers
    ]
    title = write.say("What each tier costs in hours, worst start")
    if found.verdict.generator is not None:
        title = write.say("What each tier costs in hours of the bank alone, worst start")
    return (Grid("tiers", title, columns, rows),)


def rest(write: Writer, found: IndependentSimulation, job: Job, title: str = "") -> Grid:
    """Return what else the simulation says, each sentence beside its matter."""
    return matters("simulation", title, words.rest(write, found, job))


def matters(key: str, title: str, lines: Sequence[tuple[str, str]]) -> Grid:
    """Return sentences, each beside the matter it is about."""
    columns = [Column("matter", "", is_short=True), Column("sentence", "")]
    return Grid(key, title, columns, lines)


def capped(hours: float, horizon_hours: float) -> Cell:
    """Return simulated hours; at the end of the simulation, that they are at least so many."""
    if hours >= horizon_hours:
        return Cell(horizon_hours, Kind.HOURS, 0, sign="≥")
    return Cell(hours, Kind.HOURS, 1)
