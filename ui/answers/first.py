"""The first screen: the answer in a sentence, what a person asks first, the rivals."""

import streamlit as st

from optimizer import NoDesignError
from optimizer.answers.purchases import materials
from optimizer.inputs.demo import demo_titles
from optimizer.inputs.households import household
from optimizer.quote.invented import is_invented
from optimizer.report.charts.cost_bars import cost_bars
from optimizer.report.grids import comparison as grids
from optimizer.report.words import comparison as compared
from optimizer.report.words import design as said
from optimizer.report.words import notes, relaxations, simulation
from optimizer.report.words.warnings import job_warning
from ui import cached, words
from ui.bound import LABELS
from ui.cached import Answer
from ui.fields import field
from ui.look import canvas, chart, points, prose, safe, tables
from ui.state import State


def sentence(state: State, answer: Answer | NoDesignError) -> None:
    """Draw the answer in words: what is bought, what it costs against the others, if it holds."""
    site, write = state.job.site, state.write
    if isinstance(answer, NoDesignError):
        st.title(safe(relaxations.goal(write, answer)))
        points(relaxations.reasons(write, answer))
    else:
        design = answer.design
        soon = said.short_life(write, design)
        if soon:  # before anything else
            prose(soon)
        st.title(safe(said.headline(write, design)))
        cost, *dear = compared.standing(write, cached.beside(state, answer), design)
        st.markdown(f"**{safe(cost)}** {safe(' '.join(dear))}")
        longer = answer.asked is not None and answer.asked < design.hours
        prose(
            words.longer(write, answer.asked or 0, design.hours) if longer else "",
            simulation.in_a_line(write, design.verdict),
        )
        if site.budget is not None and design.upfront_cost > site.budget:
            prose(words.over_budget(write, design.upfront_cost - site.budget))
    if critical := state.job.critical_loads:
        st.warning(safe(notes.second_source(write, critical)))
    longest = cached.longest_within_budget(state)
    if longest is not None and site.budget is not None:
        prose(words.within_budget(write, longest, site.budget))
    for odd in state.job.warnings:
        told = job_warning(write, odd, lambda key: words.quoted(write, LABELS[key]))
        st.caption(safe(notes.note(write, told)))
    if isinstance(answer, Answer) and site.name not in demo_titles():
        bought = materials(answer.job, answer.design)
        if any(is_invented(one.ware) for one in bought):
            st.caption(safe(words.invented(write, words.ASK_PRICES)))


def own(state: State) -> None:
    """Draw the households that one may begin one's own from, with its loads."""

    def start(name: str) -> None:
        state.replace(household(name), (), words.UNDO_BEGIN)
        state.ask(words.ASK_LOADS)

    with st.popover(words.START_OWN, type="primary"):
        for name, label in words.HOUSEHOLDS.items():
            st.button(label, on_click=start, args=(name,), type="tertiary", key=f"own {name}")


def starters(state: State) -> None:
    """Draw the three questions everybody begins with; a demo is marked as one."""
    site, write = state.job.site, state.write
    with st.container(key="starters", horizontal=True):
        with st.container(key="starter_loads", width=200, gap=None):
            st.markdown(words.ASK_LOADS)
            listed, ask = words.loads_listed(write, state.job), (words.ASK_LOADS,)
            st.button(listed, on_click=state.ask, args=ask, width="stretch")
        field(state, "target_hours", width=170)
        field(state, "budget", width=250)
        if site.name in demo_titles():
            with st.container(key="is_a_demo", width=330, gap=None):
                st.markdown(safe(words.demo(write, site)))
                own(state)


def rivals(state: State, answer: Answer) -> None:
    """Draw the design shown and the best of each other family: figures, and where money goes."""
    alternatives, write = cached.beside(state, answer).beside(answer.design), state.write
    figures, money = st.columns([9, 11], gap="large", vertical_alignment="center")
    with figures:
        tables(write, grids.side_by_side(write, alternatives, grids.FIRST))
    with money, st.container(key="cost_bars"):
        drawn = cost_bars(alternatives, state.job.site.discount_rate, canvas(write))
        chart(drawn, words.COST_BARS_ALT)
