"""The job in one plain object of the session; widgets show it and write to it, nothing else."""

import os
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import reduce
from typing import Any, Final, NamedTuple

import streamlit as st

from optimizer import InputError
from optimizer.answers.curve import Cost
from optimizer.errors import Fault
from optimizer.inputs.cells import CellError
from optimizer.inputs.draft import Draft, draft_from_files
from optimizer.inputs.job_file import Kept
from optimizer.model.job import Job
from optimizer.report.words.writer import Writer
from ui import memory
from ui.language import writer

#: The draft with what was typed; may raise `CellError`.
Put = Callable[[Draft, Any], Draft]

#: What the page opens with where nobody says otherwise; set by the command that starts it.
SITE_VARIABLE: Final = "KEEPLIT_SITE"
CATALOG_VARIABLE: Final = "KEEPLIT_CATALOG"
_FIRST_SITE: Final = "house"
#: So many changes can be taken back.
_UNDO_DEPTH: Final = 30
_KEY: Final = "job"


class Step(NamedTuple):
    """What one change can be taken back to: the job before it, and what the change was of."""

    draft: Draft
    kept: tuple[Kept, ...]
    what: str


class Pending(NamedTuple):
    """What was typed into a field and cannot be taken yet: shown as typed, tried again later.

    ``wanted`` says what would be right, "" where nothing can be said but the field's own range;
    ``column`` of which column, or key with its section.
    """

    text: Any
    put: Put
    what: str
    wanted: str = ""
    column: str = ""


@dataclass
class State:
    """One person's job: ``draft`` is what the widgets show and may have ``faults``.

    ``good`` is the last draft without, ``job`` what it makes: what is answered.
    """

    draft: Draft
    good: Draft
    job: Job
    faults: tuple[Fault, ...] = ()
    #: What undo and redo go to.
    past: list[Step] = field(default_factory=list)
    future: list[Step] = field(default_factory=list)
    #: By field.
    pending: dict[str, Pending] = field(default_factory=dict)
    #: The point that was clicked; the target's design where None.
    picked: str | None = None
    #: Which money the curve shows.
    cost: Cost = "life_cycle_cost"
    #: What is open: a question, right below the starters where it is ``started``; a load.
    question: str | None = None
    started: bool = False
    load: str | None = None
    #: Designs set aside.
    kept: list[Kept] = field(default_factory=list)
    #: Part of the keys of widgets that must start afresh when the draft changes under them.
    generation: int = 0
    #: By list that is typed into row by row: its texts, rows that are not whole among them.
    rows: dict[str, list[list[str]]] = field(default_factory=dict)
    #: Numbers beside the job that a person has typed, by field.
    aside: dict[str, Any] = field(default_factory=dict)
    #: The form of the outages that is looked at; the one that counts where None.
    form: str | None = None
    #: By form of the outages: the draft that last answered in it.
    parked: dict[str, Draft] = field(default_factory=dict)
    #: By uploader: faults of a file that was not taken.
    refused: dict[str, tuple[Fault, ...]] = field(default_factory=dict)
    #: Answers of each kind by what was asked, see `ui.cached`.
    remembered: dict[str, OrderedDict[tuple[object, ...], Any]] = field(default_factory=dict)
    #: The last curves drawn: kept in sight where the next cannot be had.
    shown: Any = None
    #: Whether the address named a job that the server no longer holds.
    lost: bool = False
    #: What the server holds of the job, see `ui.memory`.
    held: tuple[Draft, tuple[Kept, ...]] | None = None

    @property
    def write(self) -> Writer:
        """What writes numbers and sentences of this job."""
        return writer(self.job.site.currency)

    def change(self, draft: Draft, what: str = "", job: Job | None = None) -> None:
        """Take a changed draft; answer it where it is free of faults.

        ``what`` is what undo says it takes back, ``job`` what the draft makes where that is known.
        """
        if draft == self.draft:
            return
        here = Step(self.draft, tuple(self.kept), what)
        self.past, self.future = [*self.past, here][-_UNDO_DEPTH:], []
        self._take(draft, job)

    def offer(self, field: str, text: object, put: Put, what: str) -> None:
        """Take what was typed into a field where it makes a job; hold it as typed where not.

        ``field`` is the widget's key, ``what`` its label.
        """
        new = Pending(text, put, what)
        waiting = {name: one for name, one in self.pending.items() if name != field}
        if waiting and self._tried(*waiting.values(), new) is None:
            self.pending.clear()
            return
        refused = self._tried(new)
        self.pending = waiting if refused is None else {**waiting, field: refused}
        for name, held in waiting.items():  # what waited for this very change
            if self._tried(held) is None:
                self.pending.pop(name, None)

    def _tried(self, *changes: Pending) -> Pending | None:
        """Take changes where they make a job; return the last one with why they do not."""
        last = changes[-1]
        try:
            draft = reduce(lambda draft, one: one.put(draft, one.text), changes, self.draft)
            if draft is self.draft:  # of something beside the job
                return None
            job = draft.job()
        except CellError as problem:
            return last._replace(wanted=problem.hint)
        except InputError as error:
            first = error.faults[0]
            return last._replace(wanted=first.wanted, column=str(first.column or ""))
        self.change(draft, last.what, job)
        return None

    def undo(self) -> None:
        """Go back by one change; what was typed and not taken goes first."""
        if self.pending:
            self.pending.clear()
        elif self.past:
            self._go(self.past, self.future)

    def redo(self) -> None:
        """Go forward again by one change."""
        if self.future:
            self._go(self.future, self.past)

    def _go(self, there: list[Step], back: list[Step]) -> None:
        draft, kept, what = there.pop()
        back.append(Step(self.draft, tuple(self.kept), what))
        self.kept = list(kept)
        self._take(draft)
        self.refresh()

    def replace(self, draft: Draft, kept: tuple[Kept, ...] = (), what: str = "") -> None:
        """Take another job; the one before it can be had back by undo."""
        self.change(draft, what)
        self.kept = list(kept)
        self.picked = None
        self.parked.clear()
        self.refresh()

    def set_key(self, section: str, key: str, value: object) -> None:
        """Change one key of the site; None takes it out."""
        self.change(self.draft.with_site(section, key, value))

    def ask(self, question: str) -> None:
        """Open a question right below the starters that asked for it."""
        self.question, self.started = question, True
        self.refresh()

    def keep(self) -> None:
        """Let the server hold the job as it is now, once a person has changed something."""
        now = (self.good, tuple(self.kept))
        if self.past and self.held != now:
            memory.keep(*now)
            self.held = now

    def refresh(self) -> None:
        """Let every field start from the draft again."""
        self.generation += 1
        self.pending.clear()
        self.rows.clear()
        self.form = None

    def _take(self, draft: Draft, job: Job | None = None) -> None:
        if _target(draft) != _target(self.draft):
            self.picked = None
        self.draft = draft
        try:
            self.job = job or draft.job()
        except InputError as error:
            self.faults = error.faults
        else:
            self.good, self.faults = draft, ()


def _target(draft: Draft) -> object:
    return draft.site.get("resilience", {}).get("target_hours")


def of_the_command(*, lost: bool = False) -> State:
    """Return a state with the site of the command, else the demo house; InputError if at fault."""
    site = os.environ.get(SITE_VARIABLE) or _FIRST_SITE
    draft = draft_from_files(site, os.environ.get(CATALOG_VARIABLE) or None)
    return State(draft, draft, draft.job(), lost=lost)


def current() -> State:
    """Return this session's state.

    At first that is the job the address carries or names, else the site of the command, else the
    demo house.
    """
    if _KEY not in st.session_state:
        held, lost = memory.found()
        if held is None:
            made = of_the_command(lost=lost)
        else:
            made = State(held.draft, held.draft, held.draft.job(), kept=list(held.kept))
        st.session_state[_KEY] = made
    state: State = st.session_state[_KEY]
    return state
