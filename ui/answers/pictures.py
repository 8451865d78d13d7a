"""What happens over time, drawn from the independent simulation: outages, cuts, peaks."""

from dataclasses import replace
from typing import Final

import streamlit as st

from optimizer.report.charts.cut_days import cut_days_chart
from optimizer.report.charts.load_day import load_day_chart
from optimizer.report.charts.outage import OutagePicture, charge_chart, fuel_chart, loads_chart
from optimizer.report.charts.peaks import peaks_chart
from optimizer.report.charts.points import family_of
from optimizer.report.grids.outages import hour_by_hour
from optimizer.simulate import cut_days, load_day, trace
from ui import words
from ui.cached import Answer
from ui.look import canvas, chart, prose, tables

_THREE_DAYS_H: Final = 72


def outage(answer: Answer) -> None:
    """Draw an outage: charge from the worst start, the loads stacked beneath."""
    design, write, worst = answer.design, answer.write, answer.design.verdict
    run = trace(answer.job, design, worst.year, worst.season, worst.start_hour)
    shown = OutagePicture(run, design, answer.job.site.tier_hours)
    prose(words.outage(write, worst, run))
    st.caption(words.CHARGE_TITLE)
    chart(charge_chart(shown, canvas(write)), words.CHARGE_ALT)
    st.caption(words.LOADS_TITLE)
    chart(loads_chart(shown, canvas(write)), words.LOADS_ALT)
    tables(write, hour_by_hour(write, run), folded=words.AS_TABLE)


def bursts(answer: Answer) -> None:
    """Draw a day of the loads by the minute."""
    day = load_day(answer.job)
    prose(words.bursts(answer.write, day))
    st.caption(words.LOADS_TITLE)
    chart(load_day_chart(day, canvas(answer.write)), words.BURSTS_ALT)


def cuts(answer: Answer) -> None:
    """Draw days of scheduled cuts with the bank's charge."""
    days = cut_days(answer.job, answer.design)
    prose(words.cuts(answer.write, days))
    st.caption(words.CHARGE_TITLE)
    drawn = cut_days_chart(days, family_of(answer.design), canvas(answer.write))
    chart(drawn, words.CUTS_ALT)


def peaks(contract_w: float, answer: Answer) -> None:
    """Draw a month's peaks over the contract's limit."""
    prose(words.peaks(answer.write, answer.job, contract_w))
    family, on = family_of(answer.design), canvas(answer.write)
    chart(peaks_chart(answer.job.site.peaks, contract_w, family, on), words.PEAKS_ALT)


def three_days(answer: Answer) -> None:
    """Draw three days without the grid: nights on the bank, days on the generator, fuel burnt."""
    design, write, worst = answer.design, answer.write, answer.design.verdict
    long = replace(design, hours=_THREE_DAYS_H)
    run = trace(answer.job, long, worst.year, worst.season, worst.start_hour)
    prose(words.three_days(write, run, design.fuel_l))
    shown = OutagePicture(run, design)
    st.caption(words.CHARGE_TITLE)
    chart(charge_chart(shown, canvas(write)), words.CHARGE_ALT)
    st.caption(words.FUEL_TITLE)
    chart(fuel_chart(shown, canvas(write), design.fuel_l), words.FUEL_ALT)
