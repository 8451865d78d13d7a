"""What a design rests on, as tables."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from optimizer.answers.ledger import Assumption, Subject
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row
from optimizer.report.words import ledger as words
from optimizer.report.words.writer import Writer

#: Subjects whose items share a table.
_SHARED = frozenset({Subject.LOAD, Subject.WORK})


def tables(write: Writer, ledger: Sequence[Assumption]) -> list[Grid]:
    """Return every number a design rests on, one table a subject, loads and works in one each."""
    found = []
    for (kind, _), group in groupby(ledger, key=_table_of):
        numbers = list(group)
        if kind is Subject.LOAD:
            found.append(_loads(write, numbers))
            continue
        grid = together(write, numbers)
        item = ["of"] if kind is Subject.WORK else []
        shown = grid.only(*item, "name", "value", "unit", "source")
        found.append(replace(shown, key=kind, title=words.subject(write, numbers[0])))
    return found


def _table_of(one: Assumption) -> tuple[Subject, str]:
    return one.subject, "" if one.subject in _SHARED else one.of


def _value(one: Assumption) -> float | str | Cell:
    """Return a value; points with room to break, what is too small for digits as a power."""
    if isinstance(one.value, str):
        return one.value.replace(";", "; ")
    if isinstance(one.value, float) and 0 < abs(one.value) < 1e-3:  # noqa: PLR2004 - shows as nothing
        return f"{one.value:g}"
    return one.value


def _loads(write: Writer, numbers: Sequence[Assumption]) -> Grid:
    columns = [
        Column("load", write.say("Load")),
        Column("count", write.say("Quantity"), Kind.FIGURE),
        Column("running_w", write.say("Running"), Kind.FIGURE, unit="W"),
        Column("power_factor", write.say("Power factor"), Kind.FIGURE),
        Column("starting_w", write.say("Starting"), Kind.FIGURE, unit="W"),
        Column("duty", write.say("Duty"), Kind.FIGURE),
        Column("hours", write.say("Hours of the day")),
        Column("seasons", write.say("Seasons")),
    ]
    rows: list[Row] = []
    for load, group in groupby(numbers, key=lambda one: one.of):
        mine = list(group)
        values = {one.name: _value(one) for one in mine}
        seasons = "; ".join(
            write.say("{season} {times:factor}", season=one.operand, times=one.value)
            for one in mine
            if one.name == "multiplier"
        )
        rows.append([load, *(values[column.key] for column in columns[1:-1]), seasons])
    return Grid("load", words.subject(write, numbers[0]), columns, rows)


def together(write: Writer, ledger: Sequence[Assumption]) -> Grid:
    """Return every number a design rests on in one table, one a row."""
    columns = [
        Column("subject", write.say("Subject")),
        Column("of", write.say("Item")),
        Column("name", write.say("What")),
        Column("value", write.say("Value"), Kind.FIGURE, 7),
        Column("unit", write.say("Unit"), is_short=True),
        Column("source", write.say("Source")),
    ]
    rows: list[Row] = [
        [
            words.subject(write, one),
            one.of,
            words.name(write, one),
            _value(one),
            one.unit,
            words.source(write, one),
        ]
        for one in ledger
    ]
    return Grid("assumptions", words.count(write, len(ledger)), columns, rows)


def by_source(write: Writer, ledger: Sequence[Assumption]) -> Grid:
    """Return how many of the numbers come from where."""
    counted = Counter(words.source_kind(write, one.source) for one in ledger)
    columns = [
        Column("source", write.say("Source")),
        Column("numbers", write.say("Numbers"), Kind.NUMBER),
    ]
    rows: list[Row] = [[*pair] for pair in counted.most_common()]
    return Grid("sources", words.count(write, len(ledger)), columns, rows)
