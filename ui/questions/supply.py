"""What the grid's contract and a generator could do: steps, peaks, the rules of a generator."""

from collections.abc import Sequence
from functools import partial
from typing import Final

import streamlit as st

from optimizer.inputs.draft import Draft, draft_from_files
from ui import words
from ui.bound import bound
from ui.fields import field, fields, number_rows, value
from ui.state import State

#: What stands there when a generator is allowed for the first time: to be put right by the reader.
_FIRST: Final = {"quiet": "22:00-6:00", "fuel_price": 2.0, "max_stored_l": 20}


def draw(state: State) -> None:
    """Draw the question."""
    left, right = st.columns(2, gap="large")
    with left:
        st.caption(words.CONTRACTS_HELP)
        power, cost = words.CONTRACT_COLUMNS
        _rows(state, "contracts", (power, f"{cost}, {state.job.site.currency}"))
    with right:
        st.caption(words.PEAKS_HELP)
        _rows(state, "peaks", words.PEAK_COLUMNS)
    allowed = "generator" in state.draft.site
    allow = partial(_allow, state)
    bound(st.checkbox, words.GENERATOR_ALLOWED, "generator allowed", allowed, allow)
    if allowed:
        rules = ("fuel_price", "max_stored_l", "start_after_h", "fuel_keeps_years")
        fields(state, *rules, columns=2)
        field(state, "quiet")
    with st.expander(words.FINER):
        field(state, "voltage_v", width=260)
        field(state, "service_fuse_a", width=260)


def _rows(state: State, key: str, headings: Sequence[str]) -> None:
    def put(draft: Draft, rows: list[list[float]]) -> Draft:
        return draft.with_site("supply", key, rows or None)

    number_rows(state, f"supply.{key}", headings, value(state, key) or (), put)


def _allow(state: State, wanted: bool) -> None:
    """Allow a generator or rule it out; the demo's are on offer where the price list has none."""
    draft = state.draft.with_section("generator", _FIRST if wanted else None)
    if wanted and "generators" not in draft.tables:
        demo = draft_from_files("house")
        draft = draft.with_table("generators", demo.tables.get("generators"))
    state.change(draft)
