"""The charts of those answers of the library that have one of their own."""

from collections.abc import Callable, Mapping
from typing import Any, Final

import altair as alt

from optimizer.answers.choice import Choice
from optimizer.answers.curve import Curve, TradeOff
from optimizer.answers.outage_run import OutageRun
from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.budgets import Staircase
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.tier_costs import Tiers
from optimizer.quote.build import Quote
from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.charts.money import money_chart
from optimizer.report.charts.outage import OutagePicture, charge_chart
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.sensitivity import sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.charts.trade_off import trade_off_chart

_CHARTS: Final[Mapping[type, Callable[[Any, Canvas], alt.LayerChart]]] = {
    Choice: lambda found, canvas: money_chart(
        found.design.payments, found.job.site.horizon_years, canvas
    ),
    BreakEvenLine: break_even_chart,
    Comparison: paid_chart,
    Curve: lambda found, canvas: curve_chart(
        CurvePicture(found, {}, target_hours=found.job.site.target_hours), canvas
    ),
    OutageRun: lambda found, canvas: charge_chart(
        OutagePicture(found.worst, found.design, found.job.site.tier_hours), canvas
    ),
    Quote: lambda found, canvas: curve_chart(
        CurvePicture(found.curve, {}, target_hours=found.job.site.target_hours), canvas
    ),
    Sensitivities: sensitivity_chart,
    Staircase: staircase_chart,
    Tiers: tiers_chart,
    TradeOff: trade_off_chart,
}


def own_chart(result: object, canvas: Canvas) -> alt.LayerChart:
    """Return the chart of an answer that has one of its own."""
    return _CHARTS[type(result)](result, canvas)
