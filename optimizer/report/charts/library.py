"""The chart of each answer of the library."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from optimizer.answers.assessment import Assessment
from optimizer.answers.choice import Choice
from optimizer.answers.curve import Curve
from optimizer.answers.independent_simulation import IndependentSimulation
from optimizer.answers.ledger import Ledger
from optimizer.answers.outage_run import OutageRun
from optimizer.answers.site_survey import Survey
from optimizer.answers.upfront_limits import TradeOff
from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.budgets import BudgetTable, Staircase
from optimizer.comparison.hours_worth import HoursWorth
from optimizer.comparison.load_costs import LoadCosts
from optimizer.comparison.regrets import Regret
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.study import MIXED
from optimizer.comparison.switch_points import Switches
from optimizer.comparison.tier_costs import Tiers
from optimizer.comparison.two_runs import TwoRuns
from optimizer.programme.allotment import Allotment
from optimizer.programme.survey import Programme
from optimizer.quote.build import Quote
from optimizer.report.charts.bars import bars
from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.canvas import FILE_WIDTH, Canvas
from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.charts.money import money_chart
from optimizer.report.charts.outage import OutagePicture, charge_chart
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.points import family_of
from optimizer.report.charts.sensitivity import sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.theme import LIGHT
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.charts.trade_off import trade_off_chart
from optimizer.report.grids import (
    allotment,
    assessment,
    budgets,
    hours_worth,
    ledger,
    sensitivity,
    simulation,
    survey,
    switch_points,
    tiers,
    two_runs,
)
from optimizer.simulate import trace, verdict

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    import altair as alt

    from optimizer.report.grids.grid import Grid
    from optimizer.report.words.writer import Writer


def _worst_outage(found: OutageRun, canvas: Canvas) -> alt.LayerChart:
    """Return the charge through the outage of the hours claimed, from the worst start."""
    job, design = found.job, found.design
    worst = verdict(job, design)
    run = trace(job, design, worst.year, worst.season, worst.start_hour)
    let_go = {} if design.generator is not None else job.site.tier_hours
    family = family_of(design) or MIXED
    return charge_chart(OutagePicture(run, worst.start_hour, design.hours, family, let_go), canvas)


_CHARTS: Final[Mapping[type, Callable[[Any, Canvas], alt.LayerChart]]] = {
    Choice: lambda found, canvas: money_chart(
        found.design.payments, found.job.site.horizon_years, canvas
    ),
    BreakEvenLine: break_even_chart,
    Comparison: paid_chart,
    Curve: lambda found, canvas: curve_chart(
        CurvePicture(found, {}, target_hours=found.job.site.target_hours), canvas
    ),
    OutageRun: _worst_outage,
    Quote: lambda found, canvas: curve_chart(
        CurvePicture(found.curve, {}, target_hours=found.job.site.target_hours), canvas
    ),
    Sensitivities: sensitivity_chart,
    Staircase: staircase_chart,
    Tiers: tiers_chart,
    TradeOff: trade_off_chart,
}

#: Answers without a chart of their own: a figure of a table as bars, and what names each bar.
_BARS: Final[Mapping[type, tuple[Callable[[Writer, Any], Grid], Sequence[str], str]]] = {
    Allotment: (allotment.lines, ("site",), "hours"),
    Assessment: (assessment.hours, ("stage",), "shortest_hours"),
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


def chart_of(result: object, write: Writer) -> alt.LayerChart:
    """Return an answer's chart."""
    canvas = Canvas(LIGHT, write, width=FILE_WIDTH)
    drawn = _CHARTS.get(type(result))
    if drawn is not None:
        return drawn(result, canvas)
    table, names, figure = _BARS[type(result)]
    return bars(table(write, result), names, figure, canvas)
