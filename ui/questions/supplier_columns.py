"""The choices that read a supplier's list: which column is which, in what unit, which rows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer.inputs import load_chemistries
from optimizer.suppliers.first_guess import (
    DATE_FORMS,
    NUMERIC,
    PIECES,
    cells_under,
    columns_in,
    details,
    several_numbers,
    words_of,
)
from optimizer.suppliers.mapping import units_for
from ui.fields import sentence
from ui.words import supplier as said

if TYPE_CHECKING:
    from optimizer.inputs.supplier_list import SupplierList
    from ui.questions.list_draft import ListDraft
    from ui.state import State

#: Stands for "the same in every row" among the columns of theirs; no heading is a single space.
_VALUE: Final = " "
_MOST_WORDS: Final = 24
#: A pattern of the user's own, or of a mapping file.
_OWN: Final = "pattern"


def column_choice(state: State, draft: ListDraft, supplier: SupplierList, ours: str) -> None:
    """Draw where one of our columns comes from."""
    one, known = draft.columns[ours], columns_in(draft.head["table"])[ours]
    headings = [name for name in supplier.headings(draft.heading_row) if name]
    if one.get("column") and one["column"] not in headings:
        headings.append(one["column"])  # of a mapping for another list: named, then at fault
    widget = f"supplier column {ours}"
    st.session_state[widget] = _VALUE if "value" in one else one.get("column")
    with st.container(
        key=f"supplier_row_{ours}", horizontal=True, vertical_alignment="bottom", gap="small"
    ):
        st.selectbox(
            said.label(ours),
            [*dict.fromkeys(headings), _VALUE],
            index=None,
            format_func=lambda name: said.ONE_VALUE if name == _VALUE else name,
            key=widget,
            placeholder=said.NOT_CHOSEN if known.required else said.NOT_THERE,
            help=sentence(known.told),
            width=215,
            on_change=_set_column,
            args=(draft, supplier, ours, widget),
        )
        if "value" in one:
            _value(state, draft, ours)
        elif one.get("column"):
            _details(draft, supplier, ours)
    theirs = one.get("column")
    if theirs and not one.get("pattern"):
        cells = cells_under(supplier, draft.heading_row, theirs, draft.filter)
        _words(state, draft, ours, cells)


def _set_column(draft: ListDraft, supplier: SupplierList, ours: str, widget: str) -> None:
    picked = st.session_state[widget]
    if picked is None:
        draft.columns[ours] = {}
    elif picked == _VALUE:
        draft.columns[ours] = {"value": ""}
    else:
        draft.columns[ours] = details(
            supplier, draft.heading_row, draft.head["table"], ours, picked
        )


def _known(state: State, draft: ListDraft, ours: str) -> tuple[str, ...]:
    """Return the words that a column of ours takes, the job's chemistries among them."""
    if ours != "chemistry":
        return words_of(draft.head["table"], ours)
    held = [battery.chemistry for battery in state.job.catalog.batteries]
    return tuple(dict.fromkeys([*load_chemistries(), *held]))


def _value(state: State, draft: ListDraft, ours: str) -> None:
    """Draw the one value of every row."""
    widget, held = f"supplier value {ours}", str(draft.columns[ours]["value"])
    known = _known(state, draft, ours)
    if known:
        st.session_state[widget] = held if held in known else None
        st.selectbox(
            said.VALUE,
            known,
            index=None,
            key=widget,
            width=220,
            on_change=_set,
            args=(draft, ours, "value", widget),
        )
        return
    st.session_state[widget] = held
    st.text_input(
        said.VALUE,
        key=widget,
        width=220,
        on_change=_set,
        args=(draft, ours, "value", widget),
    )


def _details(draft: ListDraft, supplier: SupplierList, ours: str) -> None:
    """Draw what there is to say of a column of theirs: unit, piece of the cell, form of dates."""
    one, kind = draft.columns[ours], columns_in(draft.head["table"])[ours].kind
    units = list(units_for(ours))
    if len(units) > 1:
        _pick(draft, ours, "unit", said.UNIT, {unit: unit for unit in units}, width=95)
    pattern = one.get("pattern")
    if kind in NUMERIC and (
        pattern is not None or several_numbers(supplier, draft.heading_row, one["column"])
    ):
        _piece(draft, ours, pattern)
    if kind == "day":
        forms = dict.fromkeys(["", *DATE_FORMS, one.get("dates", "")])
        _pick(draft, ours, "dates", said.DATES, {form: _example(form) for form in forms}, width=160)


def _example(form: str) -> str:
    from datetime import date  # noqa: PLC0415

    return said.ISO_DATES if not form else date(2026, 1, 31).strftime(form)


def _pick(
    draft: ListDraft, ours: str, key: str, label: str, options: dict[str, str], *, width: int
) -> None:
    widget = f"supplier {key} {ours}"
    st.session_state[widget] = draft.columns[ours].get(key, next(iter(options)))
    st.selectbox(
        label,
        list(options),
        format_func=options.__getitem__,
        key=widget,
        width=width,
        on_change=_set,
        args=(draft, ours, key, widget),
    )


def _piece(draft: ListDraft, ours: str, pattern: str | None) -> None:
    """Draw which number of a cell is meant."""
    widget = f"supplier piece {ours}"
    names = {text: name for name, text in PIECES.items()}
    piece = "" if pattern is None else names.get(pattern, _OWN)
    st.session_state[widget] = piece
    st.selectbox(
        said.PIECE,
        list(said.PIECES),
        format_func=said.PIECES.__getitem__,
        key=widget,
        width=165,
        on_change=_set_piece,
        args=(draft, ours, widget),
    )
    if piece == _OWN:
        typed = f"supplier pattern {ours}"
        st.session_state[typed] = pattern
        st.text_input(
            said.PATTERN,
            key=typed,
            width=220,
            help=said.PATTERN_HELP,
            on_change=_set,
            args=(draft, ours, "pattern", typed),
        )


def _set_piece(draft: ListDraft, ours: str, widget: str) -> None:
    picked = st.session_state[widget]
    one = draft.columns[ours]
    if not picked:
        one.pop("pattern", None)
    else:
        one["pattern"] = PIECES.get(picked, "(.*)")


def _set(draft: ListDraft, ours: str, key: str, widget: str) -> None:
    typed = st.session_state[widget]
    one = draft.columns[ours]
    if key == "value":
        one["value"] = typed or ""
    elif typed:
        one[key] = typed
    else:
        one.pop(key, None)


def _words(state: State, draft: ListDraft, ours: str, cells: tuple[str, ...]) -> None:
    """Draw what each word of theirs means, where ours takes only some words."""
    known = _known(state, draft, ours)
    if not known or all(cell in known for cell in cells):
        return
    one = draft.columns[ours]
    with st.container(key=f"supplier_words_{ours}", horizontal=True, vertical_alignment="bottom"):
        for cell in cells[:_MOST_WORDS]:
            widget = f"supplier word {ours} {cell}"
            folded = {theirs.casefold(): mine for theirs, mine in one.get("values", {}).items()}
            st.session_state[widget] = folded.get(cell.casefold())
            st.selectbox(
                said.translated(cell),
                known,
                index=None,
                key=widget,
                width=170,
                placeholder=said.NOT_CHOSEN_WORD,
                on_change=_set_word,
                args=(draft, ours, cell, widget),
            )


def untranslated(state: State, draft: ListDraft, supplier: SupplierList) -> list[str]:
    """Return words of theirs that still stand for none of ours."""
    found = []
    for ours, one in draft.columns.items():
        known = _known(state, draft, ours)
        if not known or not one.get("column") or one.get("pattern"):
            continue
        done = {theirs.casefold() for theirs in one.get("values", {})}
        cells = cells_under(supplier, draft.heading_row, one["column"], draft.filter)
        found += [cell for cell in cells if cell not in known and cell.casefold() not in done]
    return found


def _set_word(draft: ListDraft, ours: str, theirs: str, widget: str) -> None:
    picked = st.session_state[widget]
    held = {
        word: mine
        for word, mine in draft.columns[ours].get("values", {}).items()
        if word.casefold() != theirs.casefold()
    }
    if picked is not None:
        held[theirs] = picked
    if held:
        draft.columns[ours]["values"] = held
    else:
        draft.columns[ours].pop("values", None)


def more_columns(draft: ListDraft) -> None:
    """Draw the choice of further columns of ours."""
    known = columns_in(draft.head["table"])
    extra = [name for name, one in known.items() if not one.required]
    if not extra:
        return
    st.session_state["supplier more"] = [name for name in extra if name in draft.columns]
    st.multiselect(
        said.MORE,
        extra,
        format_func=said.label,
        key="supplier more",
        help=said.MORE_HELP,
        on_change=_set_more,
        args=(draft, tuple(known)),
    )


def _set_more(draft: ListDraft, order: tuple[str, ...]) -> None:
    wanted = set(st.session_state["supplier more"])
    known = columns_in(draft.head["table"])
    draft.columns = {
        name: draft.columns.get(name, {})
        for name in order
        if known[name].required or name in wanted
    }


def filters(draft: ListDraft, supplier: SupplierList) -> None:
    """Draw which rows are taken."""
    headings = [name for name in supplier.headings(draft.heading_row) if name]
    headings += [name for name in draft.filter if name not in headings]
    with st.container(key="supplier_filter", horizontal=True, vertical_alignment="bottom"):
        st.session_state["supplier filters"] = list(draft.filter)
        st.multiselect(
            said.FILTERS,
            list(dict.fromkeys(headings)),
            key="supplier filters",
            help=said.FILTERS_HELP,
            width=400,
            on_change=_set_filters,
            args=(draft,),
        )
        for name, wanted in draft.filter.items():
            words = list(dict.fromkeys([*cells_under(supplier, draft.heading_row, name), *wanted]))
            widget = f"supplier filter {name}"
            st.session_state[widget] = wanted
            st.multiselect(
                f"{said.shown(name)} {said.FILTER_WORDS}",
                words,
                key=widget,
                width=400,
                on_change=_set_filter,
                args=(draft, name, widget),
            )


def _set_filters(draft: ListDraft) -> None:
    picked = st.session_state["supplier filters"]
    draft.filter = {name: draft.filter.get(name, []) for name in picked}


def _set_filter(draft: ListDraft, name: str, widget: str) -> None:
    draft.filter[name] = list(st.session_state[widget])
