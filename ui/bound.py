"""A widget bound to something of the session: shows what is held, hands over what is typed."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer.inputs.cells import CellError
from optimizer.inputs.draft import Draft
from optimizer.model.phrase import Phrase
from optimizer.report.words.faults import said
from ui import words
from ui.look import safe
from ui.state import Put, State

#: What the page calls the keys and columns of the files.
_COLUMNS: Final = words.PRICE_COLUMNS | words.COLUMNS
LABELS: Final = _COLUMNS | words.FIELDS
#: A choice of one among a few, side by side.
side_by_side: Final = partial(st.segmented_control, required=True)


def offering(names: Mapping[Any, str]) -> dict[str, Any]:
    """Return the settings of a widget that offers options, each by what it is called."""
    return {"options": list(names), "format_func": names.__getitem__}


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
    *,
    names: Mapping[Any, str] | None = None,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a widget that shows what is held; ``take`` is given what stands in it when it changes.

    ``names`` are its options, and what each is called.
    """
    if names is not None:
        settings |= offering(names)
    if key not in st.session_state or st.session_state[key] != held:
        st.session_state[key] = held  # set without need, it would wipe what is just being typed
    draw(label, key=key, on_change=lambda: take(now(key)), **settings)


def entry(
    state: State,
    label: str,
    key: str,
    held: object,
    put: Put,
    *,
    wanted: str = "",
    example: str = "",
    required: bool = False,
    source: str = "",
    draw: Callable[..., Any] = st.text_input,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a field of text; what cannot be taken stays as typed, with what would be right below.

    That is what is ``wanted``, in a phrase, or an ``example`` of it, in a sentence. What nobody
    filled tells the ``source`` of what is assumed.
    """

    def put_stripped(draft: Draft, typed: Any) -> Draft:  # noqa: ANN401 - as the widget has it
        typed = typed.strip() if isinstance(typed, str) else typed
        if required and typed in ("", []):
            raise CellError(words.NEEDED)
        return put(draft, typed)

    waiting = state.pending.get(key)
    with st.container(gap="xsmall", width=settings.pop("width", "stretch")):
        bound(
            draw,
            label,
            key,
            held if waiting is None else waiting.text,
            lambda typed: state.offer(key, typed, put_stripped, label),
            **settings,
        )
        wrong(state, key, wanted, example)
        if source:
            st.caption(safe(words.assumed(state.write, said(state.write, source))))


def wrong(state: State, key: str, wanted: str = "", example: str = "") -> None:
    """Draw what would be right where something waits in a field, in the page's own labels."""
    waiting = state.pending.get(key)
    if waiting is None:
        return
    write = state.write
    hint = said(write, labelled(waiting.wanted))
    section, _, key = waiting.column.rpartition(".")
    label = (words.FIELDS if section else _COLUMNS).get(key, "")
    if label and label not in waiting.what:
        hint, wanted = words.of_field(write, label, hint), ""
    told = " ".join([words.wanted(write, hint, wanted), example]).strip()
    st.markdown(f":small[:red[{safe(told)}]]")


def labelled(text: str | int) -> str | int:
    """Return a phrase whose operands that are keys of files are the page's labels."""
    if isinstance(text, Phrase):
        return Phrase(text.english, **{name: labelled(one) for name, one in text.fields.items()})
    return LABELS.get(text, text) if isinstance(text, str) else text
