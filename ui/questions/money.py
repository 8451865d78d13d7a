"""What money costs: the horizon, the rate, the tariff, tax, and what is left at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import streamlit as st

from ui import words
from ui.fields import Number, number, text

if TYPE_CHECKING:
    from ui.state import State

_FIRST: Final = (
    Number("economics", "horizon_years", 1, 40, whole=True),
    Number("economics", "discount_rate", -4.9, 49, 0.5, scale=100),
    Number("economics", "tariff", 0, 100, 0.01, money=True),
    Number("economics", "tax_rate", 0, 100, 1, scale=100),
    Number("economics", "markup", 0, 100, 1, scale=100),
    Number("economics", "value_of_lost_load", 0, 10_000, 1, optional=True, money=True),
)
_FINER: Final = (
    Number("economics", "residual_share", 0, 100, 5, scale=100),
    Number("economics", "min_service_share", 0, 100, 5, scale=100),
    Number("economics", "inflation", -4.9, 49, 0.5, scale=100),
)


def draw(state: State) -> None:
    """Draw the question."""
    columns = st.columns(3)
    for place, spec in enumerate(_FIRST):
        with columns[place % 3]:
            number(state, spec)
    with st.expander(words.FINER):
        columns = st.columns(3)
        for place, spec in enumerate(_FINER):
            with columns[place % 3]:
                number(state, spec)
        with columns[0]:
            text(state, "site", "currency")
