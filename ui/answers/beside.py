"""Designs set aside: up to four, in one table and on the curve."""

from string import ascii_uppercase

import streamlit as st

from optimizer.inputs.job_file import MOST_KEPT, Kept
from optimizer.report.charts.points import family_of
from optimizer.report.grids.choice import kept
from optimizer.report.words import design as said
from ui import words
from ui.cached import Answer, inputs_of
from ui.look import tables
from ui.state import State


def keep_button(state: State, answer: Answer) -> None:
    """Draw the button that keeps the design shown."""
    new = _kept(state, answer)
    full = len(state.kept) >= MOST_KEPT
    st.button(
        words.KEEP,
        on_click=state.kept.append,
        args=(new,),
        disabled=full or new in state.kept,
        help=words.KEEP_FULL if full else None,
    )


def draw(state: State) -> None:
    """Draw the designs kept, where there are any."""
    if not state.kept:
        return
    grid = kept(state.write, state.kept, inputs_of(state.good))
    st.header(grid.title)
    tables(state.write, grid)
    with st.container(horizontal=True):
        for place, letter in enumerate(ascii_uppercase[: len(state.kept)]):
            st.button(f"{words.REMOVE} {letter}", on_click=state.kept.__delitem__, args=(place,))


def _kept(state: State, answer: Answer) -> Kept:
    design, write = answer.design, answer.write
    return Kept(
        hours=design.hours,
        life_cycle_cost=design.life_cycle_cost,
        upfront_cost=design.upfront_cost,
        currency=write.currency,
        family=family_of(design),
        bank=said.bank(write, design.banks[0], design.voltage_v),
        inverter=said.inverter_set(write, design),
        replacements=said.replacements(write, design.replacements),
        inputs=inputs_of(state.good),
    )
