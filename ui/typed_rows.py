"""Rows of a few numbers, typed field by field: a row that is not whole yet waits as typed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer.inputs.cells import CellError
from optimizer.inputs.typed import PLAIN_NUMBER, typed_number
from optimizer.report.words.faults import said
from ui import words
from ui.bound import bound, wrong
from ui.language import writer

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from optimizer.inputs.draft import Draft
    from ui.state import State

#: Three beside one another fit a phone.
_WIDTH_PX: Final = 115


def number_rows(
    state: State,
    key: str,
    headings: Sequence[str],
    held: Sequence[Sequence[float]],
    put: Callable[[Draft, list[list[float]]], Draft],
) -> None:
    """Draw a list of rows of numbers; the last row adds one, an emptied row goes."""
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
                    width=_WIDTH_PX,
                )
    wrong(state, key, said(write, PLAIN_NUMBER.wanted))


def _read(texts: list[list[str]], headings: Sequence[str]) -> list[list[float]]:
    """Return rows of numbers; CellError where one lacks a number, or holds something else."""
    write, found = writer("EUR"), []
    for number, row in enumerate(texts, start=1):
        if any(row):
            lacking = next((head for head, one in zip(headings, row, strict=True) if not one), None)
            if lacking is not None:
                raise CellError(words.row_lacks(write, lacking, number))
            found.append([typed_number(one, PLAIN_NUMBER) for one in row])
    return found
