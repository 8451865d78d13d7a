"""The page: one column, read from the top: the answer, the curve, the questions, the design."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer import KeeplitError
from optimizer.inputs.job_file import save_job
from optimizer.report.words import design as said
from optimizer.report.words import notes, relaxations, simulation
from ui import cached, words
from ui.answers import PARTS, beside, quote, rivals
from ui.answers import curve as curve_part
from ui.failures import report
from ui.language import writer
from ui.look import dress, points, prose
from ui.markup import safe
from ui.questions import QUESTIONS
from ui.state import State, current
from ui.uploads import faults

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from optimizer.model.design import Design
    from ui.answers import Part
    from ui.cached import Answer, Curves


def main() -> None:
    """Draw the page; whatever goes wrong, it stays usable and its log says nothing of the job."""
    st.set_page_config(page_title=words.TITLE, layout="wide", initial_sidebar_state="collapsed")
    dress()
    try:
        _page(current())
    except Exception as error:  # a person must not lose the page to a bug in it
        report(error)
        st.error(words.PAGE_FAILED)


def _page(state: State) -> None:
    with st.container(key="bar"):
        _top(state)
        wait = st.empty()
    sentence, curve = st.container(), st.container(key="curve_place")
    found, old = _curves(state, wait)
    write = writer(state.job.site.currency)
    if state.faults and state.question not in QUESTIONS:
        with sentence:
            _faulty(state)
    answer = None
    if found is not None:
        with curve:  # before the sentence: the curve needs no explanation of its points
            curve_part.draw(state, found, _chosen(state, found), old=old or bool(state.faults))
            st.caption(safe(words.nothing(write, found.nothing)))
            curve_part.controls(state)
            curve_part.as_table(found)
        answer = _answer(state, found) if found.overall.points else None
        with sentence:
            _sentence(state, answer)
    _questions(state)
    if found is not None and answer is not None and answer.choice is not None:
        _design(state, found, answer.choice)
    if answer is not None:
        rivals.draw(state, answer)
    beside.draw(state)
    if found is not None and found.overall.points:
        quote.draw(state, found)
    st.caption(safe(notes.caution(write)))


def _top(state: State) -> None:
    """Draw the line above everything: whose job it is, undo, save."""
    with st.container(key="top", horizontal=True, vertical_alignment="center", wrap=False):
        name = str(state.draft.site.get("site", {}).get("name", ""))
        st.caption(f"{words.TITLE} · {safe(name)}", width="content")
        st.button(words.UNDO, on_click=state.undo, disabled=not state.past, type="tertiary")
        st.download_button(
            words.SAVE,
            lambda: save_job(state.draft, state.kept),
            "job.keeplit.json",
            "application/json",
            on_click="ignore",
            type="tertiary",
        )


def _curves(state: State, wait: st.delta_generator.DeltaGenerator) -> tuple[Curves | None, bool]:
    """Return the curves and whether they are those of an earlier job."""

    def progress(done: int, whole: int) -> None:
        wait.progress(done / whole, words.waiting(writer(state.job.site.currency), done, whole))

    try:
        state.shown = cached.curves(state, progress)
    except KeeplitError as error:
        report(error)
        wait.error(words.CURVE_FAILED)
        return state.shown, True
    wait.empty()
    return state.shown, False


def _chosen(state: State, found: Curves) -> Design | None:
    try:
        return cached.chosen(state, found)
    except KeeplitError as error:
        report(error)
        return None


def _answer(state: State, found: Curves) -> Answer | None:
    try:
        return cached.answer(state, found)
    except KeeplitError as error:
        report(error)
        return None


def _sentence(state: State, answer: Answer | None) -> None:
    """Draw the answer in words."""
    site = state.job.site
    write = writer(site.currency)
    if answer is None:
        st.title(words.NO_ANSWER)
    elif answer.refusal is not None:
        st.title(safe(relaxations.goal(write, answer.refusal.goal)))
        points(relaxations.reasons(write, answer.refusal))
    elif answer.choice is not None:
        design = answer.choice.design
        st.title(safe(said.headline(write, design)))
        longer = answer.asked is not None and answer.asked < design.hours
        told = cached.simulated(state, answer.choice)
        prose(
            said.choice(write, answer.choice),
            words.longer(write, answer.asked or 0, design.hours) if longer else "",
            simulation.verdict(write, told.verdict, site.design_margin),
        )
        if site.budget is not None and design.upfront_cost > site.budget:
            prose(words.over_budget(write, design.upfront_cost - site.budget))
    longest = cached.longest_within_budget(state)
    if longest is not None and site.budget is not None:
        prose(words.within_budget(write, longest, site.budget))


def _questions(state: State) -> None:
    """Draw the questions as one line; the one that is open below it."""
    with st.container(key="questions"):
        st.session_state["question"] = state.question
        st.pills(
            words.QUESTIONS,
            list(QUESTIONS),
            key="question",
            on_change=lambda: _open(state),
        )
        if state.question in QUESTIONS:
            with st.container(key="question_open"):
                if state.faults:
                    _faulty(state)
                QUESTIONS[state.question](state)


def _faulty(state: State) -> None:
    """Draw what is wrong with the last change."""
    st.warning(words.FAULTY)
    faults(state.faults)


def _open(state: State) -> None:
    state.question = st.session_state["question"]
    state.refresh()


def _design(state: State, found: Curves, choice: Choice) -> None:
    """Draw the design shown, part by part."""
    st.header(words.design_heading(writer(choice.job.site.currency), choice.design))
    with st.container(horizontal=True):
        beside.keep_button(state, choice)
        if state.picked is not None:
            st.button(words.TO_TARGET, on_click=_to_target, args=(state,))
    for row in PARTS:
        for column, parts in zip(st.columns(len(row), gap="large"), row, strict=True):
            with column:
                for heading, draw in parts.items():
                    _part(heading, draw, state, found, choice)


def _part(heading: str, draw: Part, state: State, found: Curves, choice: Choice) -> None:
    """Draw a part by itself: one that fails leaves the others."""
    st.subheader(heading)
    try:
        draw(state, found, choice)
    except KeeplitError as error:
        report(error)
        st.error(words.PART_FAILED)


def _to_target(state: State) -> None:
    state.picked = None


if __name__ == "__main__":
    main()
