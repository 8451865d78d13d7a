"""Answers of the library, kept for the session under what was asked.

Little is kept: the curve of the job, and the designs looked at since the last change or two; and
of a few sessions only. Sessions share nothing but the first answer to the site of the command,
which every visitor is shown.
"""

import hashlib
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from threading import Lock
from time import monotonic, thread_time
from typing import Any, Final, TypeVar
from weakref import ref

from optimizer import (
    Choice,
    Curve,
    Design,
    Job,
    NoDesignError,
    Point,
    TradeOff,
    choose,
    compare,
    trade_off,
)
from optimizer.answers.curve import Cost, by_family
from optimizer.answers.independent_simulation import IndependentSimulation, independent_simulation
from optimizer.answers.nothing_done import NothingDone, nothing_done
from optimizer.comparison.side_by_side import Comparison, compare_curves
from optimizer.engine.curve import Search
from optimizer.inputs.draft import Draft
from optimizer.inputs.job_file import save_job
from optimizer.model.limits import without_budgets
from optimizer.model.progress import Progress
from optimizer.report.charts.points import find_point
from optimizer.report.words.writer import Writer
from ui.language import writer
from ui.state import State

T = TypeVar("T")

#: So many answers are kept of a kind: the curve must not be pushed out by looking further.
_MOST: Final = {"answers": 24, "curves": 3}
#: So many sessions keep answers, those looked at last.
_SESSIONS: Final = 8
_lately: Final[OrderedDict[int, ref[State]]] = OrderedDict()
_lock: Final = Lock()
#: What everybody sees first, by kind and by what was asked.
_first: Final[dict[str, OrderedDict[tuple[object, ...], Any]]] = {}
#: Work that takes longer shows its progress, and no more often than this [s].
PATIENCE_S: Final = 0.5
#: Curves that take a processor less than this come before the answer in words [s].
SOON_S: Final = 1.0


@dataclass(frozen=True)
class Curves:
    """The exact curve, each family's own, and the cost of doing nothing; ``job`` has no budgets.

    ``seconds`` is how long it took a processor [s].
    """

    job: Job
    overall: Curve
    families: Mapping[str, Curve]
    nothing: NothingDone
    seconds: float


@dataclass(frozen=True)
class Answer:
    """The design that is shown; ``job`` is the one in whose limits it is the answer.

    ``family`` is the only family allowed, where a point was clicked; ``asked`` are the hours asked
    for, where it answers the target.
    """

    job: Job
    design: Point
    family: str | None = None
    asked: int | None = None

    @property
    def hours(self) -> int:
        """The hours asked about."""
        return self.design.hours if self.asked is None else self.asked

    @property
    def write(self) -> Writer:
        """What writes its numbers and sentences."""
        return writer(self.job.site.currency)

    @cached_property
    def choice(self) -> Choice:
        """The design with the price of every requirement."""
        return choose(self.job, hours=self.hours, family=self.family)

    @cached_property
    def trades(self) -> TradeOff:
        """What paying more or less upfront does, for the same hours."""
        return trade_off(without_budgets(self.job), self.hours)

    @cached_property
    def simulated(self) -> IndependentSimulation:
        """What the independent simulation says of the design."""
        return independent_simulation(self.job, self.design)


def fingerprint(draft: Draft) -> str:
    """Return what stands for a draft: equal drafts, equal fingerprints."""
    return hashlib.sha256(save_job(draft)).hexdigest()[:16]


def inputs_of(draft: Draft) -> str:
    """Return the fingerprint of all that makes the curve: neither target nor budgets do."""
    for section, key in (
        ("resilience", "target_hours"),
        ("limits", "budget"),
        ("limits", "lifetime_budget"),
    ):
        draft = draft.with_site(section, key, None)
    return fingerprint(draft)


def kept(state: State, kind: str = "answers") -> OrderedDict[tuple[object, ...], Any]:
    """Return the session's answers of a kind, by what was asked.

    Of those who have left the page the answers go first: they are worked out again if they return.
    """
    with _lock:
        _lately[id(state)] = ref(state)
        _lately.move_to_end(id(state))
        while len(_lately) > _SESSIONS:
            _, gone = _lately.popitem(last=False)
            if (other := gone()) is not None:
                other.remembered, other.shown = {}, None
    return state.remembered.setdefault(kind, OrderedDict(_first.get(kind, {})))


def prepare(state: State) -> None:
    """Work out what whoever opens the page is told first, before the first one comes."""
    found = answer(state)
    if isinstance(found, Answer):
        _ = beside(state, found), found.design.verdict
    _first.update(state.remembered)


def remembered(state: State, make: Callable[[], T], *asked: object, kind: str = "answers") -> T:
    """Return a kept answer, or make and keep it; the oldest of its kind goes."""
    answers = kept(state, kind)
    if asked not in answers:
        answers[asked] = make()
        while len(answers) > _MOST[kind]:
            answers.popitem(last=False)
    answers.move_to_end(asked)
    found: T = answers[asked]
    return found


def curves(state: State, progress: Progress | None = None) -> Curves:
    """Return the curves of the job, of the cost that is shown.

    Work that takes a moment calls ``progress`` with hours done and all hours.
    """
    key = (state.cost, inputs_of(state.good))
    return remembered(state, lambda: _curves(state.job, state.cost, progress), *key, kind="curves")


def _curves(job: Job, cost: Cost, progress: Progress | None) -> Curves:
    free = without_budgets(job)
    told, began = monotonic(), thread_time()

    def step(done: int, whole: int) -> None:
        nonlocal told
        if progress is not None and monotonic() - told > PATIENCE_S:
            progress(done, whole)
            told = monotonic()

    overall, own = by_family(free, cost=cost, progress=step)
    return Curves(free, overall, own, nothing_done(job), thread_time() - began)


def confirm(found: Curves) -> None:
    """Let the simulation confirm every point of the curves; InternalError where it does not."""
    for curve in (found.overall, *found.families.values()):
        for point in curve.points:
            _ = point.verdict


def answer(state: State) -> Answer | NoDesignError:
    """Return the design that is shown: the point clicked, else the target's within the budgets."""
    asked = (fingerprint(state.good), state.picked, state.cost)
    return remembered(state, lambda: _answer(state), "answer", *asked)


def _answer(state: State) -> Answer | NoDesignError:
    if state.picked:
        found = curves(state)
        place = find_point(state.picked, found.overall, found.families)
        if place is not None:
            family, design = place
            return Answer(_held(state, found.job, design), design, family)
    job, asked = state.job, state.job.site.target_hours
    if state.cost == "life_cycle_cost":
        compared = comparison(state, asked)
        if isinstance(compared, NoDesignError):
            return compared
        return Answer(job, compared.winner.design, asked=asked)
    try:
        design = trade_off(job, asked).points[-1]
    except NoDesignError as refusal:
        return refusal
    return Answer(_held(state, job, design), design, asked=asked)


def _held(state: State, job: Job, design: Design) -> Job:
    """Return the job in whose limits a design of the curve shown has the least life-cycle cost."""
    least_upfront = state.cost == "upfront_cost"
    return job.with_site(budget=design.upfront_cost) if least_upfront else job


def comparison(
    state: State, hours: int, *, by_chemistry: bool = False
) -> Comparison | NoDesignError:
    """Return the families side by side, or why none carries the hours."""

    def make() -> Comparison | NoDesignError:
        job = state.job
        known = kept(state, "curves").get((state.cost, inputs_of(state.good)))
        free = job.site.budget is None and job.site.lifetime_budget is None
        try:
            if known and state.cost == "life_cycle_cost" and free and not by_chemistry:
                return compare_curves(job, hours, known.overall, known.families)
            return compare(job, hours, by_chemistry=by_chemistry)
        except NoDesignError as refusal:
            return refusal

    return remembered(state, make, "compare", hours, by_chemistry, fingerprint(state.good))


def beside(state: State, answer: Answer) -> Comparison:
    """Return the families for the hours of a design; as if money had no limit where it must be."""
    found = comparison(state, answer.hours)
    if not isinstance(found, NoDesignError):
        return found
    free = without_budgets(state.job)
    asked = (answer.hours, inputs_of(state.good))
    return remembered(
        state, lambda: compare(free, answer.hours, by_chemistry=False), "free", *asked
    )


def longest_within_budget(state: State) -> Design | None:
    """Return the longest autonomy that the budget at the start buys, or None."""
    job = state.job
    if job.site.budget is None:
        return None
    return remembered(state, lambda: Search(job).longest(), "longest", fingerprint(state.good))
