"""Names meant to be more than names: text on paper, in sheets, in charts, on screen."""

from __future__ import annotations

import csv
import io
import re
from datetime import date
from xml.etree import ElementTree

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from optimizer import frontier, make_quote
from optimizer.inputs.load import load_job
from optimizer.quote import company_from
from optimizer.report import csv_text, sheets
from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.charts.files import chart_file
from optimizer.report.charts.theme import LIGHT
from optimizer.report.grids.curve import points
from optimizer.report.quote import quote_bytes
from optimizer.report.words.writer import Writer
from tests.site_files import FILES, write_site
from ui.look import safe

PAYLOADS = (
    "<script>alert(1)</script>",
    "=1+1",
    "[x](javascript:alert)",
    "$x^2$ **b**",
    "{0.__class__} %s%n",
    "<b>&amp;</b>",
)
WRITE = Writer("EUR")


@pytest.fixture(params=PAYLOADS)
def payload(request):
    return request.param


@pytest.fixture
def job(payload, tmp_path):
    """The small site with the payload in every text field it has."""
    changes = {}
    for name, words in (
        ("loads.csv", ("Fridge", "Lamps")),
        ("batteries.csv", ("Wharf 6", "Wharf 12", "Sluice 12")),
        ("inverters.csv", ("Tide 12,", "Tide 24,")),
        ("works.csv", ("Visit", "Fitting")),
    ):
        text = FILES[name]
        for word in words:
            end = "," if word.endswith(",") else ""
            text = text.replace(word, f"{payload} {word.strip(',')}{end}", 1)
        changes[name] = text
    changes["site.toml"] = FILES["site.toml"].replace("Weir cottage", payload)
    return load_job(write_site(tmp_path, changes))


def shown(text: str) -> str:
    return re.sub(r"\s+", "", text)


@pytest.mark.slow
def test_a_quote_shows_it_as_text(job, payload):
    fields = {
        "company": {"name": payload, "address": [payload]},
        "quote": {"customer": payload, "terms": [payload]},
    }
    sender = company_from(fields)
    quote = make_quote(job, options=[3], company=sender, day=date(2026, 1, 31))
    reader = PdfReader(io.BytesIO(quote_bytes(quote, ".pdf")))
    printed = shown("".join(page.extract_text() for page in reader.pages))
    assert printed.count(shown(payload)) >= 3
    assert not any("/AA" in page or "/JS" in page for page in reader.pages)
    book = load_workbook(io.BytesIO(quote_bytes(quote, ".xlsx")))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert any(payload in str(cell.value) and cell.data_type == "s" for cell in cells)
    assert not any(cell.data_type == "f" and payload in str(cell.value) for cell in cells)
    assert not any(cell.hyperlink for cell in cells)
    rows = list(csv.reader(io.StringIO(quote_bytes(quote, ".csv").decode("utf-8-sig"))))
    assert not any(cell.startswith("=") for row in rows for cell in row)
    assert any(payload in cell for row in rows for cell in row)


@pytest.mark.slow
def test_a_curve_shows_it_as_text(job, payload):
    found = frontier(job, max_hours=4)
    grid = points(WRITE, found)
    assert payload in str(grid.rows)
    assert not any(
        cell.startswith("=")
        for row in csv.reader(io.StringIO(csv_text.as_csv(grid).decode("utf-8-sig")))
        for cell in row
    )
    book = load_workbook(io.BytesIO(sheets.as_xlsx([grid], WRITE)))
    assert not any(c.data_type == "f" for sheet in book for row in sheet.iter_rows() for c in row)
    picture = CurvePicture(found, {})
    chart = curve_chart(picture, Canvas(LIGHT, WRITE, alone=True), (payload, payload))
    drawn = chart_file(chart, "svg")
    tree = ElementTree.fromstring(drawn)
    assert not [one for one in tree.iter() if one.tag.endswith("script")]
    assert shown(payload) in shown("".join(tree.itertext()))


def test_the_page_shows_it_as_text(payload):
    """No mark that Markdown or HTML would act on is left bare."""
    assert not re.search(r"(?<!\\)[<*\[$`]", safe(payload))
