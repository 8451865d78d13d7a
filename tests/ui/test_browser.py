"""The page in a real browser: what a person sees, clicks, drops in and takes away."""

import json
import re
import time

import pytest

from optimizer import choose, frontier, load
from optimizer.inputs import survey_rows
from optimizer.inputs.job_file import open_job
from tests.ui.conftest import Server
from ui import words

#: From opening to the curve, on a machine that tests share [s]; the benchmark has the figure.
PATIENCE_S = 10


def type_cell(visit, row: int, column: int, text: str) -> None:
    """Type into a cell of the loads' editor, as a person does: click, move, type, enter."""
    editor = visit.page.locator(".st-key-question_open [data-testid=stDataFrame]").first
    editor.scroll_into_view_if_needed()
    field = visit.page.locator("#portal input, #portal textarea").first
    for _ in range(5):  # the grid takes keys only once it has drawn itself
        editor.click(position={"x": 80, "y": 35 * (row + 1) + 17})
        visit.page.wait_for_timeout(150)
        for _ in range(column):
            visit.page.keyboard.press("ArrowRight")
        visit.page.keyboard.press("Enter")
        visit.page.wait_for_timeout(400)
        if field.is_visible():
            break
    field.fill(text)
    field.press("Enter")
    visit.page.wait_for_timeout(400)
    visit.settle()


def test_first_screen(visit):
    started = time.monotonic()
    page = visit()
    assert time.monotonic() - started < PATIENCE_S
    design = choose(load("house")).design
    assert page.headline.startswith(f"{design.hours} hours without the grid: ")
    points = frontier(load("house")).points
    for point in points:
        assert page.point(point.hours).count() == 1
    chart = page.page.locator(".st-key-curve svg.marks").bounding_box()
    assert chart["y"] + chart["height"] < 900, "the whole curve is on the first screen"
    drawn = page.page.locator("svg.marks").all()
    areas = [box["width"] * box["height"] for box in (one.bounding_box() for one in drawn)]
    assert areas[0] == max(areas), "the curve is the largest thing"
    assert page.page.locator(".st-key-curve svg.marks text", has_text="lead-acid").count() == 1
    page.shot("first-1440")


def test_nothing_comes_from_the_network(visit, server):
    page = visit()
    page.question(words.ASK_LOADS)
    hosts = {re.sub(r"^\w+://([^/]*).*", r"\1", url) for url in page.requests}
    assert {host for host in hosts if "data:" not in host and "blob:" not in host} == {
        f"localhost:{server.port}"
    }


def test_hover_tells_bank_inverter_and_money(visit):
    page = visit()
    told = page.hover(40)
    point = frontier(load("house")).at(40)
    for text in (
        point.banks[0].battery.battery,
        point.inverter.inverter,
        f"{point.upfront_cost:,.0f} EUR",
        f"{point.life_cycle_cost:,.0f} EUR",
    ):
        assert text in told


def test_click_on_a_point_shows_its_design(visit):
    page = visit()
    page.click(40)
    assert page.headline.startswith("40 hours without the grid")
    assert page.page.get_by_role("heading", name="The design for 40 hours").is_visible()
    page.page.get_by_role("button", name=words.KEEP).click()
    page.settle()
    page.click(6)
    assert page.headline.startswith("6 hours without the grid")
    assert page.page.locator(".st-key-curve svg.marks text", has_text="A").count() >= 1
    page.shot("clicked-1440")
    page.page.get_by_role("button", name=words.TO_TARGET).click()
    page.settle()
    assert page.headline.startswith("19 hours")


def test_curve_against_upfront_cost(visit):
    page = visit()
    page.page.get_by_role("radio", name=words.UPFRONT).click()
    page.settle()
    assert "Paid at the start, EUR" in page.page.locator(".st-key-curve_place").inner_text()
    page.shot("upfront-1440")


def test_budget_fades_what_it_cannot_pay(visit):
    page = visit()
    page.page.get_by_role("spinbutton", name="Budget at the start, EUR").fill("4500")
    page.page.keyboard.press("Enter")
    page.page.wait_for_timeout(300)
    page.settle()
    assert page.point(40).get_attribute("fill-opacity") == "0.35"
    assert page.point(6).get_attribute("fill-opacity") in {None, "1"}
    assert "at the start buy" in page.page.locator("[data-testid=stMain]").inner_text()
    page.shot("budget-1440")


def test_change_a_load_twice_and_undo(visit):
    page = visit()
    page.question(words.ASK_LOADS)
    first = page.headline
    type_cell(page, 0, 3, "400")
    second = page.headline
    assert second != first
    type_cell(page, 9, 3, "300")
    third = page.headline
    assert third not in {first, second}
    page.shot("loads-1440")
    page.page.get_by_role("button", name=words.UNDO).click()
    page.settle()
    assert page.headline == second
    page.page.get_by_role("button", name=words.UNDO).click()
    page.settle()
    assert page.headline == first


def test_add_a_common_appliance(visit):
    page = visit()
    page.question(words.ASK_LOADS)
    before = page.headline
    page.page.get_by_role("combobox", name=words.APPLIANCE).click()
    page.page.keyboard.type("Well or")
    page.page.keyboard.press("Enter")
    page.settle()
    page.page.get_by_role("button", name=words.ADD, exact=True).click()
    page.settle()
    assert page.headline != before


def test_broken_upload_lists_faults_and_loses_nothing(visit):
    page = visit()
    before = page.headline
    page.question(words.ASK_PRICES)
    bad = b"battery,chemistry,voltage_v,capacity_ah,rate_h,price,mass_kg\n" + (
        b"Good,gel,12,100,20,200,30\nBad,gel,twelve,100,20,200,30\nWorse,gel,12,100,20,-4,30\n"
    )
    page.page.locator("[data-testid=stFileUploaderDropzoneInput]").set_input_files(
        {"name": "batteries.csv", "mimeType": "text/csv", "buffer": bad}
    )
    page.page.get_by_text(words.PRICES_KEPT).wait_for()
    page.settle()
    rows = page.page.locator(".st-key-question_open tbody tr").all_inner_texts()
    assert [row.split("\t")[1:3] for row in rows] == [["3", "voltage_v"], ["4", "price"]]
    assert page.headline == before
    page.shot("faults-1440")


def test_save_and_open_again(visit, tmp_path):
    page = visit()
    page.question(words.ASK_LOADS)
    type_cell(page, 0, 3, "95")
    page.click(9)
    page.page.get_by_role("button", name=words.KEEP).click()
    page.settle()
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=words.SAVE).click()
    file = tmp_path / "job.json"
    waiting.value.save_as(file)
    held = open_job(file.read_bytes())
    assert survey_rows(held.draft.tables["loads"])[0]["running_w"] == 95
    assert [one.hours for one in held.kept] == [9]
    page.page.get_by_role("button", name=words.TO_TARGET).click()
    page.settle()
    headline = page.headline

    other = visit()
    assert other.headline != headline
    other.question(words.ASK_FILES)
    other.page.locator("[data-testid=stFileUploaderDropzoneInput]").set_input_files(file)
    other.page.get_by_role("heading", name=words.BESIDE).wait_for()
    other.settle()
    assert other.headline == headline


def test_newer_job_file_is_refused_with_a_reason(visit):
    page = visit()
    page.question(words.ASK_FILES)
    page.page.locator("[data-testid=stFileUploaderDropzoneInput]").set_input_files(
        {
            "name": "new.json",
            "mimeType": "application/json",
            "buffer": json.dumps({"keeplit_job": 99}).encode(),
        }
    )
    page.page.get_by_text(words.FILE_KEPT).wait_for()
    assert "version 99" in page.page.locator(".st-key-question_open").inner_text()


@pytest.mark.parametrize(
    ("label", "start"),
    [
        (words.CSV, b"\xef\xbb\xbfcurve,hours"),
        (words.XLSX, b"PK"),
        (words.PNG, b"\x89PNG"),
        (words.SVG, b"<svg"),
    ],
)
def test_curve_is_taken_along(visit, tmp_path, label, start):
    page = visit()
    page.question(words.ASK_FILES)
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=label, exact=True).click()
    file = tmp_path / "curve"
    waiting.value.save_as(file)
    assert file.read_bytes().startswith(start)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_phone_width(visit, scheme):
    page = visit(width=420, height=900, scheme=scheme)
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
    page.shot(f"first-420-{scheme}")
    page.click(24)
    assert page.headline.startswith("24 hours")


def test_old_curve_stays_dimmed_until_the_new_one_is_there(browser, tmp_path, visit):
    """A solver made slow by a wrapper, as a large price list would be."""
    (tmp_path / "sitecustomize.py").write_text(
        "import time\nimport optimizer\nfirst = optimizer.frontier\nruns = []\n"
        "def slow(job, **settings):\n"
        "    runs.append(1)\n"
        "    if len(runs) > 3:\n"
        "        for done in range(10):\n"
        "            time.sleep(0.3)\n"
        "            settings['progress'](done, 10)\n"
        "    return first(job, **settings)\n"
        "optimizer.frontier = slow\n"
    )
    home = tmp_path / "home"
    home.mkdir()
    root = str(__import__("pathlib").Path(__file__).resolve().parents[2])
    slow = Server(home, extra={"PYTHONPATH": f"{root}:{tmp_path}"})
    try:
        page = visit(server=slow)
        page.question(words.ASK_PLACE)
        page.page.get_by_role("spinbutton", name="Mean over the year, °C").fill("16")
        page.page.keyboard.press("Enter")
        page.page.get_by_text(words.CURVE_WAIT).wait_for()
        assert page.page.locator(".st-key-curve svg.marks").is_visible()
        page.page.wait_for_function(
            "() => { let part = document.querySelector('.st-key-curve svg.marks'), shade = 1;"
            " for (; part; part = part.parentElement) shade *= getComputedStyle(part).opacity;"
            " return shade < 0.9; }"
        )
        page.shot("waiting-1440")
        page.page.get_by_text(words.CURVE_WAIT).wait_for(state="detached", timeout=60_000)
        page.settle()
        assert page.headline
    finally:
        slow.stop()


def test_log_and_disk_hold_nothing_of_the_job(visit, server):
    page = visit()
    page.question(words.ASK_LOADS)
    type_cell(page, 0, 0, "Secret cabinet")
    type_cell(page, 0, 6, "6-8")
    page.shot("faulty-load-1440")
    said = server.log.read_text()
    for private in ("Secret", "Gull Row", "Refrigerator", "Traceback"):
        assert private not in said
    left = [path for path in server.home.rglob("*") if path.is_file()]
    assert left == [], "no file is written"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_accessible(visit, scheme):
    """axe-core's rules on the three main states: no serious finding."""
    from axe_playwright_python.sync_playwright import Axe

    page = visit(scheme=scheme)
    found = {"first screen": _serious(Axe().run(page.page).response)}
    page.question(words.ASK_LOADS)
    found["loads"] = _serious(Axe().run(page.page).response)
    page.click(24)
    for summary in page.page.locator("summary").all():
        summary.click()
    page.page.wait_for_timeout(500)
    found["a design, tables open"] = _serious(Axe().run(page.page).response)
    page.shot(f"design-1440-{scheme}")
    assert [(state, one) for state, listed in found.items() for one in listed] == []


def _serious(response) -> list[str]:
    return [
        f"{one['id']}: {one['nodes'][0]['html'][:200]}"
        for one in response["violations"]
        if one["impact"] in {"serious", "critical"}
    ]
