"""A bank that stands already, as a table."""

from collections.abc import Sequence
from typing import Final

from optimizer.answers.assessment import Assessment, HoursAt
from optimizer.inputs.bank_words import Assumed, Taken
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row
from optimizer.report.grids.simulation import capped
from optimizer.report.words import assessment as words
from optimizer.report.words import bank_words as of
from optimizer.report.words import simulation
from optimizer.report.words.writer import Writer

#: Columns of `hours` for where there is little room.
SHORT: Final = ("stage", "age_years", "health", "planned_hours", "shortest_hours", "worst_start")


def assumed(write: Writer, found: Sequence[Assumed]) -> Grid:
    """Return what nobody said of a bank and was assumed."""
    columns = [
        Column("what", write.say("Assumed")),
        Column("value", write.say("Value"), Kind.FIGURE),
        Column("unit", write.say("Unit"), is_short=True),
    ]
    rows: list[Row] = [
        [
            of.what(write, one),
            Cell(one.value, Kind.SHARE) if one.what is Taken.DEPTH else one.value,
            write.currency if one.what is Taken.PRICE else one.unit,
        ]
        for one in found
    ]
    return Grid("assumed", write.say("What is assumed"), columns, rows)


def hours(write: Writer, found: Assessment) -> Grid:
    """Return the hours when new, now and at the end of life."""
    planned = write.say("Planned, margin {margin:share}", margin=found.job.site.design_margin)
    columns = [
        Column("stage", "", is_short=True),
        Column("age_years", write.say("Age"), Kind.NUMBER, 1, write.say("years")),
        Column("health", write.say("State of health"), Kind.SHARE, 0),
        Column("planned_hours", planned, Kind.HOURS, 0, "h"),
        Column("shortest_hours", write.say("Simulated, worst start"), Kind.HOURS, 1, "h"),
        Column("worst_start", write.say("which is")),
        Column("mean_hours", write.say("Mean"), Kind.HOURS, 1, "h"),
        Column("longest_hours", write.say("Best start"), Kind.HOURS, 1, "h"),
    ]

    def row(one: HoursAt) -> Row:
        ride = one.simulated
        top, worst = ride.horizon_hours, ride.worst
        return [
            words.stage(write, one.stage),
            one.age_years,
            one.health,
            one.planned_hours,
            capped(ride.shortest, top),
            simulation.start(write, worst.season, worst.start_hour),
            capped(ride.mean, top),
            capped(ride.longest, top),
        ]

    title = write.say("Hours without the grid, with the loads of today")
    return Grid("hours", title, columns, [row(one) for one in found.hours])
