"""Letters that the shipped font lacks: set in another font, or the work stops and says why."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from optimizer.answers.curve import Curve
from optimizer.errors import InputError
from optimizer.quote import build_quote, company_from
from optimizer.report.quote import check_letters, electrician_bytes, pdf_fonts, quote_bytes
from tests.unit.quote.made import DAY, company, curve

DEJAVU = next(Path("/usr/share/fonts").rglob("DejaVuSans.ttf"), None)


def fonts(monkeypatch, *paths):
    """Let the machine have these fonts and no others."""
    for one in (pdf_fonts._font_of, pdf_fonts._letters):
        one.cache_clear()
    monkeypatch.setattr(pdf_fonts, "_fonts_here", lambda: paths)


@pytest.fixture(autouse=True)
def _afresh():
    yield
    for one in (pdf_fonts._font_of, pdf_fonts._letters):
        one.cache_clear()


def named(name: str):
    found = curve("clinic")
    job = replace(found.job, site=replace(found.job.site, name=name))
    return build_quote(Curve(job, None, found.points), options=[6], company=company(), day=DAY)


@pytest.mark.slow
@pytest.mark.skipif(DEJAVU is None, reason="no DejaVu font on this machine")
def test_another_font_sets_what_the_shipped_one_lacks(monkeypatch):
    fonts(monkeypatch, DEJAVU)
    made = named("თბილისი, Երևան 7")
    for make in (quote_bytes, electrician_bytes):
        reader = PdfReader(io.BytesIO(make(made, ".pdf")))
        texts = [page.extract_text() for page in reader.pages]
        assert "For თბილისი, Երևան 7" in texts[0]
        assert all("თბილისი" in text for text in texts)  # the footing
        assert not any("??" in text for text in texts)
        drawn = {font.get_object()["/BaseFont"].split("+")[-1]
                 for font in reader.pages[0]["/Resources"]["/Font"].values()}  # fmt: skip
        assert "DejaVuSans" in drawn


@pytest.mark.parametrize(
    ("name", "said", "wanted"),
    [
        ("漢字の家", "漢 (U+6F22)", "a TrueType font with that letter"),
        ("Mill 🏠", "U+1F3E0", "a TrueType font with that letter"),
        ("بيت النخيل", "join or run from right to left", "the same in Latin letters"),
        ("हिन्दी घर", "join or run from right to left", "the same in Latin letters"),
    ],
)
def test_what_cannot_be_set_right_stops_the_pdf_and_not_the_workbook(
    monkeypatch, name, said, wanted
):
    fonts(monkeypatch)
    made = named(name)
    with pytest.raises(InputError) as caught:
        quote_bytes(made, ".pdf")
    assert name in str(caught.value)
    assert said in str(caught.value)
    assert wanted in caught.value.faults[0].wanted
    assert quote_bytes(made, ".xlsx")


@pytest.mark.slow
@pytest.mark.parametrize(
    "told",
    [
        {"company": {"name": "K", "telephone": "漢"}},
        {"quote": {"not_included": ["漢"]}},
        {"quote": {"cover": ["漢"]}},
        {"prices": {"discounts": {"漢": 0.05}}},
        {"payment": {"stages": {"漢": 1.0}}},
        {"extra": [{"item": "漢", "quantity": 1, "unit": "piece", "price": 1.0}]},
    ],
)
def test_every_text_of_a_company_is_known_to_stop_the_pdf_before_it_is_made(monkeypatch, told):
    fonts(monkeypatch)
    company = company_from({"company": {"name": "K"}, **told})
    made = build_quote(curve("clinic"), options=[6], company=company, day=DAY)
    for stops in (check_letters, lambda quote: quote_bytes(quote, ".pdf")):
        with pytest.raises(InputError, match="漢"):
            stops(made)
    check_letters(build_quote(curve("clinic"), options=[6], day=DAY))


def test_composed_letters_and_narrow_spaces():
    assert pdf_fonts.printable("Zu\u0308rich\u202f7") == "Zürich\N{NO-BREAK SPACE}7"


def test_a_long_footing_is_cut_at_a_word():
    text = "Quote 7: The house beyond the hill, by the sea"
    shown = pdf_fonts.cut(text, 120.0, 7.8)
    assert pdf_fonts.width_of(shown, pdf_fonts.REGULAR, 7.8) <= 120
    assert text.startswith(f"{shown[:-1]} ")
    assert shown[-1] == "…"
    assert pdf_fonts.cut(text, 500.0, 7.8) == text


def test_fonts_that_a_pdf_cannot_hold_are_passed_over(tmp_path):
    broken = tmp_path / "broken.ttf"
    broken.write_bytes(b"no font")
    assert pdf_fonts._letters(broken) == frozenset()
