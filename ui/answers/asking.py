"""Answers that take a while: worked out when asked for, shown as long as the job stays the same."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final, Literal, TypeVar

import streamlit as st

from optimizer.model.progress import Progress
from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.files import chart_file
from optimizer.report.words.writer import Writer
from ui import cached
from ui.look import canvas, chart
from ui.state import State
from ui.transfer import download
from ui.words import rivals as said

T = TypeVar("T")
Form = Literal["png", "svg"]

_HEIGHT_PX: Final = 380
_ASKED: Final = "rivals asked"
_FORMS: Final[dict[Form, str]] = {"png": said.PICTURE_PNG, "svg": said.PICTURE_SVG}


def ask(what: str) -> None:
    """Note that an answer is asked for: the next drawing works it out."""
    st.session_state[_ASKED] = what


def asked(
    state: State,
    what: str,
    make: Callable[[Progress], T],
    *details: object,
    label: str = said.AGAIN,
    hint: str | None = None,
) -> T | None:
    """Return an answer: the one kept, or worked out now where it was just asked for.

    Draws a button that asks for it otherwise, and how far the work is while it lasts. ``make`` is
    given what to call with steps done and all steps; other ``details``, another answer.
    """
    key = (what, *details, cached.fingerprint(state.good))
    is_kept, wanted = key in cached.kept(state), st.session_state.get(_ASKED) == what
    if not is_kept and not wanted:
        st.button(label, key=f"ask {what}", on_click=ask, args=(what,), help=hint)
        return None
    if wanted:
        st.session_state[_ASKED] = None
    place = st.empty()

    def step(done: int, whole: int) -> None:
        place.progress(min(1.0, done / max(1, whole)), said.WORKING)

    if not is_kept:
        place.progress(0.0, said.WORKING)
    found = cached.remembered(state, lambda: make(step), *key)
    place.empty()
    return found


def picture(
    write: Writer,
    name: str,
    drawn: Callable[[Canvas], Any],
    alt_text: str,
    *,
    height: int | None = _HEIGHT_PX,
    is_wide: bool = False,
) -> None:
    """Draw a chart with its downloads; ``name`` is its files', ``height`` its plot's [px].

    A wide one is moved sideways on a phone, instead of pressed together.
    """
    with st.container(key=f"{'wide' if is_wide else 'plain'} {name}"):
        chart(drawn(canvas(write, height=height)), alt_text)
    with st.container(key=f"files {name}", horizontal=True):
        picture_files(name, partial(drawn, canvas(write, alone=True)), type="tertiary")


def picture_files(name: str, drawn: Callable[[], Any], **settings: str) -> None:
    """Draw the downloads of a chart, which is drawn when it is asked for."""
    for form, label in _FORMS.items():
        made, key = partial(_file, drawn, form), f"{name} {form}"
        download(label, made, f"{name}.{form}", key=key, **settings)


def _file(drawn: Callable[[], Any], form: Form) -> bytes:
    return chart_file(drawn(), form)
