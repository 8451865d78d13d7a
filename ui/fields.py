"""Widgets bound to keys of the site: they show the draft and write to it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

import streamlit as st

from optimizer.inputs.columns import MONEY, Kind, columns_of
from optimizer.inputs.site_keys import SECTIONS
from optimizer.report.words.faults import said
from ui import words
from ui.bound import bound
from ui.language import say, writer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.inputs.columns import Column
    from ui.state import State

_DIGITS: Final = 12
#: Nearest to a limit that is itself excluded, as the screen counts.
_OPEN_END: Final = 0.1
#: Whole numbers of pieces need no unit.
_PIECES: Final = "strings"


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
        return facts_of(self.section, self.key)

    @property
    def scale(self) -> float:
        """What the file's value is multiplied by on screen: shares and rates are in percent."""
        return 100.0 if self.facts.kind in {Kind.SHARE, Kind.RATE} else 1.0

    def unit(self, currency: str) -> str:
        """Return the unit on screen."""
        match self.facts.kind:
            case Kind.SHARE:
                return "%"
            case Kind.RATE:
                return say("% a year")
        return self.facts.unit.replace(MONEY, currency)

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


def facts_of(section: str, key: str) -> Column:
    """Return what is known of a key of the site."""
    return columns_of(SECTIONS[section])[key]


def told(text: str) -> str:
    """Return a fact in the page's language, with a capital letter and a full stop."""
    sentence = said(writer("EUR"), text)
    return f"{sentence[:1].upper()}{sentence[1:].removesuffix('.')}."


def value(state: State, section: str, key: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return what the draft says of a key, or what stands in for it."""
    return state.draft.site.get(section, {}).get(key, facts_of(section, key).default)


def number(
    state: State,
    spec: Number,
    *,
    label: str | None = None,
    help: str | None = None,
    width: int | Literal["stretch"] = "stretch",
) -> None:
    """Draw a number field."""
    facts, (low, high) = spec.facts, spec.range()
    whole = facts.kind is Kind.WHOLE
    kind: Any = int if whole else float
    held = value(state, spec.section, spec.key)
    if held is not None:
        held = round(held * spec.scale, _DIGITS)
        held = held if low is None else max(held, low)
        held = kind(held if high is None else min(held, high))
    unit = spec.unit(value(state, "site", "currency"))
    name = label or words.FIELDS[spec.key]

    def take(typed: float | None) -> None:
        if typed is not None:
            typed = int(typed) if whole else round(typed / spec.scale, _DIGITS)
        state.set_key(spec.section, spec.key, typed)

    bound(
        st.number_input,
        name if unit in {"", _PIECES} else f"{name}, {unit}",
        f"{spec.section}.{spec.key}",
        held,
        take,
        min_value=None if low is None else kind(low),
        max_value=None if high is None else kind(high),
        value=None if spec.optional else "min",
        step=kind(spec.step),
        format="%d" if whole else "%g",
        placeholder=words.NO_LIMIT if spec.optional else None,
        help=help or told(facts.help),
        width=width,
    )


def numbers(state: State, specs: Sequence[Number], columns: int = 3) -> None:
    """Draw number fields in columns, row by row."""
    places = st.columns(columns)
    for place, spec in enumerate(specs):
        with places[place % columns]:
            number(state, spec)


def text(state: State, section: str, key: str) -> None:
    """Draw a field of text."""
    _field(st.text_input, state, section, key, value(state, section, key) or "")


def switch(state: State, section: str, key: str) -> None:
    """Draw a field of yes or no."""
    _field(st.checkbox, state, section, key, bool(value(state, section, key)))


def several(state: State, section: str, key: str, options: list[Any]) -> None:
    """Draw a field that takes several of some options."""
    held = [one for one in value(state, section, key) or () if one in options]
    _field(st.multiselect, state, section, key, held, options=options)


def _field(
    draw: Any,  # noqa: ANN401 - Streamlit's
    state: State,
    section: str,
    key: str,
    held: object,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    bound(
        draw,
        words.FIELDS[key],
        f"{section}.{key}",
        held,
        lambda typed: state.set_key(section, key, None if typed in ([], "") else typed),
        help=told(facts_of(section, key).help),
        **settings,
    )
