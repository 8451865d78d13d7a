"""The same question about two jobs, as one table."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

from optimizer.answers.curve import Point
from optimizer.comparison.two_runs import At, Pair, TwoRuns
from optimizer.model.design import Design
from optimizer.report.grids.choice import summary
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, Value
from optimizer.report.words.comparison import equipment, side
from optimizer.report.words.writer import Writer

#: What the rows of each kind of answer stand for.
_PLACE: Final[Mapping[str, Callable[[Writer], Column]]] = {
    "Curve": lambda write: Column("at", write.say("Autonomy"), Kind.HOURS, unit="h"),
    "Comparison": lambda write: Column("at", write.say("Side")),
    "Staircase": lambda write: Column("at", write.say("From"), Kind.CENTS),
    "BudgetTable": lambda write: Column("at", write.say("Budget"), Kind.CENTS),
}
#: Those whose designs answer how long a budget lasts; the others what some hours cost.
_OF_BUDGETS: Final = frozenset({"Staircase", "BudgetTable"})


def side_by_side(write: Writer, found: TwoRuns) -> Grid:
    """Return what both runs answer and the difference: a quantity a row, or a pair of designs."""
    note = write.say("Difference: the first run less the second.")
    title = write.say("Two runs side by side, {currency}")
    columns, rows = _quantities(write, found) if found.of not in _PLACE else _pairs(write, found)
    return Grid("against", title, columns, rows, [note])


def _quantities(write: Writer, found: TwoRuns) -> tuple[list[Column], list[Row]]:
    """Return the one design of each run, one quantity a row."""
    (pair,) = found.pairs
    told: list[dict[str, Row]] = [
        {str(row[0]): row for row in summary(write, one).rows} if isinstance(one, Point) else {}
        for one in (pair.first, pair.second)
    ]
    none = write.say("none")
    rows: list[Row] = []
    for name in dict.fromkeys((*told[0], *told[1])):
        first, second = (one[name][1] if name in one else none for one in told)
        unit = next(one[name][2] for one in told if name in one)
        rows.append([name, unit, first, second, _less(first, second)])
    columns = [
        Column("quantity", "", is_short=True),
        Column("unit", "", is_short=True),
        *_runs(write, Kind.TEXT),
    ]
    return columns, rows


def _less(first: object, second: object) -> Cell | None:
    """Return a figure less another, None where either is none."""
    if not isinstance(first, Cell) or not isinstance(second, Cell):
        return None
    one, two = first.value, second.value
    if not isinstance(one, int | float) or not isinstance(two, int | float):
        return None
    return replace(first, value=one - two)


def _runs(write: Writer, kind: Kind) -> list[Column]:
    return [
        Column("first", write.say("First run"), kind),
        Column("second", write.say("Second run"), kind),
        Column("difference", write.say("Difference"), kind),
    ]


def _pairs(write: Writer, found: TwoRuns) -> tuple[list[Column], list[Row]]:
    """Return a row for each pair of designs, neighbours together that differ in fuel alone."""
    of_budgets = found.of in _OF_BUDGETS
    columns = [_PLACE[found.of](write), *_runs(write, Kind.HOURS if of_budgets else Kind.MONEY)]
    if not of_budgets:
        columns.append(Column("more_upfront", write.say("Difference upfront"), Kind.MONEY))
    columns += [
        Column("first_equipment", write.say("Bank; inverter set")),
        Column("second_equipment", write.say("Bank; inverter set of the second")),
    ]
    return columns, [_row(write, run, of_budgets=of_budgets) for run in found.stretches]


def _row(write: Writer, run: Sequence[Pair], *, of_budgets: bool) -> Row:
    first, last = run[0], run[-1]

    def figure(design: Design | None) -> float | None:
        if design is None:
            return None
        return design.hours if of_budgets else design.life_cycle_cost

    def less(pair: Pair) -> float | None:
        return pair.more_hours if of_budgets else pair.more_over_the_years

    def ends(here: float | None, there: float | None) -> Value | Cell:
        return write.say("none") if here is None else Cell(here, last=there)

    same = first.first is not None and first.equipment[0] == first.equipment[1]
    row: list[Value | Cell] = [
        _at(write, first.at, last.at),
        ends(figure(first.first), figure(last.first)),
        ends(figure(first.second), figure(last.second)),
        Cell(less(first), last=less(last)),
    ]
    if not of_budgets:
        row.append(first.more_upfront)
    row.append(None if first.first is None else equipment(write, first.first))
    if same:
        row.append(write.say("the same"))
    else:
        row.append(None if first.second is None else equipment(write, first.second))
    return row


def _at(write: Writer, first: At, last: At) -> Value | Cell:
    return side(write, first) if isinstance(first, str) else Cell(first, last=last)


def each_run(write: Writer, found: TwoRuns) -> Grid:
    """Return the figure of each run, one a row: what hours cost, or how long a budget lasts."""
    of_budgets = found.of in _OF_BUDGETS
    kind = Kind.HOURS if of_budgets else Kind.MONEY
    title = write.say("Autonomy") if of_budgets else write.say("Life-cycle cost")
    columns = [
        _PLACE[found.of](write) if found.of in _PLACE else Column("at", ""),
        Column("run", ""),
        Column("figure", title, kind, unit="h" if of_budgets else write.currency),
    ]
    names = write.say("First run"), write.say("Second run")
    rows: list[Row] = [
        [
            _at(write, run[0].at, run[-1].at),
            name,
            None if one is None else one.hours if of_budgets else one.life_cycle_cost,
        ]
        for run in found.stretches
        for name, one in zip(names, (run[0].first, run[0].second), strict=True)
    ]
    return Grid("runs", write.say("Two runs side by side"), columns, rows)
