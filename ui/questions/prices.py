"""What is on offer: the price list that came with the job, or files dropped in."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING

import streamlit as st

from optimizer import InputError
from optimizer.errors import Fault, nearest
from optimizer.inputs import PRICE_TABLES, draft_from_files, raw_table
from optimizer.inputs.demo import site_file
from ui import words
from ui.uploads import uploader

if TYPE_CHECKING:
    from ui.state import State


def draw(state: State) -> None:
    """Draw the question."""
    tables = state.draft.tables
    held = [name for name in PRICE_TABLES if name in tables]
    counts = "; ".join(words.table_name(name, len(tables[name].rows) - 1) for name in held)
    st.markdown(f"{counts}.")
    uploader(
        state,
        "prices",
        words.PRICES_FILES,
        ["csv", "xlsx"],
        lambda files: _take(state, files),
        help=words.PRICES_HELP,
        several=True,
    )
    st.button(words.PRICES_DEMO, on_click=_demo, args=(state,))
    with st.expander(words.SHOW_TABLE):
        name = st.selectbox(
            words.SHOW_TABLE, held, format_func=words.TABLES.__getitem__, key="price table"
        )
        if name is not None:
            _show(tables[name].rows)


def _show(rows: tuple[tuple[str, ...], ...]) -> None:
    import pandas as pd  # noqa: PLC0415 - only where a table is drawn

    names = [name or f"#{place}" for place, name in enumerate(rows[0], start=1)]
    frame = pd.DataFrame(list(rows[1:]), columns=names)
    for name in names:  # numbers to the right, texts to the left
        numbers = pd.to_numeric(frame[name], errors="coerce")
        if numbers.notna().equals(frame[name] != ""):
            frame[name] = numbers
    st.dataframe(frame, hide_index=True, width="stretch", placeholder="")


def _take(state: State, files: list[tuple[str, bytes]]) -> None:
    """Take all files or none."""
    draft = state.draft
    faults: list[Fault] = []
    for file, raw in files:
        name = PurePath(file).stem.lower()
        if name not in PRICE_TABLES:
            near = nearest(name, PRICE_TABLES)
            hint = "" if near is None else f"; nearest: {near}"
            faults.append(Fault(file, None, None, name, words.PRICES_UNKNOWN + hint))
            continue
        try:
            draft = draft.with_table(name, raw_table(file, raw))
        except InputError as error:
            faults += error.faults
    try:
        draft.job()
    except InputError as error:
        faults += error.faults
    if faults:
        raise InputError(faults)
    state.change(draft)


def _demo(state: State) -> None:
    demo = draft_from_files(site_file("house"))
    draft = state.draft
    for name in PRICE_TABLES:
        draft = draft.with_table(name, demo.tables.get(name))
    state.refused.pop("prices", None)
    state.change(draft)
