"""One question asked twice and set side by side: other numbers, other prices, or another site."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any, Final, TypeVar

from optimizer.answers.choice import Choice, choose
from optimizer.answers.curve import Curve
from optimizer.comparison.budgets import BudgetTable, Staircase
from optimizer.comparison.side_by_side import Comparison
from optimizer.errors import NoDesignError, wrong_option
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.result import Result
from optimizer.model.shown import shown
from optimizer.model.supposed import Supposition

#: Autonomy, budget or side that a pair of designs is for; None where one question has one answer.
At = float | str | None
N = TypeVar("N", int, float)
_Places = Callable[[Any], list[At]]
_Found = Callable[[Any, Any], Design | None]


@dataclass(frozen=True, slots=True)
class Run:
    """One of the two: of which site, and what is supposed of it."""

    site: str
    supposed: tuple[Supposition, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """What the two runs answer for the same thing; None where nothing does it.

    Parameters
    ----------
    at : float, str or None
        Autonomy [h], budget [currency] or side that both are for.
    first, second : Design or None
        The design of each run.
    """

    also = ("more_hours", "more_upfront", "more_over_the_years")

    at: At
    first: Design | None
    second: Design | None

    @property
    def more_hours(self) -> int | None:
        """Autonomy of the first less that of the second [h]."""
        return self._more(lambda one: one.hours)

    @property
    def more_upfront(self) -> float | None:
        """Upfront cost of the first less that of the second [currency]."""
        return self._more(lambda one: one.upfront_cost)

    @property
    def more_over_the_years(self) -> float | None:
        """Life-cycle cost of the first less that of the second [currency]."""
        return self._more(lambda one: one.life_cycle_cost)

    def _more(self, of: Callable[[Design], N]) -> N | None:
        if self.first is None or self.second is None:
            return None
        return of(self.first) - of(self.second)

    @property
    def equipment(self) -> tuple[object, object]:
        """What either holds but fuel."""
        return tuple(one and one.equipment for one in (self.first, self.second))  # type: ignore[return-value] # two


@dataclass(frozen=True, slots=True, repr=False)
class TwoRuns(Result):
    """The same question about two jobs.

    Parameters
    ----------
    job, other : Job
        Of the first run and of the second.
    of : {"Choice", "Curve", "Comparison", "Staircase", "BudgetTable"}
        What each of them answers.
    pairs : tuple of Pair
        Their designs: one pair for a choice, else in the order of hours, budgets or sides.
    """

    also = ("currency", "first", "second")

    job: Job = field(metadata=shown(hide=True))
    other: Job = field(metadata=shown(hide=True))
    of: str
    pairs: tuple[Pair, ...]

    @property
    def first(self) -> Run:
        """The run that is asked about."""
        return Run(self.job.site.name, self.job.supposed)

    @property
    def second(self) -> Run:
        """The run that it is held against."""
        return Run(self.other.site.name, self.other.supposed)

    @property
    def stretches(self) -> tuple[tuple[Pair, ...], ...]:
        """The pairs, neighbours together that differ in the fuel stored alone."""
        return tuple(tuple(run) for _, run in groupby(self.pairs, lambda one: one.equipment))


def against(job: Job, other: Job, ask: Callable[..., Result] = choose, **asked: object) -> TwoRuns:
    """Ask the same of two jobs, and set the answers side by side.

    Parameters
    ----------
    job, other : Job
        From `load`, or `Job.what_if`: what is asked about, and what it is held against.
    ask : function
        `choose`, `frontier`, `compare`, `staircase` or `budget_table`.
    **asked
        What it takes beside the job.

    Raises
    ------
    InputError
        A number out of its range, or two currencies.
    NoDesignError
        Nothing fits in either run.

    Examples
    --------
    >>> from optimizer import load
    >>> job = load("house")
    >>> (pair,) = against(job.what_if(price_lead="+20%"), job, hours=6).pairs
    >>> pair.more_over_the_years > 0
    True
    """
    money = job.site.currency, other.site.currency
    if money[0] != money[1]:
        wanted = Phrase("a site whose money is in {currency}", currency=money[0])
        raise wrong_option("--against", money[1], wanted)
    answers: list[Any] = []
    failed: list[NoDesignError] = []
    for one in (job, other):
        try:
            answers.append(ask(one, **asked))
        except NoDesignError as error:
            answers.append(None)
            failed.append(error)
    if len(failed) == len(answers):
        raise failed[0]
    kind = next(type(one) for one in answers if one is not None)
    places_in, found_at = _ASKED[kind]
    places = dict.fromkeys(at for one in answers if one is not None for at in places_in(one))
    pairs = tuple(
        Pair(at, *(None if one is None else found_at(one, at) for one in answers))
        for at in _ordered(places)
    )
    return TwoRuns(job, other, kind.__name__, pairs)


def _ordered(places: Mapping[At, None]) -> list[At]:
    numbers = [one for one in places if isinstance(one, int | float)]
    return [*sorted(numbers), *(one for one in places if not isinstance(one, int | float))]


def _sides(found: Comparison) -> dict[str, Design]:
    return {one.name: one.design for one in found.alternatives}


def _step(found: Staircase, budget: float) -> Design | None:
    step = found.at(budget)
    return None if step is None else step.design


#: What each kind of answer holds designs for, and which one for each of them.
_ASKED: Final[Mapping[type, tuple[_Places, _Found]]] = {
    Choice: (lambda _: [None], lambda found, _: found.design),
    Curve: (lambda found: [one.hours for one in found.points], Curve.at),
    Comparison: (lambda found: list(_sides(found)), lambda found, name: _sides(found).get(name)),
    Staircase: (lambda found: [one.budget for one in found.steps], _step),
    BudgetTable: (
        lambda found: [one.budget for one in found],
        lambda found, budget: next(one.design for one in found if one.budget == budget),
    ),
}
