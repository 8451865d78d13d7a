"""Answers of the library, kept for the session under what was asked.

Nothing is shared between sessions, and little is kept: the curve of the job, and the designs
looked at since the last change or two.
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from time import monotonic
from typing import TYPE_CHECKING, Any, Final, TypeVar

from optimizer import Curve, Job, NoDesignError, choose, frontier
from optimizer.answers.choice import Choice
from optimizer.answers.independent_simulation import independent_simulation
from optimizer.answers.nothing_done import NothingDone, nothing_done
from optimizer.inputs.job_file import save_job
from optimizer.report.charts.points import find_point
from optimizer.simulate import trace

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer import Design
    from optimizer.answers.independent_simulation import IndependentSimulation
    from optimizer.inputs import Draft
    from optimizer.model.progress import Progress
    from optimizer.simulate import Trace
    from ui.state import State


T = TypeVar("T")

#: So many answers are kept of a kind: the curve must not be pushed out by looking further.
_MOST: Final = {"answers": 16, "comparisons": 20}
#: Work that takes longer shows its progress [s].
PATIENCE_S: Final = 0.5


@dataclass(frozen=True)
class Curves:
    """The exact curve, each family's own, and the cost of doing nothing; ``job`` has no budgets."""

    job: Job
    overall: Curve
    families: Mapping[str, Curve]
    nothing: NothingDone


@dataclass(frozen=True)
class Answer:
    """What is shown below the curve.

    ``point`` names the point of the curve it is, where it was clicked; ``asked`` the hours asked
    for, where it answers the target. Without a design, ``refusal`` says why.
    """

    choice: Choice | None
    point: str | None
    asked: int | None
    refusal: NoDesignError | None = None


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


def kept(state: State, kind: str) -> OrderedDict[str, Any]:
    """Return the session's answers of a kind, by what was asked."""
    return state.remembered.setdefault(kind, OrderedDict())


def remembered(state: State, key: str, make: Callable[[], T], kind: str = "answers") -> T:
    """Return a kept answer, or make and keep it; the oldest of its kind goes."""
    answers = kept(state, kind)
    if key not in answers:
        answers[key] = make()
        while len(answers) > _MOST[kind]:
            answers.popitem(last=False)
    answers.move_to_end(key)
    found: T = answers[key]
    return found


def curves(state: State, progress: Progress | None = None) -> Curves:
    """Return the curves of the job.

    Parameters
    ----------
    state : State
        The session's.
    progress : callable, optional
        Called with hours done and all hours, once the work has taken a moment.
    """
    return remembered(
        state, f"curves {inputs_of(state.good)}", lambda: _curves(state.job, progress)
    )


def _curves(job: Job, progress: Progress | None) -> Curves:
    free = job.with_site(budget=None, lifetime_budget=None)
    families = tuple(dict.fromkeys(battery.family for battery in job.catalog.batteries))
    started = monotonic()
    parts = len(families) + 1

    def part(number: int) -> Progress:
        def step(done: int, whole: int) -> None:
            if progress is not None and monotonic() - started > PATIENCE_S:
                progress(number * whole + done, parts * whole)

        return step

    overall = frontier(free, progress=part(0))
    own = {
        family: frontier(free, family=family, progress=part(number))
        for number, family in enumerate(families, start=1)
    }
    return Curves(free, overall, own, nothing_done(job))


def answer(state: State, found: Curves) -> Answer:
    """Return the design that is shown: the point clicked, else the target's within the budgets."""
    key = f"answer {fingerprint(state.good)} {state.picked}"
    return remembered(state, key, lambda: _answer(state, found))


def _answer(state: State, found: Curves) -> Answer:
    place = find_point(state.picked, found.overall, found.families) if state.picked else None
    if place is not None:
        family, design = place
        return Answer(choose(found.job, hours=design.hours, family=family), state.picked, None)
    asked = state.job.site.target_hours
    try:
        return Answer(choose(state.job, hours=asked), None, asked)
    except NoDesignError as refusal:
        return Answer(None, None, asked, refusal)


def chosen(state: State, found: Curves) -> Design | None:
    """Return the design of `answer`, from the curve where it stands there: in no time."""
    if state.picked:
        place = find_point(state.picked, found.overall, found.families)
        if place is not None:
            return place[1]
    site = state.job.site
    if site.budget is None and site.lifetime_budget is None:
        return found.overall.at(site.target_hours)
    told = answer(state, found)
    return None if told.choice is None else told.choice.design


def longest_within_budget(state: State) -> Design | None:
    """Return the longest autonomy that the budget at the start buys, or None."""
    budget = state.job.site.budget
    if budget is None:
        return None

    def make() -> Design | None:
        try:
            return choose(state.job, budget=budget).design
        except NoDesignError:
            return None

    return remembered(state, f"longest {fingerprint(state.good)}", make)


def simulated(state: State, choice: Choice) -> IndependentSimulation:
    """Return what the independent simulation says of the design shown."""
    key = f"simulated {inputs_of(state.good)} {choice.design!r}"
    return remembered(state, key, lambda: independent_simulation(choice.job, choice.design))


def worst_outage(choice: Choice, said: IndependentSimulation) -> Trace:
    """Return the outage from the worst start."""
    worst = said.verdict
    return trace(choice.job, choice.design, worst.year, worst.season, worst.start_hour)
