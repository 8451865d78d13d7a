"""The page: one column, read from the top: the answer, the curve, the questions, the design."""

from functools import partial

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from optimizer import NoDesignError
from optimizer.inputs.job_file import save_job
from optimizer.report.grids.glossary import glossary
from optimizer.report.words import design as said
from optimizer.report.words import notes
from optimizer.report.words.glossary import Term
from ui import cached, words
from ui.answers import beside, first, parts_of, quote, rivals, standing
from ui.answers import curve as curve_part
from ui.bound import bound
from ui.cached import Answer, Curves
from ui.failures import failing
from ui.look import page, part, safe, tables
from ui.questions import QUESTIONS, files
from ui.state import State, current
from ui.transfer import download, faults
from ui.words import standing as standing_words


def draw() -> None:
    """Draw the page, and hold its job."""
    state = current()
    if state.lost and not state.past:
        _lost(state)
    else:
        _page(state)
    state.keep()


def _page(state: State) -> None:
    with st.container(key="bar"):
        told = _top(state)
        wait = st.empty()
    sentence, starters = st.container(key="said"), st.container()
    asked = st.container()  # above the rivals where a starter opened the question
    rivals, curve = st.container(key="rivals"), st.container(key="curve_place")
    questions = asked if state.started else st.container()
    if state.faults and state.question not in QUESTIONS:
        with sentence:
            _faulty(state)
    with starters:
        first.starters(state)
    # a change is seen in the curve first, unless its curves keep the answer in words waiting
    before: Curves | None = state.shown
    quick = before is not None and before.seconds < cached.SOON_S
    found, old = _curves(state, wait) if quick else (None, True)
    answer: Answer | NoDesignError | None = None
    with failing(sentence.title, words.NO_ANSWER):
        answer = cached.answer(state)
    if not quick:
        _drawn(state, answer, told, sentence, rivals)
        found, old = _curves(state, wait)
    design = answer if isinstance(answer, Answer) else None
    if found is not None:
        with curve:
            shown = None if design is None else design.design
            curve_part.draw(state, found, shown, old=old or bool(state.faults))
            curve_part.controls(state)
            curve_part.as_table(found)
    if quick:
        _drawn(state, answer, told, sentence, rivals)
    with questions:
        _questions(state)
    if design is not None:
        _design(state, design)
    beside.draw(state)
    if found is not None and answer is not None:
        _closer(state, found, design)
    if found is not None and found.overall.points:
        quote.draw(state, found)
    st.page_link("pages/sites.py", label=words.MANY_SITES)
    st.caption(safe(notes.caution(state.write)))
    if found is not None:
        with failing(wait.error, words.CURVE_FAILED):  # nothing drawn waits for it
            cached.confirm(found)


def _top(state: State) -> DeltaGenerator:
    """Draw the line above everything and return its place for the answer in short."""
    with st.container(key="top", horizontal=True, vertical_alignment="center", wrap=False):
        told = st.container(key="told")
        write, file = state.write, words.file_name(state.job.site.name)
        back = state.past[-1].what if state.past and not state.pending else ""
        st.button(
            safe(words.undo(write, back)),
            key="undo",
            on_click=state.undo,
            disabled=not (state.past or state.pending),
            type="tertiary",
        )
        if state.future:
            forward = words.redo(write, state.future[-1].what)
            st.button(safe(forward), key="redo", on_click=state.redo, type="tertiary")
        download(
            words.SAVE,
            lambda: save_job(state.draft, state.kept),
            file,
            on_click=st.toast,
            args=(safe(words.saved(write, file)),),
            type="tertiary",
        )
    return told


def _drawn(
    state: State,
    answer: Answer | NoDesignError | None,
    told: DeltaGenerator,
    sentence: DeltaGenerator,
    rivals: DeltaGenerator,
) -> None:
    """Draw the answer in short, in words and beside its rivals."""
    text = name = state.job.site.name
    if isinstance(answer, Answer):
        text = said.in_short(state.write, name, answer.design)
    told.markdown(safe(text))
    if answer is None:
        return
    with failing(sentence.title, words.NO_ANSWER):
        with sentence:
            first.sentence(state, answer)
        if isinstance(answer, Answer):
            with rivals:
                first.rivals(state, answer)


def _curves(state: State, wait: DeltaGenerator) -> tuple[Curves | None, bool]:
    """Return the curves and whether they are those of an earlier job."""

    def progress(done: int, whole: int) -> None:
        wait.progress(done / whole, words.waiting(state.write, done, whole))

    with failing(wait.error, words.CURVE_FAILED):
        state.shown = cached.curves(state, progress)
        wait.empty()
        return state.shown, False
    return state.shown, True


def _questions(state: State) -> None:
    """Draw the questions as one line; the one that is open below it."""
    with st.container(key="questions"):
        bound(
            st.pills,
            words.QUESTIONS,
            "question",
            state.question,
            partial(_open, state),
            options=list(QUESTIONS),
        )
        if state.question in QUESTIONS:
            with st.container(key="question_open"):
                if state.faults:
                    _faulty(state)
                QUESTIONS[state.question](state)


def _lost(state: State) -> None:
    """Say that the job of the address is gone; show no other in its place, but how to go on."""
    st.title(words.LOST_TITLE)
    st.warning(words.LOST)
    first.own(state)
    files.opening(state)


def _faulty(state: State) -> None:
    """Draw what is wrong with the last change."""
    st.warning(words.FAULTY)
    faults(state.faults)


def _open(state: State, question: str | None) -> None:
    state.question = question
    state.refresh()


def _design(state: State, answer: Answer) -> None:
    """Draw the heading of the design shown and what is done with it."""
    st.header(words.design_heading(state.write, answer.design))
    with st.container(horizontal=True):
        beside.keep_button(state, answer)
        if state.picked is not None:
            st.button(words.TO_TARGET, on_click=setattr, args=(state, "picked", None))


@st.fragment
def _closer(state: State, found: Curves, answer: Answer | None) -> None:
    """Draw what may be looked at more closely; a part that is folded is not worked out.

    It is drawn by itself: a part opened here leaves the rest of the page alone.
    """
    write = state.write
    if answer is not None:
        for one in parts_of(answer, found):
            part(one.heading, partial(one.draw, answer), one.terms)
    part(rivals.heading(state), partial(rivals.draw, state, answer))
    used = Term.RATED_CAPACITY, Term.STATE_OF_HEALTH, Term.DEPTH_OF_DISCHARGE, Term.SERVICE_LIFE
    part(standing_words.HEADING, partial(standing.draw, state), used)
    part(words.GLOSSARY, lambda: tables(write, glossary(write)))


if __name__ == "__main__":
    page(words.TITLE, draw)
