"""The job in one plain object of the session; widgets show it and write to it, nothing else."""

from __future__ import annotations

import os
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Any, Final, Literal

import streamlit as st

from optimizer import InputError
from optimizer.errors import Fault
from optimizer.inputs import Draft, RawTable, draft_from_files
from optimizer.inputs.demo import site_file
from optimizer.inputs.job_file import Kept
from optimizer.model.job import Job

#: What the page opens with where nobody says otherwise; set by the command that starts it.
SITE_VARIABLE: Final = "KEEPLIT_SITE"
CATALOG_VARIABLE: Final = "KEEPLIT_CATALOG"
_FIRST_SITE: Final = "house"
#: So many changes can be taken back.
_UNDO_DEPTH: Final = 30
_KEY: Final = "job"


@dataclass
class State:
    """One person's job.

    Parameters
    ----------
    draft : Draft
        What the widgets show; may have faults.
    good, job : Draft, Job
        The last draft without faults, and the job it makes: what is answered.
    faults : tuple of Fault
        What is wrong with ``draft``; empty where it is ``good``.
    past : list of (Draft, kept designs)
        What undo goes back to.
    picked : str or None
        The point that was clicked; the target's design where None.
    cost : str
        Which money the curve shows.
    question : str or None
        The question that is open.
    kept : list of Kept
        Designs set aside.
    generation : int
        Part of the keys of widgets that must start afresh when the draft changes under them.
    edited : dict
        By table: the rows its editor started from.
    refused : dict
        By uploader: faults of a file that was not taken.
    remembered : dict
        Answers of each kind by what was asked, see `ui.cached`.
    shown : Curves or None
        The last curves drawn: kept in sight where the next cannot be had.
    """

    draft: Draft
    good: Draft
    job: Job
    faults: tuple[Fault, ...] = ()
    past: list[tuple[Draft, tuple[Kept, ...]]] = field(default_factory=list)
    picked: str | None = None
    cost: Literal["life_cycle_cost", "upfront_cost"] = "life_cycle_cost"
    question: str | None = None
    kept: list[Kept] = field(default_factory=list)
    generation: int = 0
    edited: dict[str, Any] = field(default_factory=dict)
    refused: dict[str, tuple[Fault, ...]] = field(default_factory=dict)
    remembered: dict[str, OrderedDict[str, Any]] = field(default_factory=dict)
    shown: Any = None

    def change(self, draft: Draft) -> None:
        """Take a changed draft; answer it where it is free of faults."""
        if draft == self.draft:
            return
        self.past = [*self.past, (self.draft, tuple(self.kept))][-_UNDO_DEPTH:]
        self._take(draft)

    def undo(self) -> None:
        """Go back by one change."""
        if self.past:
            draft, kept = self.past.pop()
            self.kept = list(kept)
            self._take(draft)
            self.refresh()

    def replace(self, draft: Draft, kept: tuple[Kept, ...] = ()) -> None:
        """Take another job; the one before it can be had back by undo."""
        self.change(draft)
        self.kept = list(kept)
        self.picked = None
        self.refresh()

    def set_key(self, section: str, key: str, value: object) -> None:
        """Change one key of the site; None takes it out."""
        self.change(self.draft.with_site(section, key, value))

    def set_table(self, name: str, table: RawTable) -> None:
        """Change one table."""
        self.change(self.draft.with_table(name, table))

    def refresh(self) -> None:
        """Let the editors start from the draft again."""
        self.generation += 1
        self.edited.clear()

    def _take(self, draft: Draft) -> None:
        self.draft = draft
        try:
            self.job = draft.job()
        except InputError as error:
            self.faults = error.faults
        else:
            self.good, self.faults = draft, ()


def current() -> State:
    """Return this session's state; the demo house, or the site of the command, at first."""
    if _KEY not in st.session_state:
        site = os.environ.get(SITE_VARIABLE) or _FIRST_SITE
        draft = draft_from_files(site_file(site), os.environ.get(CATALOG_VARIABLE) or None)
        st.session_state[_KEY] = State(draft, draft, draft.job())
    state: State = st.session_state[_KEY]
    return state
