"""Looking further, one question at a time: two numbers at once, doubts, budgets, tiers."""

from functools import partial
from typing import Final

import streamlit as st

from optimizer import break_even_line, regret, sensitivities, staircase, tiers
from optimizer.comparison.parameters import Kind, parameters_of
from optimizer.comparison.regrets import Regret
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.model.progress import Progress
from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.sensitivity import What, moving, sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.grids import budgets, sensitivity
from optimizer.report.grids import switch_points as points
from optimizer.report.grids.tiers import tiers as tier_grid
from optimizer.report.words import budgets as spending
from optimizer.report.words import parameters
from optimizer.report.words.charts import sensitivity_heading, staircase_heading, tiers_heading
from optimizer.report.words.regret import verdict
from optimizer.report.words.switch_points import break_even
from optimizer.report.words.writer import Writer
from ui import words
from ui.answers.asking import ask, asked, picture
from ui.bound import offering, side_by_side
from ui.fields import facts_of, number_aside, told
from ui.look import points as bullets
from ui.look import prose, safe, tables
from ui.state import State
from ui.words import rivals as said

#: Keys of the widgets.
OPEN: Final = "rivals open"
ACROSS: Final = "rivals across"
MOVED: Final = "rivals moved"
LIFETIME: Final = "rivals lifetime"
LATER: Final = "rivals later"
BUDGET: Final = "rivals budget"


def draw(state: State, hours: int, found: Comparison | None) -> None:
    """Draw the questions as one line, the open one below; nothing is worked out unasked."""
    offered = {said.BUDGETS: partial(_budgets, state, hours), said.TIERS: partial(_tiers, state)}
    if found is not None:
        offered = {said.MOVES: partial(_moves, state, hours)} | offered
        if found.runner_up is not None:
            offered = {said.BREAK_EVEN_LINE: partial(_break_even_line, state, hours)} | offered
    if st.session_state.get(OPEN) not in offered:
        st.session_state[OPEN] = None
    st.pills(
        said.FURTHER,
        list(offered),
        key=OPEN,
        on_change=lambda: ask(st.session_state[OPEN]),
    )
    opened = st.session_state[OPEN]
    if opened is not None:
        with st.container(key="rivals_further"):
            offered[opened]()


def _break_even_line(state: State, hours: int) -> None:
    """Draw the line on which both cost the same, in two numbers."""
    write = state.write
    names = {
        one.key: parameters.name(write, one)
        for one in parameters_of(state.job)
        if one.kind is not Kind.PRICE
    }
    across = st.selectbox(
        said.ACROSS,
        key=ACROSS,
        on_change=ask,
        args=(said.BREAK_EVEN_LINE,),
        width=320,
        **offering(names),
    )
    found = asked(
        state,
        said.BREAK_EVEN_LINE,
        lambda _: break_even_line(state.job, hours, across=str(across)),
        hours,
        across,
    )
    if found is None:
        return
    bullets(break_even(write, found))
    drawn = partial(break_even_chart, found)
    picture(write, "break_even_line", drawn, said.BREAK_EVEN_LINE_ALT)
    tables(write, points.break_even_line(write, found), folded=words.AS_TABLE)


def _moves(state: State, hours: int) -> None:
    """Draw each doubt by itself, then all at once."""

    def make(step: Progress) -> tuple[Sensitivities, Regret]:
        each = sensitivities(state.job, hours, progress=lambda done, whole: step(done, 5 * whole))
        # in this process: others would cost more to start than they save
        return each, regret(
            state.job,
            hours,
            processes=1,
            progress=lambda done, whole: step(whole + 4 * done, 5 * whole),
        )

    found = asked(state, said.MOVES, make, hours)
    if found is None:
        return
    write, (each, together) = state.write, found
    st.markdown(f"### {said.ALONE}")
    _sensitivities(write, each)
    st.markdown(f"### {said.TOGETHER}")
    prose(*verdict(write, together))
    tables(write, sensitivity.regret(write, together), folded=said.REGRET_TABLE)


def _sensitivities(write: Writer, found: Sensitivities) -> None:
    kinds = offering(said.MOVED)
    picked = side_by_side(said.HOW_SENSITIVITIES, key=MOVED, default="cost", **kinds)
    what: What = "hours" if picked == "hours" else "cost"
    moved = moving(found, what)
    if not moved:
        st.markdown(said.NOTHING_MOVES)
        return
    now = moved[0].base.cost if what == "cost" else moved[0].base.hours
    st.caption(safe(" · ".join(sensitivity_heading(write, found, now, cost=what == "cost"))))
    drawn, name = partial(sensitivity_chart, found, what=what), f"sensitivities-{what}"
    picture(write, name, drawn, said.SENSITIVITIES_ALT, height=None, is_wide=True)
    tables(write, sensitivity.one_at_a_time(write, found), folded=words.AS_TABLE)


def _budget_fields(state: State) -> tuple[bool, float | None, float | None]:
    """Draw which budget is meant, the most of any later year, and a budget to read off."""
    site, limit = state.job.site, facts_of("later_limit")
    with st.container(horizontal=True, vertical_alignment="bottom"):
        lifetime = side_by_side(
            said.HOW_BUDGET,
            key=LIFETIME,
            default=False,
            on_change=ask,
            args=(said.BUDGETS,),
            **offering(said.BUDGET_KINDS),
        )
        later = number_aside(
            state,
            limit,
            words.FIELDS[limit.name],
            LATER,
            first=site.later_limit,
            then=partial(ask, said.BUDGETS),
            placeholder=words.NO_LIMIT,
            help=told(limit.help),
            width=230,
        )
        budget = number_aside(
            state,
            facts_of("budget"),
            said.READ_OFF,
            BUDGET,
            first=site.budget,
            help=said.BUDGET_HELP,
            width=230,
        )
    return bool(lifetime), later, budget


def _budgets(state: State, hours: int) -> None:
    """Draw what a budget buys, and what the hours ask for."""
    lifetime, later, budget = _budget_fields(state)
    found = asked(
        state,
        said.BUDGETS,
        lambda step: staircase(state.job, lifetime=lifetime, later_limit=later, progress=step),
        lifetime,
        later,
    )
    if found is None:
        return
    write = state.write
    if not found.steps:
        prose(spending.nothing(write))
        return
    prose(
        spending.required(write, found, hours),
        "" if budget is None else spending.bought(write, found, budget),
    )
    st.caption(safe(staircase_heading(write, found)[1]))
    picture(write, "budget", partial(staircase_chart, found, chosen=budget), said.STAIRS_ALT)
    tables(write, budgets.steps(write, found), folded=words.AS_TABLE)


def _tiers(state: State) -> None:
    """Draw the cost of each tier of loads."""
    found = asked(state, said.TIERS, lambda step: tiers(state.job, progress=step))
    if found is None:
        return
    if not any(one.curve.points for one in found.curves):
        st.markdown(said.NO_TIERS)
        return
    write, target = state.write, found.job.site.target_hours
    st.caption(safe(" · ".join(tiers_heading(write, found))))
    picture(write, "tiers", partial(tiers_chart, found), said.TIERS_ALT)
    tables(write, tier_grid(write, found, sorted({target, *found.landmarks})))
