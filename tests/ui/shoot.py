"""Make the README's two screenshots: ``python tests/ui/shoot.py``.

They show the demo house as it opens, on a desk and on a phone, and are kept small.
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

TO = ROOT / "ui" / "screenshots"
#: So many colours are enough for ink on paper.
COLOURS = 128
MOST_BYTES = 150_000
SIZES = {"page-desk": (1440, 900), "page-phone": (420, 900)}


def main() -> None:
    """Open the page at both widths and write what is seen."""
    TO.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        home = Path(folder) / "home"
        home.mkdir()
        server = Server(home, "house")
        browser = driver.chromium.launch(executable_path="/usr/bin/chromium", args=list(FLAGS))
        try:
            for name, (width, height) in SIZES.items():
                visit = Visit(browser, server, width=width, height=height)
                write(TO / f"{name}.png", visit.page.screenshot())
                visit.context.close()
        finally:
            browser.close()
            server.stop()


def write(path: Path, picture: bytes) -> None:
    """Write a picture with few colours."""
    small = Image.open(io.BytesIO(picture)).convert("RGB").quantize(COLOURS)
    small.save(path, optimize=True)
    size = path.stat().st_size
    print(f"{path.relative_to(ROOT)}: {size / 1000:.0f} kB")
    assert size < MOST_BYTES, path


if __name__ == "__main__":
    main()
