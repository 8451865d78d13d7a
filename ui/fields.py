"""Fields bound to keys of the site: they show the draft and write to it.

A number is typed as a person writes it. What cannot be taken stays in its field as typed, with
what would be right below; the job is as it was.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import streamlit as st

from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import MONEY, Kind, between, columns_of
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.typed import in_percent, typed_number
from optimizer.model.phrase import Phrase, chain
from optimizer.report.words.faults import said
from ui import words
from ui.bound import entry, labelled
from ui.language import say, writer
from ui.markup import safe

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from optimizer.inputs import Draft
    from optimizer.inputs.columns import Column
    from ui.state import Change, State

#: Whole numbers of pieces need no unit.
_PIECES = frozenset({"", "strings", "pieces"})


@dataclass(frozen=True, slots=True)
class Number:
    """A number of the site: its place; an ``optional`` one may be blank. All else is its key's."""

    section: str
    key: str
    optional: bool = False

    @property
    def facts(self) -> Column:
        """What is known of the key."""
        return facts_of(self.section, self.key)


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


def unit_of(facts: Column, currency: str) -> str:
    """Return the unit of a column on screen, "" where it goes without saying."""
    if in_percent(facts):
        return say("% a year") if facts.kind is Kind.RATE else "%"
    unit = facts.unit.replace(MONEY, currency)
    return "" if unit in _PIECES else unit


def on_screen(facts: Column, held: float | None) -> str:
    """Return a number of a column as it stands in its field."""
    if held is None:
        return ""
    return words.typed(writer("EUR"), held * 100 if in_percent(facts) else held)


def range_of(facts: Column) -> str:
    """Return what may stand in a field."""
    write = writer("EUR")
    if in_percent(facts):
        percent = between(**{name: limit * 100 for name, limit in facts.limits.items()})
        return said(write, chain(Phrase("a number"), percent, Phrase("%")))
    return said(write, labelled(facts.wanted))


def cell(
    state: State,
    facts: Column,
    label: str,
    key: str,
    *,
    held: float | None,
    put: Callable[[Draft, float | None], Draft],
    row: Callable[[Draft], Mapping[str, Any]] | None = None,
    may_be_blank: bool = False,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a field for one number.

    Parameters
    ----------
    state : State
        The session's.
    facts : Column
        What is known of it.
    label, key : str
        Of the widget; the unit is added to the label.
    held : float or None
        What the draft holds.
    put : callable
        The draft with another number, or with none.
    row : callable, optional
        The rest of its row in a draft, for units that lean on it.
    may_be_blank : bool
        Whether it may be left empty.
    **settings
        What else the widget takes.
    """
    currency = str(value(state, "site", "currency"))

    def change(typed: str) -> Change:
        def changed(draft: Draft) -> Draft:
            if not typed.strip():
                if may_be_blank:
                    return put(draft, None)
                raise CellError(words.NEEDED)
            number = typed_number(typed, facts, row and row(draft), currency)
            return put(draft, int(number) if facts.kind is Kind.WHOLE else number)

        return changed

    unit = unit_of(facts, currency)
    entry(
        state,
        f"{label}, {unit}" if unit else label,
        key,
        on_screen(facts, held),
        change,
        wanted=range_of(facts),
        **settings,
    )


def aside(
    state: State,
    facts: Column,
    label: str,
    key: str,
    *,
    held: float | None,
    take: Callable[[Any], object],
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a field for a number that is no part of the job; ``take`` is given each that is read."""

    def put(draft: Draft, typed: float | None) -> Draft:
        take(typed)
        return draft

    cell(state, facts, label, key, held=held, put=put, **settings)


def number(
    state: State,
    spec: Number,
    *,
    label: str | None = None,
    help: str | None = None,
    width: int | Literal["stretch"] = "stretch",
) -> None:
    """Draw a number of the site."""
    facts = spec.facts
    with st.container(gap="xsmall", width=width):
        cell(
            state,
            facts,
            label or words.FIELDS[spec.key],
            f"{spec.section}.{spec.key}",
            held=value(state, spec.section, spec.key),
            put=lambda draft, typed: draft.with_site(spec.section, spec.key, typed),
            may_be_blank=spec.optional or facts.default is not None,
            placeholder=_left_blank(spec) if spec.optional else None,
            help=help or told(facts.help),
        )
        _assumed(state, spec.section, facts)


def _assumed(state: State, section: str, facts: Column) -> None:
    """Mark what nobody filled, with the source of what holds instead."""
    if facts.source and facts.name not in state.draft.site.get(section, {}):
        st.caption(assumed(facts.source))


def assumed(source: str) -> str:
    """Return the mark of what is assumed."""
    write = writer("EUR")
    return safe(words.assumed(write, said(write, source)))


def _left_blank(spec: Number) -> str:
    return words.NO_LIMIT if spec.section == "limits" else words.NOT_STATED


def numbers(state: State, specs: Sequence[Number], columns: int = 3) -> None:
    """Draw number fields in columns, row by row."""
    for first in range(0, len(specs), columns):
        for place, spec in zip(st.columns(columns), specs[first:], strict=False):
            with place:
                number(state, spec)


def text(state: State, section: str, key: str) -> None:
    """Draw a field of text."""
    _field(st.text_input, state, section, key, value(state, section, key) or "")


def switch(state: State, section: str, key: str) -> None:
    """Draw a field of yes or no."""
    _field(st.checkbox, state, section, key, bool(value(state, section, key)))
    _assumed(state, section, facts_of(section, key))


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
    facts = facts_of(section, key)

    def change(typed: object) -> Change:
        def changed(draft: Draft) -> Draft:
            if typed in ([], "") and facts.required:
                raise CellError(words.NEEDED)
            return draft.with_site(section, key, None if typed in ([], "") else typed)

        return changed

    entry(
        state,
        words.FIELDS[key],
        f"{section}.{key}",
        held,
        change,
        wanted=range_of(facts),
        draw=draw,
        help=told(facts.help),
        **settings,
    )
