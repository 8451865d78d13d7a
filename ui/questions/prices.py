"""What is on offer: the price list that came with the job, typed into or dropped in as files."""

from functools import partial
from pathlib import PurePath
from typing import Any, Final

import numpy as np
import streamlit as st

from optimizer import InputError
from optimizer.errors import Fault, FaultKind
from optimizer.inputs.columns import Column
from optimizer.inputs.decimals import bare_number, has_commas, with_mark
from optimizer.inputs.draft import Draft, RawTable, draft_from_files, raw_table
from optimizer.inputs.faults import one_of
from optimizer.inputs.fields import all_fields
from optimizer.inputs.price_tables import PRICE_TABLES
from ui import words
from ui.apart import read_apart
from ui.bound import offering
from ui.fields import cell, on_screen, told
from ui.look import prose
from ui.state import State
from ui.transfer import File, uploader

#: Two beside one another fit a phone.
_CELL_PX: Final = 190
#: In the first line of an item; the rest is folded.
_FIRST: Final = ("price", "price_per_m", "price_date", "supplier")


def draw(state: State) -> None:
    """Draw the question."""
    tables = state.draft.tables
    held = {name: tables[name] for name in PRICE_TABLES if name in tables}
    prose(words.tables(state.write, words.TABLES, held))
    with st.container(horizontal=True):
        name = st.selectbox(
            words.SHOW_TABLE,
            key="price table",
            width=240,
            **offering({one: words.TABLES[one] for one in held}),
        )
        rows = held[name].rows[1:] if name is not None else ()
        names = {place: " ".join(row[:1]) or "–" for place, row in enumerate(rows)}
        item = f"price item {name}"
        place = st.selectbox(words.PRICE_ITEM, key=item, width=320, **offering(names))
    if name is not None and place is not None:
        _item(state, name, place)
    uploader(
        state,
        "prices",
        words.PRICES_FILES,
        ["csv", "xlsx"],
        partial(_take, state),
        help=words.price_file(state.write, list(PRICE_TABLES)),
        several=True,
    )
    st.button(words.PRICES_DEMO, on_click=_demo, args=(state,))


def _item(state: State, name: str, place: int) -> None:
    """Draw one item of a table: its price, and behind it all that is known of it."""
    facts = all_fields()[name]
    shown = [column for column in facts if column in words.PRICE_COLUMNS]
    first = [column for column in shown if column in _FIRST]
    rest = [column for column in shown if column not in first]
    for columns, around in ((first, st.container()), (rest, st.expander(words.PRICE_MORE))):
        with around, st.container(horizontal=True):
            for column in columns:
                _cell(state, name, place, facts[column])


def _cell(state: State, name: str, place: int, facts: Column) -> None:
    table = state.draft.tables[name]
    heading = table.rows[0]
    at = heading.index(facts.name) if facts.name in heading else None
    held = "" if at is None else table.rows[place + 1][at]
    settings: dict[str, Any] = {"help": told(facts.told), "width": _CELL_PX}
    if not held:
        settings["placeholder"], settings["source"] = _assumes(state, name, place, facts)
    key = f"{name} {place} {facts.name} {state.generation}"
    label = words.PRICE_COLUMNS[facts.name]
    shown: str | float | None = held
    if facts.kind.is_numeric:
        shown = bare_number(held)
        if held and shown is None:  # with a unit: as it stands in the file
            settings["placeholder"] = held
    put, row = partial(_put, name, place, facts.name), partial(_row, name, place)
    cell(state, facts, label, key, held=shown, put=put, row=row, **settings)


def _assumes(state: State, name: str, place: int, facts: Column) -> tuple[str | None, str]:
    """Return what stands in for an empty cell, as it would be typed, and where it comes from."""
    row = dict(zip(*(state.draft.tables[name].rows[at] for at in (0, place + 1)), strict=False))
    batteries = state.job.catalog.batteries if name == "batteries" else ()
    one = next((each for each in batteries if each.battery == row["battery"]), None)
    if one is None or facts.name not in one.sources:
        return None, ""
    value = one.max_dods if facts.name == "max_dod" else getattr(one, facts.name)
    if not isinstance(value, tuple):
        return on_screen(facts, value), one.sources[facts.name]
    points = (":".join(f"{number:g}" for number in np.atleast_1d(point)) for point in value)
    return ";".join(points), one.sources[facts.name]


def _row(name: str, place: int, draft: Draft) -> dict[str, float | None]:
    rows = draft.tables[name].rows
    return dict(zip(rows[0], map(bare_number, rows[place + 1]), strict=False))


def _written(table: RawTable, number: float | None) -> str:
    """Return a number as the table writes its decimals."""
    text = "" if number is None else repr(number).removesuffix(".0")
    return with_mark(text, comma=has_commas(table.rows[1:]))


def _put(name: str, place: int, column: str, draft: Draft, typed: str | float | None) -> Draft:
    """Return the draft with one cell of a price table changed; its column comes where it lacks."""
    table = draft.tables[name]
    text = typed if isinstance(typed, str) else _written(table, typed)
    heading, *rows = (list(row) for row in table.rows)
    if column not in heading:
        heading.append(column)
    at = heading.index(column)
    rows[place] += [""] * (len(heading) - len(rows[place]))
    rows[place][at] = text
    return draft.with_table(name, RawTable(table.file, tuple(map(tuple, [heading, *rows]))))


def _take(state: State, *files: File) -> None:
    """Take all files or none."""
    draft = state.draft
    faults: list[Fault] = []
    for file in files:
        name = PurePath(file[0]).stem.lower()
        if name not in PRICE_TABLES:
            wanted = one_of("a file named after a table", name, PRICE_TABLES)
            faults.append(Fault(file[0], None, None, name, wanted, FaultKind.UNKNOWN))
            continue
        try:
            draft = draft.with_table(name, read_apart(file, raw_table, *file))
        except InputError as error:
            faults += error.faults
    try:
        draft.job()
    except InputError as error:
        faults += error.faults
    if faults:
        raise InputError(faults)
    state.change(draft, words.UNDO_PRICES)
    state.refresh()


def _demo(state: State) -> None:
    demo = draft_from_files("house")
    draft = state.draft
    for name in PRICE_TABLES:
        draft = draft.with_table(name, demo.tables.get(name))
    state.refused.pop("prices", None)
    state.change(draft, words.UNDO_PRICES)
    state.refresh()
