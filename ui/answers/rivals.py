"""Lead-acid or lithium: who wins, why, at which value that changes, what is paid by when."""

from typing import Final

import streamlit as st

from optimizer import NoDesignError, switch_points
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.switch_points import SwitchPoints
from optimizer.report.charts.paid import paid_chart
from optimizer.report.grids import comparison as sides
from optimizer.report.grids import switch_points as grids
from optimizer.report.words import comparison as sentences
from optimizer.report.words.charts import paid_heading
from optimizer.report.words.switch_points import turning
from ui import cached
from ui.answers import rivals_further
from ui.answers.asking import asked, picture
from ui.cached import Answer
from ui.look import points, prose, safe, tables
from ui.state import State
from ui.words import rivals as said

_HEIGHT_PX: Final = 240


def heading(state: State) -> str:
    """Return the question that the section answers."""
    return safe(said.heading(state.write, state.job.catalog.families))


def draw(state: State, answer: Answer | None) -> None:
    """Draw the section for the hours asked, or those of the point clicked."""
    hours, found = state.job.site.target_hours, None
    if answer is not None:
        hours = answer.hours
        compared = cached.comparison(state, hours, by_chemistry=True)
        found = None if isinstance(compared, NoDesignError) else compared
    if found is None:
        st.markdown(said.NOTHING_FITS)
    else:
        _compared(state, found)
    rivals_further.draw(state, hours, found)


def _compared(state: State, found: Comparison) -> None:
    """Draw who wins and why, when that changes, what is paid by when, both side by side."""
    write = state.write
    st.markdown(f"**{safe(sentences.verdict(write, found))}**")
    reasons = [*sentences.reasons(write, found), sentences.catch_up(write, found)]
    prose(*reasons, sentences.missing(write, found) if found.missing else "")
    left, right = st.columns([11, 10], gap="large")
    with left:
        st.markdown(f"### {said.SWITCH_POINTS}")
        every = _switch_points(state, found)
        st.markdown(f"### {said.PAID}")
        st.caption(safe(paid_heading(write, found)[1]))
        picture(
            write,
            "paid",
            lambda canvas: paid_chart(found, canvas, named=canvas.alone),
            said.PAID_ALT,
            height=_HEIGHT_PX,
        )
    with right:
        tables(write, sides.side_by_side(write, found.alternatives))
    # too wide for half the page
    if any(one.points for one in every):
        ranges = grids.switch_points(write, every).only("parameter", "range", "proof")
        tables(write, grids.neighbours(write, every), ranges, folded=said.SWITCH_POINT_SIDES)
    for grid in (sides.paid(write, found), sides.chemistries(write, found)):
        tables(write, grid, folded=grid.title)


def _switch_points(state: State, found: Comparison) -> tuple[SwitchPoints, ...]:
    """Draw at which values the winner changes: prices at once, all numbers when asked for.

    Returns what was found along all numbers, nothing where they were not asked for.
    """
    families = state.job.catalog.families
    if len(families) == 1:
        st.markdown(said.ONE_FAMILY)
        return ()
    first, place = st.container(), st.container()
    with place:
        every = asked(
            state,
            "switch_points",
            lambda step: switch_points(state.job, found.hours, processes=1, progress=step).rows,
            found.hours,
            label=said.SWITCH_POINTS_ALL,
            hint=said.SWITCH_POINTS_ALL_HELP,
        )
    prices = [f"price:{family}" for family in families]
    found_points = every or cached.remembered(
        state,
        lambda: switch_points(state.job, found.hours, keys=prices, processes=1).rows,
        "price switch points",
        found.hours,
        cached.fingerprint(state.good),
    )
    with first:
        points(turning(state.write, found_points))
        grid = grids.switch_points(state.write, found_points)
        tables(state.write, grid.only("parameter", "now", "winner"))
    return every or ()
