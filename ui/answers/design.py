"""The design shown, part by part: what it is, what limits it, whether it holds, what it costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer.report.charts.money import money_chart
from optimizer.report.charts.outage import OutagePicture, charge_chart, loads_chart
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import MIXED
from optimizer.report.grids import choice as grids
from optimizer.report.grids import simulation as simulated
from optimizer.report.grids.outages import hour_by_hour
from optimizer.report.words import design as said
from optimizer.report.words import simulation
from ui import cached, words
from ui.language import writer
from ui.look import canvas, chart, points, prose, tables

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.cached import Curves
    from ui.state import State


def figures(state: State, found: Curves, choice: Choice) -> None:
    """Draw the design's figures."""
    del state, found
    write = writer(choice.job.site.currency)
    tables(write, grids.summary(write, choice))


def binding(state: State, found: Curves, choice: Choice) -> None:
    """Draw what limits the design, and every requirement as a table."""
    del state, found
    write = writer(choice.job.site.currency)
    points(said.binding(write, choice))
    limits = grids.limits(write, choice.explained)
    tables(write, limits, folded=limits.title)


def step(state: State, found: Curves, choice: Choice) -> None:
    """Draw what the next step along the curve costs."""
    del state
    site, design = choice.job.site, choice.design
    longer = next((point for point in found.overall.points if point.hours > design.hours), None)
    prose(words.next_step(writer(site.currency), design, longer, site.max_hours))


def holds(state: State, found: Curves, choice: Choice) -> None:
    """Draw what the independent simulation says, and the hours by age and tier as tables."""
    del found
    told, write = cached.simulated(state, choice), writer(choice.job.site.currency)
    points(f"{name}: {text}" for name, text in simulation.rest(write, told, choice.job))
    for grid in (simulated.hours_by_age(write, told), *simulated.tiers(write, told)):
        tables(write, grid, folded=grid.title)


def outage(state: State, found: Curves, choice: Choice) -> None:
    """Draw an outage: charge from the worst start, the loads stacked beneath."""
    del found
    currency = choice.job.site.currency
    write, told = writer(currency), cached.simulated(state, choice)
    worst, trace = told.verdict, cached.worst_outage(choice, told)
    family = family_of(choice.design) or MIXED
    shown = OutagePicture(trace, worst.start_hour, choice.design.hours, family)
    prose(words.outage(write, worst, float(trace.hours[-1])))
    st.caption(words.CHARGE_TITLE)
    chart(charge_chart(shown, canvas(currency)), words.CHARGE_ALT)
    st.caption(words.LOADS_TITLE)
    chart(loads_chart(shown, canvas(currency)), words.LOADS_ALT)
    tables(write, hour_by_hour(write, trace, worst.start_hour), folded=words.AS_TABLE)


def money(state: State, found: Curves, choice: Choice) -> None:
    """Draw what is paid year by year: purchases, running costs, the residual value."""
    del state, found
    site = choice.job.site
    write, years = writer(site.currency), site.horizon_years
    prose(said.next_purchase(write, choice.next_purchase, years), words.MONEY_NOTE)
    st.caption(words.payments(write))
    chart(money_chart(choice.design.payments, years, canvas(site.currency)), words.MONEY_ALT)
    tables(write, grids.cash(write, choice), folded=words.AS_TABLE)
