"""The chart of each answer of the library."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from optimizer.answers.choice import Choice
from optimizer.answers.curve import Curve
from optimizer.answers.upfront_limits import TradeOff
from optimizer.comparison.budgets import Staircase
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.tier_costs import Tiers
from optimizer.report.charts.canvas import FILE_WIDTH, Canvas
from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.charts.money import money_chart
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.sensitivity import sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.theme import LIGHT
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.charts.trade_off import trade_off_chart

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    import altair as alt

    from optimizer.report.words.writer import Writer

_CHARTS: Final[Mapping[type, Callable[[Any, Canvas], alt.LayerChart]]] = {
    Choice: lambda found, canvas: money_chart(
        found.design.payments, found.job.site.horizon_years, canvas
    ),
    Comparison: paid_chart,
    Curve: lambda found, canvas: curve_chart(
        CurvePicture(found, {}, target_hours=found.job.site.target_hours), canvas
    ),
    Sensitivities: sensitivity_chart,
    Staircase: staircase_chart,
    Tiers: tiers_chart,
    TradeOff: trade_off_chart,
}


def chart_of(result: object, write: Writer) -> alt.LayerChart:
    """Return an answer's chart.

    Raises
    ------
    TypeError
        It has none.
    """
    drawn = _CHARTS.get(type(result))
    if drawn is None:
        raise TypeError(f"{type(result).__name__} has no chart")
    return drawn(result, Canvas(LIGHT, write, width=FILE_WIDTH))
