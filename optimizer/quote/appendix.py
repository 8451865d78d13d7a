"""What stands behind a quote: families against each other, and what would change the answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.answers.opinion import confirmed
from optimizer.comparison.break_even_line import find_border
from optimizer.comparison.budgets import find_staircase
from optimizer.comparison.parameters import lever_named, levers_of
from optimizer.comparison.sensitivities import find_swings
from optimizer.comparison.side_by_side import compare_sides, families_of
from optimizer.comparison.switch_points import find_flips
from optimizer.comparison.tier_costs import find_tiers

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.break_even_line import Border
    from optimizer.comparison.budgets import Staircase
    from optimizer.comparison.sensitivities import Swings
    from optimizer.comparison.side_by_side import Comparison
    from optimizer.comparison.switch_points import Flips
    from optimizer.comparison.tier_costs import Tiers
    from optimizer.model.design import Curve
    from optimizer.model.job import Job
    from optimizer.quote.options import Option


@dataclass(frozen=True)
class Appendix:
    """The answers of an appendix, all for the same hours where hours matter.

    ``flips`` is empty where the price list has one family only; ``border`` is None where nothing
    stands against the winner.
    """

    comparison: Comparison
    flips: tuple[Flips, ...]
    border: Border | None
    swings: Swings
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
    swings = find_swings(job, hours)
    if comparison is None or swings is None:
        raise AssertionError("a point of the curve carries these hours")
    for one in (*comparison.families, *comparison.chemistries):
        confirmed(job, one.design)
    levers = levers_of(job) if len(families) > 1 else ()
    return Appendix(
        comparison=comparison,
        flips=tuple(find_flips(job, lever, hours, families) for lever in levers),
        border=_border(job, comparison),
        swings=swings,
        stairs=find_staircase(job, family=curve.family),
        tiers=find_tiers(job, family=curve.family),
    )


def hours_compared(curve: Curve, options: Sequence[Option]) -> int:
    """Return the hours asked for where an option is the answer to them, else the first option's."""
    target = curve.job.site.target_hours
    asked = curve.at(target)
    offered = [option.design.hours for option in options]
    return target if asked is not None and asked.hours in offered else offered[0]


def _border(job: Job, comparison: Comparison) -> Border | None:
    """Return the border between the two cheapest families; the later listed one is priced.

    Against outages a year; where the site counts none, against the discount rate.
    """
    if comparison.rival is None:
        return None
    two = {comparison.winner.name, comparison.rival.name}
    pair = [family for family in families_of(job) if family in two]
    across = lever_named(job, "outages") if sum(n for _, n in job.outages.yearly) > 0 else None
    return find_border(job, comparison.hours, pair, across=across or lever_named(job, "rate"))
