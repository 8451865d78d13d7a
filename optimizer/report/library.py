"""Answers of the library as frames, plain data, charts and notebook views, each made once."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from optimizer.answers.assessment import Assessment
from optimizer.answers.choice import Choice
from optimizer.answers.curve import Curve, TradeOff
from optimizer.answers.independent_simulation import IndependentSimulation
from optimizer.answers.ledger import Ledger
from optimizer.answers.outage_run import OutageRun
from optimizer.answers.site_survey import Survey
from optimizer.comparison.answers import tiers_answer
from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.budgets import BudgetTable, Staircase
from optimizer.comparison.hours_worth import HoursWorth
from optimizer.comparison.load_costs import LoadCosts
from optimizer.comparison.regrets import Regret
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.switch_points import Switches
from optimizer.comparison.tier_costs import Tiers
from optimizer.comparison.two_runs import TwoRuns
from optimizer.model.result import Result
from optimizer.programme.allotment import Allotment
from optimizer.programme.survey import Programme
from optimizer.quote.build import Quote
from optimizer.report import markdown as texts
from optimizer.report.grids import (
    allotment,
    budgets,
    choice,
    comparison,
    curve,
    hours_worth,
    ledger,
    outages,
    quote,
    sensitivity,
    simulation,
    survey,
    switch_points,
    tiers,
    trade_off,
    two_runs,
)
from optimizer.report.grids import assessment as assessments
from optimizer.report.grids.grid import Cell, Grid, raw
from optimizer.report.json.answers import frontier_answer
from optimizer.report.json.serialise import to_data
from optimizer.report.words.writer import Writer

_GRIDS: Final[Mapping[type, Callable[[Writer, Any], Grid]]] = {
    Allotment: allotment.lines,
    Assessment: assessments.hours,
    BreakEvenLine: switch_points.break_even_line,
    Choice: lambda write, found: choice.limits(write, found.explained),
    Comparison: lambda write, found: comparison.side_by_side(write, found.alternatives),
    Curve: curve.points,
    Sensitivities: sensitivity.one_at_a_time,
    Staircase: budgets.steps,
    BudgetTable: budgets.budgets,
    TwoRuns: two_runs.side_by_side,
    IndependentSimulation: simulation.hours_by_age,
    Ledger: ledger.together,
    OutageRun: outages.simulated_years,
    Programme: allotment.curves,
    Quote: quote.options,
    Regret: sensitivity.regret,
    Survey: survey.by_load,
    Switches: switch_points.switch_points,
    HoursWorth: hours_worth.rows,
    LoadCosts: tiers.loads,
    Tiers: lambda write, found: tiers.tiers(write, found, found.landmarks),
    TradeOff: trade_off.designs,
}

#: Answers without a chart of their own: a figure of a table as bars, and what names each bar.
_BARS: Final[Mapping[type, tuple[Callable[[Writer, Any], Grid], Sequence[str], str]]] = {
    Allotment: (allotment.lines, ("site",), "hours"),
    Assessment: (assessments.hours, ("stage",), "shortest_hours"),
    BudgetTable: (budgets.budgets, ("budget", "family"), "hours"),
    HoursWorth: (hours_worth.rows, ("hours",), "in_all"),
    IndependentSimulation: (simulation.hours_by_age, ("bank",), "shortest_hours"),
    Ledger: (ledger.by_source, ("source",), "numbers"),
    LoadCosts: (tiers.loads, ("tier", "loads"), "life_cycle_cost"),
    Programme: (allotment.curves, ("site", "hours"), "upfront_cost"),
    Regret: (sensitivity.regret, ("first_purchase", "family"), "largest_regret"),
    Survey: (survey.by_load, ("load", "tier"), "kwh_day"),
    Switches: (switch_points.nearest, ("parameter",), "distance"),
    TwoRuns: (two_runs.each_run, ("at", "run"), "figure"),
}


def frame(result: Result) -> Any:  # noqa: ANN401 - a frame of pandas, which is typed as Any
    """Return an answer's table as a frame."""
    import pandas as pd  # noqa: PLC0415 - slow to import

    write = Writer(result.currency)
    if isinstance(result, Curve):  # a row for each point, where the table shows ranges
        grid = curve.file(write, result, {})
    else:
        grid = _GRIDS[type(result)](write, result)
    columns: dict[str, Sequence[object]] = {}
    for place, column in enumerate(grid.columns):
        cells = [row[place] for row in grid.rows]
        lasts = [cell.last if isinstance(cell, Cell) else None for cell in cells]
        columns[column.key] = list(map(raw, cells))
        if any(last is not None for last in lasts):
            columns[f"{column.key}_last"] = lasts
    return pd.DataFrame(columns)


def data(result: Result) -> dict[str, Any]:
    """Return an answer as plain data."""
    shown: object = result
    if isinstance(result, Curve):
        shown = frontier_answer(result)
    elif isinstance(result, Tiers):
        shown = tiers_answer(result)
    return {"supposed": to_data(result.supposed), **to_data(shown)}


def markdown(result: Result) -> str:
    """Return an answer's table as Markdown, under its title."""
    write = Writer(result.currency)
    grid = _GRIDS[type(result)](write, result)
    title = f"**{texts.escaped(grid.title)}**\n\n" if grid.title else ""
    return title + texts.table(grid, write)


def chart(result: Result) -> Any:  # noqa: ANN401 - of altair, which is the charts' alone
    """Return an answer's chart."""
    from optimizer.report.charts.bars import bars  # noqa: PLC0415 - slow to import
    from optimizer.report.charts.canvas import FILE_WIDTH, Canvas  # noqa: PLC0415 - start-up time
    from optimizer.report.charts.library import own_chart  # noqa: PLC0415 - start-up time
    from optimizer.report.charts.theme import LIGHT  # noqa: PLC0415 - start-up time

    write = Writer(result.currency)
    canvas = Canvas(LIGHT, write, width=FILE_WIDTH)
    if type(result) not in _BARS:
        return own_chart(result, canvas)
    table, names, figure = _BARS[type(result)]
    return bars(table(write, result), names, figure, canvas)
