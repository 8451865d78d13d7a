"""A bank that stands already: three fields, the rest assumed and told as such."""

from dataclasses import dataclass
from functools import partial
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
from ui.bound import bound
from ui.fields import aside, cell
from ui.look import points, prose, safe, tables
from ui.state import State
from ui.transfer import faults
from ui.words import standing as words

_KEY: Final = "standing"
_LOAD_W: Final = columns_of(LoadRow)["running_w"]
_AGE: Final = columns_of(DesignKeys)["age_years"]


@dataclass
class Standing:
    """What a person has told of a bank; kept while other parts are looked at."""

    bank: str = ""
    load_w: float | None = None
    age_years: float = 0.0


def draw(state: State) -> None:
    """Draw the three fields, and the answer once the bank is told."""
    held: Standing = st.session_state.setdefault(_KEY, Standing())
    st.caption(safe(words.help_of(state.write, state.job.site.name)))
    with st.container(key="standing_fields", horizontal=True):
        bound(
            st.text_input,
            words.BANK,
            f"{_KEY} bank",
            held.bank,
            partial(setattr, held, "bank"),
            placeholder=words.BANK_EXAMPLE,
            width=260,
        )
        cell(
            state,
            _LOAD_W,
            words.LOAD,
            f"{_KEY} load",
            held=held.load_w,
            put=aside(partial(setattr, held, "load_w")),
            may_be_blank=True,
            placeholder=words.LOADS_OF_SITE,
            width=210,
        )
        cell(
            state,
            _AGE,
            words.AGE,
            f"{_KEY} age",
            held=held.age_years,
            put=aside(partial(setattr, held, "age_years")),
            width=150,
        )
    if not held.bank.strip():
        return
    asked = (held.bank, held.load_w, held.age_years, cached.fingerprint(state.good))
    try:
        found, assumed = cached.remembered(
            state,
            lambda: assess_told(
                held.bank,
                state.job,
                load_w=held.load_w,
                age_years=held.age_years,
                hours=state.job.site.target_hours,
            ),
            _KEY,
            *asked,
        )
    except InputError as error:
        faults(error.faults)
        return
    _told(state.write, held, found, assumed)


def _told(write: Writer, held: Standing, found: Assessment, assumed: tuple[Assumed, ...]) -> None:
    st.markdown(f"**{safe(bank_words.runs(write, found, held.load_w))}**")
    soon = said.wears_out_soon(write, found)
    prose(soon, said.verdict(write, found))
    points(said.failures(write, found))
    tables(write, grids.hours(write, found).only(*grids.SHORT), grids.assumed(write, assumed))
    for heading, lines in (
        (words.LIFE, said.life(write, found)),
        (words.DISTANCE, distance.distance(write, found)),
    ):
        tables(write, matters("matters", heading, lines), folded=heading)
