"""Widgets bound to keys of the site: they show the draft and write to it."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any, Final, Literal

import streamlit as st

from optimizer.model.job import Site
from ui import words

if TYPE_CHECKING:
    from ui.state import State

#: What stands in for keys that the site leaves out.
_DEFAULTS: Final = {field.name: field.default for field in fields(Site)}
_DIGITS: Final = 12


@dataclass(frozen=True, slots=True)
class Number:
    """A number of the site: its place and its range, as the screen shows it.

    ``scale`` is what the file's value is multiplied by on screen: 100 for percent. An
    ``optional`` field may be blank. The currency is put behind the label where ``money``.
    """

    section: str
    key: str
    low: float
    high: float
    step: float = 1.0
    scale: float = 1.0
    whole: bool = False
    optional: bool = False
    money: bool = False


def number(
    state: State,
    spec: Number,
    *,
    label: str | None = None,
    help: str | None = None,
    width: int | Literal["stretch"] = "stretch",
) -> None:
    """Draw a number field."""
    usual_label, usual_help = words.FIELDS.get(spec.key, ("", ""))
    label = label or usual_label
    if spec.money:
        label = f"{label}, {value(state, 'site', 'currency')}"
    widget = f"{spec.section}.{spec.key}"
    held = value(state, spec.section, spec.key)
    shown = None
    if held is not None:
        shown = min(max(round(held * spec.scale, _DIGITS), spec.low), spec.high)
    kind: Any = int if spec.whole else float
    st.session_state[widget] = None if shown is None else kind(shown)
    settings: dict[str, Any] = {
        "min_value": kind(spec.low),
        "max_value": kind(spec.high),
        "value": None if spec.optional else "min",
        "step": kind(spec.step),
        "format": "%d" if spec.whole else "%g",
    }
    st.number_input(
        label,
        placeholder=words.NO_LIMIT if spec.optional else None,
        key=widget,
        help=help or usual_help,
        width=width,
        on_change=_take_number,
        args=(state, spec, widget),
        **settings,
    )


def _take_number(state: State, spec: Number, widget: str) -> None:
    typed = st.session_state.get(widget)
    if typed is None:
        state.set_key(spec.section, spec.key, None)
    elif spec.whole:
        state.set_key(spec.section, spec.key, int(typed))
    else:
        state.set_key(spec.section, spec.key, round(typed / spec.scale, _DIGITS))


def value(state: State, section: str, key: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return what the draft says of a key, or what stands in for it."""
    return state.draft.site.get(section, {}).get(key, _DEFAULTS.get(key))


def text(state: State, section: str, key: str) -> None:
    """Draw a field of text."""
    label, help_text = words.FIELDS[key]
    widget = f"{section}.{key}"
    st.session_state[widget] = value(state, section, key) or ""
    st.text_input(
        label, key=widget, help=help_text, on_change=_take, args=(state, section, key, widget)
    )


def switch(state: State, section: str, key: str) -> None:
    """Draw a field of yes or no."""
    label, help_text = words.FIELDS[key]
    widget = f"{section}.{key}"
    st.session_state[widget] = bool(value(state, section, key))
    st.checkbox(
        label, key=widget, help=help_text, on_change=_take, args=(state, section, key, widget)
    )


def several(state: State, section: str, key: str, options: list[Any], label: str = "") -> None:
    """Draw a field that takes several of some options."""
    usual, help_text = words.FIELDS.get(key, (words.TIERS, words.TIERS_HELP))
    widget = f"{section}.{key}"
    st.session_state[widget] = [one for one in value(state, section, key) or () if one in options]
    st.multiselect(
        label or usual,
        options,
        key=widget,
        help=help_text,
        on_change=_take,
        args=(state, section, key, widget),
    )


def _take(state: State, section: str, key: str, widget: str) -> None:
    typed = st.session_state.get(widget)
    state.set_key(section, key, None if typed == [] else typed)
