"""What is on offer: the price list that came with the job, or files dropped in."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING

import streamlit as st

from optimizer import InputError
from optimizer.errors import Fault, FaultKind
from optimizer.inputs import PRICE_TABLES, draft_from_files, raw_table
from optimizer.inputs.demo import site_file
from optimizer.inputs.faults import one_of
from ui import words
from ui.apart import read_apart
from ui.language import writer
from ui.look import prose, raw_rows
from ui.uploads import uploader

if TYPE_CHECKING:
    from ui.state import State


def draw(state: State) -> None:
    """Draw the question."""
    tables = state.draft.tables
    held = {name: tables[name] for name in PRICE_TABLES if name in tables}
    write = writer(state.job.site.currency)
    prose(words.tables(write, words.TABLES, held))
    uploader(
        state,
        "prices",
        words.PRICES_FILES,
        ["csv", "xlsx"],
        lambda files: _take(state, files),
        help=words.price_file(write, list(PRICE_TABLES)),
        several=True,
    )
    st.button(words.PRICES_DEMO, on_click=_demo, args=(state,))
    with st.expander(words.SHOW_TABLE):
        name = st.selectbox(
            words.SHOW_TABLE, list(held), format_func=words.TABLES.__getitem__, key="price table"
        )
        if name is not None:
            raw_rows(tables[name].rows)


def _take(state: State, files: list[tuple[str, bytes]]) -> None:
    """Take all files or none."""
    draft = state.draft
    faults: list[Fault] = []
    for file, raw in files:
        name = PurePath(file).stem.lower()
        if name not in PRICE_TABLES:
            wanted = one_of("a file named after a table", name, PRICE_TABLES)
            faults.append(Fault(file, None, None, name, wanted, FaultKind.UNKNOWN))
            continue
        try:
            table = read_apart(file, raw, raw_table, file, raw)
            draft = draft.with_table(name, table)
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
