"""The page: one column, read from the top: the answer, the curve, the questions, the design."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer import KeeplitError
from optimizer.inputs.job_file import save_job
from optimizer.report.words.relaxations import reasons
from optimizer.report.words.writer import Writer
from ui import cached, words
from ui.answers import PARTS, beside, quote, rivals
from ui.answers import curve as curve_part
from ui.failures import report
from ui.look import dress
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
    if state.faults and state.question not in QUESTIONS:
        with sentence:
            _faulty(state)
    answer = None
    if found is not None:
        with curve:  # before the sentence: the curve needs no explanation of its points
            curve_part.draw(state, found, _chosen(state, found), old=old or bool(state.faults))
            st.caption(words.nothing(found.nothing, state.job.site.currency))
            curve_part.controls(state)
            curve_part.as_table(found)
        answer = _answer(state, found) if found.overall.points else None
        with sentence:
            _sentence(state, found, answer)
    _questions(state)
    if found is not None and answer is not None and answer.choice is not None:
        _design(state, found, answer.choice)
    if answer is not None:
        rivals.draw(state, answer)
    beside.draw(state)
    if found is not None and found.overall.points:
        quote.draw(state, found)
    st.caption(words.CAUTION)


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
        wait.progress(done / whole, words.waiting(done, whole))

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


def _sentence(state: State, found: Curves, answer: Answer | None) -> None:
    """Draw the answer in words."""
    site = state.job.site
    if answer is None:
        st.title(words.NO_ANSWER)
    elif answer.choice is None:
        st.title(words.no_design(answer.asked or site.target_hours))
        if answer.refusal is not None:
            why = reasons(Writer(site.currency), answer.refusal)
            st.markdown("\n".join(f"- {safe(reason)}" for reason in why))
    else:
        headline, more = words.answer(answer.choice, answer.asked)
        st.title(headline)
        said = words.short_opinion(cached.opinion(state, answer.choice).verdict)
        st.markdown(f"{more} {said}")
        over = answer.choice.design.upfront_cost - (site.budget or float("inf"))
        if over > 0:
            st.markdown(words.over_budget(over, site.currency))
    longest = cached.longest_within_budget(state)
    if longest is not None and site.budget is not None:
        st.markdown(words.within_budget(longest, site.budget, site.currency))


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
    st.header(words.design_heading(choice.design))
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
