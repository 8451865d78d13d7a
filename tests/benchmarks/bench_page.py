"""Times of the page in Chromium: ``python tests/benchmarks/bench_page.py``.

A fresh server, a fresh browser cache for each visit; an edit is typed into the table of loads as
a person does, and counts from the enter key to the new curve on screen. Memory is that of the
server's process, before and after the edits.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT)]

from playwright.sync_api import sync_playwright  # noqa: E402

from tests.ui.conftest import FLAGS, Server, Visit  # noqa: E402
from ui import words  # noqa: E402

VISITS, EDITS = 5, 50
SENTENCE_LIMIT_S, EDIT_LIMIT_S, SETTLED_LIMIT_S, GROWTH_LIMIT_MB = 1.5, 0.4, 1.2, 50.0
CHROMIUM = "/usr/bin/chromium"
LINE = ".st-key-curve svg.marks .mark-line path"


def main() -> int:
    """Measure, print, and return 1 where a limit is passed."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        home = Path(folder) / "home"
        home.mkdir()
        server = Server(home, "house")
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        try:
            opened = [first_look(browser, server) for _ in range(VISITS)]
            edits, growth = edit_times(browser, server)
        finally:
            browser.close()
            server.stop()
    paints, curves = zip(*opened, strict=True)
    print(f"first visit: sentence {paints[0]:.2f} s, curve {curves[0]:.2f} s")
    paint, curve = statistics.median(paints), statistics.median(curves)
    print(f"median of {VISITS} visits: sentence {paint:.2f} s, curve {curve:.2f} s")
    drawn, settled = (statistics.median(times) for times in zip(*edits[1:], strict=True))
    longest = max(edits[1:])[0]
    print(f"edit of a load to new curve: median {drawn:.2f} s, longest {longest:.2f} s")
    print(f"edit of a load to the page at rest: median {settled:.2f} s")
    print(f"growth of the server after {EDITS} edits: {growth:.1f} MB")
    late = paint > SENTENCE_LIMIT_S or drawn > EDIT_LIMIT_S or settled > SETTLED_LIMIT_S
    return int(late or growth > GROWTH_LIMIT_MB)


def first_look(browser, server: Server) -> tuple[float, float]:
    """Return the times from opening to the sentence and to the curve [s]."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    began = time.perf_counter()
    page.goto(server.url, wait_until="commit")
    page.wait_for_selector("h1")
    sentence = time.perf_counter() - began
    page.wait_for_selector(LINE, state="attached")
    curve = time.perf_counter() - began
    context.close()
    return sentence, curve


def edit_times(browser, server: Server) -> tuple[list[tuple[float, float]], float]:
    """Return each edit's times, to the curve and to rest [s], and the server's growth [MB]."""
    visit = Visit(browser, server)
    visit.question(words.ASK_LOADS)
    edit(visit, 79)
    before = memory_mb(server.process.pid)
    times = [edit(visit, 80 + number * 7) for number in range(1, EDITS + 1)]
    visit.settle()
    growth = memory_mb(server.process.pid) - before
    visit.context.close()
    return times, growth


def edit(visit: Visit, watts: int) -> tuple[float, float]:
    """Type the first load's watts; return the times from enter to the curve and to rest [s]."""
    page = visit.page
    field = page.get_by_role("textbox", name=f"{words.COLUMNS['running_w']}, W", exact=True)
    field.fill(str(watts))
    old = page.locator(LINE).first.get_attribute("d")
    began = time.perf_counter()
    field.press("Enter")
    page.wait_for_function(
        "([where, old]) => { const line = document.querySelector(where);"
        " return line && line.getAttribute('d') !== old; }",
        arg=[LINE, old],
    )
    drawn = time.perf_counter() - began
    page.wait_for_function(
        "() => document.querySelector('[data-testid=stApp]')"
        ".getAttribute('data-test-script-state') === 'notRunning'"
    )
    settled = time.perf_counter() - began
    visit.settle()
    return drawn, settled


def memory_mb(process: int) -> float:
    """Return the memory a process holds [MB]."""
    status = Path(f"/proc/{process}/status").read_text()
    line = next(line for line in status.splitlines() if line.startswith("VmRSS"))
    return int(line.split()[1]) / 1024


if __name__ == "__main__":
    sys.exit(main())
