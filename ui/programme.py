"""The page of many sites: a table, a few limits, and who gets what."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer import InputError, KeeplitError, NoAllotmentError
from optimizer.inputs.columns import columns_of
from optimizer.inputs.demo import FOLDER
from optimizer.inputs.programme import SiteRow, programme_from_table, programme_names
from optimizer.programme.answers import AllotAnswer, allot_answer
from optimizer.programme.curves import SiteCurve
from optimizer.programme.survey import failed, programme_of
from optimizer.programme.terms import Goal, Terms
from optimizer.report.allotment import allotment_bytes
from optimizer.report.charts.allotment import allotment_chart
from optimizer.report.grids import allotment as grids
from optimizer.report.words import allotment as said
from optimizer.report.words import notes
from ui import words as common
from ui.failures import report
from ui.language import writer
from ui.look import canvas, chart, dress, points, prose, tables
from ui.markup import safe
from ui.state import current
from ui.uploads import faults
from ui.words import programme as words

if TYPE_CHECKING:
    from optimizer.inputs.programme import Unread
    from optimizer.model.programme import PlannedSite

_KEY: Final = "programme"
_SAMPLE: Final = programme_names()[0]
_FIRST_BUDGETS: Final = "60000, 120000, 180000"
_MOST_BUDGETS: Final = 4
_MOST_HOURS: Final = 48
#: Time for one proof here [s]: a person waits.
_LIMIT_S: Final = 10.0


@dataclass(frozen=True)
class Asked:
    """What is asked: the terms, at which budgets, and whether other outages are tried."""

    terms: Terms
    budgets: list[float]
    scenarios: bool


@dataclass
class Held:
    """What a person has asked on this page; ``curves`` are those already known, by their inputs."""

    file: str = f"{_SAMPLE}.csv"
    raw: bytes = b""
    curves: dict[str, SiteCurve] = field(default_factory=dict)
    answer: AllotAnswer | None = None
    answered: tuple[bytes, Asked] | None = None


def main() -> None:
    """Draw the page."""
    st.set_page_config(
        page_title=common.MANY_SITES, layout="wide", initial_sidebar_state="collapsed"
    )
    dress()
    try:
        _page()
    except Exception as error:  # a person must not lose the page to a bug in it
        report(error)
        st.error(common.PAGE_FAILED)


def _page() -> None:
    job = current().job
    sample = (FOLDER / _SAMPLE / "sites.csv").read_bytes()
    held: Held = st.session_state.setdefault(_KEY, Held(raw=sample))
    write = writer(job.site.currency)
    st.page_link("app.py", label=words.BACK)
    st.title(common.MANY_SITES)
    prose(words.lead(write, job.site.name))
    dropped = st.file_uploader(
        words.TABLE, type=["csv", "xlsx"], help=words.table_help(write, list(columns_of(SiteRow)))
    )
    held.file, held.raw = f"{_SAMPLE}.csv", sample
    if dropped is not None:
        held.file, held.raw = dropped.name, dropped.getvalue()
    try:
        planned, unread = programme_from_table(held.file, held.raw, job)
    except InputError as error:
        st.error(common.FILE_KEPT)
        faults(error.faults)
        return
    if dropped is None:
        st.caption(safe(words.sample(write, len(planned))))
        st.download_button(words.SAMPLE, sample, "sites.csv", "text/csv", on_click="ignore")
    asked = _asked()
    if asked is not None and st.button(words.START, type="primary"):
        _work(held, job.site.currency, planned, unread, asked)
    if held.answer is not None:
        if held.answered != (held.raw, asked):
            st.caption(words.OLD)
        _draw(held.answer)
    st.caption(safe(notes.caution(write)))


def _asked() -> Asked | None:
    """Draw what can be asked and return it; None where no budget can be read."""
    write = writer("EUR")  # no money is told here
    with st.container(horizontal=True, vertical_alignment="bottom"):
        text = st.text_input(
            words.BUDGETS, _FIRST_BUDGETS, help=words.BUDGETS_HELP, key=f"{_KEY} budgets", width=300
        )
        goal: Goal | None = st.selectbox(
            words.GOAL,
            tuple(Goal),
            format_func=lambda one: said.goal_name(write, one),
            key=f"{_KEY} goal",
            width=240,
        )
        floor = st.number_input(words.FLOOR, 0, _MOST_HOURS, 0, key=f"{_KEY} floor", width=180)
        share = st.number_input(words.SHARE, 0, 100, 0, step=5, key=f"{_KEY} share", width=210)
        scenarios = st.checkbox(words.SCENARIOS, key=f"{_KEY} scenarios")
    try:
        budgets = sorted({float(one) for one in text.split(",")})[:_MOST_BUDGETS]
    except ValueError:
        st.warning(words.EMPTY)
        return None
    terms = Terms(goal=goal or Goal.SHARE, floor_hours=floor, group_share=share / 100)
    return Asked(terms, budgets, scenarios)


def _work(
    held: Held,
    currency: str,
    planned: tuple[PlannedSite, ...],
    unread: tuple[Unread, ...],
    asked: Asked,
) -> None:
    """Work out the curves that are not known yet, then the choice; tell how far it is."""
    write, wait = writer(currency), st.empty()

    def progress(done: int, whole: int) -> None:
        wait.progress(done / whole, words.waiting(write, done, whole))

    held.answer, held.answered = None, (held.raw, asked)
    try:
        programme = programme_of(
            planned,
            failed(unread),
            scenarios=asked.scenarios,
            known=held.curves,
            processes=1,
            progress=progress,
        )
        held.answer = allot_answer(
            programme, asked.terms, asked.budgets, scenarios=asked.scenarios, limit_seconds=_LIMIT_S
        )
    except NoAllotmentError as error:
        st.warning(safe(said.no_allotment(error, str(write.locale))))
    except InputError as error:
        faults(error.faults)
    except KeeplitError as error:
        report(error)
        st.error(common.PART_FAILED)
    wait.empty()


def _draw(answer: AllotAnswer) -> None:
    """Draw the answer: sentences, curve, tables, files."""
    write = writer(answer.currency)
    for one in answer.answers:
        st.subheader(safe(said.headline(write, one.allotment)))
        points([said.proof(write, one.allotment), *said.more(write, one)])
    heading = said.curve_heading(write, answer)
    chart(allotment_chart(answer, canvas(answer.currency)), " ".join(heading))
    groups = [grids.groups_by_budget(write, answer), grids.added(write, answer)]
    tables(write, grids.budgets(write, answer), *groups)
    for one in answer.answers:
        money = write.money(one.allotment.budget, whole=True)
        tables(write, grids.sites(write, one), folded=f"{words.BY_SITE}: {safe(money)}")
        tables(write, grids.changes(write, one), folded=f"{words.CHANGES}: {safe(money)}")
        tables(write, grids.spending(write, one), folded=f"{words.YEARS}: {safe(money)}")
        if (regret := grids.regret(write, one)) is not None:
            tables(write, regret, folded=f"{words.REGRET}: {safe(money)}")
    points(notes.note(write, said.failure(write, one)) for one in answer.failures)
    with st.container(horizontal=True):
        for label, ending in ((words.PAGE, ".pdf"), (words.WORKBOOK, ".xlsx")):
            made = partial(allotment_bytes, answer, ending, write)
            st.download_button(label, made, f"programme{ending}", on_click="ignore")
