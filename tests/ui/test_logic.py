"""The page's logic, run without a browser."""

from dataclasses import replace

import pytest

from optimizer import NotProvenError, assess_told, choose, compare, frontier, load, trade_off
from optimizer.inputs.job_file import open_job, save_job
from optimizer.report.words import bank_words, notes, simulation
from optimizer.report.words import design as said
from optimizer.report.words.trade_off import now_or_later
from optimizer.simulate import Shortfall, load_day, verdict
from tests.ui.pages import (
    EVERY_PART,
    HOURS,
    WRITE,
    button,
    change_load,
    job,
    opened,
    plain,
    press,
    state_of,
    table_under,
    text_of,
    title_of,
    undo,
)
from ui import cached, words
from ui.answers import pictures
from ui.questions import QUESTIONS
from ui.state import State
from ui.words import standing


def headline(hours=None, **limits) -> str:
    """Return what the page says first of the library's own answer."""
    return said.headline(WRITE, choose(job(), hours=hours, **limits).design)


@pytest.fixture(scope="module")
def whole():
    """The page with every part, for all who only look."""
    return opened(*EVERY_PART, forget="")


def test_first_screen_is_the_librarys_answer(whole):
    chosen, found = choose(job()), compare(job())
    design = chosen.design
    assert title_of(whole) == said.headline(WRITE, design)
    assert [head.value for head in whole.header][:2] == [
        words.CURVE,
        f"The design for {design.hours} hours",
    ]
    text = text_of(whole)
    cost = f"€{design.upfront_cost:,.0f} upfront; €{found.cheaper_by:,.0f} less than lead-acid over"
    assert cost in text
    assert words.longer(WRITE, job().site.target_hours, design.hours) in text
    assert simulation.in_a_line(WRITE, design.verdict) in text
    assert f"{design.hours} h · lithium" in text, "the answer in short"
    for sentence in said.binding(WRITE, chosen):
        assert sentence in text
    assert any("Doing nothing: 11 outages a year" in plain(one.value) for one in whole.caption)
    assert plain(whole.caption[-1].value) == notes.caution(WRITE)


def test_rivals_stand_beside_the_answer_with_what_is_bought(whole):
    rows = {row[0]: row[1:] for row in table_under(whole, "", having="Bank, kWh")}
    winner, other = compare(job()).alternatives
    assert rows["Bank, kWh"] == [
        f"{one.design.banks[0].energy_wh / 1000:.1f}" for one in (winner, other)
    ]
    assert rows["Upfront cost, EUR"] == [
        f"{one.design.upfront_cost:,.0f}" for one in (winner, other)
    ]
    masses = [f"{one.mass_kg:,.0f}" for one in (winner, other)]
    assert rows["Bank and inverter, kg"] == masses
    figures = {row[0]: row[1] for row in table_under(whole, "", having="Service life of the bank")}
    assert figures["Bank and inverter"] == masses[0], "one mass, wherever it stands"


def test_least_upfront_is_another_curve_and_another_answer():
    page = opened(words.CURVE_TABLE, words.TRADES)
    page.button_group(key="cost").set_value("upfront_cost").run()
    least = trade_off(job()).points[-1]
    assert title_of(page) == said.headline(WRITE, least)
    curve = frontier(job(), cost="upfront_cost")
    own = [row for row in table_under(page, "Curve") if row[0] == "cheapest of all"]
    assert [row[3] for row in own] == [f"{point.upfront_cost:,.2f}" for point in curve.points]
    assert least.upfront_cost <= choose(job()).design.upfront_cost
    text = text_of(page)
    for sentence in now_or_later(WRITE, trade_off(job())):
        assert sentence in text


def test_money_from_upfront_to_life_cycle_cost_adds_up():
    page = opened(words.MONEY)
    design = choose(job()).design
    rows = {row[0]: row[1:] for row in table_under(page, "", having="Money of today, EUR")}
    assert rows["Upfront cost"] == [f"{design.upfront_cost:,.0f}"] * 2
    assert rows["Life-cycle cost"][1] == f"{design.life_cycle_cost:,.0f}"
    assert design.next_purchase is None
    assert words.MONEY_NOTE not in text_of(page), "no chart for a single bar"
    lead = cached.curves(state_of(page)).families["lead"].points
    renewed = next(one for one in lead if one.next_purchase is not None)
    state_of(page).picked = f"{renewed.hours}:lead"
    page.run()
    assert words.MONEY_NOTE in text_of(page)


def test_bank_that_stands_is_assessed_from_a_few_words():
    page = opened(standing.HEADING)
    page.text_input(key="standing bank").set_value("12 V 95 Ah agm").run()
    assert not page.error
    found, assumed = assess_told("12 V 95 Ah agm", job())
    assert bank_words.runs(WRITE, found, None) in text_of(page)
    for is_open in (False, True):  # what was told is there when the part is opened again
        page.session_state[f"part {standing.HEADING}"] = is_open
        page.run()
        assert (bank_words.runs(WRITE, found, None) in text_of(page)) is is_open
    assert len(table_under(page, "Assumed")) == len(assumed)
    page.text_input(key="standing load").set_value("0,3 kW").run()
    page.text_input(key="standing age").set_value("-5").run()
    assert "Not taken" in text_of(page)
    found, _ = assess_told("12 V 95 Ah agm", job(), load_w=300)
    assert bank_words.runs(WRITE, found, 300) in text_of(page)
    page.text_input(key="standing age").set_value("2.5").run()
    found, _ = assess_told("12 V 95 Ah agm", job(), load_w=300, age_years=2.5)
    assert bank_words.runs(WRITE, found, 300) in text_of(page)
    page.text_input(key="standing bank").set_value("95 Ah").run()
    assert [row[3] for row in table_under(page, "File")] == ["95 Ah"]


def test_own_site_is_begun_with_its_loads():
    page = opened()
    assert words.HOUSEHOLDS["blank"] in [one.label for one in page.button]
    press(page, words.HOUSEHOLDS["blank"])
    assert state_of(page).job.site.name == "My site"
    assert state_of(page).question == words.ASK_LOADS
    assert words.HOUSEHOLDS["blank"] not in [one.label for one in page.button], "no demo any more"
    assert not page.exception


def test_curve_stands_in_a_table_with_every_point(whole):
    curve = frontier(job())
    own = [row for row in table_under(whole, "Curve") if row[0] == "cheapest of all"]
    assert [int(row[1]) for row in own] == [point.hours for point in curve.points]
    assert [row[2] for row in own] == [f"{point.life_cycle_cost:,.2f}" for point in curve.points]


@pytest.mark.slow
@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_every_demo_opens_with_every_question(site, monkeypatch):
    monkeypatch.setenv("KEEPLIT_SITE", site)
    page = opened(forget="")
    assert load(site).site.name in text_of(page)
    for question in QUESTIONS:
        state_of(page).question = question
        page.run()
        assert not page.exception
        assert not page.error


def test_target_typed_and_dragged_agree():
    page = opened()
    page.text_input(key=HOURS).set_value("30").run()
    assert page.slider(key="target drag").value == 30
    assert title_of(page) == headline(30)
    page.slider(key="target drag").set_value(6).run()
    assert page.text_input(key=HOURS).value == "6"
    assert title_of(page) == headline(6)


def test_undo_takes_back_one_change_at_a_time():
    page = opened()
    first = state_of(page).draft
    page.text_input(key=HOURS).set_value("30").run()
    page.text_input(key="limits.budget").set_value("9000").run()
    undo(page)
    assert state_of(page).job.site.budget is None
    assert state_of(page).job.site.target_hours == 30
    undo(page)
    assert state_of(page).draft == first
    assert page.text_input(key=HOURS).value == str(first.job().site.target_hours)


def test_budget_asks_for_designs_within_it():
    page = opened()
    budget = choose(job()).design.upfront_cost - 1
    page.text_input(key="limits.budget").set_value(str(budget)).run()
    bought = choose(job(), budget=budget).design
    assert words.within_budget(WRITE, bought, budget) in text_of(page)
    page.text_input(key="limits.budget").set_value("10").run()
    hours = job().site.target_hours
    assert title_of(page) == f"No design carries {hours} hours for the money allowed."
    assert "budget" in text_of(page)
    assert not page.exception
    page.text_input(key="limits.budget").set_value("").run()
    assert title_of(page) == headline()


def test_point_off_the_overall_curve_is_shown_with_its_family():
    page = opened()
    free = cached.curves(state_of(page))
    overall = {point.hours: point for point in free.overall.points}
    lead = next(one for one in free.families["lead"].points if overall.get(one.hours) != one)
    state_of(page).picked = f"{lead.hours}:lead"
    page.run()
    assert title_of(page) == headline(lead.hours, family="lead")
    press(page, words.TO_TARGET)
    assert title_of(page) == headline()
    state_of(page).picked = "47:lead"  # no such point: back to the target
    page.run()
    assert title_of(page) == headline()


def test_load_edit_changes_the_answer_and_a_faulty_one_keeps_it():
    page = opened()
    change_load(state_of(page), "Refrigerator", running_w=400.0)
    page.run()
    answered = title_of(page)
    assert answered != headline()
    change_load(state_of(page), "Refrigerator", hours="6-8 h")
    page.run()
    assert title_of(page) == answered
    assert [one.value for one in page.warning] == [words.FAULTY]
    faults = table_under(page, "File")
    assert [row[2] for row in faults] == ["hours"]
    assert "6-8 h" in faults[0][3]
    assert any(one.value == words.CURVE_OLD for one in page.caption)


def test_designs_side_by_side_up_to_four_tell_other_inputs():
    page = opened()
    points = [point.hours for point in cached.curves(state_of(page)).overall.points]
    for hours in points[:4]:
        state_of(page).picked = f"{hours}:"
        page.run()
        press(page, words.KEEP)
    assert [one.hours for one in state_of(page).kept] == points[:4]
    state_of(page).picked = f"{points[4]}:"
    page.run()
    assert [head.value for head in page.header][-3:-1] == [
        f"The design for {points[4]} hours",
        "Designs side by side",
    ], "right below its button"
    assert button(page, words.KEEP).disabled
    change_load(state_of(page), "Television", count=2)
    page.run()
    rows = next(
        plain(one.value).splitlines()[2:] for one in page.markdown if "| Inputs |" in one.value
    )
    assert [row.split(" | ")[-1] for row in rows] == ["before a change |"] * 4
    press(page, f"{words.REMOVE} B")
    assert [one.hours for one in state_of(page).kept] == [points[0], *points[2:4]]


def test_generator_contract_peaks_months_and_tier_hours_are_asked_for():
    page = opened(words.FIGURES, words.PEAKS, words.BURSTS)
    state = state_of(page)
    state.set_key("resilience", "target_hours", 2)
    state.set_key("resilience", "max_hours", 3)  # a short curve: every change draws it anew
    state.question = words.ASK_SUPPLY
    page.run()
    page.checkbox(key="generator allowed").check().run()
    assert not page.error
    page.text_input(key="generator.max_stored_l").set_value("40").run()
    page.text_input(key="generator.quiet").set_value("21:00-7:00").run()
    assert state.job.site.generator.max_stored_l == 40
    assert state.job.site.generator.quiet == (21, 31)
    assert state.job.catalog.generators
    state.set_key("supply", "contracts", [[3000, 60], [6000, 200]])
    state.set_key("supply", "peaks", [[4000, 10, 20]])
    state.question = words.ASK_PLACE
    page.run()
    page.checkbox(key="monthly").check().run()
    assert state.job.site.monthly_degc == (state.job.site.mean_degc,) * 12
    contract = choose(state.job).design.contract
    assert words.peaks(WRITE, state.job, contract.power_w) in text_of(page)
    assert words.bursts(WRITE, load_day(state.job)) in text_of(page)
    state.question = words.ASK_LOADS
    page.run()
    page.text_input(key="tier_hours useful").set_value("2").run()
    assert state.job.site.tier_hours == {"useful": 2}
    state.question = words.ASK_MONEY
    page.run()
    page.text_input(key="limits.later_limit").set_value("5 000,00 EUR").run()
    assert state.job.site.later_limit == 5000
    assert not page.error
    design = choose(state.job).design
    rows = dict(row[:2] for row in table_under(page, "", having="Service life of the bank"))
    assert rows["Supply contract"] == f"{design.contract.power_w:,.0f}"
    assert ("Generator" in rows) == (design.generator is not None)
    again = open_job(save_job(state.draft)).draft.job()
    assert again == state.job
    state.question = words.ASK_SUPPLY
    page.run()
    page.checkbox(key="generator allowed").uncheck().run()
    assert state.job.site.generator is None


def test_failed_solve_leaves_the_page_usable(monkeypatch):
    page = opened()
    title = title_of(page)

    def fails(*_args, **_settings):
        raise NotProvenError("stopped")

    with monkeypatch.context() as broken:
        broken.setattr(cached, "by_family", fails)
        change_load(state_of(page), "Television", count=2)
        page.run()
        assert [one.value for one in page.error] == [words.CURVE_FAILED]
        assert not page.exception
        assert page.header[0].value == words.CURVE  # the one before is kept in sight
    undo(page)
    assert title_of(page) == title


def test_point_that_the_simulation_does_not_confirm_is_told(monkeypatch):
    page = opened()

    def doubtful(job, design):
        found = verdict(job, design)
        return replace(found, shortfalls=(Shortfall.HOURS,)) if design.hours == 1 else found

    monkeypatch.setattr("optimizer.answers.curve.verdict", doubtful)
    change_load(state_of(page), "Television", count=2)
    page.run()
    assert [one.value for one in page.error] == [words.CURVE_FAILED]
    assert title_of(page) == said.headline(WRITE, choose(state_of(page).job).design)


def test_part_that_fails_leaves_the_others(monkeypatch):
    page = opened(words.OUTAGE, words.SIMULATION)

    def fails(*_args):
        raise NotProvenError("stopped")

    monkeypatch.setattr(pictures, "trace", fails)
    page.run()
    assert [one.value for one in page.error] == [words.PART_FAILED]
    assert "Holds:" in text_of(page)


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
    assert title_of(other) == headline()
    assert state_of(one).remembered is not state_of(other).remembered


def test_answers_kept_do_not_pile_up():
    page = opened()
    for watts in range(100, 140):
        change_load(state_of(page), "Refrigerator", running_w=float(watts))
        cached.remembered(state_of(page), object, watts)
    assert sum(map(len, state_of(page).remembered.values())) <= 27
    assert len(state_of(page).past) <= 30


def test_answers_of_those_who_left_go_and_are_worked_out_again():
    page = opened()
    state = state_of(page)
    held = dict(state.remembered)
    others = [State(state.draft, state.draft, state.job) for _ in range(20)]
    for one in others:
        cached.kept(one, "answers")
    assert held
    assert not state.remembered
    page.run()
    assert title_of(page) == headline()
    assert state.remembered.keys() == held.keys()


def test_saved_job_opens_to_the_same_cent():
    page = opened()
    change_load(state_of(page), "Refrigerator", running_w=91.7)
    page.run()
    held = state_of(page)
    again = open_job(save_job(held.draft, held.kept))
    assert choose(again.draft.job()).design == choose(held.job).design
