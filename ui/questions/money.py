"""What money costs: study period, rate, tariff, tax, what may be paid, what is left at the end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import streamlit as st

from ui import words
from ui.fields import Number, numbers, text

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
    Number("limits", "later_limit", 100, optional=True),
)


def draw(state: State) -> None:
    """Draw the question."""
    numbers(state, _FIRST)
    with st.expander(words.FINER):
        numbers(state, _FINER)
        text(state, "site", "currency")
