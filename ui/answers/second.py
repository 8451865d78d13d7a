"""The second opinion: whether the design does what it claims, and what would strain it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from ui import cached, words
from ui.markup import safe, table

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.cached import Curves
    from ui.state import State


def draw(state: State, found: Curves, choice: Choice) -> None:
    """Draw the verdict with its reason, and the hours by age, tier and strain as a table."""
    del found
    said = cached.opinion(state, choice)
    st.markdown(words.opinion(said.verdict))
    st.markdown(words.strain(said))
    with st.expander(words.OPINION_TABLE):
        rows = [
            [words.age(one), f"{one.shortest_hours:.1f}", safe(one.season), f"{one.start_hour}:00"]
            for one in said.ages
        ]
        st.markdown(table(words.AGE_COLUMNS, rows, "lrll"))
        tiers = [
            [
                words.tier(one.tier, counted=one.counted),
                f"{one.hours_with:.1f}",
                words.capped(one.hours_without, said.horizon_hours),
            ]
            for one in said.tiers
        ]
        st.markdown(table(words.TIER_COLUMNS, tiers, "lrr"))
