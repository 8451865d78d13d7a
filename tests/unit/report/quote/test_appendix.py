"""The appendix of a quote: the same answers as asked alone, on pages and sheets a person reads."""

from __future__ import annotations

import io
import json
import re
import shutil
from dataclasses import replace
from functools import cache
from itertools import pairwise
from unittest.mock import patch

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from optimizer import (
    break_even_line,
    compare,
    frontier,
    sensitivities,
    staircase,
    switch_points,
    tiers,
)
from optimizer.comparison.parameters import parameters_of
from optimizer.quote import build_quote
from optimizer.quote.appendix import Appendix, hours_compared
from optimizer.quote.options import select
from optimizer.report.quote import appendix_grids as grids
from optimizer.report.quote import quote_bytes
from optimizer.report.words import parameters
from optimizer.report.words.comparison import side, verdict
from optimizer.report.words.switch_points import regions
from optimizer.report.words.writer import Writer
from tests.unit.comparison.jobs import small_house
from tests.unit.quote.made import DAY, MARGIN_PIXELS, company, inked_pages, pages_of

pytestmark = pytest.mark.slow

ENGLISH = Writer("EUR", "en_IE")
needs_poppler = pytest.mark.skipif(
    shutil.which("pdftoppm") is None, reason="poppler-utils is not installed"
)


def shorter(**changes):
    """The small house up to 18 hours and with half the inverters, so that it is quick."""
    job = small_house(14)
    sets = ("Bosunwick Galley 24", "Bosunwick Saloon 48")
    inverters = tuple(one for one in job.catalog.inverters if one.inverter in sets)
    catalog = replace(job.catalog, inverters=inverters)
    site = replace(job.site, max_hours=18, **changes)
    return replace(job, site=site, catalog=catalog)


def battery_job(change, **site):
    """The small house with another price list."""
    job = shorter(**site)
    batteries = tuple(change(one) for one in job.catalog.batteries)
    kept = tuple(one for one in batteries if one is not None)
    return replace(job, catalog=replace(job.catalog, batteries=kept))


def nickel(one):
    """One lithium model of the list as a third family."""
    if one.battery != "Siltbury Tray":
        return one
    return replace(one, family="nickel", chemistry="nickel_iron")


#: "one" has a markup inside its prices.
JOBS = {
    "usual": shorter,
    "three": lambda: battery_job(nickel),
    "one": lambda: battery_job(lambda one: one if one.family == "lithium" else None, markup=0.3137),
    "firm": lambda: battery_job(
        lambda one: replace(one, price=one.price * 30) if one.family == "lead" else one
    ),
}


#: Some of the parameters: each takes its time, and one does not read otherwise than another.
KEYS = ("price:lead", "price:lithium", "study-period")


def few_switch_points(job, hours):
    known = {one.key for one in parameters_of(job)}
    return switch_points(job, hours, keys=[key for key in KEYS if key in known])


@cache
def made(name: str = "usual"):
    job = JOBS[name]()
    sender = replace(company(), markup="spread") if job.site.markup else company()
    with patch("optimizer.quote.appendix.switch_points", few_switch_points):
        return build_quote(frontier(job), options=[14], company=sender, day=DAY, appendix=True)


@cache
def pdf(name: str = "usual") -> bytes:
    return quote_bytes(made(name), ".pdf")


@cache
def texts_of(name: str) -> list[str]:
    """The pages of the paper as text."""
    return [text.lstrip() for text in pages_of(pdf(name))]


def first_of(name: str) -> int:
    """The page on which the appendix begins."""
    return next(n for n, text in enumerate(texts_of(name)) if text.startswith("Appendix: "))


def text_of(name: str = "usual") -> str:
    """The appendix as text, its lines joined."""
    return " ".join(" ".join(texts_of(name)[first_of(name) :]).split())


@cache
def asked_alone():
    """The same quote, with each question of its appendix asked by itself."""
    job = made().curve.job
    answers = Appendix(
        comparison=compare(job, 14),
        switch_points=few_switch_points(job, 14).rows,
        break_even_line=break_even_line(job, 14),
        sensitivities=sensitivities(job, 14),
        stairs=staircase(job),
        tier_costs=tiers(job),
    )
    return replace(made(), appendix=answers)


@pytest.mark.parametrize("ending", [".pdf", ".xlsx", ".json"])
def test_its_answers_are_those_of_the_questions_asked_alone(ending):
    """And the same answers make the same file, byte for byte."""
    assert quote_bytes(asked_alone(), ending) == quote_bytes(made(), ending)


def test_without_being_asked_for_there_is_none():
    plain = replace(made(), appendix=None)
    assert not any("Appendix" in text for text in pages_of(quote_bytes(plain, ".pdf")))
    assert json.loads(quote_bytes(plain, ".json"))["appendix"] is None
    assert "Appendix" not in load_workbook(io.BytesIO(quote_bytes(plain, ".xlsx"))).sheetnames


@pytest.mark.parametrize("name", JOBS)
def test_every_drawing_has_its_words(name):
    """Each part of the appendix where there is something to say."""
    found, text = made(name).appendix, text_of(name)
    rivals = len(found.families) > 1
    assert verdict(ENGLISH, found.comparison).replace("\xa0", " ") in text.replace("\xa0", " ")
    assert "What has been paid by when" in text
    assert ("What would turn it" in text) == rivals
    assert ("Two numbers at once" in text) == rivals
    assert "What moves the cost, one number at a time" in text
    assert "What a budget buys" in text
    assert "Tier by tier" in text
    least = found.comparison.winner.design.life_cycle_cost
    assert f"{least:,.0f}" in text


def test_a_buyer_of_two_families_is_answered():
    text = text_of()
    assert "Appendix: lead-acid or lithium, and what would change the answer" in text
    assert verdict(ENGLISH, made().appendix.comparison).replace("\xa0", " ") in text
    assert not re.search(r"\blead\b(?!-acid)", text.lower()), "two names for one family"


def test_three_families_stand_side_by_side_and_the_break_even_line_says_which_two():
    text = text_of("three")
    assert "Appendix: lead-acid, lithium or nickel, and" in text.replace(
        "lead-acid, nickel or lithium", "lead-acid, lithium or nickel"
    )
    for family in ("lead-acid", "lithium", "nickel"):
        assert family in text
    line = made("three").appendix.break_even_line
    names = " and ".join(side(ENGLISH, name) for name in (line.other, line.priced))
    assert f"where {names} cost the same" in text


def test_a_family_alone_is_said_to_be_alone():
    found, text = made("one").appendix, text_of("one")
    assert found.switch_points == ()
    assert found.break_even_line is None
    assert "Appendix: what would change the answer" in text
    assert "only lithium is left within the limits" in text
    assert "What would turn it" not in text
    assert "lead" not in text


def test_where_nothing_turns_it_words_say_so_and_nothing_is_drawn():
    found, text = made("firm").appendix, text_of("firm")
    assert not any(one.points for one in found.switch_points)
    assert "Nothing turns it alone: lithium stays the answer" in text
    assert "None: lithium wins at every price and value looked at" in text
    assert "lead-acid wins" not in text


def test_the_json_has_it_under_a_key_and_no_margin():
    data = json.loads(quote_bytes(made(), ".json"))["appendix"]
    comparison = made().appendix.comparison
    assert data["cheaper_by"] == comparison.cheaper_by
    assert "margin" not in data
    assert [one["key"] for one in data["switch_points"]] == [
        one.parameter.key for one in made().appendix.switch_points
    ]
    assert len(data["budget"]["steps"]) == len(made().appendix.stairs.steps)


@pytest.mark.parametrize("ending", [".pdf", ".xlsx", ".json"])
def test_nothing_of_the_installers_margin_is_in_it(ending):
    """With a markup inside the prices, no price of the list is to be found in the customer's file.

    Wholesale prices are those of the list; whatever is shown has markup and tax on it.
    """
    marked = made("one").job
    if ending == ".pdf":
        text = " ".join(texts_of("one"))
    elif ending == ".xlsx":
        book = load_workbook(io.BytesIO(quote_bytes(made("one"), ending)))
        text = " ".join(str(cell.value) for sheet in book for row in sheet for cell in row)
    else:
        text = quote_bytes(made("one"), ending).decode()
    for word in (r"0\.3137", r"31\.37(?!\d)", '"margin"', "Margin"):
        assert not re.search(word, text)
    priced = {f"{one.price:g}" for one in marked.catalog.batteries if one.price > 1000}
    assert priced
    assert not priced & set(re.findall(r"\d+(?:\.\d+)?", text.replace(",", "")))


def test_the_workbook_has_every_number_behind_the_drawings():
    found = made().appendix
    book = load_workbook(io.BytesIO(quote_bytes(made(), ".xlsx")))
    rows = {
        name: [[cell.value for cell in row] for row in book[name].iter_rows()]
        for name in ("Paid", "What would turn it", "What moves it", "Budget", "Tiers")
    }
    first = [run[0] for run in found.stairs.runs]
    steps = [row[:2] for row in rows["Budget"][3 : 3 + len(first)]]
    assert steps == [[pytest.approx(one.budget, abs=1e-3), one.hours] for one in first]
    for one in found.comparison.alternatives:
        last = next(row for row in rows["Paid"] if row[0] == 10)
        assert any(
            value == pytest.approx(one.balances[-1].real, abs=1e-3) for value in last[1:] if value
        )
    told = {row[0]: row[3] for row in rows["What would turn it"]}
    for one in found.switch_points:
        assert told[parameters.name(ENGLISH, one.parameter)] == regions(ENGLISH, one)
    moved = {row[0]: row for row in rows["What moves it"]}
    for one in found.sensitivities.sensitivities:
        row = moved[parameters.name(ENGLISH, one.parameter)]
        assert row[4] == pytest.approx(one.low.cost, abs=1e-3)
        assert row[9] == one.high.hours
    asked = next(row for row in rows["Tiers"] if row[0] == 12)
    assert asked[1] == pytest.approx(found.tier_costs.at(12)[0].cost, abs=1e-3)


def test_it_compares_the_hours_asked_for_or_those_of_the_first_option():
    curve = made().curve
    assert hours_compared(curve, select(curve, None).options) == 14
    by_hand = select(curve, [5]).options
    assert hours_compared(curve, by_hand) == by_hand[0].design.hours < 14


def test_sentences_are_written_as_the_locale_writes():
    german = Writer("EUR", "de_DE")
    found = made().appendix
    runner_up = found.comparison.runner_up.design.life_cycle_cost
    assert f"{runner_up:,.0f}".replace(",", ".") in verdict(german, found.comparison)


def test_a_page_keeps_the_steps_that_add_most_hours():
    steps = made().appendix.stairs.steps
    many = [replace(steps[0], hours=n + n // 3, budget=float(n)) for n in range(1, 41)]
    shown = grids.large_steps(many)
    assert len(shown) == grids.STEPS_SHOWN
    assert (shown[0], shown[-1]) == (many[0], many[-1])
    added = {b.hours: b.hours - a.hours for a, b in pairwise(many)}
    left_out = [one for one in many[1:-1] if one not in shown]
    assert max(added[one.hours] for one in left_out) <= min(added[one.hours] for one in shown[1:-1])
    assert grids.large_steps(many[:10]) == many[:10]
    assert grids.years_shown(10) == list(range(11))
    assert grids.years_shown(25) == [0, 3, 6, 9, 12, 15, 18, 21, 24, 25]


@needs_poppler
@pytest.mark.parametrize("name", JOBS)
def test_pages_as_pictures(name, tmp_path):
    """Vectors, nothing outside the margins, no page of the appendix all but empty."""
    path = tmp_path / "quote.pdf"
    path.write_bytes(pdf(name))
    first = first_of(name)
    assert not any(page.images for page in PdfReader(path).pages[first:])
    pictures = inked_pages(path)[first:]
    assert len(pictures) == len(texts_of(name)) - first
    for image in pictures:
        body = image.crop((0, 0, image.width, image.height - 2 * MARGIN_PIXELS))
        assert body.getbbox()[3] > image.height * 0.4
