"""The job as a file, the curve as files, and the demo sites to start from."""

from functools import partial
from typing import Final

import streamlit as st

from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.households import household, households
from optimizer.inputs.job_file import open_job
from optimizer.report import csv_text, sheets
from optimizer.report.charts.curve import curve_chart
from optimizer.report.grids.curve import file
from ui import memory, words
from ui.answers.asking import picture_files
from ui.answers.curve import picture
from ui.apart import read_apart
from ui.bound import offering
from ui.look import canvas
from ui.state import State
from ui.transfer import File, download, uploader

_HEIGHT_PX: Final = 440


def draw(state: State) -> None:
    """Draw the question."""
    opening(state)
    _taking(state)


def opening(state: State) -> None:
    """Draw what a job can be opened from."""
    uploader(state, "job", words.OPEN_JOB, ["json"], partial(_open, state))
    pick, go = st.columns([4, 1], vertical_alignment="bottom")
    name = pick.selectbox(words.DEMO, key="demo", **offering(words.HOUSEHOLDS | words.DEMOS))
    go.button(words.DEMO_OPEN, on_click=_start_from, args=(state, name), width="stretch")


def _taking(state: State) -> None:
    """Draw what can be taken along: the job in a link, the curve in files."""
    link = memory.link(state.good, state.kept)
    if link is None:
        st.caption(words.LINK_LONG)
    else:
        with st.expander(words.LINK):
            st.caption(words.LINK_HELP)
            st.code(link, language=None, wrap_lines=True, height=120)
    st.caption(words.KEPT_HERE)
    st.markdown(words.TAKE)
    found = state.shown
    if found is None:
        return
    write, drawn_on = state.write, canvas(state.write, height=_HEIGHT_PX, alone=True)
    grid, shown = file(write, found.overall, found.families), picture(state, found, None)
    heading = (words.CURVE_FILE, words.curve_file(write, state.job.site))
    drawn = partial(curve_chart, shown, drawn_on, heading)
    with st.container(horizontal=True):
        download(words.CSV, lambda: csv_text.as_csv(grid), "curve.csv")
        download(words.XLSX, lambda: sheets.as_xlsx([grid], write), "curve.xlsx")
        picture_files("curve", drawn)


def _open(state: State, file: File) -> None:
    name, raw = file
    held = read_apart(file, open_job, raw, name)
    state.replace(held.draft, held.kept, words.UNDO_OPEN)


def _start_from(state: State, name: str) -> None:
    state.refused.clear()
    own = name in households()
    draft = household(name) if own else draft_from_files(name)
    state.replace(draft, (), words.UNDO_BEGIN if own else words.UNDO_OPEN)
