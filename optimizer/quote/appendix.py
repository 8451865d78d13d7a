"""What stands behind a quote: families against each other, and what would change the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.answers.curve import point_of
from optimizer.comparison.break_even_line import BreakEvenLine, find_break_even_line
from optimizer.comparison.budgets import Staircase, find_staircase
from optimizer.comparison.parameters import parameter_named, parameters_of
from optimizer.comparison.sensitivities import Sensitivities, find_sensitivities
from optimizer.comparison.side_by_side import Comparison, compare_sides, families_of
from optimizer.comparison.switch_points import SwitchPoints, find_switch_points
from optimizer.comparison.tier_costs import Tiers, find_tiers
from optimizer.errors import InternalError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.curve import Curve
    from optimizer.model.job import Job
    from optimizer.quote.options import Option


@dataclass(frozen=True)
class Appendix:
    """The answers of an appendix, all for the same hours where hours matter.

    ``switch_points`` is empty where the price list has one family only; ``break_even_line`` is None
    where nothing stands against the winner.
    """

    comparison: Comparison
    switch_points: tuple[SwitchPoints, ...]
    break_even_line: BreakEvenLine | None
    sensitivities: Sensitivities
    stairs: Staircase
    tiers: Tiers

    @property
    def hours(self) -> int:
        """The autonomy that is compared [h]."""
        return self.comparison.hours

    @property
    def families(self) -> tuple[str, ...]:
        """The families of the price list, in its order."""
        return families_of(self.comparison.job)


def make_appendix(curve: Curve, options: Sequence[Option]) -> Appendix:
    """Return the appendix of a quote.

    Parameters
    ----------
    curve : Curve
        The whole curve; where it is of one family, budgets and tiers keep to it.
    options : sequence of Option
        What the quote offers, hours rising.
    """
    job, hours = curve.job, hours_compared(curve, options)
    families = families_of(job)
    comparison = compare_sides(job, hours)
    sensitivities = find_sensitivities(job, hours)
    if comparison is None or sensitivities is None:
        raise InternalError("a point of the curve carries these hours")
    for one in (*comparison.families, *comparison.chemistries):
        point_of(job, one.design)  # raises where the simulation finds less
    parameters = parameters_of(job) if len(families) > 1 else ()
    return Appendix(
        comparison=comparison,
        switch_points=tuple(
            find_switch_points(job, parameter, hours, families) for parameter in parameters
        ),
        break_even_line=_break_even_line(job, comparison),
        sensitivities=sensitivities,
        stairs=find_staircase(job, family=curve.family),
        tiers=find_tiers(job, family=curve.family),
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
    if comparison.runner_up is None:
        return None
    two = {comparison.winner.name, comparison.runner_up.name}
    pair = [family for family in families_of(job) if family in two]
    across = parameter_named(job, "outages") if sum(n for _, n in job.outages.yearly) > 0 else None
    return find_break_even_line(
        job, comparison.hours, pair, across=across or parameter_named(job, "rate")
    )
