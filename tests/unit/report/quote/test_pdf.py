"""The PDF as a reader sees it: its text page by page, and the pages as pictures."""

from __future__ import annotations

import io
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from PIL import Image
from pypdf import PdfReader
from reportlab.platypus import SimpleDocTemplate

from optimizer import load
from optimizer.answers.curve import Curve
from optimizer.model.job import Work
from optimizer.quote import build_quote
from optimizer.quote.sums import Part
from optimizer.report.grids.quote import price
from optimizer.report.quote import electrician_bytes, quote_bytes
from optimizer.report.quote.pdf_fonts import set_up_fonts
from optimizer.report.quote.pdf_grid import pdf_table
from optimizer.report.words.quote import option_name
from optimizer.report.words.quote_lines import item
from optimizer.report.words.writer import Writer
from tests.unit.quote.made import DAY, company, curve, inked_pages, pages, pages_of, paper, quote

pytestmark = pytest.mark.slow

WRITE = Writer("EUR", "en_IE")
needs_poppler = pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="poppler-utils is not installed"
)


@cache
def with_works(count: int):
    found = curve("clinic")
    works = tuple(
        Work(f"Work number {n:03} with a name so long that it takes two lines of the table, as "
             "some do", "site", 10.0 + n, "first")
        for n in range(count)
    )  # fmt: skip
    job = replace(found.job, catalog=replace(found.job.catalog, works=works))
    return build_quote(Curve(job, None, found.points), options=[6], day=DAY)


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_pages_in_order(site):
    made = quote(site)
    found = pages(site)
    assert "Quote Q-2026-118: power through outages" in found[0]
    for option in made.options:
        assert f"{option.pricing.total:,}" in found[0]
    at = [
        next(n for n, text in enumerate(found) if text.lstrip().startswith(start))
        for start in (
            option_name(WRITE, made.options[0].design),
            "What is not included",
            "Handover",
        )
    ]
    assert at == sorted(at)
    assert f"{len(found)} of {len(found)}" in found[-1]
    drawn = pages(site, electrician_bytes)
    assert "Quote Q-2026-118: for the electrician" in drawn[0]
    assert "licensed electrician" in drawn[0]
    for option in made.options:
        name = option_name(WRITE, option.design)
        records = [text for text in drawn if f"Test record: {name}\n" in text]
        assert len(records) == 1
        assert "Insulation" in records[0]
        assert option.design.banks[0].battery.battery in records[0]


def price_pages(count: int) -> list[str]:
    """The text of the pages that the lines of a quote take, alone."""
    set_up_fonts()
    pricing = with_works(count).options[0].pricing
    grid, out = price(WRITE, pricing.first), io.BytesIO()
    SimpleDocTemplate(out).build([pdf_table(grid, WRITE, 440.0)])
    return pages_of(out.getvalue())


def test_a_table_row_is_never_split():
    """The two lines of a name and its sum are on one page, for each of 90 rows over pages."""
    found, homes = price_pages(90), set()
    lines = with_works(90).options[0].pricing.first.lines
    works = [line for line in lines if line.item.part is Part.WORK]
    assert len(works) == 90
    for line in works:
        number = line.item.name[:15]
        home = [n for n, text in enumerate(found) if number in text]
        assert len(home) == 1, number
        rest = found[home[0]].split(number)[1].split("Work number")[0]
        assert "some do" in " ".join(rest.split())
        assert f"{line.amount:,}" in rest
        homes.add(home[0])
    assert len(homes) > 2
    assert all("Sum, EUR" in text for text in found)


def test_a_heading_is_not_left_alone_at_the_foot_of_a_page():
    """However many rows come before it, “Labour and fittings” has a row below it."""
    for count in range(12, 24):
        text = next(text for text in price_pages(count) if "Labour and fittings" in text)
        assert "Work number 000" in text.split("Labour and fittings")[1]


@pytest.mark.parametrize(
    ("currency", "locale", "sign"),
    [
        ("EUR", "pt_PT", "€"),
        ("GHS", "en_GH", "GH₵"),
        ("NGN", "en_NG", "₦"),
        ("TRY", "tr", "₺"),
        ("VND", "vi", "₫"),
        ("GEL", "ka", "GEL"),  # the font lacks its sign: the code stands for it
        ("KWD", "en", "KWD"),
    ],
)
def test_currency_signs_and_accents_print(currency, locale, sign):
    found = curve("clinic")
    job = replace(found.job, site=replace(found.job.site, currency=currency, name="Čečov Ångström"))
    sender = replace(company(), locale=locale, name="Électricité Łódź", box_or_ventilation=())
    made = build_quote(Curve(job, None, found.points), options=[6], company=sender, day=DAY)
    text = pages_of(quote_bytes(made, ".pdf"))[0]
    assert sign in text
    assert "Čečov Ångström" in text
    assert "Électricité Łódź" in text


def test_names_are_text_not_markup():
    found = curve("clinic")
    name = "<b>Bold</b> & 'quoted' <para>"
    job = replace(found.job, site=replace(found.job.site, name=name))
    made = build_quote(Curve(job, None, found.points), options=[6], day=DAY)
    text = pages_of(quote_bytes(made, ".pdf"))[0]
    assert "<b>Bold</b> & 'quoted'" in text
    assert "<para>" in text


def test_letter_paper_where_it_is_usual():
    made = build_quote(
        curve("clinic"), options=[6], company=replace(company(), locale="en_US"), day=DAY
    )
    page = PdfReader(io.BytesIO(quote_bytes(made, ".pdf"))).pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (612.0, 792.0)


def test_a_logo_stands_at_the_head():
    drawn = io.BytesIO()
    Image.new("RGB", (400, 100), "#7a3b8f").save(drawn, "PNG")
    sender = replace(company(), logo=drawn.getvalue())
    made = build_quote(curve("clinic"), options=[6], company=sender, day=DAY)
    page = PdfReader(io.BytesIO(quote_bytes(made, ".pdf"))).pages[0]
    assert len(page.images) == 1


def test_only_the_shipped_font_is_drawn_with():
    reader = PdfReader(io.BytesIO(paper("house")))
    drawn = set()
    for page in reader.pages:
        fonts = page["/Resources"]["/Font"]
        content = page.get_contents().get_data()
        drawn |= {
            font.get_object()["/BaseFont"]
            for name, font in fonts.items()
            if f"{name} ".encode() in content
        }
    assert {name.split("+")[-1] for name in drawn} == {
        "KeeplitSans-Regular",
        "KeeplitSans-Semibold",
    }


@needs_poppler
@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_pages_as_pictures_and_as_plain_text(site, tmp_path):
    """Nothing outside the margins, no page all but empty, and each sum at the right of its line."""
    path = tmp_path / "quote.pdf"
    path.write_bytes(paper(site))
    words = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    ).stdout
    for line in quote(site).options[0].pricing.first.lines:
        assert any(
            row.strip().startswith(item(WRITE, line.item))
            and row.rstrip().endswith(f"{line.amount:,}")
            for row in words.splitlines()
        ), line.item
    assert len(inked_pages(path)) == len(PdfReader(path).pages)


def test_a_quote_long_before_its_prices_is_refused():
    with pytest.raises(Exception, match="--date"):
        build_quote(curve("house"), day=date(2024, 1, 1))


def test_the_demo_is_what_the_loader_gives():
    assert curve("house").job == load("house")
