"""What a programme reaches at every budget: all non-dominated points, or samples with their gap."""

from dataclasses import dataclass, replace

import numpy as np

from optimizer.errors import NotProvenError
from optimizer.formulas.rounding import minor_units
from optimizer.model.arrays import Floats
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.shown import Unbounded
from optimizer.programme.allotment import best_allotment
from optimizer.programme.survey import Programme
from optimizer.programme.table import OptionTable
from optimizer.programme.terms import Terms, at_budget

#: So many points are followed at once; a programme that has more is sampled.
MOST_POINTS = 100_000
#: Budgets of a sample, and how good each of them need be.
_SAMPLES, _SAMPLE_GAP, _SAMPLE_LIMIT_S = 24, 1e-3, 5.0
#: A budget reaches what costs this much more: rounding.
_LENIENT = 1 + 1e-12
#: Sums of gains closer than this share of all are equal.
_EQUAL = 1e-12


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetPoint:
    """What a budget reaches.

    Parameters
    ----------
    budget : float
        Upfront cost of all sites together [currency].
    figure : float
        The goal's mean over people.
    bound : float
        What no allotment of this budget betters; the figure itself where it is proven.
    """

    budget: float
    figure: float
    bound: Unbounded


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetCurve:
    """What every budget reaches.

    Parameters
    ----------
    points : tuple of BudgetPoint
        Money rising; each betters the one before.
    is_complete : bool
        Whether no other budget reaches anything that these do not.
    gap : float
        Of the points, the widest: how much better a figure may be, as a share of what is gained.
    """

    points: tuple[BudgetPoint, ...]
    is_complete: bool
    gap: Unbounded

    def at(self, budget: float) -> BudgetPoint:
        """Return the best point within a budget, the first where none is."""
        within = [one for one in self.points if one.budget <= budget * _LENIENT]
        return within[-1] if within else self.points[0]


def budget_curve(
    programme: Programme, terms: Terms, *, progress: Progress | None = None
) -> BudgetCurve:
    """Return what every budget reaches under the terms, but for what they ask of money and goal.

    Where money is all that is shared, points are merged site by site and dominated ones dropped
    (G. L. Nemhauser and Z. Ullmann, Management Science 15, 1969): exact. Where other limits are
    shared too, or points are too many, budgets are sampled and each is solved to a proven gap.
    """
    terms = at_budget(terms, 0.0)
    table = OptionTable(programme, terms)
    shares = any(terms.share_of(one.site.group) > 0 for one in programme.candidates)
    if not (shares or terms.limits_later or terms.required):
        merged = _merged(table, progress)
        if merged is not None:
            return _complete(table, *merged)
    return _sampled(programme, terms, table, progress)


def _merged(table: OptionTable, progress: Progress | None) -> tuple[Floats, Floats] | None:
    """Return money, in its smallest unit, and gain of all non-dominated points; None where many."""
    unit = 10.0 ** minor_units(table.programme.currency)
    cents, gain = np.rint(table.money * unit), table.gain(table.terms.goal)
    equal = _EQUAL * float(np.abs(gain).sum())
    money, gained = np.zeros(1), np.zeros(1)
    for number in one_by_one(range(table.must.size), progress):
        own = table.owner == number
        takes, brings = cents[own], gain[own]
        if not table.must[number]:
            takes, brings = np.append(takes, 0.0), np.append(brings, 0.0)
        all_money = (money[:, None] + takes).ravel()
        all_gained = (gained[:, None] + brings).ravel()
        order = np.lexsort((-all_gained, all_money))
        money, gained = all_money[order], all_gained[order]
        if not money.size:
            break
        best = np.maximum.accumulate(gained)
        kept = np.append(True, gained[1:] > best[:-1] + equal)
        money, gained = money[kept], gained[kept]
        if money.size > MOST_POINTS:
            return None
    return money / unit, gained


def _complete(table: OptionTable, money: Floats, gained: Floats) -> BudgetCurve:
    goal = table.terms.goal
    points = []
    for budget, gain in zip(money.tolist(), gained.tolist(), strict=True):
        figure = table.mean(goal, gain)
        points.append(BudgetPoint(budget=budget, figure=figure, bound=figure))
    return BudgetCurve(points=tuple(points), is_complete=True, gap=0.0)


def _sampled(
    programme: Programme, terms: Terms, table: OptionTable, progress: Progress | None
) -> BudgetCurve:
    dearest = np.zeros(len(programme.candidates))
    np.maximum.at(dearest, table.owner, table.money)
    points: list[BudgetPoint] = []
    gap = 0.0
    sample = replace(terms, gap=_SAMPLE_GAP, limit_seconds=_SAMPLE_LIMIT_S)
    sampled = np.linspace(0, float(dearest.sum()), _SAMPLES + 1).tolist()
    for budget in one_by_one(sampled, progress):
        try:
            found = best_allotment(programme, replace(sample, budget=budget))
        except NotProvenError:
            continue
        if found is None:
            continue
        figure = found.mean()
        if points and (figure - points[-1].figure) * terms.goal.sign <= 0:
            continue
        gap = max(gap, found.gap)
        points.append(BudgetPoint(budget=found.upfront_cost, figure=figure, bound=found.bound))
    return BudgetCurve(points=tuple(points), is_complete=False, gap=gap)
