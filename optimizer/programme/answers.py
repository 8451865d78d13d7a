"""What ``keeplit allot`` answers, all of it together."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from optimizer.errors import InternalError, NoAllotmentError, NotProvenError
from optimizer.model.progress import Progress
from optimizer.model.refusal import Refusal
from optimizer.model.shown import shown
from optimizer.programme.allotment import Allotment, allotted, mean
from optimizer.programme.budget_curve import BudgetCurve, budget_curve
from optimizer.programme.changes import OtherBudget, at_other_budget
from optimizer.programme.floors import Floors, HighestFloor
from optimizer.programme.regrets import ProgrammeRegret, programme_regret
from optimizer.programme.spending import Spending, spending
from optimizer.programme.survey import Programme
from optimizer.programme.terms import Goal, Terms

#: Budgets that stand beside the one asked for, as shares of it.
BESIDE = (0.9, 1.1)
#: What more money brings is asked of so much more.
_MORE = 1.01
#: Figures of two ways to the same optimum differ by rounding only.
_AGREEMENT = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupTotal:
    """What one group gets.

    Parameters
    ----------
    group : str
        Its name; empty for sites without one.
    sites, equipped : int
        All, and those that get something.
    people : float
        Served by them.
    upfront_cost : float
        What is spent on it at the start [currency].
    share : float
        Of all that is spent.
    hours, share_carried, kwh_unserved : float
        In the mean over its people.
    """

    group: str
    sites: int
    equipped: int
    people: float
    upfront_cost: float
    share: float
    hours: float
    share_carried: float
    kwh_unserved: float

    def mean(self, goal: Goal) -> float:
        """Return a goal's mean over its people."""
        means = {
            Goal.HOURS: self.hours,
            Goal.SHARE: self.share_carried,
            Goal.UNSERVED: self.kwh_unserved,
        }
        return means[goal]


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained:
    """Who gets what at one budget, and what would change it.

    Parameters
    ----------
    allotment : Allotment
        Who gets what.
    groups : tuple of GroupTotal
        The sums by group.
    more : OtherBudget
        What a hundredth more money brings, and who gets it.
    beside : tuple of OtherBudget
        A tenth less and a tenth more money.
    regret : ProgrammeRegret or None
        What is missed under other outages; None where they were not simulated.
    spending : tuple of Spending
        Year by year.
    floor : HighestFloor or None
        What this money gives every site alike at the most, under the same terms; None where the
        time limit came before the proof.
    """

    allotment: Allotment = field(metadata=shown(inline=True))
    groups: tuple[GroupTotal, ...]
    more: OtherBudget
    beside: tuple[OtherBudget, ...]
    regret: ProgrammeRegret | None
    spending: tuple[Spending, ...]
    floor: HighestFloor | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AllotAnswer:
    """Who gets what at each of some budgets.

    Parameters
    ----------
    programme : Programme
        Of which sites, with those that were left out.
    answers : tuple of Explained
        One for each budget that does, in the order asked.
    curve : BudgetCurve
        What every budget reaches.
    refused : tuple of Refusal
        Budgets asked for that do not reach what must be.
    """

    programme: Programme = field(metadata=shown(take=("currency", "failures", "supposed")))
    answers: tuple[Explained, ...]
    curve: BudgetCurve
    refused: tuple[Refusal, ...] = ()


def allot_answer(
    programme: Programme,
    terms: Terms,
    budgets: Sequence[float | None],
    *,
    scenarios: bool = False,
    progress: Progress | None = None,
) -> AllotAnswer:
    """Choose what each site gets at some budgets, and work out what would change it.

    The terms' own budget is left aside; a budget of None seeks the least money. With ``scenarios``,
    which the curves must hold, what is missed under other outages is told. ``progress`` is that of
    the budget curve, whose figures must be those of the program. A budget that does not reach
    what must be is told and stops no other; NoAllotmentError where none does.
    """
    found: list[Allotment] = []
    refused: list[NoAllotmentError] = []
    for budget in budgets:
        try:
            found.append(allotted(programme, replace(terms, budget=budget)))
        except NoAllotmentError as error:
            refused.append(error)
    if not found:
        raise max(refused, key=lambda error: error.refusal.budget or 0.0)
    curve = budget_curve(programme, terms, progress=progress)
    for one in found:
        _agree(one, curve)
    floors = Floors(programme, terms)

    def explained(one: Allotment) -> Explained:
        return Explained(
            allotment=one,
            groups=_groups(one),
            more=at_other_budget(one, one.budget * _MORE),
            beside=tuple(at_other_budget(one, one.budget * share) for share in BESIDE),
            regret=programme_regret(one) if scenarios else None,
            spending=spending(one),
            floor=_floor(floors, one.budget),
        )

    return AllotAnswer(
        programme=programme,
        answers=tuple(explained(one) for one in found),
        curve=curve,
        refused=tuple(error.refusal for error in refused),
    )


def _floor(floors: Floors, budget: float) -> HighestFloor | None:
    try:
        return floors.highest(budget)
    except NotProvenError:
        return None


def _agree(found: Allotment, curve: BudgetCurve) -> None:
    """Hold a program's proven optimum against the merged curve's."""
    if not curve.is_complete or found.gap > 0 or found.terms.seeks_least_money:
        return
    best, own = curve.at(found.budget).figure, found.mean()
    if abs(best - own) > _AGREEMENT * max(1.0, abs(best)):
        raise InternalError(f"the program reaches {own}, the merged curve {best}")


def _groups(found: Allotment) -> tuple[GroupTotal, ...]:
    whole = found.upfront_cost
    totals = []
    for group in dict.fromkeys(line.site.group for line in found.lines):
        own = [line for line in found.lines if line.site.group == group]
        people = sum(line.site.people for line in own)
        spent = sum(line.point.upfront_cost for line in own)
        totals.append(
            GroupTotal(
                group=group,
                sites=len(own),
                equipped=sum(line.gets_something for line in own),
                people=people,
                upfront_cost=spent,
                share=spent / whole if whole else 0.0,
                hours=mean(own, Goal.HOURS),
                share_carried=mean(own, Goal.SHARE),
                kwh_unserved=mean(own, Goal.UNSERVED),
            )
        )
    return tuple(totals)
