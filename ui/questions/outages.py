"""How the grid fails: a log, a list of how long and how often, or cuts at fixed hours.

To look at another form changes nothing: it counts once something stands in it, and what stood in
the others comes back with them.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.inputs import log_table, raw_table
from optimizer.inputs.cells import CellError, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.typed import typed_number
from optimizer.inputs.typed_log import log_text, typed_log
from ui import words
from ui.apart import read_apart
from ui.bound import bound, choice, entry, wrong
from ui.fields import Number, number, on_screen
from ui.language import writer
from ui.look import prose
from ui.markup import safe
from ui.typed_rows import number_rows
from ui.uploads import uploader

if TYPE_CHECKING:
    from optimizer.inputs import Draft, RawTable
    from ui.state import Change, State

_LOG_YEARS: Final = Number("outages", "log_years")
_DAYS: Final = columns_of(SECTIONS["outages"])["days_per_year"]


def draw(state: State) -> None:
    """Draw the question."""
    counted = _form(state.draft)
    state.parked[counted] = state.draft
    form = state.form or counted
    choice(words.OUTAGES_FORM, "outages form", words.FORMS, form, partial(_look, state))
    if form != counted:
        write = writer(state.job.site.currency)
        st.caption(safe(words.still_counted(write, words.FORMS[counted])))
    {"log": _log, "typed": _typed, "daily": _daily}[form](state)


def _form(draft: Draft) -> str:
    held = draft.site.get("outages", {})
    return next((form for form in ("typed", "daily") if form in held), "log")


def _look(state: State, form: str) -> None:
    """Look at another form; what stood in it counts again."""
    state.form = form
    if form in state.parked:
        held = state.parked[form]
        state.change(_with(state.draft, held.site["outages"], held.tables.get("outages")))
        state.refresh()
        state.form = form


def _with(draft: Draft, section: dict[str, Any], log: RawTable | None = None) -> Draft:
    return draft.with_section("outages", section).with_table("outages", log)


def _log(state: State) -> None:
    outages = state.job.outages
    is_counted = "outages" in state.draft.tables and bool(outages.log)
    if is_counted:
        prose(words.log_summary(writer(state.job.site.currency), outages))

    def change(typed: str) -> Change:
        return lambda draft: _as_log(draft, typed_log(typed))

    rows = state.draft.tables["outages"].rows[1:] if is_counted else ()
    entry(
        state,
        words.LOG_TYPED,
        "outages.log",
        log_text(rows),
        change,
        draw=st.text_area,
        height=180,
        help=words.LOG_TYPED_HELP,
    )
    if is_counted:
        number(state, _LOG_YEARS, width=260)
    uploader(
        state,
        "log",
        words.LOG_FILE,
        ["csv", "xlsx"],
        lambda files: _take_file(state, *files[0]),
    )


def _as_log(draft: Draft, table: RawTable) -> Draft:
    held = draft.site.get("outages", {})
    return _with(draft, {"log_years": held.get("log_years", 1)}, table)


def _take_file(state: State, name: str, raw: bytes) -> None:
    draft = _as_log(state.draft, read_apart(name, raw, raw_table, name, raw))
    log = draft.job().outages.log
    state.change(draft.with_table("outages", log_table(log)), words.UNDO_FILE)
    state.refresh()


def _typed(state: State) -> None:
    st.caption(words.TYPED_HELP)

    def put(draft: Draft, rows: list[list[float]]) -> Draft:
        if not rows:
            raise CellError(words.NEEDED)
        return _with(draft, {"typed": rows})

    held = state.draft.site["outages"].get("typed", ())
    number_rows(state, "outages.typed", words.HOURS_TIMES, held, put)


def _daily(state: State) -> None:
    """Draw cuts and days: both make the form, so neither counts without the other."""
    held = state.draft.site["outages"]
    days = on_screen(_DAYS, held.get("days_per_year"))
    texts = state.rows.setdefault("outages.daily", [["; ".join(held.get("daily", ())), days]])[0]

    def take(place: int, typed: str) -> None:
        texts[place] = typed.strip()
        cuts, days = texts
        state.offer("outages.daily", list(texts), lambda draft: _cut(draft, cuts, days), words.CUTS)

    labels = (words.CUTS, f"{words.FIELDS['days_per_year']}, {_DAYS.unit}")
    helps = (words.CUTS_HELP, None)
    for place, column in enumerate(st.columns([3, 1])):
        with column:
            key = f"outages.daily {state.generation} {place}"
            bound(st.text_input, labels[place], key, texts[place], partial(take, place),
                  help=helps[place])  # fmt: skip
    wrong(state, "outages.daily")


def _cut(draft: Draft, cuts: str, days: str) -> Draft:
    for label, text in ((words.CUTS, cuts), (words.FIELDS["days_per_year"], days)):
        if not text:
            raise CellError(label)
    windows(cuts)
    parts = [piece.strip() for piece in cuts.split(";")]
    return _with(draft, {"daily": parts, "days_per_year": typed_number(days, _DAYS)})
