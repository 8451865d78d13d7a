"""What stands behind a quote: families against each other, and what would change the answer."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import ClassVar

from optimizer.answers.curve import Curve
from optimizer.comparison.answers import TiersAnswer, tiers_answer
from optimizer.comparison.break_even_line import BreakEvenLine, line_between
from optimizer.comparison.budgets import Staircase, staircase
from optimizer.comparison.parameters import Kind, parameter_named
from optimizer.comparison.sensitivities import Sensitivities, sensitivities
from optimizer.comparison.side_by_side import Comparison, compare
from optimizer.comparison.switch_points import SwitchPoints, switch_points
from optimizer.comparison.tier_costs import Tiers, tiers
from optimizer.model.job import Job
from optimizer.model.shown import shown
from optimizer.quote.options import Option


@dataclass(frozen=True)
class Appendix:
    """The answers of an appendix, all for the same hours where hours matter.

    ``switch_points`` is empty where the price list has one family only; ``break_even_line`` is None
    where nothing stands against the winner.
    """

    comparison: Comparison = field(metadata=shown(inline=True))
    switch_points: tuple[SwitchPoints, ...]
    break_even_line: BreakEvenLine | None
    sensitivities: Sensitivities
    stairs: Staircase = field(metadata=shown("budget"))
    tier_costs: Tiers = field(metadata=shown(hide=True))

    also: ClassVar = ("tiers",)

    @property
    def tiers(self) -> TiersAnswer:
        """What the tiers cost, as the question about them alone is answered."""
        return tiers_answer(self.tier_costs)

    @property
    def families(self) -> tuple[str, ...]:
        """The families of the price list, in its order."""
        return self.comparison.job.catalog.families


def make_appendix(curve: Curve, options: Sequence[Option]) -> Appendix:
    """Return the appendix of what a quote offers; budgets and tiers keep to the curve's family."""
    job, hours = curve.job, hours_compared(curve, options)
    comparison = compare(job, hours)
    has_choice = len(job.catalog.families) > 1
    return Appendix(
        comparison=comparison,
        switch_points=switch_points(job, hours).rows if has_choice else (),
        break_even_line=_break_even_line(job, comparison),
        sensitivities=sensitivities(job, hours),
        stairs=staircase(job, family=curve.family),
        tier_costs=tiers(job, family=curve.family),
    )


def hours_compared(curve: Curve, options: Sequence[Option]) -> int:
    """Return the hours asked for where an option is the answer to them, else the first option's."""
    target = curve.job.site.target_hours
    asked = curve.at(target)
    offered = [option.design.hours for option in options]
    return target if asked is not None and asked.hours in offered else offered[0]


def _break_even_line(job: Job, comparison: Comparison) -> BreakEvenLine | None:
    """Return the break-even line between the two cheapest families; the later listed one is priced.

    Against outages a year; where the site counts none, against the discount rate.
    """
    families = job.catalog.families
    cheapest = [one.name for one in comparison.alternatives if one.name in families][:2]
    if len(cheapest) == 1:
        return None
    other, priced = sorted(cheapest, key=families.index)
    across = Kind.OUTAGES if job.outages.times_a_year > 0 else Kind.DISCOUNT_RATE
    return line_between(job, comparison.hours, parameter_named(job, across), priced, other)
