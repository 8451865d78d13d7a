"""A small site for all tests of the page; a server of it and a real browser, if there is one."""

import os
import shutil
import socket
import subprocess
import time
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect, sync_playwright

from optimizer.cli.page import command
from tests.ui.pages import write_small
from ui.state import CATALOG_VARIABLE, SITE_VARIABLE

ROOT = Path(__file__).resolve().parents[2]
AXE = Axe()
#: As long as anything may take on a machine that others use, too [ms].
PATIENCE_MS = 60_000
expect.set_options(timeout=PATIENCE_MS)
#: No call home at the start, no sandbox of its own, nothing kept.
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


#: What a file in the home folder may say: the page keeps to its own settings.
HOSTILE = """\
[server]
address = "0.0.0.0"
enableCORS = false
enableXsrfProtection = false
enableStaticServing = true
allowedHosts = ["foreign.example"]
maxUploadSize = 9000
[client]
showErrorDetails = "full"
[browser]
gatherUsageStats = true
"""


#: Notes when the page asked its server for a run, heard from it, and changed.
WATCH = """if (!window.seen) {
  const seen = window.seen = {asked: 0, heard: 0, changed: 0}, Socket = window.WebSocket;
  const RERUN = 11 << 3 | 2;  // the field of the message to the server
  window.WebSocket = class extends Socket {
    constructor(...words) {
      super(...words);
      this.addEventListener('message', () => { seen.heard = performance.now(); });
    }
    send(words) {
      if (words[0] === RERUN) seen.asked = performance.now();
      super.send(words);
    }
  };
  new MutationObserver(() => { seen.changed = performance.now(); }).observe(
    document, {subtree: true, childList: true, attributes: true, characterData: true});
}"""
#: Whether nothing has been worked out or drawn for a while, on a slow machine too: so many frames
#: after each turn of whoever waits. Answered is each run that was asked for.
IDLE = """turn => {
  const {seen} = window, latest = Math.max(seen.asked, seen.heard, seen.changed);
  const app = document.querySelector('[data-testid=stApp]');
  const rests = app?.getAttribute('data-test-script-state') === 'notRunning';
  const is_still = seen.turn === turn && seen.latest === latest && rests;
  Object.assign(seen, {turn, latest, frames: is_still ? seen.frames + 1 : 0});
  return seen.frames > 10 && performance.now() - latest > 250 && seen.heard >= seen.asked;
}"""
#: What the page is told of its window, it is told before the second frame.
FRAMES = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"


@pytest.fixture(scope="session", autouse=True)
def _small_site(tmp_path_factory):
    """Let every page open with the small site."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(SITE_VARIABLE, str(write_small(tmp_path_factory.mktemp("site"))))
        patch.delenv(CATALOG_VARIABLE, raising=False)
        yield


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return free.getsockname()[1]


def answers(port: int) -> bool:
    with suppress(OSError):
        socket.create_connection(("localhost", port), timeout=0.2).close()
        return True
    return False


def wait_for(holds) -> None:
    """Wait until something holds, as long as it may take on a busy machine."""
    for _ in range(PATIENCE_MS // 100):
        if holds():
            return
        time.sleep(0.1)
    raise TimeoutError


class Server:
    """The page as a process, and what it says."""

    def __init__(
        self,
        home: Path,
        site: str | None = None,
        extra: dict[str, str] | None = None,
        port: int | None = None,
    ) -> None:
        self.home = home
        (home / ".streamlit").mkdir(exist_ok=True)
        (home / ".streamlit" / "config.toml").write_text(HOSTILE, "utf-8")
        self.port = port or free_port()
        self.log = home.with_suffix(".log")
        environment = {
            **os.environ,
            "HOME": str(home),
            SITE_VARIABLE: site or os.environ[SITE_VARIABLE],
            CATALOG_VARIABLE: "",
            "PYTHONPATH": str(ROOT),
            **(extra or {}),
        }
        with self.log.open("w") as log:
            self.process = subprocess.Popen(
                command(self.port), env=environment, cwd=home, stdout=log, stderr=log
            )
        wait_for(lambda: self.process.poll() is not None or answers(self.port))
        if self.process.poll() is not None:
            raise RuntimeError(self.log.read_text())

    @property
    def url(self) -> str:
        return f"http://localhost:{self.port}"

    @property
    def processor_s(self) -> float:
        """The processor time that it has taken [s]."""
        fields = Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait(PATIENCE_MS / 1000)


@pytest.fixture(scope="session")
def server(tmp_path_factory):
    running = Server(tmp_path_factory.mktemp("home"))
    yield running
    running.stop()


@pytest.fixture(scope="session")
def browser():
    path = shutil.which("chromium")
    if path is None:
        if os.environ.get("CI"):
            pytest.fail("CI must install Chromium: apt-get install chromium")
        pytest.skip("no browser: Debian's package chromium is not installed")
    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=list(FLAGS))
        yield found
        found.close()


class Visit:
    """One person's look at the page."""

    def __init__(self, page, server, *, width=1440, height=900, scheme="light") -> None:
        self.page, self.server = page, server
        self.turns = 0
        page.set_default_timeout(PATIENCE_MS)
        page.add_init_script(WATCH)
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme)
        self.requests: list[str] = []
        page.on("request", lambda request: self.requests.append(request.url))
        page.goto(server.url)
        self.wait_for_curve()

    def wait_for_curve(self) -> None:
        self.page.wait_for_selector(".st-key-curve svg.marks")
        self.settle()

    def settle(self) -> None:
        """Wait until nothing is being worked out or drawn."""
        self.turns += 1
        self.page.wait_for_function(IDLE, arg=self.turns)

    def until(self, holds) -> None:
        """Wait until something holds, as long as it may take on a busy machine."""
        for _ in range(100):
            self.settle()
            if holds():
                return
        raise AssertionError(self.answer)

    def looks(self, width: int, scheme: str) -> None:
        """Look through another window, by day or by night."""
        self.page.set_viewport_size({"width": width, "height": 900})
        self.page.emulate_media(color_scheme=scheme)
        self.page.evaluate(FRAMES)
        self.settle()

    def question(self, name: str) -> None:
        self.page.get_by_role("radio", name=name).click()
        self.page.wait_for_selector(".st-key-question_open")
        self.settle()

    def open_part(self, heading: str) -> None:
        """Open a part of the answer by its heading."""
        self._turn(heading, is_open=True)

    def close_part(self, heading: str) -> None:
        self._turn(heading, is_open=False)

    def _turn(self, heading: str, *, is_open: bool) -> None:
        """Click a part's heading; again where it was drawn anew meanwhile."""
        summary = self.page.locator("summary", has_text=heading)
        part = self.page.locator("details", has=summary).first
        for _ in range(3):
            if (part.get_attribute("open") is not None) == is_open:
                return
            part.locator("summary").first.click()
            self.settle()

    def says(self, headline: str) -> None:
        expect(self.page.locator("h1")).to_have_text(headline)

    @property
    def text(self) -> str:
        return self.page.locator("[data-testid=stMain]").inner_text()

    @property
    def answer(self) -> str:
        """The headline and what stands below it."""
        parts = [self.page.locator(f".st-key-{name}") for name in ("said", "rivals")]
        return "\n".join(part.inner_text() for part in parts)

    def becomes(self, answer: str) -> None:
        """Wait until the page answers this."""
        self.until(lambda: self.answer == answer)

    def leaves(self, answer: str) -> str:
        """Wait until the page answers something else, and return that."""
        self.until(lambda: self.answer != answer)
        return self.answer

    def wrongs(self, *parts: str) -> list[tuple[str, list[str]]]:
        """Return what axe-core finds wrong with the page, or with parts of it, as they stand."""
        self.settle()
        context = {"include": [[part] for part in parts]} if parts else None
        found = AXE.run(self.page, context=context).response["violations"]
        return [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in found]

    def across(self) -> int:
        """Return how wide the page is, of which the window shows a part [px]."""
        return self.page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth")

    def to_top(self) -> None:
        self.page.evaluate("document.querySelector('[data-testid=stMain]').scrollTo(0, 0)")

    def smallest_letters(self, chart: str) -> float:
        """Return the size of the smallest letters of a chart [px]."""
        return self.page.evaluate(
            "chart => Math.min(...[...document.querySelectorAll(`.st-key-${chart} svg.marks text`)]"
            ".map(text => parseFloat(getComputedStyle(text).fontSize)))",
            chart,
        )

    def taken(self, button) -> bytes:
        """Click a button and return the file that comes of it."""
        with self.page.expect_download() as waiting:
            button.click()
        return Path(waiting.value.path()).read_bytes()

    def point(self, hours: int):
        """Return the mark of the cheapest design of these hours: drawn last, on top."""
        return self.page.locator(f'.st-key-curve svg.marks path[aria-label^="{hours} h: "]').last

    def hover(self, hours: int) -> str:
        """Move over a point and return what the tooltip tells."""
        tooltip = self.page.locator("#vg-tooltip-element")

        def is_told() -> bool:
            self.point(hours).evaluate("mark => mark.scrollIntoView({block: 'center'})")
            box = self.point(hours).bounding_box()
            middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
            self.page.mouse.move(middle[0] - 3, middle[1])
            self.page.mouse.move(*middle)
            return tooltip.is_visible()

        self.until(is_told)
        return tooltip.inner_text()

    def click(self, hours: int) -> None:
        """Click the point of a design."""
        self.hover(hours)
        asked = self.page.evaluate("window.seen.asked")
        self.page.mouse.down()
        self.page.mouse.up()
        # not at once: it could have been a double click
        self.page.wait_for_function("before => window.seen.asked > before", arg=asked)
        self.settle()


@pytest.fixture(scope="session")
def pages(browser):
    """Lend pages: one that is given back has the scripts fetched and compiled.

    Each has a window of its own: behind another it would be drawn once a second.
    """
    free = []

    @contextmanager
    def lent():
        page = free.pop() if free else browser.new_page()
        yield page
        free.append(page)

    return lent


@pytest.fixture
def visit(server, pages):
    with ExitStack() as lent:
        yield lambda **settings: Visit(lent.enter_context(pages()), server, **settings)


@pytest.fixture(scope="session")
def desk(server, pages):
    """One visit for all who only look, or put back what they change."""
    with pages() as page:
        yield Visit(page, server)


@pytest.fixture(scope="session")
def phone(server, pages):
    """The same by night, through a small window."""
    with pages() as page:
        yield Visit(page, server, width=420, scheme="dark")
