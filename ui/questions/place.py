"""Where the equipment will stand: temperatures, air, wiring, and what the place limits."""

from functools import partial

import streamlit as st

from optimizer.inputs.draft import Draft
from ui import words
from ui.bound import bound
from ui.fields import cell, facts_of, field, fields, value
from ui.language import PLAIN
from ui.state import State


def draw(state: State) -> None:
    """Draw the question."""
    fields(state, "min_degc", "mean_degc", "max_degc")
    field(state, "vented_allowed")
    with st.expander(words.FINER):
        pieces = ("battery_cable_m", "max_drop", "max_bank_kg", "max_parallel")
        fields(state, *pieces, columns=2)
        field(state, "voltages", [12, 24, 48])
        catalog = state.job.catalog
        names = [
            *dict.fromkeys(battery.chemistry for battery in catalog.batteries),
            *(battery.battery for battery in catalog.batteries),
            *(inverter.inverter for inverter in catalog.inverters),
        ]
        field(state, "exclude", names)
        _months(state)


def _months(state: State) -> None:
    """Draw the temperatures month by month, where they are given."""
    held = value(state, "monthly_degc")
    mean = float(value(state, "mean_degc") or 0.0)

    def switch(wanted: bool) -> None:
        state.set_key("battery_room", "monthly_degc", [mean] * 12 if wanted else None)
        state.refresh()

    bound(st.checkbox, words.MONTHLY, "monthly", held is not None, switch)
    if held is None:
        return
    names = PLAIN.locale.months["format"]["abbreviated"]
    facts = facts_of("min_degc")

    def put(month: int, draft: Draft, degc: float | None) -> Draft:
        degrees = [*held[:month], degc, *held[month + 1 :]]
        return draft.with_site("battery_room", "monthly_degc", degrees)

    with st.container(horizontal=True):
        for month, degc in enumerate(held):
            cell(
                state,
                facts,
                names[month + 1],
                f"monthly {month}",
                held=degc,
                put=partial(put, month),
                width=110,
            )
