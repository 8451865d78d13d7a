"""What happens over time, drawn from the independent simulation: outages, cuts, peaks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer.report.charts.cut_days import cut_days_chart
from optimizer.report.charts.load_day import load_day_chart
from optimizer.report.charts.outage import OutagePicture, charge_chart, fuel_chart, loads_chart
from optimizer.report.charts.peaks import peaks_chart
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import MIXED
from optimizer.report.grids.outages import hour_by_hour
from optimizer.simulate import cut_days, load_day, trace
from ui import cached, words
from ui.language import writer
from ui.look import canvas, chart, prose, tables

if TYPE_CHECKING:
    from optimizer.model.design import Design
    from ui.cached import Answer, Curves
    from ui.state import State

_THREE_DAYS_H: Final = 72


def outage(state: State, found: Curves, answer: Answer) -> None:
    """Draw an outage: charge from the worst start, the loads stacked beneath."""
    del state, found
    design, write = cached.shown(answer), writer(answer.job.site.currency)
    worst, run = design.verdict, cached.worst_outage(answer)
    let_go = {} if design.generator is not None else answer.job.site.tier_hours
    shown = OutagePicture(run, worst.start_hour, design.hours, _family(design), let_go)
    prose(words.outage(write, worst, run))
    st.caption(words.CHARGE_TITLE)
    chart(charge_chart(shown, canvas(write.currency)), words.CHARGE_ALT)
    st.caption(words.LOADS_TITLE)
    chart(loads_chart(shown, canvas(write.currency)), words.LOADS_ALT)
    tables(write, hour_by_hour(write, run, worst.start_hour), folded=words.AS_TABLE)


def has_bursts(answer: Answer) -> bool:
    """Tell whether any load that is carried runs for part of its time only."""
    tiers = answer.job.site.tiers
    return any(one.duty < 1 for one in answer.job.loads if one.tier in tiers)


def bursts(state: State, found: Curves, answer: Answer) -> None:
    """Draw a day of the loads by the minute."""
    del state, found
    day, currency = load_day(answer.job), answer.job.site.currency
    prose(words.bursts(writer(currency), day))
    st.caption(words.LOADS_TITLE)
    chart(load_day_chart(day, canvas(currency)), words.BURSTS_ALT)


def has_cuts(answer: Answer) -> bool:
    """Tell whether the grid is cut at fixed hours."""
    return bool(answer.job.outages.daily)


def cuts(state: State, found: Curves, answer: Answer) -> None:
    """Draw days of scheduled cuts with the bank's charge."""
    del state, found
    design, currency = cached.shown(answer), answer.job.site.currency
    days = cut_days(answer.job, design)
    prose(words.cuts(writer(currency), days))
    st.caption(words.CHARGE_TITLE)
    chart(cut_days_chart(days, _family(design), canvas(currency)), words.CUTS_ALT)


def has_peaks(answer: Answer) -> bool:
    """Tell whether peaks are drawn from a contract that was chosen."""
    return bool(answer.job.site.peaks) and cached.shown(answer).contract is not None


def peaks(state: State, found: Curves, answer: Answer) -> None:
    """Draw a month's peaks over the contract's limit."""
    del state, found
    design, job = cached.shown(answer), answer.job
    contract_w = 0.0 if design.contract is None else design.contract.power_w
    prose(words.peaks(writer(job.site.currency), job, contract_w))
    drawn_on = canvas(job.site.currency)
    chart(peaks_chart(job.site.peaks, contract_w, _family(design), drawn_on), words.PEAKS_ALT)


def has_generator(answer: Answer) -> bool:
    """Tell whether a generator stands beside the bank."""
    return cached.shown(answer).generator is not None


def three_days(state: State, found: Curves, answer: Answer) -> None:
    """Draw three days without the grid: nights on the bank, days on the generator, fuel burnt."""
    del state, found
    design, currency = cached.shown(answer), answer.job.site.currency
    worst = design.verdict
    long = replace(design, hours=_THREE_DAYS_H)
    run = trace(answer.job, long, worst.year, worst.season, worst.start_hour)
    prose(words.three_days(writer(currency), run, design.fuel_l))
    shown = OutagePicture(run, worst.start_hour, design.hours, _family(design))
    st.caption(words.CHARGE_TITLE)
    chart(charge_chart(shown, canvas(currency)), words.CHARGE_ALT)
    st.caption(words.FUEL_TITLE)
    chart(fuel_chart(shown, canvas(currency), design.fuel_l), words.FUEL_ALT)


def _family(design: Design) -> str:
    return family_of(design) or MIXED
