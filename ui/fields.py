"""Widgets bound to keys of the site: they show the draft and write to it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

import streamlit as st

from optimizer.inputs.columns import MONEY, Kind, columns_of
from optimizer.inputs.site_keys import SECTIONS
from ui import words

if TYPE_CHECKING:
    from optimizer.inputs.columns import Column
    from ui.state import State

_DIGITS: Final = 12
#: Nearest to a limit that is itself excluded, as the screen counts.
_OPEN_END: Final = 0.1


@dataclass(frozen=True, slots=True)
class Number:
    """A number of the site: its place, and the step of its buttons as the screen counts.

    An ``optional`` field may be blank. All else stands with the key.
    """

    section: str
    key: str
    step: float = 1.0
    optional: bool = False

    @property
    def facts(self) -> Column:
        """What is known of the key."""
        return columns_of(SECTIONS[self.section])[self.key]

    @property
    def scale(self) -> float:
        """What the file's value is multiplied by on screen: shares and rates are in percent."""
        return 100.0 if self.facts.kind in {Kind.SHARE, Kind.RATE} else 1.0

    def range(self) -> tuple[float | None, float | None]:
        """Return the lowest and the highest number that may be typed."""
        limits, scale = self.facts.limits, self.scale
        low, high = limits.get("ge"), limits.get("le")
        if "gt" in limits:
            low = (limits["gt"] * scale + _OPEN_END) / scale
        if "lt" in limits:
            high = (limits["lt"] * scale - _OPEN_END) / scale
        return (
            None if low is None else round(low * scale, _DIGITS),
            None if high is None else round(high * scale, _DIGITS),
        )


def sentence(text: str) -> str:
    """Return a text with a capital letter and a full stop."""
    return f"{text[:1].upper()}{text[1:].removesuffix('.')}."


def number(
    state: State,
    spec: Number,
    *,
    label: str | None = None,
    help: str | None = None,
    width: int | Literal["stretch"] = "stretch",
) -> None:
    """Draw a number field."""
    facts = spec.facts
    label = label or words.FIELDS[spec.key]
    if facts.unit.startswith(MONEY):
        label = f"{label}, {value(state, 'site', 'currency')}"
    widget = f"{spec.section}.{spec.key}"
    held = value(state, spec.section, spec.key)
    low, high = spec.range()
    shown = None
    if held is not None:
        shown = round(held * spec.scale, _DIGITS)
        shown = shown if low is None else max(shown, low)
        shown = shown if high is None else min(shown, high)
    whole = facts.kind is Kind.WHOLE
    kind: Any = int if whole else float
    st.session_state[widget] = None if shown is None else kind(shown)
    settings: dict[str, Any] = {
        "min_value": None if low is None else kind(low),
        "max_value": None if high is None else kind(high),
        "value": None if spec.optional else "min",
        "step": kind(spec.step),
        "format": "%d" if whole else "%g",
    }
    st.number_input(
        label,
        placeholder=words.NO_LIMIT if spec.optional else None,
        key=widget,
        help=help or sentence(facts.help),
        width=width,
        on_change=_take_number,
        args=(state, spec, widget),
        **settings,
    )


def _take_number(state: State, spec: Number, widget: str) -> None:
    typed = st.session_state.get(widget)
    if typed is None:
        state.set_key(spec.section, spec.key, None)
    elif spec.facts.kind is Kind.WHOLE:
        state.set_key(spec.section, spec.key, int(typed))
    else:
        state.set_key(spec.section, spec.key, round(typed / spec.scale, _DIGITS))


def value(state: State, section: str, key: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return what the draft says of a key, or what stands in for it."""
    return state.draft.site.get(section, {}).get(key, columns_of(SECTIONS[section])[key].default)


def _help(section: str, key: str) -> str:
    return sentence(columns_of(SECTIONS[section])[key].help)


def text(state: State, section: str, key: str) -> None:
    """Draw a field of text."""
    widget = f"{section}.{key}"
    st.session_state[widget] = value(state, section, key) or ""
    st.text_input(
        words.FIELDS[key],
        key=widget,
        help=_help(section, key),
        on_change=_take,
        args=(state, section, key, widget),
    )


def switch(state: State, section: str, key: str) -> None:
    """Draw a field of yes or no."""
    widget = f"{section}.{key}"
    st.session_state[widget] = bool(value(state, section, key))
    st.checkbox(
        words.FIELDS[key],
        key=widget,
        help=_help(section, key),
        on_change=_take,
        args=(state, section, key, widget),
    )


def several(state: State, section: str, key: str, options: list[Any], label: str = "") -> None:
    """Draw a field that takes several of some options."""
    widget = f"{section}.{key}"
    st.session_state[widget] = [one for one in value(state, section, key) or () if one in options]
    st.multiselect(
        label or words.FIELDS[key],
        options,
        key=widget,
        help=_help(section, key),
        on_change=_take,
        args=(state, section, key, widget),
    )


def _take(state: State, section: str, key: str, widget: str) -> None:
    typed = st.session_state.get(widget)
    state.set_key(section, key, None if typed == [] else typed)
