"""What must stay on: the loads one at a time, the tiers that count, the seasons."""

from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer.answers.site_survey import survey
from optimizer.inputs.appliances import appliances, named, with_figures_of
from optimizer.inputs.cells import CellError, window_text, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.draft import (
    Draft,
    RawTable,
    load_rows,
    loads_table,
    raw_table,
    survey_rows,
)
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.typed import WHOLE_DAY, is_average, typed_hours, typed_number
from optimizer.model.phrase import Phrase
from optimizer.report.grids.survey import each_load
from optimizer.report.words.notes import second_source
from ui import words
from ui.apart import read_apart
from ui.bound import bound, entry, now, offering
from ui.fields import cell, field, fields, on_screen, told, unit_of
from ui.language import PLAIN
from ui.look import safe, tables
from ui.questions.seasons import seasons, tier_hours
from ui.state import Put, State
from ui.transfer import File, uploader

Row = dict[str, Any]

_USUAL_TIERS: Final = ("essential", "useful", "comfort")
_FACTS: Final = columns_of(LoadRow)
#: A load of one's own begins like this; its name and watts are to be typed.
_OWN: Final = {
    "tier": _USUAL_TIERS[0],
    "count": 1,
    "running_w": 100.0,
    "power_factor": 0.9,
    "starting_w": None,
    "hours": WHOLE_DAY,
    "duty": 1.0,
    "seasons": "",
}
#: More loads than these are chosen from a list.
_SIDE_BY_SIDE: Final = 16
_FINER: Final = (
    "load_growth",
    "coincidence",
    "design_margin",
    "max_hours",
    "recharge_hours",
    "reference_efficiency",
)


def draw(state: State) -> None:
    """Draw the question."""
    rows = _rows(state.draft)
    tiers = list(dict.fromkeys([*(row["tier"] for row in rows if row["tier"]), *_USUAL_TIERS]))
    _adding(state)
    number_of = {row["load"]: place for place, row in enumerate(rows)}
    chosen = str(state.load if state.load in number_of else rows[0]["load"])

    choose: Any = st.pills if len(rows) <= _SIDE_BY_SIDE else st.selectbox
    bound(
        choose,
        words.WHICH_LOAD,
        f"load {state.generation}",
        chosen,
        partial(setattr, state, "load"),
        options=list(number_of),
        format_func=safe,
    )
    critical = [row["load"] for row in rows if row["critical"]]
    if critical and not state.started:  # else it stands right above
        st.warning(safe(second_source(state.write, critical)))
    found = survey(state.job)
    with st.container(key="load_open"):
        _load(state, rows, number_of[chosen], tiers)
        st.markdown(safe(words.load_day(state.write, rows[number_of[chosen]], found)))
    with st.container(key="wide-loads"):
        tables(state.write, each_load(state.write, state.job.loads, found))
    field(state, "tiers", [t for t in tiers if any(r["tier"] == t for r in rows)])
    with st.expander(words.FINER):
        fields(state, *_FINER)
        field(state, "beyond_max_hours")
        tier_hours(state)
        seasons(state)
        uploader(state, "loads", words.LOADS_FILE, ["csv", "xlsx"], partial(_take_file, state))


def _rows(draft: Draft) -> list[Row]:
    return survey_rows(draft.tables.get("loads", RawTable("loads", ())))


def _with(draft: Draft, rows: list[Row]) -> Draft:
    """Return the draft with these loads; tiers that no load has any longer drop out."""
    if not rows:
        raise CellError(Phrase("at least one load"))
    there = list(dict.fromkeys(str(row["tier"]) for row in rows))
    held = draft.site.get("resilience", {})
    kept = [tier for tier in held.get("tiers", ()) if tier in there] or there
    hours = {tier: h for tier, h in held.get("tier_hours", {}).items() if tier in kept}
    return (
        draft.with_table("loads", loads_table(rows))
        .with_site("resilience", "tiers", kept)
        .with_site("resilience", "tier_hours", hours or None)
    )


def _adding(state: State) -> None:
    """Draw common appliances group by group, and add the one chosen, or one's own."""
    listed = appliances()

    def add(row: Row) -> None:
        rows = _rows(state.draft)  # of now: what was drawn may be older than what was typed
        tiers = state.draft.site["resilience"]["tiers"]  # what is added here must stay on
        tier = row["tier"] if row["tier"] in tiers else tiers[0]
        _added(state, rows, {**row, "tier": tier})

    def put() -> None:
        place = now("appliance")
        if place is not None:
            add(listed[place].row)
            st.session_state["appliance"] = None

    group = st.pills(words.APPLIANCE, key="appliance group", **offering(words.GROUPS))
    if group is not None:
        offered = {
            place: safe(words.appliance(state.write, one))
            for place, one in enumerate(listed)
            if one.group == group
        }
        st.pills(
            words.GROUPS[group],
            key="appliance",
            on_change=put,
            label_visibility="collapsed",
            **offering(offered),
        )
    st.button(words.ADD_OWN, on_click=add, args=({**_OWN, "load": words.NEW_LOAD},))


def _load(state: State, rows: list[Row], place: int, tiers: list[str]) -> None:
    """Draw one load as a form."""
    row = rows[place]

    def key(name: str) -> str:
        return f"load {state.generation} {place} {name}"

    def put(name: str, draft: Draft, typed: object) -> Draft:
        return _put(draft, place, {name: typed})

    def put_name(draft: Draft, typed: str) -> Draft:
        state.load = typed
        return put("load", draft, typed)

    def put_watts(draft: Draft, typed: str) -> Draft:
        changes: Row = {"running_w": typed_number(typed, _FACTS["running_w"], _rows(draft)[place])}
        if is_average(typed):  # an energy over a time is an average of the whole day
            changes |= {"hours": WHOLE_DAY, "duty": 1.0}
        return _put(draft, place, changes)

    def put_hours(draft: Draft, typed: str) -> Draft:
        hours, duty = typed_hours(typed)
        return _put(draft, place, {"hours": hours} | ({} if duty is None else {"duty": duty}))

    def text(name: str, width: int, put: Put, **settings: Any) -> None:  # noqa: ANN401 - the widget's own
        held = row[name] or (None if "draw" in settings else "")
        settings = {"help": told(_FACTS[name].told), **settings}
        entry(state, words.COLUMNS[name], key(name), held, put, width=width, **settings)

    def number(name: str, width: int, *, may_be_blank: bool = False, like: str = "") -> None:
        cell(
            state,
            _FACTS[name],
            words.COLUMNS[name],
            key(name),
            held=row[name],
            put=partial(put, name),
            row=lambda draft: _rows(draft)[place],
            may_be_blank=may_be_blank,
            placeholder=like or None,
            help=told(_FACTS[name].help),
            width=width,
        )

    with st.container(horizontal=True):
        text("load", 240, put_name, required=True)
        choose: Any = partial(st.selectbox, options=tiers, accept_new_options=True)
        text("tier", 150, partial(put, "tier"), draw=choose, help=None)
        number("count", 90)
        watts = _FACTS["running_w"]
        entry(
            state,
            f"{words.COLUMNS['running_w']}, {unit_of(watts, '')}",
            key("running_w"),
            on_screen(watts, row["running_w"]),
            put_watts,
            help=told(watts.help),
            width=120,
        )
        number("starting_w", 120, may_be_blank=True, like="=")
        text("hours", 190, put_hours, example=words.HOURS_HELP, help=words.HOURS_HELP)
        number("duty", 90)
    _drawn_hours(state, row, place)
    usual = with_figures_of(row)
    if usual is not None:
        st.caption(safe(words.usual_figures(PLAIN, usual)))
    with st.expander(words.PRICE_MORE), st.container(horizontal=True):
        number("power_factor", 110)
        text("seasons", 190, partial(put, "seasons"))
        others = [one["load"] for one in rows if one["load"] != row["load"]]
        choose = partial(st.selectbox, options=others, index=None, placeholder="–")
        text(
            "with",
            190,
            lambda draft, typed: put("with", draft, typed or ""),
            draw=choose,
            help=told(_FACTS["with"].help),
        )
    with st.container(horizontal=True, vertical_alignment="center"):
        _switches(state, rows, place)
    st.caption(words.NUMBERS_HELP)


def _switches(state: State, rows: list[Row], place: int) -> None:
    """Draw what a load is or is not, and what is done with it."""

    def tick(name: str, ticked: bool) -> None:
        state.change(_put(state.draft, place, {name: ticked}), words.COLUMNS[name])

    for name in ("critical", "never_off"):
        bound(
            st.checkbox,
            words.COLUMNS[name],
            f"load {state.generation} {place} {name}",
            bool(rows[place][name]),
            partial(tick, name),
            help=told(_FACTS[name].help),
        )
    st.button(words.COPY, on_click=_copy, args=(state, place))
    st.button(words.REMOVE, on_click=_remove, args=(state, place), disabled=len(rows) == 1)


def _put(draft: Draft, place: int, changes: Row) -> Draft:
    rows = _rows(draft)
    old = rows[place]["load"]
    rows[place].update(changes)
    for row in rows:  # what leans on a load follows its name
        if row["with"] == old:
            row["with"] = rows[place]["load"]
    return _with(draft, rows)


def _drawn_hours(state: State, row: Row, place: int) -> None:
    """Draw each window of the day; one past midnight from noon to noon, odd minutes not at all."""
    held = windows(row["hours"])

    def put(window: int, draft: Draft, ends: tuple[float, float]) -> Draft:
        text = "; ".join(map(window_text, (*held[:window], ends, *held[window + 1 :])))
        return _put(draft, place, {"hours": text})

    with st.container(horizontal=True):
        for window, ends in enumerate(held):
            noon = 12 if ends[1] > 24 else 0  # noqa: PLR2004 - hours of a day
            quarters = [noon + quarter / 4 for quarter in range(97)]
            if set(ends) <= set(quarters):
                entry(
                    state,
                    words.WINDOW,
                    f"load {state.generation} {place} hours {window} drawn",
                    ends,
                    partial(put, window),
                    draw=st.select_slider,
                    value=(quarters[0], quarters[-1]),
                    options=quarters,
                    format_func=partial(words.clock, PLAIN),
                    width=340,
                )


def _added(state: State, rows: list[Row], row: Row) -> None:
    """Add a load under a name that is free, and open it."""
    name = named(rows, row["load"])
    state.change(_with(state.draft, [*rows, {**row, "load": name}]), name)
    state.refresh()
    state.load = name


def _copy(state: State, place: int) -> None:
    rows = _rows(state.draft)
    _added(state, rows, rows[place])


def _remove(state: State, place: int) -> None:
    rows = _rows(state.draft)
    gone = rows.pop(place)["load"]
    rows = [{**row, "with": "" if row["with"] == gone else row["with"]} for row in rows]
    state.change(_with(state.draft, rows), gone)
    state.refresh()


def _take_file(state: State, file: File) -> None:
    draft = state.draft.with_table("loads", read_apart(file, raw_table, *file))
    rows = survey_rows(draft.tables["loads"])
    loads = _with(draft, rows).with_table("loads", draft.tables["loads"]).job().loads
    state.change(_with(state.draft, load_rows(loads)), words.UNDO_FILE)
    state.refresh()
