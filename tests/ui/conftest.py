"""A small site for all tests of the page; a server of it and a real browser, if there is one."""

import os
import shutil
import socket
import subprocess
import time
from pathlib import Path

import pytest

from optimizer.cli.page import command
from tests.ui.pages import write_small
from ui.state import CATALOG_VARIABLE, SITE_VARIABLE

ROOT = Path(__file__).resolve().parents[2]
SCREENSHOTS = Path(__file__).with_name("screenshots")
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


#: Notes when the page asked its server, heard from it, and changed.
WATCH = """{
  const seen = window.seen = {asked: 0, heard: 0, changed: 0}, Socket = window.WebSocket;
  window.WebSocket = class extends Socket {
    constructor(...words) {
      super(...words);
      this.addEventListener('message', () => { seen.heard = performance.now(); });
    }
    send(words) { seen.asked = performance.now(); super.send(words); }
  };
  new MutationObserver(() => { seen.changed = performance.now(); }).observe(
    document, {subtree: true, childList: true, attributes: true, characterData: true});
}"""
#: Whether nothing is being worked out or drawn; a server may leave a word unanswered.
IDLE = """() => {
  const {asked, heard, changed} = window.seen, now = performance.now();
  const app = document.querySelector('[data-testid=stApp]');
  return app.getAttribute('data-test-script-state') === 'notRunning'
    && now - Math.max(asked, heard, changed) > 250
    && (heard >= asked || now - asked > 1500);
}"""


@pytest.fixture(scope="session", autouse=True)
def _small_site(tmp_path_factory):
    """Let every page open with the small site."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(SITE_VARIABLE, str(write_small(tmp_path_factory.mktemp("site"))))
        patch.delenv(CATALOG_VARIABLE, raising=False)
        yield


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
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1] if port is None else port
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
        for _ in range(300):
            if self.process.poll() is not None:
                raise RuntimeError(self.log.read_text())
            try:
                socket.create_connection(("localhost", self.port), timeout=0.2).close()
            except OSError:
                time.sleep(0.1)
            else:
                return
        raise RuntimeError("the page does not answer")

    @property
    def url(self) -> str:
        return f"http://localhost:{self.port}"

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait(10)


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
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=list(FLAGS))
        yield found
        found.close()


class Visit:
    """One person's look at the page."""

    def __init__(
        self, browser, server, *, width=1440, height=900, scheme="light", locale=None, context=None
    ) -> None:
        self.is_alone = context is None
        self.context = context or browser.new_context(locale=locale)
        self.server = server
        self.page = self.context.new_page()
        self.page.add_init_script(WATCH)
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.emulate_media(color_scheme=scheme)
        self.requests: list[str] = []
        self.page.on("request", lambda request: self.requests.append(request.url))
        self.page.goto(server.url)
        self.wait_for_curve()

    def wait_for_curve(self) -> None:
        self.page.wait_for_selector(".st-key-curve svg.marks")
        self.settle()

    def settle(self) -> None:
        """Wait until nothing is being worked out or drawn."""
        self.page.wait_for_function(IDLE)

    def leave(self) -> None:
        (self.context if self.is_alone else self.page).close()

    def looks(self, width: int, scheme: str) -> None:
        """Look through another window, by day or by night."""
        self.page.set_viewport_size({"width": width, "height": 900})
        self.page.emulate_media(color_scheme=scheme)
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

    @property
    def headline(self) -> str:
        return self.page.locator("h1").inner_text()

    @property
    def answer(self) -> str:
        """The headline and what stands below it."""
        parts = [self.page.locator(f".st-key-{name}") for name in ("said", "rivals")]
        return "\n".join(part.inner_text() for part in parts)

    def becomes(self, answer: str) -> None:
        """Wait until the page answers this, as long as it may take on a busy machine."""
        for _ in range(100):
            if self.answer == answer:
                return
            self.page.wait_for_timeout(200)
        assert self.answer == answer

    def leaves(self, answer: str) -> str:
        """Wait until the page answers something else, and return that."""
        for _ in range(100):
            self.settle()
            if self.answer != answer:
                return self.answer
        raise AssertionError(answer)

    def shot(self, name: str) -> None:
        SCREENSHOTS.mkdir(exist_ok=True)
        self.page.screenshot(path=str(SCREENSHOTS / f"{name}.png"))

    def point(self, hours: int):
        """Return the mark of the cheapest design of these hours: drawn last, on top."""
        return self.page.locator(f'.st-key-curve svg.marks path[aria-label^="{hours} h: "]').last

    def hover(self, hours: int) -> str:
        """Move over a point and return what the tooltip tells."""
        self.point(hours).evaluate("mark => mark.scrollIntoView({block: 'center'})")
        box = self.point(hours).bounding_box()
        middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.page.mouse.move(middle[0] - 3, middle[1])
        self.page.mouse.move(*middle)
        tooltip = self.page.locator("#vg-tooltip-element")
        tooltip.wait_for(state="visible")
        return tooltip.inner_text()

    def click(self, hours: int) -> None:
        """Click the point of a design."""
        self.hover(hours)
        self.page.mouse.down()
        self.page.mouse.up()
        self.page.wait_for_timeout(200)  # it could have been a double click
        self.settle()


@pytest.fixture(scope="session")
def common(browser):
    """What visits share: scripts once fetched and compiled."""
    context = browser.new_context()
    yield context
    context.close()


@pytest.fixture
def visit(browser, server, common):
    opened: list[Visit] = []

    def make(*, is_alone=False, **settings) -> Visit:
        settings = {"server": server, "context": None if is_alone else common, **settings}
        opened.append(Visit(browser, **settings))
        return opened[-1]

    yield make
    for one in opened:
        one.leave()
