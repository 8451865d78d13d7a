"""How the grid fails: a log, a list of how long and how often, or cuts at fixed hours."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.inputs import log_table, raw_table, window_text
from ui import words
from ui.editing import editor
from ui.fields import Number, number
from ui.markup import table
from ui.uploads import uploader

if TYPE_CHECKING:
    from optimizer.inputs import Draft
    from ui.editing import Rows
    from ui.state import State

_LOG_YEARS: Final = Number("outages", "log_years")
_DAYS: Final = Number("outages", "days_per_year", 5)
#: What stands there when cuts are typed for the first time.
_FIRST_CUT, _FIRST_DAYS = "18:00-20:00", 300


def draw(state: State) -> None:
    """Draw the question."""
    form = _form(state.draft)
    st.session_state["outages form"] = form
    st.segmented_control(
        words.OUTAGES_FORM,
        list(words.FORMS),
        format_func=words.FORMS.__getitem__,
        key="outages form",
        required=True,
        on_change=_switch,
        args=(state,),
    )
    if form == "log":
        _log(state)
    elif form == "typed":
        _typed(state)
    else:
        _daily(state)


def _form(draft: Draft) -> str:
    held = draft.site.get("outages", {})
    return next((form for form in ("typed", "daily") if form in held), "log")


def _switch(state: State) -> None:
    """Go over to another form, starting from what is known of the outages."""
    form = st.session_state["outages form"]
    outages = state.job.outages
    draft = state.draft.with_table("outages", None)
    if form == "typed":
        times = sum(times for _, times in outages.yearly)
        hours = sum(hours * times for hours, times in outages.yearly)
        section: dict[str, Any] = {"typed": [[round(hours / times, 2), round(times, 2)]]}
    elif form == "daily":
        cuts = [window_text(window) for window in outages.daily] or [_FIRST_CUT]
        section = {"daily": cuts, "days_per_year": outages.days_per_year or _FIRST_DAYS}
    else:
        section = {"log_years": outages.log_years or 1}
        if outages.log:
            draft = draft.with_table("outages", log_table(outages.log))
    state.change(draft.with_section("outages", section))
    state.refresh()


def _log(state: State) -> None:
    log = state.job.outages.log
    if "outages" in state.draft.tables and log:
        longest = max(outage.hours for outage in log)
        st.markdown(words.log_summary(len(log), state.job.outages.log_years, longest))
        number(state, _LOG_YEARS, width=260)
        with st.expander(words.LOG_SHOW):
            rows = [
                [f"{one.start:%Y-%m-%d %H:%M}", f"{one.end:%Y-%m-%d %H:%M}", f"{one.hours:.1f}"]
                for one in log
            ]
            st.markdown(table(words.LOG_COLUMNS, rows, "llr"))
    else:
        st.markdown(words.LOG_NONE)
        number(state, _LOG_YEARS, width=260)
    uploader(
        state,
        "log",
        words.LOG_FILE,
        ["csv", "xlsx"],
        lambda files: _take_log(state, *files[0]),
    )


def _take_log(state: State, name: str, raw: bytes) -> None:
    draft = state.draft.with_table("outages", raw_table(name, raw))
    held = state.draft.site.get("outages", {})
    draft = draft.with_section("outages", {"log_years": held.get("log_years", 1)})
    log = draft.job().outages.log
    state.replace(draft.with_table("outages", log_table(log)), tuple(state.kept))


def _typed(state: State) -> None:
    rows: Rows = [
        {"hours": row[0], "times": row[1]} for row in state.draft.site["outages"]["typed"]
    ]
    column = st.column_config.NumberColumn
    config = {
        "hours": column(words.TYPED_HOURS, min_value=0.0, format="%g", required=True),
        "times": column(words.TYPED_TIMES, min_value=0.0, format="%g", required=True),
    }
    st.caption(words.TYPED_HELP)
    editor(
        state,
        "typed",
        rows,
        config,
        lambda new: state.set_key(
            "outages", "typed", [[row["hours"] or 0.0, row["times"] or 0.0] for row in new]
        ),
    )


def _daily(state: State) -> None:
    rows: Rows = [{"cut": cut} for cut in state.draft.site["outages"]["daily"]]
    st.caption(words.DAILY_HELP)
    config = {"cut": st.column_config.TextColumn(words.DAILY_CUT, required=True)}
    editor(
        state,
        "daily",
        rows,
        config,
        lambda new: state.set_key("outages", "daily", [str(row["cut"] or "") for row in new]),
    )
    number(state, _DAYS, width=260)
