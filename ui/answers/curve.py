"""The curve, and what a person sets on it: target, budgets, which money, a point."""

from dataclasses import replace
from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer.answers.curve import Cost
from optimizer.model.design import Design
from optimizer.report.charts.curve import PICK, CurvePicture, curve_chart
from optimizer.report.grids.curve import file
from ui import words
from ui.bound import bound, side_by_side
from ui.cached import Curves
from ui.fields import facts_of, field, told
from ui.language import writer
from ui.look import canvas, part, safe, spec, tables
from ui.state import State

_HEIGHT_PX: Final = 305


def picture(state: State, found: Curves, chosen: Design | None) -> CurvePicture:
    """Return what the curve's chart draws."""
    site = state.job.site
    return CurvePicture(
        found.overall,
        found.families,
        target_hours=site.target_hours,
        budget=site.budget,
        lifetime_budget=site.lifetime_budget,
        nothing=found.nothing.life_cycle_cost,
        chosen=() if chosen is None else (chosen,),
        kept=state.kept,
    )


def draw(state: State, found: Curves, chosen: Design | None, *, old: bool) -> None:
    """Draw the curve; dimmed where it is ``old``, the answer to an earlier job."""
    write = state.write
    st.header(words.CURVE)
    if not found.overall.points:
        st.warning(words.CURVE_EMPTY)
        return
    if old:
        st.caption(words.CURVE_OLD)
    with st.container(key="curve_old" if old else "curve"):
        drawn_on = canvas(write, height=_HEIGHT_PX)
        drawn = curve_chart(picture(state, found, chosen), drawn_on)
        st.vega_lite_chart(
            spec(drawn),
            theme=None,
            width="stretch",
            key="curve_chart",
            on_select=lambda: _pick(state),
            selection_mode=PICK,
            alt=words.curve_aloud(write, found.overall),
        )
    st.caption(safe(f"{words.curve(write, state.job.site)} {words.nothing(write, found.nothing)}"))


def _pick(state: State) -> None:
    """Take the point that was clicked."""
    event: Any = st.session_state.get("curve_chart")
    picked = event["selection"].get(PICK) if event else None
    if picked:
        state.picked = str(picked[0]["id"])


def controls(state: State) -> None:
    """Draw what is set on the curve."""
    site = state.job.site

    def show(cost: Cost) -> None:
        state.cost, state.picked = cost, None

    with st.container(key="controls", horizontal=True):
        bound(
            st.slider,
            words.TARGET_DRAG,
            "target drag",
            site.target_hours,
            partial(state.set_key, "resilience", "target_hours"),
            min_value=1,
            max_value=max(2, site.max_hours),
            step=1,
            help=told(facts_of("target_hours").help),
            format="%d h",
            width=290,
        )
        bound(
            side_by_side,
            words.HOW_MONEY,
            "cost",
            state.cost,
            show,
            names=words.COSTS,
            help=words.HOW_MONEY_HELP,
        )
        field(state, "lifetime_budget", width=185)


@st.fragment
def as_table(found: Curves) -> None:
    """Draw the curve's points as a table, once it is opened: it is long."""
    if found.overall.points:
        part(words.CURVE_TABLE, partial(_table, found))


def _table(found: Curves) -> None:
    write = writer(found.job.site.currency)
    grid = file(write, found.overall, found.families)
    rows = [[words.curve_name(write, str(row[0])), *row[1:]] for row in grid.rows]
    tables(write, replace(grid, rows=rows))
