"""The page in a real browser: what a person sees, clicks, drops in and takes away.

Few visits, each with much to look at: a visit works the curve out anew.
"""

import json
import re
from dataclasses import replace

import pytest
from playwright.sync_api import expect

from optimizer import choose, frontier
from optimizer.inputs.draft import survey_rows
from optimizer.inputs.job_file import open_job
from optimizer.report.words import design as said
from tests.ui.pages import PARTS, WRITE, job
from ui import words
from ui.words import rivals

pytestmark = pytest.mark.slow
#: What opening the page takes the server, without the imports [s]; the benchmark has the whole.
OPENED_S = 1.5
RUNNING = f"{words.COLUMNS['running_w']}, W"
DROP = ".st-key-question_open [data-testid=stFileUploaderDropzoneInput]"


@pytest.fixture(scope="module")
def points():
    """The curve, as the library has it."""
    return frontier(job()).points


def press(visit, name: str) -> None:
    visit.page.get_by_role("button", name=name, exact=True).click()
    visit.settle()


def type_load(visit, load: str, label: str, text: str) -> None:
    """Open a load and type into one of its fields, as a person does."""
    visit.page.get_by_role("radio", name=load, exact=True).click()
    visit.settle()
    visit.page.get_by_role("textbox", name=label, exact=True).fill(text)
    visit.page.keyboard.press("Enter")
    visit.settle()


def undo(visit) -> None:
    visit.page.locator(".st-key-undo button").click()
    visit.settle()


def test_look_around(visit, server, points):
    busy = server.processor_s
    page = visit()
    assert server.processor_s - busy < OPENED_S
    page.says(said.headline(WRITE, choose(job()).design))
    for point in points:
        assert page.point(point.hours).count() == 1
    chart = page.page.locator(".st-key-curve svg.marks").bounding_box()
    assert chart["y"] + chart["height"] < 900, "the whole curve is on the first screen"
    drawn = page.page.locator("svg.marks").all()
    areas = [box["width"] * box["height"] for box in (one.bounding_box() for one in drawn)]
    assert chart["width"] * chart["height"] == max(areas), "the curve is the largest thing"
    assert page.page.locator(".st-key-curve svg.marks text", has_text="lead-acid").count() == 1

    far, near = points[-2], points[2]
    told = page.hover(far.hours)
    money = (f"{far.upfront_cost:,.0f}", f"{far.life_cycle_cost:,.0f}")
    for text in (far.banks[0].battery.battery, far.inverter.inverter, *money):
        assert text in told
    page.click(far.hours)
    page.says(said.headline(WRITE, far))
    heading = f"The design for {far.hours} hours"
    expect(page.page.get_by_role("heading", name=heading)).to_be_visible()
    press(page, words.KEEP)
    page.click(near.hours)
    page.says(said.headline(WRITE, near))
    letter = page.page.locator(".st-key-curve svg.marks text", has_text="A")
    expect(letter.first).to_be_attached()
    press(page, words.TO_TARGET)

    budget = (points[2].upfront_cost + points[-2].upfront_cost) / 2
    page.page.get_by_role("textbox", name=f"{words.FIELDS['budget']}, EUR").fill(f"{budget:.0f}")
    page.page.keyboard.press("Enter")
    expect(page.point(far.hours)).to_have_attribute("fill-opacity", "0.35")
    page.settle()
    assert page.point(near.hours).get_attribute("fill-opacity") in {None, "1"}
    assert "An upfront budget of" in page.text
    for heading in PARTS:  # last: open, they are drawn after every change
        page.open_part(heading)
    assert page.wrongs() == []
    hosts = {re.sub(r"^\w+://([^/]*).*", r"\1", url) for url in page.requests}
    own = {host for host in hosts if "data:" not in host and "blob:" not in host}
    assert own == {f"localhost:{server.port}"}, "nothing comes from the network"


def test_change_loads_undo_save_and_open_again(visit, server):
    page = visit()
    page.question(words.ASK_LOADS)
    first = page.answer
    type_load(page, "Refrigerator", RUNNING, "400")
    second = page.leaves(first)
    type_load(page, "Television", RUNNING, "0,3 kW")
    assert page.leaves(second) != first
    undo(page)
    page.becomes(second)
    undo(page)
    page.becomes(first)
    page.page.locator(".st-key-redo button").click()
    page.becomes(second)

    fridge, *others = job().loads
    changed = replace(job(), loads=(replace(fridge, running_w=400.0), *others))
    hours = frontier(changed).points[-2].hours
    page.click(hours)
    press(page, words.KEEP)
    file = page.taken(page.page.get_by_role("button", name=words.SAVE))
    held = open_job(file)
    assert survey_rows(held.draft.tables["loads"])[0]["running_w"] == 400
    assert [one.hours for one in held.kept] == [hours]
    page.settle()
    clicked = page.answer
    press(page, words.TO_TARGET)
    assert page.leaves(clicked) == second
    type_load(page, "Refrigerator", words.COLUMNS["load"], "Secret cabinet")
    type_load(page, "Secret cabinet", words.COLUMNS["hours"], "6-26")

    other = visit()
    assert other.answer == first, "another visitor has a job of their own"
    other.question(words.ASK_FILES)
    other.page.locator(DROP).set_input_files(
        {"name": "job.json", "mimeType": "application/json", "buffer": file}
    )
    other.page.get_by_role("heading", name="Designs side by side").wait_for()
    other.becomes(second)
    assert_nothing_is_left(server)


def assert_nothing_is_left(server) -> None:
    """Check that neither log nor disk holds anything of a job."""
    log = server.log.read_text()
    for private in ("Secret", "Gull Row", "Refrigerator", "Traceback"):
        assert private not in log
    left = [path for path in server.home.rglob("*") if path.is_file()]
    assert [path.name for path in left] == ["config.toml"], "no file is written"


def test_files_come_in_and_go_out(visit):
    page = visit()
    before = page.answer
    page.question(words.ASK_PRICES)
    bad = b"battery,chemistry,voltage_v,capacity_ah,rate_h,price,mass_kg\n" + (
        b"Good,gel,12,100,20,200,30\nBad,gel,twelve,100,20,200,30\nWorse,gel,12,100,20,-4,30\n"
    )
    page.page.locator(DROP).set_input_files(
        {"name": "batteries.csv", "mimeType": "text/csv", "buffer": bad}
    )
    page.page.get_by_text(words.PRICES_KEPT).wait_for()
    page.settle()
    rows = page.page.locator(".st-key-question_open tbody tr").all_inner_texts()
    assert [row.split("\t")[1:3] for row in rows] == [["3", "voltage_v"], ["4", "price"]]
    assert page.answer == before
    page.question(words.ASK_FILES)
    newer = json.dumps({"keeplit_job": 99}).encode()
    page.page.locator(DROP).set_input_files(
        {"name": "new.json", "mimeType": "application/json", "buffer": newer}
    )
    page.page.get_by_text(words.FILE_KEPT).wait_for()
    assert "version 99" in page.page.locator(".st-key-question_open").inner_text()
    starts = {
        words.CSV: b"\xef\xbb\xbfcurve,hours",
        words.XLSX: b"PK",
        rivals.PICTURE_PNG: b"\x89PNG",
        rivals.PICTURE_SVG: b"<svg",
    }
    question = page.page.locator(".st-key-question_open")
    for label, start in starts.items():
        button = question.get_by_role("button", name=label, exact=True)
        assert page.taken(button).startswith(start)
