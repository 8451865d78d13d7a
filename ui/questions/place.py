"""Where the equipment will stand: temperatures, air, wiring, and what the place limits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import streamlit as st

from ui import words
from ui.fields import Number, number, several, switch

if TYPE_CHECKING:
    from ui.state import State

_TEMPERATURES: Final = (
    Number("battery_room", "min_degc"),
    Number("battery_room", "mean_degc"),
    Number("battery_room", "max_degc"),
)
_FINER: Final = (
    Number("wiring", "battery_cable_m", 0.5),
    Number("wiring", "max_drop", 0.5),
    Number("limits", "max_bank_kg", 50, optional=True),
    Number("limits", "max_parallel", optional=True),
)
_VOLTAGES: Final = [12, 24, 48]


def draw(state: State) -> None:
    """Draw the question."""
    for column, spec in zip(st.columns(3), _TEMPERATURES, strict=True):
        with column:
            number(state, spec)
    switch(state, "battery_room", "vented_allowed")
    with st.expander(words.FINER):
        columns = st.columns(2)
        for place, spec in enumerate(_FINER):
            with columns[place % 2]:
                number(state, spec)
        several(state, "limits", "voltages", _VOLTAGES)
        catalog = state.job.catalog
        names = [
            *dict.fromkeys(battery.chemistry for battery in catalog.batteries),
            *(battery.battery for battery in catalog.batteries),
            *(inverter.inverter for inverter in catalog.inverters),
        ]
        several(state, "limits", "exclude", names)
