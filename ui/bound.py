"""A widget bound to something of the session: shows what is held, hands over what is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.model.phrase import Phrase
from optimizer.report.words.faults import said
from ui import words
from ui.language import writer
from ui.markup import safe

if TYPE_CHECKING:
    from collections.abc import Callable

    from ui.state import Change, State

#: What the page calls the keys and columns of the files.
LABELS: Final = {
    **words.PRICE_COLUMNS,
    **words.COLUMNS,
    **words.FIELDS,
    "target_hours": words.HOW_LONG,
}


def now(key: str) -> Any:  # noqa: ANN401 - as the widget has it
    """Return what stands in a widget, in a callback of its change.

    Reading by key may stop the callback where the next change has already come, and this one
    would be lost; the whole state may be read without that.
    """
    return st.session_state.to_dict().get(key)


def bound(
    draw: Callable[..., Any],
    label: str,
    key: str,
    held: object,
    take: Callable[[Any], object],
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a widget.

    Parameters
    ----------
    draw : callable
        Streamlit's.
    label, key : str
        Of the widget.
    held : object
        What it shows.
    take : callable
        Given what stands in it after each change.
    **settings
        What else the widget takes; ``options`` for one with a choice.
    """
    if key not in st.session_state or st.session_state[key] != held:
        st.session_state[key] = held  # set without need, it would wipe what is just being typed
    draw(label, key=key, on_change=lambda: take(now(key)), **settings)


def entry(
    state: State,
    label: str,
    key: str,
    held: object,
    change: Callable[[Any], Change],
    *,
    wanted: str = "",
    example: str = "",
    draw: Callable[..., Any] = st.text_input,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a field of text; what cannot be taken stays as typed, with what would be right below.

    Parameters
    ----------
    state : State
        The session's.
    label, key : str
        Of the field.
    held : object
        What it shows where nothing waits in it.
    change : callable
        From what was typed to a change of the draft, see `State.offer`.
    wanted, example : str
        What may stand there, in a phrase or in a sentence.
    draw : callable
        Streamlit's.
    **settings
        What else the widget takes.
    """
    waiting = state.pending.get(key)
    with st.container(gap="xsmall", width=settings.pop("width", "stretch")):
        bound(
            draw,
            label,
            key,
            held if waiting is None else waiting.text,
            lambda typed: state.offer(key, typed, change(typed), label),
            **settings,
        )
        wrong(state, key, wanted, example)


def wrong(state: State, key: str, wanted: str = "", example: str = "") -> None:
    """Draw what would be right where something waits in a field, in the page's own labels."""
    waiting = state.pending.get(key)
    if waiting is None:
        return
    write = writer(state.job.site.currency)
    hint = said(write, labelled(waiting.wanted))
    label = LABELS.get(waiting.column, "")
    if label and label not in waiting.what:
        hint, wanted = words.of_field(write, label, hint), ""
    told = " ".join([words.wanted(write, hint, wanted), example]).strip()
    st.markdown(f":small[:red[{safe(told)}]]")


def labelled(text: str | int) -> str | int:
    """Return a phrase whose operands that are keys of files are the page's labels."""
    if isinstance(text, Phrase):
        return Phrase(text.english, **{name: labelled(one) for name, one in text.fields.items()})
    return LABELS.get(text, text) if isinstance(text, str) else text


def choice(
    label: str,
    key: str,
    names: dict[Any, str],
    held: object,
    take: Callable[[Any], object],
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a choice of one among a few, side by side; ``names`` says what each is called."""
    bound(
        st.segmented_control,
        label,
        key,
        held,
        take,
        options=list(names),
        format_func=names.__getitem__,
        required=True,
        **settings,
    )
