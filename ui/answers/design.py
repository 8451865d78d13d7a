"""The design shown: what it is, why not less, why not more."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer.report.words import bank_in_words, money, replacements_in_words, set_in_words
from optimizer.report.words.checks import check_name, check_unit
from optimizer.report.words.writer import Writer
from ui import words
from ui.markup import safe, table

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.cached import Curves
    from ui.state import State


def figures(state: State, found: Curves, choice: Choice) -> None:
    """Draw the design's figures."""
    del state, found
    design, site = choice.design, choice.job.site
    bank, run = design.banks[0], design.wiring
    rows = [
        (words.HOLDS, f"{design.hours} h"),
        (words.PAID_START, money(design.upfront_cost, site.currency)),
        (words.cost_over(site.horizon_years), money(design.life_cycle_cost, site.currency)),
        (words.BANK, safe(bank_in_words(bank, design.voltage_v))),
        (words.SERVICE, words.years(bank.service_life_years)),
        (words.SET, safe(set_in_words(design))),
        *([] if run is None else [(words.WIRING, words.wiring(run))]),
        (words.AGAIN, safe(replacements_in_words(choice.design.payments))),
        (words.MASS, f"{bank.units * bank.battery.mass_kg:,.0f} kg"),
    ]
    st.markdown(table(("", ""), [list(row) for row in rows], "ll"))


def binding(state: State, found: Curves, choice: Choice) -> None:
    """Draw what keeps the design from being cheaper, and every requirement as a table."""
    del state, found
    currency = choice.job.site.currency
    write = Writer(currency)
    for one in choice.binding:
        st.markdown(words.binding(one, currency))
    with st.expander(words.REQUIREMENTS):
        rows = [
            [
                safe(check_name(write, one.check)),
                f"{'≤' if one.check.at_most else '≥'} {words.figure(one.check.required)}",
                words.figure(one.check.provided),
                check_unit(write, one.check),
                money(one.saving) if one.binds else "",
            ]
            for one in choice.explained
        ]
        st.markdown(table(words.requirement_columns(currency), rows, "lrrlr"))


def step(state: State, found: Curves, choice: Choice) -> None:
    """Draw what the next step along the curve costs."""
    del state
    site, design = choice.job.site, choice.design
    longer = next((point for point in found.overall.points if point.hours > design.hours), None)
    st.markdown(words.next_step(design, longer, site.currency, site.max_hours))
