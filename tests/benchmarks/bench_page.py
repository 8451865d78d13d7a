"""Times of the page in Chromium, and its memory: ``python -m tests.benchmarks.bench_page``.

A fresh server, a fresh browser cache for each visit; an edit is typed into the table of loads as
a person does, and counts from the enter key to the new curve on screen. Memory is that of the
server's process: after each quarter of the edits, and of the sessions that come and go after them
(``--edits 200 --sessions 20``).
A machine that others use makes every wall time longer: the server's own processor time is beside.
"""

from __future__ import annotations

import argparse
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

VISITS, EDITS_OF_A_SESSION = 5, 3
SENTENCE_LIMIT_S, EDIT_LIMIT_S, SETTLED_LIMIT_S = 1.5, 0.4, 1.2
#: What an edit and a session may leave behind once all that is kept is full [MB].
EDIT_LIMIT_MB, SESSION_LIMIT_MB = 0.1, 2.0
CHROMIUM = "/usr/bin/chromium"
LINE = ".st-key-curve svg.marks .mark-line path"


def main() -> int:
    """Measure, print, and return 1 where a limit is passed."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--edits", type=int, default=52)
    parser.add_argument("--sessions", type=int, default=4)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        home = Path(folder) / "home"
        home.mkdir()
        server = Server(home, "house")
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(FLAGS))
        try:
            opened = [first_look(browser, server) for _ in range(VISITS)]
            busy = server.processor_s
            edits, by_edits = edit_times(browser, server, asked.edits)
            busy = server.processor_s - busy
            by_sessions = come_and_go(browser, server, asked.sessions)
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
    print(f"processor time of the server: {busy / (asked.edits + 1):.2f} s an edit")
    late = paint > SENTENCE_LIMIT_S or drawn > EDIT_LIMIT_S or settled > SETTLED_LIMIT_S
    for what, count, held, most in (
        ("edits", asked.edits, by_edits, EDIT_LIMIT_MB),
        ("sessions", asked.sessions, by_sessions, SESSION_LIMIT_MB),
    ):
        left = (held[-1] - held[2]) / (count / 2)
        print(
            f"memory of the server through {count} {what}, by quarters: "
            f"{', '.join(f'{one:.0f}' for one in held)} MB; in the last half one leaves {left:.2f}"
        )
        late = late or left > most
    return int(late)


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


def edit_times(
    browser, server: Server, edits: int
) -> tuple[list[tuple[float, float]], list[float]]:
    """Return each edit's times, to the curve and to rest [s], and memory by quarters [MB]."""
    visit = Visit(browser.new_page(), server)
    visit.question(words.ASK_LOADS)
    edit(visit, 79)
    times, held = [], [memory_mb(server.process.pid)]
    for number in range(1, edits + 1):
        times.append(edit(visit, watts(number)))
        if number % (edits // 4) == 0:
            held.append(memory_mb(server.process.pid))
    visit.page.close()
    return times, held


def come_and_go(browser, server: Server, sessions: int) -> list[float]:
    """Let one person after another change a few loads and leave; return memory by quarters [MB]."""
    held = [memory_mb(server.process.pid)]
    for number in range(1, sessions + 1):
        visit = Visit(browser.new_page(), server)
        visit.question(words.ASK_LOADS)
        for change in range(EDITS_OF_A_SESSION):
            edit(visit, watts(number + sessions * change))
        visit.page.close()
        if number % (sessions // 4) == 0:
            held.append(memory_mb(server.process.pid))
    return held


def watts(number: int) -> int:
    """Return the watts of a numbered edit: less than the load's start, never those before."""
    return 80 + number * 7 % 470


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
