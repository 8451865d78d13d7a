"""What a supplier's list becomes: the rows read, those that are not, what changes by them."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING

import streamlit as st

from optimizer import InputError
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.mapping import mapping_from, mapping_toml
from optimizer.suppliers.merging import merge
from ui import words
from ui.markup import safe, table
from ui.questions.supplier_columns import untranslated
from ui.uploads import faults
from ui.words import supplier as said

if TYPE_CHECKING:
    from optimizer.inputs.supplier_list import SupplierList
    from optimizer.suppliers.conversion import Converted
    from optimizer.suppliers.mapping import SupplierMapping
    from ui.questions.list_draft import ListDraft
    from ui.state import State


def result(state: State, draft: ListDraft, supplier: SupplierList) -> None:
    """Draw what the choices make of the list, and what can be done with it."""
    missing, open_words = draft.missing(), untranslated(state, draft, supplier)
    if missing:
        st.markdown(said.missing(missing))
    if open_words:
        st.markdown(said.open_words(open_words))
    if missing or open_words:
        return
    try:
        mapping = mapping_from(draft.content(state.job.site.currency))
        found = convert(supplier, mapping)
    except InputError as error:
        st.warning(said.WRONG)
        faults(error.faults)
        return
    st.subheader(said.READ)
    st.markdown(said.read(found) if found.rows else said.NONE_READ)
    if found.rows:
        _rows(found)
    rows = dict.fromkeys(fault.row for fault in found.unreadable)
    if rows:
        st.markdown(said.unreadable(len(rows)))
        _unread(supplier, found, list(rows))
        st.session_state["supplier leave_out"] = draft.leave_out
        st.checkbox(
            said.LEAVE_OUT,
            key="supplier leave_out",
            on_change=lambda: setattr(
                draft, "leave_out", bool(st.session_state["supplier leave_out"])
            ),
        )
    if found.rows:
        _changes(state, draft, found)
    _take_along(state, draft, supplier, found, mapping)


def _unread(supplier: SupplierList, found: Converted, rows: list[int | None]) -> None:
    """Draw the rows that cannot be read, a line each: what they say, and what first stops them."""
    lines = []
    for number in rows[: said.MOST_SHOWN]:
        own = [fault for fault in found.unreadable if fault.row == number]
        cells = supplier.rows[number - 1] if number else ()
        lines.append(said.unread_row(number, cells, own))
    st.markdown(table(said.UNREAD_COLUMNS, lines, "rllll"))
    if len(rows) > said.MOST_SHOWN:
        st.caption(said.more(len(rows) - said.MOST_SHOWN))


def _rows(found: Converted) -> None:
    import pandas as pd  # noqa: PLC0415 - only where a table is drawn

    names = [said.label(name) for name in found.columns]
    frame = pd.DataFrame(list(found.rows), columns=names)
    for name in names:  # numbers to the right, texts to the left
        numbers = pd.to_numeric(frame[name], errors="coerce")
        if numbers.notna().equals(frame[name] != ""):
            frame[name] = numbers
    st.dataframe(frame, hide_index=True, width="stretch", placeholder="")


def _changes(state: State, draft: ListDraft, found: Converted) -> None:
    """Draw how the rows are taken in, and what that changes."""
    st.subheader(said.CHANGES)
    st.session_state["supplier replace_all"] = draft.replace_all
    st.segmented_control(
        said.HOW,
        list(said.HOWS),
        format_func=said.HOWS.__getitem__,
        key="supplier replace_all",
        required=True,
        help=said.HOW_HELP,
        on_change=lambda: setattr(
            draft, "replace_all", bool(st.session_state["supplier replace_all"])
        ),
    )
    merged = merge(state.draft.tables.get(found.table), found, replace_all=draft.replace_all)
    changed = said.change_rows(merged.changes)
    if changed:
        heads = said.change_columns(safe(found.currency))
        st.markdown(table(heads, changed[: said.MOST_SHOWN], "lrrr"))
        if len(changed) > said.MOST_SHOWN:
            st.caption(said.more(len(changed) - said.MOST_SHOWN))
    if merged.changes.vanished:
        st.markdown(said.named(said.VANISHED, merged.changes.vanished))
    if merged.changes.added:
        st.markdown(said.named(said.ADDED, merged.changes.added))
    if not (changed or merged.changes.vanished or merged.changes.added):
        st.markdown(said.NO_CHANGE)
    if kept := said.untouched(merged.untouched):
        st.markdown(kept)


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
            said.take(len(found.rows), found.table),
            type="primary",
            disabled=held or not found.rows,
            on_click=_take_in,
            args=(state, draft, found),
        )
        stem = said.file_stem(PurePath(supplier.file).stem)
        st.download_button(
            said.TAKE_MAP,
            mapping_toml(mapping),
            f"{stem}.toml",
            "application/toml",
            on_click="ignore",
        )
        st.download_button(
            said.TAKE_TABLE,
            found.as_csv(),
            f"{found.table}.csv",
            "text/csv",
            on_click="ignore",
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
    merged = merge(state.draft.tables.get(found.table), found, replace_all=draft.replace_all)
    changed = state.draft.with_table(found.table, merged.table)
    try:
        changed.job()
    except InputError as error:
        draft.refused, draft.taken = error, False
    else:
        draft.refused, draft.taken = None, True
        state.change(changed)
