"""The section that sets the families against each other: its logic, then in a browser."""

import re
from dataclasses import replace
from functools import partial

import pytest
from streamlit.testing.v1 import AppTest

from optimizer import (
    NoDesignError,
    NotProvenError,
    choose,
    compare,
    load,
    staircase,
    switch_points,
    tiers,
)
from optimizer.comparison.regrets import Regret
from optimizer.model.diagnosis import Diagnosis, Goal, GoalKind, Hindrance, HindranceKind
from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.theme import LIGHT
from optimizer.report.words import comparison as sentences
from optimizer.report.words import notes
from optimizer.report.words.switch_points import regions
from tests.ui.pages import (
    HOURS,
    RIVALS,
    WRITE,
    job,
    opened,
    plain,
    press,
    table_under,
    text_of,
    title_of,
)
from ui import cached, words
from ui.answers import rivals, rivals_further
from ui.words import rivals as said

HEADING = "Lead-acid or lithium?"


@pytest.fixture(scope="module")
def page():
    """The site, opened once for all that leave its job alone."""
    return opened(RIVALS)


def look(page: AppTest, question: str) -> None:
    page.button_group(key=rivals_further.OPEN).set_value(question).run()
    assert not page.exception
    assert not page.error


def headers(page: AppTest) -> list[str]:
    return [plain(part.label) for part in page.expander]


def test_verdict_reason_and_price_switch_points_stand_there_unasked(page):
    found = compare(job())
    assert HEADING in headers(page)
    text = text_of(page)
    assert f"**{sentences.verdict(WRITE, found)}**" in text
    for reason in (*sentences.reasons(WRITE, found), sentences.catch_up(WRITE, found)):
        assert reason in text
    prices = switch_points(job(), keys=["price:lead", "price:lithium"])
    assert [row[2] for row in table_under(page, "All else equal")] == [
        regions(WRITE, one) for one in prices
    ]
    costs = next(plain(one.value) for one in page.markdown if "| Bank; inverter set |" in one.value)
    row = next(line for line in costs.splitlines() if "Life-cycle cost, EUR" in line)
    assert row.count("|") == 4
    for one in found.alternatives:
        assert f"{one.design.life_cycle_cost:,.0f}" in row


def test_paid_table_ends_after_the_residual_value(page):
    found = compare(job())
    paid = next(plain(one.value) for one in page.markdown if ", nominal |" in one.value)
    lines = [line for line in paid.splitlines() if line.startswith("|")]
    assert len(lines) == 2 + found.job.site.horizon_years + 2
    last, before = lines[-1], lines[-2]
    assert last.startswith("| residual value | ")
    winner = found.winner
    assert f"| {winner.balances[-1].real:,.0f} |" in before
    assert f"| −{winner.residual_value:,.0f} |" in last


def test_names_of_later_banks_stand_in_the_file_and_not_in_the_narrow_chart():
    found = compare(load("clinic"))
    later = next(one.later_purchases[0] for one in found.alternatives if one.later_purchases)

    def texts(*, named: bool) -> list[str]:
        drawn = paid_chart(found, Canvas(LIGHT, WRITE), named=named).to_dict(validate=False)
        return [row["text"] for rows in drawn["datasets"].values() for row in rows if "text" in row]

    assert later.items[0] in texts(named=True)
    assert later.items[0] not in texts(named=False)


def test_nothing_slow_runs_unasked(monkeypatch):
    def fails(*_args, **_settings):
        raise AssertionError("asked for")

    keys = []

    def watched(job, hours, *, keys=None, processes=None, real=switch_points, log=keys):
        log.append(keys)
        return real(job, hours, keys=keys, processes=processes)

    for name in ("break_even_line", "regret", "staircase", "sensitivities", "tiers"):
        monkeypatch.setattr(rivals_further, name, fails)
    monkeypatch.setattr(rivals, "switch_points", watched)
    opened(RIVALS, forget="answers")
    assert keys == [["price:lead", "price:lithium"]]


def test_every_switch_point_when_asked_and_not_again_after_a_change(monkeypatch):
    monkeypatch.setattr(
        rivals, "switch_points", partial(switch_points, keys=["study-period", "rate", "depth:lead"])
    )
    page = opened(RIVALS)
    press(page, said.SWITCH_POINTS_ALL)
    period, rate = switch_points(job(), keys=["study-period", "rate"])
    rows = table_under(page, "All else equal")
    told = {row[0]: row[2] for row in rows}
    assert told["study period"] == regions(WRITE, period)
    assert told["discount rate"] == regions(WRITE, rate)
    assert "jumps" in text_of(page)
    assert said.SWITCH_POINT_SIDES in headers(page)
    page.run()
    assert table_under(page, "All else equal") == rows, "kept while the job is"
    page.text_input(key=HOURS).set_value("30").run()
    assert said.SWITCH_POINTS_ALL in [button.label for button in page.button]
    assert len(table_under(page, "All else equal")) <= 2


def test_two_numbers_at_once(page):
    look(page, said.BREAK_EVEN_LINE)
    assert "wins until its batteries are" in text_of(page)
    page.selectbox(key=rivals_further.ACROSS).set_value("tariff").run()
    assert not page.error
    assert "With tariff at" in text_of(page)


def test_budget_both_ways_with_a_limit_on_later_years(page):
    look(page, said.BUDGETS)
    hours = job().site.target_hours
    asked = re.search(rf"{hours} hours take an upfront budget of €([\d,]+)", text_of(page))
    least = int(asked[1].replace(",", ""))
    assert choose(job(), budget=least).design.hours >= hours
    assert choose(job(), budget=least - 1).design.hours < hours
    page.text_input(key=rivals_further.BUDGET).set_value("5 000,00 EUR").run()
    bought = choose(job(), budget=5000).design.hours
    assert f"€5,000 buy {bought} hours" in text_of(page)
    page.text_input(key=rivals_further.BUDGET).set_value("10").run()
    assert "€10 buy nothing yet" in text_of(page)
    page.button_group(key=rivals_further.LIFETIME).set_value(True).run()
    page.text_input(key=rivals_further.LATER).set_value("10").run()
    limited = staircase(job(), lifetime=True, later_limit=10)
    assert [row[1] for row in table_under(page, "From")] == [
        str(step.hours) for step in limited.steps
    ]


def test_tiers_at_the_target(page):
    look(page, said.TIERS)
    hours = job().site.target_hours
    row = next(row for row in table_under(page, "Autonomy, h") if row[0] == str(hours))
    costs = tiers(job()).at(hours)
    assert row[1] == f"{costs[0].cost:,.0f}"
    assert row[-1] == f"{costs[-1].extra:,.0f}"


def test_doubts_one_by_one_and_together(monkeypatch):
    scenarios = []

    def fewer(job, hours, *, real=rivals_further.regret, **settings) -> Regret:
        scenarios.append(settings["processes"])
        return real(job, hours, scenarios=4, **settings)

    monkeypatch.setattr(rivals_further, "regret", fewer)
    first = []

    def once(*asked, real=rivals_further.sensitivities, **settings):
        first[:] = first or [real(*asked, **settings)]
        return first[0]

    monkeypatch.setattr(rivals_further, "sensitivities", once)
    page = opened(RIVALS)
    look(page, said.MOVES)
    assert scenarios == [1]
    assert "of 4 drawn scenarios" in text_of(page)
    assert table_under(page, "One at a time")
    page.button_group(key=rivals_further.MOVED).set_value("hours").run()
    assert scenarios == [1], "kept"
    assert page.button_group(key=rivals_further.MOVED).value == "hours"
    page.text_input(key=HOURS).set_value("20").run()
    assert scenarios == [1], "a changed job asks nothing by itself"
    press(page, said.AGAIN)
    assert scenarios == [1, 1]


def test_hours_of_a_point_that_was_clicked():
    page = opened(RIVALS)
    page.session_state["job"].picked = "40:"
    page.run()
    assert sentences.verdict(WRITE, compare(job(), 40)) in text_of(page)


def test_nothing_within_the_budget_leaves_budgets_and_tiers(monkeypatch):
    def refuses(*_args, **_settings):  # a real refusal looks long for what would help
        goal = Goal(GoalKind.UPFRONT_BUDGET, currency="EUR", amount=1.0)
        raise NoDesignError(goal, Diagnosis((Hindrance(HindranceKind.MONEY),), (), ()))

    monkeypatch.setattr(cached, "compare", refuses)
    page = opened(RIVALS, forget="")
    assert title_of(page).startswith("No design costs")
    assert said.NOTHING_FITS in text_of(page)
    assert page.button_group(key=rivals_further.OPEN).options == [said.BUDGETS, said.TIERS]


def with_families(monkeypatch, rename):
    """Let every price list of the page name its families otherwise."""
    from ui import state

    class Renamed(state.Draft):
        def job(self):
            job = super().job()
            batteries = tuple(rename(one) for one in job.catalog.batteries)
            batteries = tuple(one for one in batteries if one is not None)
            return replace(job, catalog=replace(job.catalog, batteries=batteries))

    first = state.draft_from_files

    def drafted(*files):
        plain = first(*files)
        return Renamed(plain.site, plain.tables)

    monkeypatch.setattr(state, "draft_from_files", drafted)


def test_one_family_only(monkeypatch):
    with_families(monkeypatch, lambda one: one if one.family == "lead" else None)
    page = opened("Which family?", forget="")
    assert "Which family?" in headers(page)
    assert said.ONE_FAMILY in text_of(page)
    assert "is left within the limits" in text_of(page)
    assert said.BREAK_EVEN_LINE not in page.button_group(key=rivals_further.OPEN).options
    assert said.SWITCH_POINTS_ALL not in [button.label for button in page.button]


def test_three_families(monkeypatch):
    with_families(
        monkeypatch, lambda one: replace(one, family="salt") if one.chemistry == "gel" else one
    )
    page = opened("Lead\\-acid, salt or lithium?", forget="")
    assert "Lead-acid, salt or lithium?" in headers(page)
    found = compare(page.session_state["job"].job)
    assert {one.name for one in found.alternatives} == {"lithium", "lead", "salt"}
    assert [row[0] for row in table_under(page, "All else equal")] == [
        f"price of {name} batteries" for name in ("lead-acid", "salt", "lithium")
    ]


def test_failure_stays_in_the_section(monkeypatch, caplog):
    def fails(*_args, **_settings):
        raise NotProvenError("Gull Row 14")

    page = opened(RIVALS)
    monkeypatch.setattr(rivals, "switch_points", fails)
    page.text_input(key=HOURS).set_value("12").run()
    assert [one.value for one in page.error] == [words.PART_FAILED]
    assert title_of(page).endswith("12 hours without the grid.")
    assert plain(page.caption[-1].value) == notes.caution(WRITE)
    assert "Gull Row" not in caplog.text


@pytest.mark.slow
@pytest.mark.parametrize("window", ["desk", "phone"])
def test_in_the_browser(window, request):
    seen = request.getfixturevalue(window)
    before = seen.answer
    seen.open_part(HEADING)
    chart = seen.page.locator(".st-key-plain-paid svg.marks")
    chart.wait_for()
    seen.settle()  # what is drawn above it later would move it
    seen.page.locator("summary", has_text=HEADING).evaluate("head => head.scrollIntoView()")
    seen.settle()
    if window == "desk":
        box = chart.bounding_box()
        assert box["y"] + box["height"] < 900, "verdict, switch points and money on one screen"
        assert seen.taken(seen.page.locator(".st-key-paid-svg button")).startswith(b"<svg")
        assert seen.page.locator(".st-key-paid-png button").is_visible()
    seen.page.get_by_role("radio", name=said.TIERS).click()
    seen.page.locator(".st-key-plain-tiers svg.marks").wait_for()
    seen.settle()
    assert seen.answer == before
    assert seen.across() <= seen.page.viewport_size["width"], "nothing to scroll sideways"
    assert seen.smallest_letters("plain-paid") >= 12, "labels are legible"
    seen.close_part(HEADING)
