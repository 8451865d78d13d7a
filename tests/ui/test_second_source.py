"""What the page warns of beside the answer: a load that is critical, numbers that are odd."""

from __future__ import annotations

from optimizer.inputs.draft import RawTable
from optimizer.model.warning import WarningKind
from optimizer.report.words.notes import second_source
from tests.ui.pages import WRITE, change_load, opened, plain, state_of
from ui.questions import QUESTIONS


def test_a_critical_load_brings_its_caution():
    page = opened()
    told = second_source(WRITE, ["Television"])
    assert told not in [plain(one.value) for one in page.warning]
    change_load(state_of(page), "Television", critical=True)
    state_of(page).question = next(iter(QUESTIONS))
    page.run()
    assert not page.exception
    warned = [plain(one.value) for one in page.warning]
    assert warned.count(told) == 2, "beside the answer, and beside the loads"


def test_what_is_odd_is_noted_below_the_answer_in_the_names_of_the_page():
    page = opened()
    captions = [plain(one.value) for one in page.caption]
    assert not [one for one in captions if "Note" in one]
    state = state_of(page)
    days = [(f"2026-01-0{day} 10:00", f"2026-01-0{day} 12:00") for day in (1, 2)]
    draft = state.draft.with_table("outages", RawTable("log.csv", (("start", "end"), *days)))
    for key, degc in (("max_degc", 55), ("mean_degc", 52)):
        draft = draft.with_site("battery_room", key, degc)
    state.change(draft)
    page.run()
    assert not page.exception
    assert {one.kind for one in state.job.warnings} == {
        WarningKind.GAPS_TOO_SHORT,
        WarningKind.HOT_ROOM,
    }
    first, second = (one for one in (plain(each.value) for each in page.caption) if "Note" in one)
    told = "Note: “Recharged within” (24 h) exceeds the usual gap in the outage log (22 h)"
    assert first.startswith(told)
    assert second.startswith("Note: “Mean over the year” is read as 52 °C")
