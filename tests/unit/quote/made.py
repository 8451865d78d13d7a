"""Quotes of the demo sites, made once: they are read, never changed."""

from __future__ import annotations

import subprocess
from datetime import date
from functools import cache
from io import BytesIO
from pathlib import Path

from PIL import Image
from pypdf import PdfReader

from optimizer import frontier, load
from optimizer.quote import build_quote, read_company
from optimizer.report.quote import quote_bytes
from tests.answered_once import once

DAY = date(2026, 11, 25)
DOTS_AN_INCH = 30
#: Of a margin of 19 mm, 12 at least are empty.
MARGIN_PIXELS = round(12 / 25.4 * DOTS_AN_INCH)
DEMO = Path(__file__).parents[3] / "catalogs_demo"


@cache
def curve(site: str = "house"):
    return frontier(load(site))


@cache
def company():
    return read_company(DEMO / "company.toml")


@cache
def quote(site: str = "house"):
    return build_quote(curve(site), company=company(), day=DAY)


def paper(site: str = "house", make=quote_bytes) -> bytes:
    """The PDF of a quote, made once in a run."""
    return once(("paper", site, make.__name__), lambda: make(quote(site), ".pdf"))


@cache
def pages(site: str = "house", make=quote_bytes) -> list[str]:
    """The text of each page of the PDF of a quote."""
    return pages_of(paper(site, make))


def pages_of(content: bytes) -> list[str]:
    """The text of each page of a PDF."""
    return [page.extract_text() for page in PdfReader(BytesIO(content)).pages]


def inked_pages(path: Path) -> list[Image.Image]:
    """The pages of a PDF as pictures, white where there is ink, and nothing in their margins."""
    beside = path.with_suffix("")
    subprocess.run(["pdftoppm", "-r", str(DOTS_AN_INCH), "-gray", path, beside], check=True)
    found = [Image.open(one) for one in sorted(path.parent.glob(f"{beside.name}*.pgm"))]
    found = [image.point(lambda level: 255 if level < 200 else 0) for image in found]
    for image in found:
        left, top, right, bottom = image.getbbox()
        assert min(left, top) >= MARGIN_PIXELS
        assert right <= image.width - MARGIN_PIXELS
        assert bottom <= image.height - MARGIN_PIXELS
    return found
