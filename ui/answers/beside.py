"""Designs kept beside each other: up to four, in one table and on the curve."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer.inputs.job_file import MOST_KEPT, Kept
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import MIXED
from optimizer.report.words import bank_in_words, money, replacements_in_words, set_in_words
from ui import words
from ui.cached import inputs_of
from ui.markup import safe, table

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.state import State


def keep_button(state: State, choice: Choice) -> None:
    """Draw the button that keeps the design shown."""
    new = _kept(state, choice)
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
    st.header(words.BESIDE)
    now = inputs_of(state.good)
    rows = [
        [
            f"**{letter}**",
            str(one.hours),
            money(one.upfront_cost, one.currency),
            money(one.life_cycle_cost, one.currency),
            safe(one.bank),
            safe(one.inverter),
            safe(one.replacements),
            words.INPUTS_NOW if one.inputs == now else words.INPUTS_OTHER,
        ]
        for letter, one in zip("ABCD", state.kept, strict=False)
    ]
    st.markdown(table(words.KEPT_COLUMNS, rows, "lrrrllll"))
    with st.container(horizontal=True):
        for place, letter in enumerate("ABCD"[: len(state.kept)]):
            st.button(f"{words.DROP} {letter}", on_click=_drop, args=(state, place))


def _drop(state: State, place: int) -> None:
    del state.kept[place]


def _kept(state: State, choice: Choice) -> Kept:
    design = choice.design
    return Kept(
        hours=design.hours,
        life_cycle_cost=design.life_cycle_cost,
        upfront_cost=design.upfront_cost,
        currency=choice.job.site.currency,
        family=family_of(design) or MIXED,
        bank=bank_in_words(design.banks[0], design.voltage_v),
        inverter=set_in_words(design),
        replacements=replacements_in_words(choice.design.payments),
        inputs=inputs_of(state.good),
    )
