"""What a buyer meets first, and found wrong once: one desk and one phone for all.

Whoever changes something puts it back.
"""

import re

import pytest
from playwright.sync_api import expect

from optimizer import choose, compare, frontier, trade_off
from optimizer.report.words import design as said
from tests.ui.pages import WRITE, job
from ui import words
from ui.words import standing

pytestmark = pytest.mark.slow
#: What is smaller than 24 px, the smallest target that a finger meets (WCAG 2.2, 2.5.8).
SMALL = """() => [...document.querySelectorAll('button, summary, [role=radio], [role=slider]')]
    .map(one => [one.innerText || one.ariaLabel, one.getBoundingClientRect()])
    .filter(([, box]) => box.width > 0 && Math.min(box.width, box.height) < 24)
    .map(([name]) => name)"""
LENGTH = "document.querySelector('[data-testid=stMainBlockContainer]').scrollHeight"


@pytest.mark.parametrize("window", ["desk", "phone"])
def test_nothing_stands_in_anybodys_way(window, request):
    assert request.getfixturevalue(window).wrongs() == []


def test_one_answer_wherever_it_is_told(desk):
    """The headline, the rivals, the bars, the curve and the comparison tell the same sums."""
    found = compare(job())
    cost = f"{found.winner.life_cycle_cost:,.0f}"
    bars = desk.page.locator(".st-key-cost_bars svg.marks text").all_text_contents()
    assert cost in bars
    assert f"{found.runner_up.life_cycle_cost:,.0f}" in bars
    assert desk.page.locator(".st-key-rivals td", has_text=cost).count() == 1
    curve = desk.page.locator(".st-key-curve svg.marks text").all_text_contents()
    assert f"{found.winner.design.hours} h for {cost}" in curve
    assert f"€{found.cheaper_by:,.0f} less than lead-acid" in desk.text


def test_first_screen_says_what_is_bought_and_where_to_begin(desk):
    design = choose(job()).design
    desk.says(said.headline(WRITE, design))
    headline = desk.page.locator("h1").inner_text()
    bank = design.banks[0]
    for part in (f"{bank.energy_wh / 1000:.1f}", f"{design.power_w / 1000:.2g}"):
        assert f"{part}\N{NO-BREAK SPACE}k" in headline, "a unit stays with its number"
    desk.to_top()
    for label in (
        words.ASK_LOADS,
        f"{words.FIELDS['target_hours']}, h",
        f"{words.FIELDS['budget']}, EUR",
        words.START_OWN,
    ):
        place = desk.page.get_by_text(label, exact=True).first.bounding_box()
        assert place["y"] + place["height"] < 900, "above the fold"
    assert f"{design.mass_kg:,.0f}" in desk.page.locator(".st-key-rivals").inner_text()


def test_fields_stand_level_and_nothing_covers_what_is_typed(desk):
    boxes = [
        desk.page.locator(f".st-key-starters {one}").first.bounding_box()
        for one in ("[data-testid=stBaseButton-secondary]", "[data-testid=stTextInputRootElement]")
    ]
    bottoms = [box["y"] + box["height"] for box in boxes]
    assert max(bottoms) - min(bottoms) <= 3
    field = desk.page.get_by_role("textbox", name=f"{words.FIELDS['budget']}, EUR")
    field.click()
    field.type("12", delay=60)
    assert desk.page.get_by_text("Press Enter to apply").first.is_hidden()
    field.fill("")
    field.press("Enter")
    marks = desk.page.locator(".st-key-curve svg.marks text", has_text="doing nothing")
    expect(marks).to_have_count(2)  # the words stand on a border of the ground


def test_answer_stays_in_sight_in_one_bar(desk):
    desk.page.mouse.move(700, 600)
    desk.page.mouse.wheel(0, 1500)
    desk.page.wait_for_function("document.querySelector('[data-testid=stMain]').scrollTop > 500")
    bar = desk.page.locator(".st-key-bar").bounding_box()
    assert bar["y"] >= 0
    assert bar["height"] <= 56
    design = choose(job()).design
    told = desk.page.locator(".st-key-bar").inner_text()
    assert f"{design.hours} h · lithium" in told
    assert f"€{design.upfront_cost:,.0f} upfront" in told


def test_totals_follow_from_each_other(desk):
    desk.open_part(words.MONEY)
    table = desk.page.locator(".stMarkdown table", has_text="Money of today").first
    rows = {}
    for line in table.locator("tbody tr").all():
        name, *cells = line.locator("td").all_inner_texts()
        rows[name] = [int(cell.replace(",", "").replace("−", "-")) for cell in cells]
    whole, upfront = rows.pop("Life-cycle cost"), rows.pop("Upfront cost")
    design = choose(job()).design
    assert upfront == [round(design.upfront_cost)] * 2
    assert whole[1] == round(design.life_cycle_cost)
    for column in (0, 1):
        assert sum(row[column] for row in rows.values()) == pytest.approx(whole[column], abs=6)
    desk.open_part(words.CURVE_TABLE)
    opened = desk.page.locator(".stMarkdown table", has_text="cheapest of all").bounding_box()
    assert opened["height"] <= 0.71 * 900, "a long table scrolls within itself"
    desk.close_part(words.CURVE_TABLE)
    desk.close_part(words.MONEY)


def test_pump_meets_inverter_and_bank(desk):
    desk.open_part(words.FIGURES)
    text = desk.text
    assert re.search(r"Start of .*: the inverter must give [\d,]+ W for seconds and gives", text)
    assert re.search(r"The bank must give [\d,]+ A and gives [\d,]+ A", text)
    desk.page.get_by_role("button", name=words.TERMS).first.click()
    desk.page.get_by_text("for seconds as it starts").wait_for()
    desk.page.keyboard.press("Escape")
    desk.close_part(words.FIGURES)


def test_each_cost_has_the_least_of_what_it_shows(desk):
    desk.page.get_by_role("radio", name=words.COSTS["upfront_cost"]).click()
    least = trade_off(job()).points[-1]
    desk.says(said.headline(WRITE, least))
    desk.settle()
    axis = desk.page.locator(".st-key-curve svg.marks text", has_text="Upfront cost, EUR")
    assert axis.count() == 1
    curve = desk.page.locator(".st-key-curve svg.marks text").all_text_contents()
    assert f"{least.hours} h for {least.upfront_cost:,.0f}" in curve
    point = frontier(job(), cost="upfront_cost").points[1]
    desk.click(point.hours)
    assert f"€{point.upfront_cost:,.0f} upfront" in desk.text
    desk.page.get_by_role("button", name=words.TO_TARGET).click()
    desk.says(said.headline(WRITE, least))
    desk.page.get_by_role("radio", name=words.COSTS["life_cycle_cost"]).click()
    desk.says(said.headline(WRITE, choose(job()).design))


def test_family_that_only_money_keeps_out_is_told(desk):
    budget = round(choose(job()).design.upfront_cost) - 1
    field = desk.page.get_by_role("textbox", name=f"{words.FIELDS['budget']}, EUR")
    field.fill(str(budget))
    before = desk.answer
    field.press("Enter")
    desk.leaves(before)
    held = compare(job().with_site(budget=float(budget)))
    text = desk.text
    for one in held.beyond_budget:
        saving = held.winner.life_cycle_cost - one.life_cycle_cost
        more = one.design.upfront_cost - held.winner.design.upfront_cost
        assert f"is beyond the budget: €{more:,.0f} more upfront" in text
        assert f"€{abs(saving):,.0f} {'less' if saving > 0 else 'more'} over" in text
    desk.page.locator(".st-key-undo button").click()
    desk.becomes(before)


def test_phone_is_short_and_met_by_a_finger(phone):
    assert phone.page.evaluate(LENGTH) <= 3500
    assert phone.page.evaluate(SMALL) == []
    bar = phone.page.locator(".st-key-bar").bounding_box()
    assert bar["height"] <= 56
    design = choose(job()).design
    assert f"{design.hours} h · lithium" in phone.page.locator(".st-key-bar").inner_text()


def test_curve_is_legible_on_a_phone_and_its_points_are_met(phone):
    assert phone.across() <= 420, "nothing to scroll sideways"
    save = phone.page.get_by_role("button", name=words.SAVE).bounding_box()
    menu = phone.page.locator("[data-testid=stMainMenu]").bounding_box()
    assert save["x"] + save["width"] <= menu["x"], "the menu covers nothing"
    chart = phone.page.locator(".st-key-curve svg.marks").bounding_box()
    assert chart["x"] >= 0
    assert chart["x"] + chart["width"] <= 420
    assert phone.smallest_letters("curve") >= 12, "labels are legible"
    assert phone.page.locator(".st-key-question_open").count() == 0, "inputs are folded away"
    far = frontier(job()).points[-2]
    phone.click(far.hours)
    phone.says(said.headline(WRITE, far))
    phone.page.get_by_role("button", name=words.TO_TARGET).click()
    phone.says(said.headline(WRITE, choose(job()).design))


def test_bank_that_stands_is_judged_in_a_wide_table_that_scrolls_with_a_cue(phone):
    phone.open_part(standing.HEADING)
    field = phone.page.get_by_label(standing.BANK)
    field.fill("12 V 95 Ah agm")
    field.press("Enter")
    phone.page.get_by_text("Assumed", exact=True).wait_for()
    phone.settle()
    assert re.search(r"12 V 95 Ah agm carries the loads for \d", phone.text)
    table = phone.page.locator(".stMarkdown table", has_text="State of health").first
    assert table.evaluate("one => one.scrollWidth > one.clientWidth")
    cue = table.evaluate("one => getComputedStyle(one).backgroundAttachment")
    assert cue.startswith("local, local, scroll, scroll")
    assert phone.across() <= 420
    expect(table).to_have_attribute("tabindex", "0")
    letters = "size => { document.documentElement.style.fontSize = size; }"
    phone.page.evaluate(letters, "8px")
    expect(table).not_to_have_attribute("tabindex", "0")  # no stop where nothing is hidden
    phone.page.evaluate(letters, "")
    expect(table).to_have_attribute("tabindex", "0")
    phone.close_part(standing.HEADING)
