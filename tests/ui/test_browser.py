"""The page in a real browser: what a person sees, clicks, drops in and takes away.

Few visits, each with much to look at: a visit works the curve out anew.
"""

import json
import re
import time
from dataclasses import replace

import pytest
from axe_playwright_python.sync_playwright import Axe

from optimizer import choose, frontier, trade_off
from optimizer.inputs.draft import survey_rows
from optimizer.inputs.job_file import open_job
from optimizer.report.words import design as said
from tests.ui.conftest import Server
from tests.ui.pages import PARTS, ROOT, WRITE, job
from ui import words
from ui.words import rivals

pytestmark = pytest.mark.slow
#: From opening to the curve, on a machine that tests share [s]; the benchmark has the figure.
PATIENCE_S = 15
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
    started = time.monotonic()
    page = visit()
    assert time.monotonic() - started < PATIENCE_S
    assert page.headline == said.headline(WRITE, choose(job()).design)
    for point in points:
        assert page.point(point.hours).count() == 1
    chart = page.page.locator(".st-key-curve svg.marks").bounding_box()
    assert chart["y"] + chart["height"] < 900, "the whole curve is on the first screen"
    drawn = page.page.locator("svg.marks").all()
    areas = [box["width"] * box["height"] for box in (one.bounding_box() for one in drawn)]
    assert chart["width"] * chart["height"] == max(areas), "the curve is the largest thing"
    assert page.page.locator(".st-key-curve svg.marks text", has_text="lead-acid").count() == 1
    page.shot("first-1440")

    far, near = points[-2], points[2]
    told = page.hover(far.hours)
    money = (f"{far.upfront_cost:,.0f}", f"{far.life_cycle_cost:,.0f}")
    for text in (far.banks[0].battery.battery, far.inverter.inverter, *money):
        assert text in told
    page.click(far.hours)
    assert page.headline == said.headline(WRITE, far)
    heading = f"The design for {far.hours} hours"
    assert page.page.get_by_role("heading", name=heading).is_visible()
    press(page, words.KEEP)
    page.click(near.hours)
    assert page.headline == said.headline(WRITE, near)
    assert page.page.locator(".st-key-curve svg.marks text", has_text="A").count() >= 1
    page.shot("clicked-1440")
    for heading in PARTS:
        page.open_part(heading)
    assert _serious(Axe().run(page.page).response) == []
    press(page, words.TO_TARGET)

    page.page.get_by_role("radio", name=words.COSTS["upfront_cost"]).click()
    page.settle()
    axis = page.page.locator(".st-key-curve svg.marks text", has_text="Upfront cost, EUR")
    assert axis.count() == 1
    assert page.headline == said.headline(WRITE, trade_off(job()).points[-1])
    page.shot("upfront-1440")
    page.page.get_by_role("radio", name=words.COSTS["life_cycle_cost"]).click()
    page.settle()
    budget = (points[2].upfront_cost + points[-2].upfront_cost) / 2
    page.page.get_by_role("textbox", name=f"{words.FIELDS['budget']}, EUR").fill(f"{budget:.0f}")
    page.page.keyboard.press("Enter")
    page.settle()
    assert page.point(far.hours).get_attribute("fill-opacity") == "0.35"
    assert page.point(near.hours).get_attribute("fill-opacity") in {None, "1"}
    assert "An upfront budget of" in page.page.locator("[data-testid=stMain]").inner_text()
    hosts = {re.sub(r"^\w+://([^/]*).*", r"\1", url) for url in page.requests}
    own = {host for host in hosts if "data:" not in host and "blob:" not in host}
    assert own == {f"localhost:{server.port}"}, "nothing comes from the network"


def test_change_loads_undo_save_and_open_again(visit, server, tmp_path):
    page = visit()
    page.question(words.ASK_LOADS)
    first = page.answer
    type_load(page, "Refrigerator", RUNNING, "400")
    second = page.leaves(first)
    type_load(page, "Television", RUNNING, "0,3 kW")
    assert page.leaves(second) != first
    page.shot("loads-1440")
    undo(page)
    page.becomes(second)
    undo(page)
    page.becomes(first)
    page.page.get_by_role("radio", name=words.GROUPS["water"], exact=True).click()
    page.page.get_by_role("radio", name="Well or booster pump: 550 W").click()
    page.settle()
    page.leaves(first)
    undo(page)
    page.becomes(first)

    type_load(page, "Refrigerator", RUNNING, "95")
    page.leaves(first)
    fridge, *others = job().loads
    changed = replace(job(), loads=(replace(fridge, running_w=95.0), *others))
    hours = frontier(changed).points[-2].hours
    page.click(hours)
    press(page, words.KEEP)
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=words.SAVE).click()
    file = tmp_path / "job.json"
    waiting.value.save_as(file)
    held = open_job(file.read_bytes())
    assert survey_rows(held.draft.tables["loads"])[0]["running_w"] == 95
    assert [one.hours for one in held.kept] == [hours]
    clicked = page.answer
    press(page, words.TO_TARGET)
    answer = page.leaves(clicked)
    type_load(page, "Refrigerator", words.COLUMNS["load"], "Secret cabinet")
    type_load(page, "Secret cabinet", words.COLUMNS["hours"], "6-26")
    page.shot("faulty-load-1440")

    other = visit()
    other.question(words.ASK_FILES)
    other.page.locator(DROP).set_input_files(file)
    other.page.get_by_role("heading", name="Designs side by side").wait_for()
    other.settle()
    other.becomes(answer)
    assert_nothing_is_left(server)


def assert_nothing_is_left(server) -> None:
    """Check that neither log nor disk holds anything of a job."""
    log = server.log.read_text()
    for private in ("Secret", "Gull Row", "Refrigerator", "Traceback"):
        assert private not in log
    left = [path for path in server.home.rglob("*") if path.is_file()]
    assert [path.name for path in left] == ["config.toml"], "no file is written"


def test_files_come_in_and_go_out(visit, tmp_path):
    page = visit()
    before = page.headline
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
    assert page.headline == before
    page.shot("faults-1440")
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
        with page.page.expect_download() as waiting:
            question.get_by_role("button", name=label, exact=True).click()
        file = tmp_path / "curve"
        waiting.value.save_as(file)
        assert file.read_bytes().startswith(start)


def test_phone_in_the_dark(visit, points):
    page = visit(width=420, height=900, scheme="dark")
    width = page.page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth")
    assert width <= 420, "nothing to scroll sideways"
    save = page.page.get_by_role("button", name=words.SAVE).bounding_box()
    menu = page.page.locator("[data-testid=stMainMenu]").bounding_box()
    assert save["x"] + save["width"] <= menu["x"], "the menu covers nothing"
    chart = page.page.locator(".st-key-curve svg.marks").bounding_box()
    assert chart["x"] >= 0
    assert chart["x"] + chart["width"] <= 420
    sizes = page.page.evaluate(
        "[...document.querySelectorAll('.st-key-curve svg.marks text')]"
        ".map(text => parseFloat(getComputedStyle(text).fontSize))"
    )
    assert min(sizes) >= 12, "labels are legible"
    assert page.page.locator(".st-key-question_open").count() == 0, "inputs are folded away"
    page.shot("first-420-dark")
    page.click(points[-2].hours)
    assert page.headline == said.headline(WRITE, points[-2])


def test_old_curve_stays_dimmed_until_the_new_one_is_there(tmp_path, visit):
    """A solver made slow by a wrapper, as a large price list would be."""
    (tmp_path / "sitecustomize.py").write_text(
        "import time\nfrom optimizer.answers import curve\nfirst = curve.by_family\nruns = []\n"
        "def slow(job, **settings):\n"
        "    runs.append(1)\n"
        "    if len(runs) > 1:\n"
        "        for done in range(10):\n"
        "            time.sleep(0.3)\n"
        "            settings['progress'](done, 10)\n"
        "    return first(job, **settings)\n"
        "curve.by_family = slow\n"
    )
    home = tmp_path / "home"
    home.mkdir()
    slow = Server(home, extra={"PYTHONPATH": f"{ROOT}:{tmp_path}"})
    try:
        page = visit(server=slow)
        page.question(words.ASK_PLACE)
        page.page.get_by_role("textbox", name="Mean over the year, °C").fill("16")
        page.page.keyboard.press("Enter")
        page.page.get_by_text("Working out the curve").wait_for()
        assert page.page.locator(".st-key-curve svg.marks").is_visible()
        page.page.wait_for_function(
            "() => { let part = document.querySelector('.st-key-curve svg.marks'), shade = 1;"
            " for (; part; part = part.parentElement) shade *= getComputedStyle(part).opacity;"
            " return shade < 0.9; }"
        )
        page.shot("waiting-1440")
        page.page.get_by_text("Working out the curve").wait_for(state="detached", timeout=60_000)
        page.settle()
        assert page.headline
    finally:
        slow.stop()


def _serious(response) -> list[str]:
    return [
        f"{one['id']}: {one['nodes'][0]['html'][:200]}"
        for one in response["violations"]
        if one["impact"] in {"serious", "critical"}
    ]
