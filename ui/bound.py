"""A widget bound to something of the session: shows what is held, hands over what is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import streamlit as st

if TYPE_CHECKING:
    from collections.abc import Callable


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
    st.session_state[key] = held
    draw(label, key=key, on_change=lambda: take(st.session_state[key]), **settings)


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
