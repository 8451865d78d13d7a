"""What a supplier's list becomes: the rows read, those that are not, what changes by them."""

from functools import partial
from pathlib import PurePath
from typing import Any, Final

import streamlit as st

from optimizer import InputError
from optimizer.inputs.columns import columns_of
from optimizer.inputs.mapping_keys import WordKeys
from optimizer.inputs.supplier_list import SupplierList
from optimizer.report.grids import prices as grids
from optimizer.report.words import prices as library
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.converted import Converted
from optimizer.suppliers.joining import join
from optimizer.suppliers.list_draft import ListDraft
from optimizer.suppliers.mapping import SupplierMapping, mapping_from, mapping_toml
from ui import words
from ui.bound import bound, side_by_side
from ui.fields import aside, cell
from ui.look import points, prose, raw_rows, safe, tables
from ui.questions.supplier_columns import column_label, untranslated
from ui.state import State
from ui.transfer import download, faults
from ui.words import supplier as said

#: What a meaning with a number starts from.
_STARTS: Final[dict[str, Any]] = {"pieces": 2.0, "tax": 0.2, "exchange": 1.0, "unit": ""}


def result(state: State, draft: ListDraft, supplier: SupplierList) -> None:
    """Draw what the choices make of the list, and what can be done with it."""
    write = state.write
    missing, open_words = draft.missing(), untranslated(state, draft, supplier)
    if missing:
        prose(
            said.missing(write, (column_label(state, draft.head["table"], one) for one in missing))
        )
    if open_words:
        prose(said.open_words(write, open_words))
    if missing or open_words:
        return
    try:
        mapping = mapping_from(draft.content(state.job.site.currency))
        found = convert(supplier, mapping)
    except InputError as error:
        st.warning(said.WRONG)
        faults(error.faults)
        return
    _words_to_answer(state, draft, found)
    if found.open_words:
        return
    st.subheader(said.READ)
    prose(library.read(write, found) if found.rows else said.NONE_READ)
    if found.bare:
        prose(library.bare_units(write, found))
    if found.rows:
        raw_rows(found.cells, [column_label(state, found.table, one) for one in found.columns])
    if found.unreadable:
        grid = grids.unreadable(write, found, supplier)
        prose(library.unreadable(write, len(grid.rows)))
        tables(write, grid)
        bound(
            st.checkbox,
            said.LEAVE_OUT,
            "supplier leave_out",
            draft.leave_out,
            partial(setattr, draft, "leave_out"),
        )
    if found.repeated:
        tables(write, grids.repeated(write, found))
    if found.rows:
        _changes(state, draft, found)
    _take_along(state, draft, supplier, found, mapping)


def _words_to_answer(state: State, draft: ListDraft, found: Converted) -> None:
    """Draw each word beside a number that needs an answer, and those answered."""
    asked = {one.word: said.word(state.write, one) for one in found.open_words}
    if not asked and not draft.words:
        return
    st.subheader(said.WORDS)
    for word, label in {**{word: f"“{word}”" for word in draft.words}, **asked}.items():
        held = draft.words.get(word)
        kind = held if isinstance(held, str) else next(iter(held or {}), None)
        with st.container(
            key=f"supplier_word_{word}", horizontal=True, vertical_alignment="bottom"
        ):
            bound(
                st.selectbox,
                safe(label),
                f"supplier meaning {word}",
                kind,
                partial(_mean, draft, word),
                names=said.MEANINGS,
                index=None,
                placeholder=said.NOT_CHOSEN_WORD,
                width=420,
            )
            if isinstance(held, dict) and kind is not None:
                _figure(state, draft, word, kind, held[kind])


def _mean(draft: ListDraft, word: str, kind: str | None) -> None:
    draft.answer(word, {kind: _STARTS[kind]} if kind in _STARTS else kind)


def _figure(state: State, draft: ListDraft, word: str, kind: str, held: Any) -> None:  # noqa: ANN401 - a TOML value
    """Draw the number, or the unit, of a meaning."""
    key, width = f"supplier figure {word}", 130

    def take(typed: Any) -> None:  # noqa: ANN401 - a number, or a unit
        draft.answer(word, {kind: typed})

    if kind == "unit":
        bound(st.text_input, said.MEANING_NUMBER, key, held, take, width=width)
    else:
        facts, put = columns_of(WordKeys)[kind], aside(take)
        label = said.MEANING_NUMBER
        cell(state, facts, label, key, held=held, put=put, may_be_blank=False, width=width)


def _changes(state: State, draft: ListDraft, found: Converted) -> None:
    """Draw how the rows are taken in, and what that changes."""
    st.subheader(said.CHANGES)
    bound(
        side_by_side,
        said.HOW,
        "supplier stay",
        draft.stay,
        partial(setattr, draft, "stay"),
        names=said.HOWS,
        help=said.HOW_HELP,
    )
    merged = join(state.draft.tables.get(found.table), [found], draft.stay)
    write = state.write
    tables(write, *grids.offered_twice(write, merged))
    if merged.changes.changed:
        tables(write, grids.changed(write, merged.changes))
    points(library.listed(write, merged.changes))
    if merged.untouched:
        prose(library.untouched(write, merged.untouched))


def _take_along(
    state: State,
    draft: ListDraft,
    supplier: SupplierList,
    found: Converted,
    mapping: SupplierMapping,
) -> None:
    """Draw the button that takes the rows in, and the downloads."""
    held = bool(found.unreadable) and not draft.leave_out
    with st.container(horizontal=True, vertical_alignment="center"):
        st.button(
            said.take(state.write, len(found.rows), found.table),
            type="primary",
            disabled=held or not found.rows,
            on_click=_take_in,
            args=(state, draft, found),
        )
        stem = said.file_stem(PurePath(supplier.file).stem)
        download(said.TAKE_MAP, partial(mapping_toml, mapping), f"{stem}.toml")
        download(
            said.TAKE_TABLE,
            found.as_csv,
            f"{found.table}.csv",
            disabled=held or not found.rows,
        )
    if held:
        st.markdown(said.UNREADABLE_FIRST)
    if draft.refused is not None:
        st.error(words.PRICES_KEPT)
        faults(draft.refused.faults)
    elif draft.taken:
        st.markdown(said.TAKEN)


def _take_in(state: State, draft: ListDraft, found: Converted) -> None:
    """Take the rows into the job's price list, or say what of it does not fit."""
    merged = join(state.draft.tables.get(found.table), [found], draft.stay)
    changed = state.draft.with_table(found.table, merged.table)
    try:
        changed.job()
    except InputError as error:
        draft.refused, draft.taken = error, False
    else:
        draft.refused, draft.taken = None, True
        state.change(changed)
