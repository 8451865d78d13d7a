"""What money costs: the horizon, the rate, the tariff, tax, and what is left at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import streamlit as st

from ui import words
from ui.fields import Number, number, text

if TYPE_CHECKING:
    from ui.state import State

_FIRST: Final = (
    Number("economics", "horizon_years"),
    Number("economics", "discount_rate", 0.5),
    Number("economics", "tariff", 0.01),
    Number("economics", "tax_rate"),
    Number("economics", "markup"),
    Number("economics", "value_of_lost_load", optional=True),
)
_FINER: Final = (
    Number("economics", "residual_share", 5),
    Number("economics", "min_service_share", 5),
    Number("economics", "inflation", 0.5),
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
