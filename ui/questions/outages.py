"""How the grid fails: a log, a list of how long and how often, or cuts at fixed hours.

To look at another form changes nothing: it counts once something stands in it, and what stood in
the others comes back with them.
"""

from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer.inputs.cells import CellError, windows
from optimizer.inputs.draft import Draft, RawTable, log_table, raw_table
from optimizer.inputs.typed import typed_number
from optimizer.inputs.typed_log import log_text, typed_log
from ui import words
from ui.apart import read_apart
from ui.bound import bound, entry, side_by_side, wrong
from ui.fields import facts_of, field, number_rows, on_screen
from ui.look import prose, safe
from ui.state import State
from ui.transfer import File, uploader

_DAYS: Final = facts_of("days_per_year")


def draw(state: State) -> None:
    """Draw the question."""
    counted = _form(state.draft)
    state.parked[counted] = state.draft
    form = state.form or counted
    looking = partial(_look, state)
    bound(side_by_side, words.OUTAGES_FORM, "outages form", form, looking, names=words.FORMS)
    if form != counted:
        st.caption(safe(words.still_counted(state.write, words.FORMS[counted])))
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
        prose(words.log_summary(state.write, outages))
    rows = state.draft.tables["outages"].rows[1:] if is_counted else ()
    entry(
        state,
        words.LOG_TYPED,
        "outages.log",
        log_text(rows),
        lambda draft, typed: _as_log(draft, typed_log(typed)),
        draw=st.text_area,
        height=180,
        help=words.LOG_TYPED_HELP,
    )
    if is_counted:
        field(state, "log_years", width=260)
    uploader(state, "log", words.LOG_FILE, ["csv", "xlsx"], partial(_take_file, state))


def _as_log(draft: Draft, table: RawTable) -> Draft:
    held = draft.site.get("outages", {})
    return _with(draft, {"log_years": held.get("log_years", 1)}, table)


def _take_file(state: State, file: File) -> None:
    draft = _as_log(state.draft, read_apart(file, raw_table, *file))
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
        state.offer("outages.daily", list(texts), _cut, words.CUTS)

    labels = (words.CUTS, f"{words.FIELDS['days_per_year']}, {_DAYS.unit}")
    helps = (words.CUTS_HELP, None)
    for place, column in enumerate(st.columns([3, 1])):
        with column:
            key = f"outages.daily {state.generation} {place}"
            bound(st.text_input, labels[place], key, texts[place], partial(take, place),
                  help=helps[place])  # fmt: skip
    wrong(state, "outages.daily")


def _cut(draft: Draft, texts: list[str]) -> Draft:
    cuts, days = texts
    for label, text in ((words.CUTS, cuts), (words.FIELDS["days_per_year"], days)):
        if not text:
            raise CellError(label)
    windows(cuts)
    parts = [piece.strip() for piece in cuts.split(";")]
    return _with(draft, {"daily": parts, "days_per_year": typed_number(days, _DAYS)})
