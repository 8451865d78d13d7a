"""A bank that stands already: three fields, the rest assumed and told as such."""

from typing import Final

import streamlit as st

from optimizer import InputError, assess_told
from optimizer.answers.assessment import Assessment
from optimizer.inputs.bank_words import Assumed
from optimizer.inputs.columns import columns_of
from optimizer.inputs.design_file import DesignKeys
from optimizer.inputs.rows import LoadRow
from optimizer.report.grids import assessment as grids
from optimizer.report.grids.simulation import matters
from optimizer.report.words import assessment as said
from optimizer.report.words import bank_words, distance
from optimizer.report.words.writer import Writer
from ui import cached
from ui.fields import number_aside
from ui.look import points, prose, safe, tables
from ui.state import State
from ui.transfer import faults
from ui.words import standing as words

_LOAD_W: Final = columns_of(LoadRow)["running_w"]
_AGE: Final = columns_of(DesignKeys)["age_years"]


def draw(state: State) -> None:
    """Draw the three fields, and the answer once the bank is told."""
    st.caption(safe(words.help_of(state.write, state.job.site.name)))
    with st.container(key="standing_fields", horizontal=True):
        bank = st.text_input(
            words.BANK,
            key="standing bank",
            persist_state="session",
            placeholder=words.BANK_EXAMPLE,
            width=260,
        )
        load_w = number_aside(
            state,
            _LOAD_W,
            words.LOAD,
            "standing load",
            may_be_blank=True,
            placeholder=words.LOADS_OF_SITE,
            width=210,
        )
        age_years = number_aside(
            state, _AGE, words.AGE, "standing age", first=0.0, may_be_blank=False, width=150
        )
    if not bank.strip():
        return
    asked = {"load_w": load_w, "age_years": age_years, "hours": state.job.site.target_hours}
    try:
        found, assumed = cached.remembered(
            state,
            lambda: assess_told(bank, state.job, **asked),
            "standing",
            bank,
            *asked.values(),
            cached.fingerprint(state.good),
        )
    except InputError as error:
        faults(error.faults)
        return
    _told(state.write, load_w, found, assumed)


def _told(
    write: Writer, load_w: float | None, found: Assessment, assumed: tuple[Assumed, ...]
) -> None:
    st.markdown(f"**{safe(bank_words.runs(write, found, load_w))}**")
    soon = said.wears_out_soon(write, found)
    prose(soon, said.verdict(write, found))
    points(said.failures(write, found))
    tables(write, grids.hours(write, found).only(*grids.SHORT), grids.assumed(write, assumed))
    for heading, lines in (
        (words.LIFE, said.life(write, found)),
        (words.DISTANCE, distance.distance(write, found)),
    ):
        tables(write, matters("matters", heading, lines), folded=heading)
