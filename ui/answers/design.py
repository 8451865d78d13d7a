"""The design shown, part by part: what it is, what limits it, whether it holds, what it costs."""

import streamlit as st

from optimizer.engine.demand import demand_of
from optimizer.engine.verify import checks
from optimizer.formulas.windows import busy_hours
from optimizer.report.charts.money import money_chart
from optimizer.report.charts.trade_off import trade_off_chart
from optimizer.report.grids import choice as grids
from optimizer.report.grids import simulation as simulated
from optimizer.report.words import design as said
from optimizer.report.words import simulation
from optimizer.report.words.trade_off import now_or_later
from ui import words
from ui.cached import Answer, Curves
from ui.look import canvas, chart, points, prose, tables


def figures(answer: Answer) -> None:
    """Draw the design's figures."""
    job, design, write = answer.job, answer.design, answer.write
    tables(write, grids.summary(write, design))
    busy = busy_hours(demand_of(job).profiles, design.hours)
    prose(
        words.starts(write, job, checks(job, design)),
        said.idle_hours(write, design.hours, busy),
    )


def trades(answer: Answer) -> None:
    """Draw what paying more or less upfront does, for the same hours."""
    points(now_or_later(answer.write, answer.trades))
    if len(answer.trades.points) > 1:
        chart(trade_off_chart(answer.trades, canvas(answer.write)), words.TRADES_ALT)


def binding(answer: Answer) -> None:
    """Draw what limits the design, and every requirement as a table."""
    points(said.binding(answer.write, answer.choice))
    limits = grids.limits(answer.write, answer.choice.explained)
    tables(answer.write, limits, folded=limits.title)


def step(found: Curves, answer: Answer) -> None:
    """Draw what the next step along the curve costs."""
    design = answer.design
    longer = next((point for point in found.overall.points if point.hours > design.hours), None)
    prose(words.next_step(answer.write, design, longer, answer.job.site.max_hours))


def holds(answer: Answer) -> None:
    """Draw what the independent simulation says, and the hours by age and tier as tables."""
    told, write = answer.simulated, answer.write
    prose(simulation.verdict(write, told.verdict, answer.job.site.design_margin))
    points(f"{name}: {text}" for name, text in simulation.rest(write, told, answer.job))
    for grid in (simulated.hours_by_age(write, told), *simulated.tiers(write, told)):
        tables(write, grid, folded=grid.title)


def money(answer: Answer) -> None:
    """Draw how upfront and life-cycle cost belong together, and what is paid year by year."""
    job, design, write = answer.job, answer.design, answer.write
    years = job.site.horizon_years
    prose(said.next_purchase(write, design.next_purchase, years))
    tables(write, grids.reconciliation(write, job, design))
    if design.next_purchase is not None:  # else a single bar in an empty frame
        st.caption(words.payments(write))
        chart(money_chart(design.payments, years, canvas(write)), words.MONEY_ALT)
        prose(words.MONEY_NOTE)
    tables(write, grids.cash(write, job, design), folded=words.AS_TABLE)
