"""The page without a browser, on the demo house with a short price list; quick to answer."""

from __future__ import annotations

import csv
import os
import re
import shutil
from collections import OrderedDict
from pathlib import Path

from streamlit.testing.v1 import AppTest

from optimizer import Job, load
from optimizer.inputs.demo import site_file
from optimizer.inputs.draft import draft_from_files, loads_table, survey_rows
from optimizer.report.words.writer import Writer
from ui import words
from ui.state import SITE_VARIABLE, State

ROOT = Path(__file__).resolve().parents[2]
#: A run on a busy machine [s].
PATIENCE_S = 120
APP = str(ROOT / "ui" / "app.py")
DEMO = ROOT / "catalogs_demo"
WRITE = Writer("EUR")
#: The part that sets the families of the small site against each other.
RIVALS = "Lead\\-acid or lithium?"
#: The parts that every design has.
PARTS = (
    words.FIGURES,
    words.MONEY,
    words.TRADES,
    words.BINDING,
    words.STEP,
    words.SIMULATION,
    words.OUTAGE,
)
#: All that may be open at once.
EVERY_PART = (*PARTS, words.CURVE_TABLE, RIVALS)
#: The field of the autonomy required.
HOURS = "resilience.target_hours"
#: What has been worked out of the site as it is; every page opened starts with a copy.
_WARM: dict[str, OrderedDict[tuple[object, ...], object]] = {}


def write_small(folder: Path) -> Path:
    """Write the demo house with a third of its price list, one contract and no generator."""
    shutil.copytree(DEMO / "house", folder / "house")
    prices = folder / "prices"
    prices.mkdir()
    for name in ("works", "cables", "fuses", "generators"):
        shutil.copy(DEMO / "prices" / f"{name}.csv", prices)
    for name, every in (("batteries", 2), ("inverters", 2)):
        with (DEMO / "prices" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            heading, *rows = csv.reader(file)
        with (prices / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([heading, *rows[::every]])
    site = folder / "house" / "site.toml"
    plain = re.sub(r"(?ms)^\[(supply|generator)\].*?(?=^\[|\Z)", "", site.read_text())
    site.write_text(plain)
    return folder / "house"


def site() -> str:
    return os.environ[SITE_VARIABLE]


def job() -> Job:
    return load(site())


def unopened() -> AppTest:
    """Return the page before its first run."""
    return AppTest.from_file(APP, default_timeout=PATIENCE_S)


def opened(*parts: str, forget: str | None = None) -> AppTest:
    """Open the page, and the parts of the answer with these headings.

    What earlier tests have worked out of the unchanged site is there; ``forget`` names what is not
    ("answers", or "" for everything).
    """
    page = unopened()
    if _WARM and forget != "":
        draft = draft_from_files(site_file(site()))
        held = {kind: OrderedDict(one) for kind, one in _WARM.items() if kind != forget}
        page.session_state["job"] = State(draft, draft, draft.job(), remembered=held)
    for heading in parts:
        page.session_state[f"part {heading}"] = True
    page.run()
    assert not page.exception
    assert not page.error
    if not _WARM:
        _WARM.update((kind, OrderedDict(one)) for kind, one in state_of(page).remembered.items())
    return page


def alone(lines: str) -> AppTest:
    """A section without the rest of the page, which its own tests look at."""
    return AppTest.from_string(
        f"from ui.state import current\n{lines}", default_timeout=PATIENCE_S
    ).run()


def state_of(page: AppTest) -> State:
    return page.session_state["job"]


def change_load(state: State, name: str, **changes) -> None:
    rows = survey_rows(state.draft.tables["loads"])
    for row in rows:
        if row["load"] == name:
            row.update(changes)
    state.change(state.draft.with_table("loads", loads_table(rows)))


def plain(text: str) -> str:
    """Return a text as it is read: without Markdown's escapes."""
    return re.sub(r"\\(.)", r"\1", text).replace("\u2060", "")


def title_of(page: AppTest) -> str:
    return plain(page.title[0].value)


def text_of(page: AppTest) -> str:
    return plain("\n".join(one.value for one in page.markdown))


def button(page: AppTest, label: str):
    return next(one for one in page.button if one.label == label)


def press(page: AppTest, label: str) -> None:
    button(page, label).click().run()
    assert not page.exception
    assert not page.error


def undo(page: AppTest) -> None:
    page.button(key="undo").click().run()
    assert not page.exception
    assert not page.error


def table_under(page: AppTest, heading: str, having: str = "") -> list[list[str]]:
    """Return the cells of the table whose first heading is this or, where empty, has a text."""
    texts = [plain(one.value) for one in page.markdown]
    start = f"| {heading} |" if heading else "| "
    found = next(one for one in texts if one.startswith(start) and having in one)
    lines = [line for line in found.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line[1:-1].split(" |")] for line in lines[2:]]
