"""How the grid fails: a log, a list of how long and how often, or cuts at fixed hours."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.inputs import log_table, raw_table, window_text
from optimizer.report.grids.outages import logged
from ui import words
from ui.apart import read_apart
from ui.bound import choice
from ui.editing import editor, number_rows
from ui.fields import Number, number
from ui.language import writer
from ui.look import prose, tables
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
    choice(
        words.OUTAGES_FORM, "outages form", words.FORMS, form, lambda new: _switch(state, str(new))
    )
    if form == "log":
        _log(state)
    elif form == "typed":
        st.caption(words.TYPED_HELP)
        number_rows(state, "outages", "typed", words.HOURS_TIMES)
    else:
        _daily(state)


def _form(draft: Draft) -> str:
    held = draft.site.get("outages", {})
    return next((form for form in ("typed", "daily") if form in held), "log")


def _switch(state: State, form: str) -> None:
    """Go over to another form, starting from what is known of the outages."""
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
    outages = state.job.outages
    if "outages" in state.draft.tables and outages.log:
        write = writer(state.job.site.currency)
        prose(words.log_summary(write, outages))
        number(state, _LOG_YEARS, width=260)
        tables(write, logged(write, outages.log), folded=words.LOG_SHOW)
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
    draft = state.draft.with_table("outages", read_apart(name, raw, raw_table, name, raw))
    held = state.draft.site.get("outages", {})
    draft = draft.with_section("outages", {"log_years": held.get("log_years", 1)})
    log = draft.job().outages.log
    state.replace(draft.with_table("outages", log_table(log)), tuple(state.kept))


def _daily(state: State) -> None:
    rows: Rows = [{"cut": cut} for cut in state.draft.site["outages"]["daily"]]
    st.caption(words.DAILY_HELP)
    config = {"cut": st.column_config.TextColumn(words.CUT, required=True)}
    editor(
        state,
        "daily",
        rows,
        config,
        lambda new: state.set_key("outages", "daily", [str(row["cut"] or "") for row in new]),
    )
    number(state, _DAYS, width=260)
