"""Fields bound to keys of the site: they show the draft and write to it.

A number is typed as a person writes it. What cannot be taken stays in its field as typed, with
what would be right below; the job is as it was.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, Final, Literal

import streamlit as st

from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import MONEY, Column, Kind, between, columns_of
from optimizer.inputs.draft import Draft
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.typed import PLAIN_NUMBER, in_percent, typed_number
from optimizer.model.phrase import Phrase, chain
from optimizer.report.words.faults import said
from ui import words
from ui.bound import bound, entry, labelled, wrong
from ui.language import PLAIN, say
from ui.state import Put, State

#: Three fields of a row beside one another fit a phone.
_ROW_PX: Final = 115
#: Section of each key of the site; no two sections share one.
_SECTION_OF: Final = {key: name for name, one in SECTIONS.items() for key in columns_of(one)}
#: Whole numbers of pieces need no unit.
_PIECES = frozenset({"", "strings", "pieces", "units", "phases"})


def facts_of(key: str) -> Column:
    """Return what is known of a key of the site."""
    return columns_of(SECTIONS[_SECTION_OF[key]])[key]


def told(text: str) -> str:
    """Return a fact in the page's language, with a capital letter and a full stop."""
    sentence = said(PLAIN, text)
    return f"{sentence[:1].upper()}{sentence[1:].removesuffix('.')}."


def value(state: State, key: str) -> Any:  # noqa: ANN401 - whatever the file holds
    """Return what the draft says of a key, or what stands in for it."""
    return state.draft.site.get(_SECTION_OF[key], {}).get(key, facts_of(key).default)


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
    return words.typed(PLAIN, held * 100 if in_percent(facts) else held)


def range_of(facts: Column) -> str:
    """Return what may stand in a field."""
    if in_percent(facts):
        percent = between(**{name: limit * 100 for name, limit in facts.limits.items()})
        return said(PLAIN, chain(Phrase("a number"), percent, Phrase("%")))
    return said(PLAIN, labelled(facts.wanted))


def cell(
    state: State,
    facts: Column,
    label: str,
    key: str,
    *,
    held: Any,  # noqa: ANN401 - a number or what the widget holds
    put: Put,
    row: Callable[[Draft], Mapping[str, Any]] | None = None,
    may_be_blank: bool | None = None,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a field for what a column holds; a number's unit is added to the label.

    ``put`` returns the draft with what was typed, None for a number that ``may_be_blank``: if
    nothing is said, one that is not required. ``row`` returns the rest of its row in a draft, for
    units that lean on it.
    """
    settings["required"] = facts.required if may_be_blank is None else not may_be_blank
    settings["wanted"] = range_of(facts)
    if not facts.kind.is_numeric:
        entry(state, label, key, "" if held is None else held, put, **settings)
        return
    currency = str(value(state, "currency"))

    def put_typed(draft: Draft, typed: str) -> Draft:
        if not typed:
            return put(draft, None)
        number = typed_number(typed, facts, row and row(draft), currency)
        return put(draft, int(number) if facts.kind is Kind.WHOLE else number)

    unit = unit_of(facts, currency)
    label = f"{label}, {unit}" if unit else label
    entry(state, label, key, on_screen(facts, held), put_typed, **settings)


def aside(take: Callable[[Any], object]) -> Put:
    """Return how what is no part of the job is put: ``take`` is given it."""

    def put(draft: Draft, typed: Any) -> Draft:  # noqa: ANN401 - a number or a text
        take(typed)
        return draft

    return put


def number_aside(
    state: State,
    facts: Column,
    label: str,
    key: str,
    *,
    first: float | None = None,
    then: Callable[[], object] | None = None,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> Any:  # noqa: ANN401 - a number, None where it is blank
    """Draw a number beside the job and return it.

    ``first`` stands there at first; ``then`` is called when another is typed.
    """

    def take(typed: float | None) -> None:
        state.aside[key] = typed
        if then is not None:
            then()

    held = state.aside.setdefault(key, first)
    cell(state, facts, label, key, held=held, put=aside(take), **settings)
    return state.aside[key]


def fields(state: State, *keys: str, columns: int = 3) -> None:
    """Draw keys of the site in columns, row by row."""
    for first in range(0, len(keys), columns):
        for column, key in zip(st.columns(columns), keys[first:], strict=False):
            with column:
                field(state, key)


def field(
    state: State,
    key: str,
    options: Sequence[Any] | None = None,
    *,
    width: int | Literal["stretch"] = "stretch",
) -> None:
    """Draw a key of the site: a number, a text, yes or no, or several of some options."""
    section, facts, held = _SECTION_OF[key], facts_of(key), value(state, key)
    settings: dict[str, Any] = {"help": told(facts.help), "width": width}
    if key not in state.draft.site.get(section, {}):
        settings["source"] = facts.source
    if options is not None:
        settings["draw"] = partial(st.multiselect, options=options)
        held = [one for one in held or () if one in options]
    elif facts.kind is Kind.FLAG:
        settings["draw"], held = st.checkbox, bool(held)
    elif facts.kind.is_numeric and not facts.required and facts.default is None:
        settings["placeholder"] = words.NO_LIMIT if section == "limits" else words.NOT_STATED

    def put(draft: Draft, typed: object) -> Draft:
        return draft.with_site(section, key, None if typed in ([], "") else typed)

    cell(state, facts, words.FIELDS[key], f"{section}.{key}", held=held, put=put, **settings)


def number_rows(
    state: State,
    key: str,
    headings: Sequence[str],
    held: Sequence[Sequence[float]],
    put: Callable[[Draft, list[list[float]]], Draft],
) -> None:
    """Draw a list of rows of numbers; the last row adds one, an emptied row goes.

    A row that is not whole yet waits as typed.
    """
    write = state.write
    texts = state.rows.setdefault(key, [[words.typed(write, one) for one in row] for row in held])
    if not texts or any(texts[-1]):
        texts.append([""] * len(headings))

    def put_read(draft: Draft, whole: list[list[str]]) -> Draft:
        return put(draft, _read(whole, headings))

    def take(row: int, column: int, typed: str) -> None:
        texts[row][column] = typed.strip()
        state.offer(key, [list(one) for one in texts], put_read, headings[column])

    st.caption(words.ROW_EMPTY)
    for row, cells in enumerate(texts):
        with st.container(horizontal=True):  # one line on a phone too
            for column, text in enumerate(cells):
                bound(
                    st.text_input,
                    headings[column],
                    f"{key} {state.generation} {row} {column}",
                    text,
                    partial(take, row, column),
                    label_visibility="visible" if row == 0 else "collapsed",
                    width=_ROW_PX,
                )
    wrong(state, key, said(write, PLAIN_NUMBER.wanted))


def _read(texts: list[list[str]], headings: Sequence[str]) -> list[list[float]]:
    """Return rows of numbers; CellError where one lacks a number, or holds something else."""
    found = []
    for number, row in enumerate(texts, start=1):
        if any(row):
            lacking = next((head for head, one in zip(headings, row, strict=True) if not one), None)
            if lacking is not None:
                raise CellError(words.row_lacks(PLAIN, lacking, number))
            found.append([typed_number(one, PLAIN_NUMBER) for one in row])
    return found
