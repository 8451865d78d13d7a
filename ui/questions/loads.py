"""What must stay on: the table of loads, the tiers that count, the seasons."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.inputs import RawTable, load_rows, loads_table, raw_table, survey_rows
from optimizer.inputs.appliances import appliances, named
from optimizer.inputs.columns import columns_of
from optimizer.inputs.rows import LoadRow
from optimizer.model.job import LONGEST_HOURS
from optimizer.report.words.notes import second_source
from ui import words
from ui.apart import read_apart
from ui.bound import bound
from ui.editing import editor
from ui.fields import Number, numbers, several, told, value
from ui.language import writer
from ui.markup import safe
from ui.uploads import uploader

if TYPE_CHECKING:
    from ui.editing import Rows
    from ui.state import State

_USUAL_TIERS: Final = ("essential", "useful", "comfort")
_PERCENT: Final = 100.0
_DIGITS: Final = 12
_FINER: Final = (
    Number("resilience", "load_growth", 0.5),
    Number("resilience", "coincidence", 5),
    Number("resilience", "design_margin", 5),
    Number("resilience", "max_hours", 6),
    Number("resilience", "recharge_hours"),
    Number("resilience", "reference_efficiency"),
)


def draw(state: State) -> None:
    """Draw the question."""
    rows = survey_rows(state.draft.tables.get("loads", RawTable("loads", ())))
    tiers = list(dict.fromkeys([*(row["tier"] for row in rows if row["tier"]), *_USUAL_TIERS]))
    _adding(state, rows)
    st.caption(words.LOADS_HELP)
    editor(
        state,
        "loads",
        [_shown(row) for row in rows],
        _columns(tiers),
        lambda new: _take(state, new),
    )
    critical = [row["load"] for row in rows if row["critical"]]
    if critical:
        st.warning(safe(second_source(writer(state.job.site.currency), critical)))
    several(state, "resilience", "tiers", [t for t in tiers if any(r["tier"] == t for r in rows)])
    with st.expander(words.FINER):
        numbers(state, _FINER)
        _tier_hours(state)
        _seasons(state)
        uploader(
            state,
            "loads",
            words.LOADS_FILE,
            ["csv", "xlsx"],
            lambda files: _take_file(state, *files[0]),
        )


def _adding(state: State, rows: Rows) -> None:
    """Draw the choice of common appliances, and add the one chosen."""
    listed, write = appliances(), writer(state.job.site.currency)
    sources = "\n\n".join(f"{one.name}: {one.source}." for one in listed)
    pick, add = st.columns([4, 1], vertical_alignment="bottom")
    chosen = pick.selectbox(
        words.APPLIANCE,
        range(len(listed)),
        index=None,
        format_func=lambda place: words.appliance(write, listed[place].name, listed[place].row),
        placeholder=words.APPLIANCE_PICK,
        key="appliance",
        help=f"{words.APPLIANCE_HELP}\n\n{sources}",
    )

    def put() -> None:
        place = st.session_state["appliance"]
        if place is not None:
            row = dict(listed[place].row)
            row["load"] = named(rows, row["load"])
            state.set_table("loads", loads_table([*rows, row]))
            state.refresh()
            st.session_state["appliance"] = None

    add.button(words.ADD, on_click=put, disabled=chosen is None, width="stretch")


def _columns(tiers: list[str]) -> dict[str, Any]:
    """Return how the columns are typed into; what may stand in them is checked by the library."""
    kinds: dict[str, Any] = {
        "load": (st.column_config.TextColumn, {"width": "medium"}),
        "tier": (st.column_config.SelectboxColumn, {"options": tiers, "default": tiers[0]}),
        "count": (st.column_config.NumberColumn, {"min_value": 1, "step": 1, "default": 1}),
        "running_w": (st.column_config.NumberColumn, {"min_value": 0.0, "format": "localized"}),
        "starting_w": (st.column_config.NumberColumn, {"min_value": 0.0, "format": "localized"}),
        "duty": (
            st.column_config.NumberColumn,
            {"min_value": 0.0, "max_value": 100.0, "default": 100.0, "format": "%g"},
        ),
        "hours": (st.column_config.TextColumn, {"default": "0:00-24:00"}),
        "power_factor": (
            st.column_config.NumberColumn,
            {"min_value": 0.01, "max_value": 1.0, "default": 0.9, "format": "%g"},
        ),
        "seasons": (st.column_config.TextColumn, {}),
        "critical": (st.column_config.CheckboxColumn, {"default": False}),
        "never_off": (st.column_config.CheckboxColumn, {"default": False}),
        "with": (st.column_config.TextColumn, {}),
    }
    facts = columns_of(LoadRow)
    return {
        name: make(words.COLUMNS[name], help=told(facts[name].told), **settings)
        for name, (make, settings) in kinds.items()
    }


def _shown(row: dict[str, Any]) -> dict[str, Any]:
    """Return a row as the screen shows it: duty in percent."""
    duty = row["duty"]
    return {**row, "duty": None if duty is None else round(duty * _PERCENT, _DIGITS)}


def _take(state: State, rows: Rows) -> None:
    held = [
        {**row, "duty": row["duty"] if row["duty"] is None else round(row["duty"] / 100, _DIGITS)}
        for row in rows
    ]
    state.set_table("loads", loads_table(held))


def _take_file(state: State, name: str, raw: bytes) -> None:
    draft = state.draft.with_table("loads", read_apart(name, raw, raw_table, name, raw))
    loads = draft.job().loads
    state.replace(draft.with_table("loads", loads_table(load_rows(loads))), tuple(state.kept))


def _tier_hours(state: State) -> None:
    """Draw after how many hours each tier is let go."""
    held = dict(value(state, "resilience", "tier_hours") or {})
    tiers = list(state.draft.site.get("resilience", {}).get("tiers", ()))
    st.caption(words.TIER_HOURS)

    def take(tier: str, hours: int | None) -> None:
        kept = {**held, tier: hours}
        kept = {name: after for name, after in kept.items() if after is not None}
        state.set_key("resilience", "tier_hours", kept or None)

    with st.container(key="tier_hours", horizontal=True):
        for tier in tiers:
            bound(
                st.number_input,
                f"{safe(tier)}, h",
                f"tier_hours {tier}",
                held.get(tier),
                partial(take, tier),
                min_value=1,
                max_value=LONGEST_HOURS,
                value=None,
                step=1,
                placeholder=words.NO_LIMIT,
                width=150,
            )


def _seasons(state: State) -> None:
    """Draw the seasons and their months."""
    held = state.draft.site.get("seasons") or {"year": list(range(1, 13))}
    rows: Rows = [
        {"season": name, "months": ", ".join(map(str, months))} for name, months in held.items()
    ]
    st.caption(words.SEASONS_HELP)
    config = {
        "season": st.column_config.TextColumn(words.SEASON),
        "months": st.column_config.TextColumn(words.MONTHS),
    }
    editor(state, "seasons", rows, config, lambda new: _take_seasons(state, new))


def _take_seasons(state: State, rows: Rows) -> None:
    seasons = {str(row["season"] or ""): _months(str(row["months"] or "")) for row in rows}
    state.change(state.draft.with_section("seasons", seasons))


def _months(text: str) -> list[int | str]:
    """Return the months typed; what is no number stays as it is, for the message."""
    pieces = [piece.strip() for piece in text.replace(";", ",").split(",") if piece.strip()]
    return [int(piece) if piece.isdecimal() else piece for piece in pieces]
