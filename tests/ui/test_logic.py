"""The page's logic, run without a browser."""

import json
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from optimizer import NotProvenError, choose, load
from optimizer.inputs import loads_table, survey_rows
from optimizer.inputs.job_file import open_job, save_job
from ui import cached, words
from ui.questions import QUESTIONS
from ui.state import State

APP = str(Path(__file__).resolve().parents[2] / "ui" / "app.py")


@pytest.fixture(autouse=True)
def _house(monkeypatch):
    monkeypatch.delenv("KEEPLIT_SITE", raising=False)
    monkeypatch.delenv("KEEPLIT_CATALOG", raising=False)


def opened() -> AppTest:
    page = AppTest.from_file(APP, default_timeout=60).run()
    assert not page.exception
    assert not page.error
    return page


def state_of(page: AppTest) -> State:
    return page.session_state["job"]


def change_load(state: State, name: str, **changes) -> None:
    rows = survey_rows(state.draft.tables["loads"])
    for row in rows:
        if row["load"] == name:
            row.update(changes)
    state.set_table("loads", loads_table(rows))


def test_first_screen_is_the_librarys_answer():
    page = opened()
    design = choose(load("house")).design
    assert page.title[0].value == (
        f"{design.hours} hours without the grid: {design.upfront_cost:,.0f} EUR today, "
        f"{design.life_cycle_cost:,.0f} EUR over 10 years."
    )
    assert [head.value for head in page.header][:2] == [
        words.CURVE,
        f"The design for {design.hours} hours",
    ]
    text = "\n".join(one.value for one in page.markdown)
    assert "The second opinion: it holds" in text
    assert any("Doing nothing: 11 outages a year" in one.value for one in page.caption)


def test_environment_names_the_site(monkeypatch):
    monkeypatch.setenv("KEEPLIT_SITE", "clinic")
    page = opened()
    assert "Skerrin village clinic" in page.caption[0].value


def test_target_typed_and_dragged_agree():
    page = opened()
    page.number_input(key="target typed").set_value(30).run()
    assert page.slider(key="target drag").value == 30
    assert page.title[0].value.startswith("30 hours")
    page.slider(key="target drag").set_value(6).run()
    assert page.number_input(key="target typed").value == 6
    assert page.title[0].value.startswith("6 hours")


def test_undo_takes_back_one_change_at_a_time():
    page = opened()
    first = state_of(page).draft
    page.number_input(key="target typed").set_value(30).run()
    page.number_input(key="limits.budget").set_value(9000.0).run()
    undo = next(button for button in page.button if button.label == words.UNDO)
    undo.click().run()
    assert state_of(page).job.site.budget is None
    assert state_of(page).job.site.target_hours == 30
    next(button for button in page.button if button.label == words.UNDO).click().run()
    assert state_of(page).draft == first
    assert page.number_input(key="target typed").value == 18


def test_budget_asks_for_designs_within_it():
    page = opened()
    page.number_input(key="limits.budget").set_value(4500.0).run()
    answer = choose(load("house"), budget=4500).design
    text = "\n".join(one.value for one in page.markdown)
    assert f"buy {answer.hours} hours at most" in text
    page.number_input(key="limits.budget").set_value(10.0).run()
    assert page.title[0].value == "Nothing on offer holds 18 hours within these limits."
    assert not page.exception
    page.number_input(key="limits.budget").set_value(None).run()
    assert page.title[0].value.startswith("19 hours")


def test_point_off_the_overall_curve_is_shown_with_its_family():
    page = opened()
    state_of(page).picked = "24:lead"
    page.run()
    design = choose(load("house"), hours=24, family="lead").design
    assert f"{design.life_cycle_cost:,.0f} EUR over 10 years" in page.title[0].value
    next(button for button in page.button if button.label == words.TO_TARGET).click().run()
    assert page.title[0].value.startswith("19 hours")


def test_point_that_is_gone_falls_back_to_the_target():
    page = opened()
    state_of(page).picked = "47:lead"
    page.run()
    assert page.title[0].value.startswith("19 hours")


@pytest.mark.parametrize("question", list(QUESTIONS))
@pytest.mark.parametrize("site", ["house", "clinic"])
def test_every_question_opens(question, site, monkeypatch):
    monkeypatch.setenv("KEEPLIT_SITE", site)
    page = opened()
    state_of(page).question = question
    page.run()
    assert not page.exception
    assert not page.error


def test_load_edit_changes_the_answer_and_a_faulty_one_keeps_it():
    page = opened()
    change_load(state_of(page), "Refrigerator", running_w=400.0)
    page.run()
    assert not page.title[0].value.startswith("19 hours without the grid: 5,093 EUR")
    answered = page.title[0].value
    change_load(state_of(page), "Refrigerator", hours="6-8 h")
    page.run()
    assert page.title[0].value == answered
    assert [one.value for one in page.warning] == [words.FAULTY]
    assert any("6\\-8 h" in one.value for one in page.markdown)
    assert any(one.value == words.CURVE_OLD for one in page.caption)


def test_keep_beside_up_to_four_and_tell_other_inputs():
    page = opened()
    for hours in (6, 9, 14, 24):
        state_of(page).picked = f"{hours}:"
        page.run()
        next(button for button in page.button if button.label == words.KEEP).click().run()
    assert [one.hours for one in state_of(page).kept] == [6, 9, 14, 24]
    state_of(page).picked = "30:"
    page.run()
    assert next(button for button in page.button if button.label == words.KEEP).disabled
    change_load(state_of(page), "Television", count=2)
    page.run()
    table = next(one.value for one in page.markdown if "**A**" in one.value)
    assert table.count(words.INPUTS_OTHER) == 4
    next(button for button in page.button if button.label == "Drop B").click().run()
    assert [one.hours for one in state_of(page).kept] == [6, 14, 24]


def test_failed_solve_leaves_the_page_usable(monkeypatch):
    page = opened()
    title = page.title[0].value

    def fails(*_args, **_settings):
        raise NotProvenError("stopped")

    with monkeypatch.context() as broken:
        broken.setattr(cached, "frontier", fails)
        change_load(state_of(page), "Television", count=2)
        page.run()
        assert [one.value for one in page.error] == [words.CURVE_FAILED]
        assert not page.exception
        assert page.header[0].value == words.CURVE  # the one before is kept in sight
    next(button for button in page.button if button.label == words.UNDO).click().run()
    assert not page.error
    assert page.title[0].value == title


def test_part_that_fails_leaves_the_others(monkeypatch):
    page = opened()

    def fails(*_args):
        raise NotProvenError("stopped")

    monkeypatch.setattr(cached, "worst_outage", fails)
    page.run()
    assert [one.value for one in page.error] == [words.PART_FAILED]
    assert [one.value for one in page.subheader][-1] == words.MONEY


def test_bug_in_the_page_tells_nothing_of_the_job(monkeypatch, caplog):
    page = opened()

    def breaks(*_args):
        raise ValueError("Gull Row 14")

    monkeypatch.setattr(cached, "nothing_done", breaks)
    change_load(state_of(page), "Television", count=3)
    page.run()
    assert [one.value for one in page.error] == [words.PAGE_FAILED]
    assert "ValueError" in caplog.text
    assert "Gull Row" not in caplog.text


def test_two_sessions_do_not_see_each_other():
    one, other = opened(), opened()
    change_load(state_of(one), "Refrigerator", running_w=400.0)
    state_of(one).picked = "6:"
    one.run()
    other.run()
    assert other.title[0].value.startswith("19 hours without the grid: 5,093 EUR")
    assert state_of(one).remembered is not state_of(other).remembered


def test_answers_kept_do_not_pile_up():
    page = opened()
    for watts in range(100, 120):
        change_load(state_of(page), "Refrigerator", running_w=float(watts))
        cached.curves(state_of(page))
    assert len(state_of(page).remembered) <= 16
    assert len(state_of(page).past) <= 30


def test_saved_job_opens_to_the_same_cent():
    page = opened()
    change_load(state_of(page), "Refrigerator", running_w=91.7)
    page.run()
    held = state_of(page)
    again = open_job(save_job(held.draft, held.kept))
    assert choose(again.draft.job()).design == choose(held.job).design


def test_names_are_text_and_never_markup():
    page = opened()
    state = state_of(page)
    state.set_key("site", "name", "<img src=x> ![a](http://b.c) :red[x] $y$")
    page.run()
    shown = page.caption[0].value
    assert "<img" not in shown.replace("\\<", "")
    assert "\\!\\[a\\]" in shown
    assert ":red" not in shown
    assert json.loads(save_job(state.draft))["site"]["site"]["name"].startswith("<img")
