"""Make the README's two screenshots: ``python -m tests.ui.shoot``.

They show the demo house as it opens, on a desk and on a phone, and are kept small. With the name
of a folder: every state of the page there, whole, at both widths, by day and by night.
"""

from __future__ import annotations

import io
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT)]

from PIL import Image  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402

from tests.ui.conftest import FLAGS, Server, Visit  # noqa: E402
from tests.ui.states import STATES  # noqa: E402

TO = ROOT / "ui" / "screenshots"
#: So many colours are enough for ink on paper.
COLOURS = 128
MOST_BYTES = 150_000
SIZES = {"page-desk": (1440, 900), "page-phone": (420, 900)}
#: As long as a picture gets [px].
LONGEST = 6000
HEIGHT = "document.querySelector('[data-testid=stMainBlockContainer]').scrollHeight"


def main(folder_of_all: str = "") -> None:
    """Open the page at both widths and write what is seen."""
    TO.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        home = Path(folder) / "home"
        home.mkdir()
        server = Server(home, "house")
        browser = driver.chromium.launch(executable_path="/usr/bin/chromium", args=list(FLAGS))
        try:
            if folder_of_all:
                every_state(browser, server, Path(folder_of_all))
                return
            for name, (width, height) in SIZES.items():
                visit = Visit(browser.new_page(), server, width=width, height=height)
                write(TO / f"{name}.png", visit.page.screenshot())
                visit.page.close()
        finally:
            browser.close()
            server.stop()


def every_state(browser, server: Server, to: Path) -> None:
    """Write each state in each window; a light one and a dark one, each from its start."""
    to.mkdir(exist_ok=True, parents=True)
    for scheme in ("light", "dark"):
        visit = Visit(browser.new_page(), server, scheme=scheme)
        for name, reach in STATES.items():
            visit.looks(1440, scheme)
            reach(visit)
            for width in (1440, 420):
                visit.looks(width, scheme)
                height = min(visit.page.evaluate(HEIGHT), LONGEST)
                visit.page.set_viewport_size({"width": width, "height": height})
                visit.settle()
                visit.page.screenshot(path=to / f"{name}-{width}-{scheme}.png")
        visit.page.close()


def write(path: Path, picture: bytes) -> None:
    """Write a picture with few colours."""
    small = Image.open(io.BytesIO(picture)).convert("RGB").quantize(COLOURS)
    small.save(path, optimize=True)
    size = path.stat().st_size
    print(f"{path.relative_to(ROOT)}: {size / 1000:.0f} kB")
    assert size < MOST_BYTES, path


if __name__ == "__main__":
    main(*sys.argv[1:])
