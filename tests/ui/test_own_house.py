"""A house of one's own, typed quickly on a phone of a German; kept over a reload."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from optimizer.inputs.job_file import open_job
from tests.ui.conftest import Server
from ui import words

pytestmark = pytest.mark.slow
#: Between two keys of a person who types fast [ms].
KEY_MS = 120


def typed(visit, label: str, text: str) -> None:
    field = visit.page.get_by_role("textbox", name=label, exact=True)
    field.click()
    field.press("Control+a")
    visit.page.keyboard.type(text, delay=KEY_MS)


def test_an_own_house_is_typed_quickly_and_outlives_a_reload(visit, tmp_path):
    page = visit(width=420, locale="de-DE", is_alone=True)
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
    expect(name).to_have_value(words.NEW_LOAD, timeout=20_000)
    page.settle()
    typed(page, words.COLUMNS["load"], "Brunnenpumpe")
    typed(page, watts, "3/4 hp")
    typed(page, start, "4x")
    typed(page, words.COLUMNS["hours"], "1,5 h")
    page.page.keyboard.press("Enter")
    page.settle()
    pill = page.page.get_by_role("radio", name="Brunnenpumpe", exact=True)
    expect(pill).to_be_visible(timeout=20_000)
    page.settle()
    assert not page.page.locator("text=Not taken").count()
    found = Axe().run(page.page).response["violations"]
    assert [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in found] == []
    page.shot("own-house-420")

    address = page.page.url
    assert re.search(r"\?kept=[\w-]{20,}$", address)
    answer = page.answer
    page.page.reload()
    page.wait_for_curve()
    page.becomes(answer)
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=words.SAVE).click()
    assert waiting.value.suggested_filename == "my-site.keeplit.json"
    file = tmp_path / "job.json"
    waiting.value.save_as(file)
    fridge, pump = open_job(file.read_bytes()).draft.job().loads
    assert (fridge.load, fridge.running_w, fridge.starting_w) == ("Kühlschrank", 110, 700)
    assert fridge.duty == pytest.approx(0.355)
    assert (pump.load, pump.duty) == ("Brunnenpumpe", 0.0625)
    assert pump.running_w == pytest.approx(559.27, abs=0.01)
    assert pump.starting_w == pytest.approx(4 * pump.running_w)

    other = visit()
    assert other.answer != answer, "another visitor has a job of their own"


def test_a_server_that_is_gone_is_told_in_the_pages_own_words(visit, tmp_path):
    home = tmp_path / "home"
    home.mkdir()
    mortal = Server(home)
    page = visit(server=mortal)
    page.page.get_by_role("button", name=words.START_OWN).click()
    page.page.get_by_role("button", name=words.HOUSEHOLDS["blank"]).click()
    page.settle()
    answer = page.answer
    mortal.stop()
    dialog = page.page.get_by_role("dialog")
    expect(dialog).to_contain_text(words.GONE, timeout=30_000)
    assert "streamlit" not in dialog.inner_text().lower()
    again = Server(home, port=mortal.port)
    try:
        expect(dialog).to_be_hidden(timeout=30_000)
        assert page.answer == answer, "no other job in its place"
        page.page.reload()
        page.page.get_by_text(words.LOST_TITLE).wait_for()
    finally:
        again.stop()


def test_a_connection_that_was_cut_goes_on_with_the_own_job(visit):
    page = visit(is_alone=True)
    sockets, is_cut = [], False

    def routed(browser_side):
        if is_cut:
            browser_side.close()
        else:
            sockets.append((browser_side, browser_side.connect_to_server()))

    page.page.route_web_socket(re.compile(r".*/_stcore/stream.*"), routed)
    page.page.reload()
    demo = page.answer
    page.page.get_by_role("button", name=words.START_OWN).click()
    page.page.get_by_role("button", name=words.HOUSEHOLDS["blank"]).click()
    answer = page.leaves(demo)
    is_cut = True
    page.context.set_offline(True)
    for side in sockets.pop():
        side.close()
    page.page.wait_for_timeout(4000)
    assert page.answer == answer
    is_cut = False
    page.context.set_offline(False)
    for _ in range(100):
        page.page.wait_for_timeout(200)
        if sockets:
            break
    hours = page.page.get_by_role("textbox", name=words.FIELDS["target_hours"])
    hours.fill("20")
    hours.press("Enter")
    page.leaves(answer)
    assert "My site" in page.page.locator("body").inner_text()
