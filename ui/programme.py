"""The page of many sites: a table, a few limits, and who gets what."""

import re
from dataclasses import dataclass, field
from functools import partial
from hashlib import sha256
from typing import Final, NamedTuple

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from optimizer import InputError, NoAllotmentError
from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import columns_of
from optimizer.inputs.demo import FOLDER
from optimizer.inputs.programme import SiteRow, Unread, programme_from_table, programme_names
from optimizer.inputs.typed import typed_number
from optimizer.model.programme import PlannedSite
from optimizer.programme.answers import AllotAnswer, allot_answer
from optimizer.programme.curves import SiteCurve
from optimizer.programme.survey import site_curves
from optimizer.programme.terms import Goal, Terms
from optimizer.report.allotment import allotment_bytes
from optimizer.report.charts.allotment import allotment_chart
from optimizer.report.grids import allotment as grids
from optimizer.report.words import allotment as said
from optimizer.report.words import notes, refusals
from optimizer.report.words.writer import Writer
from ui import cached
from ui import words as common
from ui.apart import read_apart
from ui.bound import entry
from ui.failures import failing
from ui.fields import aside, facts_of, number_aside, on_screen
from ui.language import PLAIN, writer
from ui.look import canvas, chart, points, prose, safe, tables
from ui.state import State, current
from ui.transfer import download, faults
from ui.words import programme as words

_KEY: Final = "programme"
_KEY_BUDGETS: Final = f"{_KEY} budgets"
_SAMPLE: Final = programme_names()[0]
_FIRST_BUDGETS: Final = (60_000.0, 120_000.0, 180_000.0)
_MOST_BUDGETS: Final = 4
_BUDGET: Final = facts_of("budget")
_FLOOR: Final = facts_of("max_hours")
_SHARE: Final = facts_of("design_margin")  # any share of one
#: Time for one proof here [s]: a person waits.
_LIMIT_S: Final = 10.0


class Asked(NamedTuple):
    """What is asked of a file: the terms, at which budgets, and whether other outages are tried."""

    raw: bytes
    terms: Terms
    budgets: list[float]
    scenarios: bool


@dataclass
class Held:
    """What a person has asked on this page; ``curves`` are those already known, by their inputs."""

    budgets: tuple[float, ...] = _FIRST_BUDGETS
    curves: dict[str, SiteCurve] = field(default_factory=dict)
    answer: AllotAnswer | None = None
    answered: Asked | None = None


def draw() -> None:
    """Draw the page."""
    state = current()
    job, write = state.job, state.write
    path = FOLDER / _SAMPLE / "sites.csv"
    held: Held = st.session_state.setdefault(_KEY, Held())
    st.page_link("app.py", label=words.BACK)
    st.title(common.MANY_SITES)
    prose(words.lead(write, job.site.name))
    dropped = st.file_uploader(
        words.TABLE, type=["csv", "xlsx"], help=words.table_help(write, list(columns_of(SiteRow)))
    )
    if dropped is None:
        file, raw = f"{_SAMPLE}.csv", path.read_bytes()
    else:
        file, raw = dropped.name, dropped.getvalue()
    try:
        read = cached.remembered(
            state,
            lambda: read_apart((file, raw), programme_from_table, file, raw, job),
            "sites",
            file,
            sha256(raw).digest(),
            cached.fingerprint(state.good),
        )
    except InputError as error:
        st.error(common.FILE_KEPT)
        faults(error.faults)
        return
    if dropped is None:
        st.caption(safe(words.sample(write, len(read))))
        download(words.SAMPLE, path.read_bytes, "sites.csv")
    asked = _asked(state, held, raw)
    if st.button(words.START, type="primary", disabled=_KEY_BUDGETS in state.pending):
        wait = st.empty()
        with failing(st.error, common.PART_FAILED):
            _work(held, write, wait, read, asked)
        wait.empty()
    if held.answer is not None:
        if held.answered != asked:
            st.caption(words.OLD)
        _draw(held.answer)
    st.caption(safe(notes.caution(write)))


def _asked(state: State, held: Held, raw: bytes) -> Asked:
    """Draw what can be asked and return it."""

    def take(typed: str) -> None:
        held.budgets = budgets_of(typed)

    with st.container(horizontal=True):
        entry(
            state,
            words.BUDGETS,
            _KEY_BUDGETS,
            "; ".join(on_screen(_BUDGET, one) for one in held.budgets),
            aside(take),
            example=words.BUDGETS_HELP,
            help=words.BUDGETS_HELP,
            width=300,
        )
        goal: Goal | None = st.selectbox(
            words.GOAL,
            tuple(Goal),
            format_func=partial(said.goal_name, PLAIN),
            key=f"{_KEY} goal",
            persist_state="session",
            width=240,
        )
        floor_hours, group_share = (
            number_aside(state, facts, label, f"{_KEY} {label}", placeholder="0", width=width)
            for facts, label, width in ((_FLOOR, words.FLOOR, 180), (_SHARE, words.SHARE, 210))
        )
        scenarios = st.checkbox(words.SCENARIOS, key=f"{_KEY} scenarios", persist_state="session")
    terms = Terms(
        goal=goal or Goal.SHARE,
        floor_hours=floor_hours or 0,
        group_share=group_share or 0.0,
        limit_seconds=_LIMIT_S,
    )
    return Asked(raw, terms, list(held.budgets), scenarios)


def budgets_of(text: str) -> tuple[float, ...]:
    """Return the budgets typed, rising; CellError where one is none or could be two.

    >>> budgets_of("120 000; 60000,50"), budgets_of("1, 2")
    ((60000.5, 120000.0), (1.0, 2.0))
    """
    pieces = [one for one in re.split(r"[;\n]|,\s", text) if one.strip()]
    if not 0 < len(pieces) <= _MOST_BUDGETS or any(re.search(r",\d{4}", one) for one in pieces):
        raise CellError
    return tuple(sorted({typed_number(one, _BUDGET) for one in pieces}))


def _work(
    held: Held,
    write: Writer,
    wait: DeltaGenerator,
    read: tuple[PlannedSite | Unread, ...],
    asked: Asked,
) -> None:
    """Work out the curves that are not known yet, then the choice; tell how far it is."""

    def progress(done: int, whole: int) -> None:
        wait.progress(done / whole, words.waiting(write, done, whole))

    held.answer, held.answered = None, asked
    try:
        programme = site_curves(
            read,
            scenarios=asked.scenarios,
            store=held.curves,
            processes=1,
            progress=progress,
        )
        held.answer = allot_answer(programme, asked.terms, asked.budgets, scenarios=asked.scenarios)
    except NoAllotmentError as error:
        st.warning(safe(refusals.no_allotment(error, str(write.locale))))
    except InputError as error:
        faults(error.faults)


def _draw(answer: AllotAnswer) -> None:
    """Draw the answer: sentences, curve, tables, files."""
    write = writer(answer.programme.currency)
    for text in refusals.refusals(write, answer.refused):
        st.warning(safe(text))
    for one in answer.answers:
        st.subheader(safe(said.headline(write, one.allotment)))
        points([said.proof(write, one.allotment), *said.more(write, one)])
    heading = said.curve_heading(write, answer)
    chart(allotment_chart(answer, canvas(write)), " ".join(heading))
    groups = [grids.groups_by_budget(write, answer), grids.added(write, answer)]
    tables(write, grids.budgets(write, answer), *groups)
    if asked_for := said.critical(write, answer.answers[0].allotment):
        st.warning(safe(" ".join(asked_for)))
    for one in answer.answers:
        money = write.money(one.allotment.budget, whole=True)
        tables(write, grids.sites(write, one), folded=f"{words.BY_SITE}: {safe(money)}")
        tables(write, grids.changes(write, one), folded=f"{words.CHANGES}: {safe(money)}")
        tables(write, grids.spending(write, one), folded=f"{words.YEARS}: {safe(money)}")
        if (regret := grids.regret(write, one)) is not None:
            tables(write, regret, folded=f"{words.REGRET}: {safe(money)}")
    points(notes.note(write, said.failure(write, one)) for one in answer.programme.failures)
    with st.container(horizontal=True):
        for label, ending in ((words.PAGE, ".pdf"), (words.WORKBOOK, ".xlsx")):
            made = partial(allotment_bytes, answer, ending, write)
            download(label, made, f"programme{ending}")
