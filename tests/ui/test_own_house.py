"""A house of one's own, typed quickly on a phone of a German; kept over a reload."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from optimizer.inputs.job_file import open_job
from tests.ui.conftest import Visit
from ui import words

pytestmark = pytest.mark.slow
#: Between two keys of a person who types fast [ms].
KEY_MS = 60


def typed(visit, label: str, text: str) -> None:
    field = visit.page.get_by_role("textbox", name=label, exact=True)
    field.click()
    field.press("Control+a")
    visit.page.keyboard.type(text, delay=KEY_MS)


def test_an_own_house_is_typed_quickly_and_outlives_a_reload(browser, server):
    page = Visit(browser.new_page(locale="de-DE"), server, width=420)
    page.page.get_by_role("button", name=words.START_OWN).click()
    page.page.get_by_role("button", name=words.HOUSEHOLDS["blank"]).click()
    page.settle()
    watts, start = (f"{words.COLUMNS[name]}, W" for name in ("running_w", "starting_w"))
    typed(page, words.COLUMNS["load"], "Kühlschrank")
    typed(page, watts, "0,11 kW")  # no waiting between fields
    typed(page, start, "700")
    typed(page, f"{words.COLUMNS['duty']}, %", "35,5")
    page.page.keyboard.press("Enter")
    page.settle()
    page.page.get_by_role("button", name=words.ADD_OWN).click()
    name = page.page.get_by_role("textbox", name=words.COLUMNS["load"], exact=True)
    expect(name).to_have_value(words.NEW_LOAD)
    page.settle()
    typed(page, words.COLUMNS["load"], "Brunnenpumpe")
    typed(page, watts, "3/4 hp")
    typed(page, start, "4x")
    typed(page, words.COLUMNS["hours"], "1,5 h")
    page.page.keyboard.press("Enter")
    page.settle()
    pill = page.page.get_by_role("radio", name="Brunnenpumpe", exact=True)
    expect(pill).to_be_visible()
    page.settle()
    assert not page.page.locator("text=Not taken").count()
    assert page.wrongs() == []

    address = page.page.url
    assert re.search(r"\?kept=[\w-]{20,}$", address)
    answer = page.answer
    page.page.reload()
    page.wait_for_curve()
    page.becomes(answer)
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=words.SAVE).click()
    assert waiting.value.suggested_filename == "my-site.keeplit.json"
    file = Path(waiting.value.path()).read_bytes()
    page.page.close()
    fridge, pump = open_job(file).draft.job().loads
    assert (fridge.load, fridge.running_w, fridge.starting_w) == ("Kühlschrank", 110, 700)
    assert fridge.duty == pytest.approx(0.355)
    assert (pump.load, pump.duty) == ("Brunnenpumpe", 0.0625)
    assert pump.running_w == pytest.approx(559.27, abs=0.01)
    assert pump.starting_w == pytest.approx(4 * pump.running_w)
