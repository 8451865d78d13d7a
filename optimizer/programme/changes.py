"""What another budget would change: which sites get more, which less."""

from dataclasses import dataclass, field

from optimizer.errors import NotProvenError
from optimizer.programme.allotment import Allotment, Line, best_allotment
from optimizer.programme.terms import at_budget


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A site that would get something else: its lines before and after."""

    before: Line
    after: Line

    @property
    def is_gain(self) -> bool:
        """Whether it would get longer hours."""
        return self.after.point.hours > self.before.point.hours


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherBudget:
    """The same terms at another budget.

    Parameters
    ----------
    budget : float
        Of all sites together at the start [currency].
    figure : float or None
        What the goal's mean over people becomes; None where the budget is too small for what
        must be.
    upfront_cost : float or None
        What is spent of it.
    changes : tuple of Change
        The sites that would get something else.
    """

    budget: float
    figure: float | None
    upfront_cost: float | None
    changes: tuple[Change, ...] = field(default=())


def at_other_budget(allotment: Allotment, budget: float) -> OtherBudget:
    """Return what another budget would change [currency]."""
    try:
        found = best_allotment(allotment.programme, at_budget(allotment.terms, budget))
    except NotProvenError:
        found = None
    if found is None:
        return OtherBudget(budget=budget, figure=None, upfront_cost=None)
    pairs = zip(allotment.lines, found.lines, strict=True)
    return OtherBudget(
        budget=budget,
        figure=found.mean(),
        upfront_cost=found.upfront_cost,
        changes=tuple(Change(before=a, after=b) for a, b in pairs if a.point != b.point),
    )
