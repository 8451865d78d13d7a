"""What a person sees of a server that is slow, that is gone, that cannot be reached for a while."""

import re
from contextlib import ExitStack

import pytest
from playwright.sync_api import expect

from tests.ui.conftest import ROOT, Server, Visit
from ui import words

pytestmark = pytest.mark.slow
#: Lets the second curve wait for a file, as a large price list would let it wait.
SLOW = """
import time
from pathlib import Path
from optimizer.answers import curve
first, runs = curve.by_family, []

def slow(job, **settings):
    runs.append(1)
    while len(runs) == 2 and not Path("go").exists():
        time.sleep(0.1)
        settings["progress"](1, 10)
    return first(job, **settings)

curve.by_family = slow
"""
DIMMED = """() => {
  let part = document.querySelector('.st-key-curve svg.marks'), shade = 1;
  for (; part; part = part.parentElement) shade *= getComputedStyle(part).opacity;
  return shade < 0.9;
}"""


def begin_own(visit) -> str:
    """Begin a house of one's own, and return what the page answers."""
    demo = visit.answer
    visit.page.get_by_role("button", name=words.START_OWN).click()
    visit.page.get_by_role("button", name=words.HOUSEHOLDS["blank"]).click()
    return visit.leaves(demo)


def test_old_curve_is_dimmed_until_the_new_one_is_there_and_a_server_gone_is_told(pages, tmp_path):
    (tmp_path / "sitecustomize.py").write_text(SLOW)
    home = tmp_path / "home"
    home.mkdir()
    mortal = Server(home, extra={"PYTHONPATH": f"{ROOT}:{tmp_path}"})
    with ExitStack() as stack:
        stack.callback(mortal.stop)
        page = stack.enter_context(pages())
        visit = Visit(page, mortal)
        visit.question(words.ASK_PLACE)
        page.get_by_role("textbox", name="Mean over the year, °C").fill("16")
        page.keyboard.press("Enter")
        waiting = page.get_by_text("Working out the curve")
        waiting.wait_for()
        assert page.locator(".st-key-curve svg.marks").is_visible()
        page.wait_for_function(DIMMED)
        (home / "go").touch()
        waiting.wait_for(state="detached")
        visit.settle()
        assert visit.answer

        answer = begin_own(visit)
        mortal.stop()
        dialog = page.get_by_role("dialog")
        expect(dialog).to_contain_text(words.GONE)
        assert "streamlit" not in dialog.inner_text().lower()
        again = Server(home, port=mortal.port)
        stack.callback(again.stop)
        expect(dialog).to_be_hidden()
        assert visit.answer == answer, "no other job in its place"
        page.reload()
        page.get_by_text(words.LOST_TITLE).wait_for()


def test_a_connection_that_was_cut_goes_on_with_the_own_job(browser, server):
    page = browser.new_page()
    sockets, failed, is_cut = [], [], False

    def routed(browser_side):
        if is_cut:
            failed.append(browser_side)
            browser_side.close()
        else:
            sockets.append((browser_side, browser_side.connect_to_server()))

    def wait_for(tries: list) -> None:
        for _ in range(600):
            if tries:
                return
            page.wait_for_timeout(100)
        raise AssertionError(page.locator("body").inner_text())

    page.route_web_socket(re.compile(r".*/_stcore/stream.*"), routed)
    page.on("requestfailed", lambda request: failed.append(request.url))
    visit = Visit(page, server)
    answer = begin_own(visit)
    failed.clear()
    is_cut = True
    page.context.set_offline(True)
    for side in sockets.pop():
        side.close()
    wait_for(failed)
    assert visit.answer == answer
    is_cut = False
    page.context.set_offline(False)
    wait_for(sockets)
    hours = page.get_by_role("textbox", name=words.FIELDS["target_hours"])
    expect(hours).to_be_enabled()
    hours.fill("20")
    hours.press("Enter")
    visit.leaves(answer)
    assert "My site" in page.locator("body").inner_text()
    page.close()
