"""Prices of the bundled list that still stand in a quote, told apart from the installer's own."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from optimizer import load
from optimizer.model.part import ListedPart
from optimizer.quote.invented import invented_items
from optimizer.quote.sums import Heading, Item, Line, Part
from optimizer.report.words import quote as words
from optimizer.report.words.writer import Writer
from tests.unit.quote.made import quote

CATALOG = load("house").catalog


def line(ware, part=Part.CIRCUIT, name=""):
    one = Decimal(1)
    return Line(
        Heading.EQUIPMENT,
        Item(part=part, name=name),
        one,
        "",
        one,
        ware,
        price_each=one,
        amount=one,
        tax_rate=Decimal(0),
    )


@pytest.mark.parametrize(
    ("table", "key"),
    [
        ("batteries", "battery"),
        ("inverters", "inverter"),
        ("generators", "generator"),
        ("works", "item"),
    ],
)
def test_a_model_or_work_is_the_demos_by_name_and_price(table, key):
    row = getattr(CATALOG, table)[0]
    sold = line(row, name=getattr(row, key))
    assert invented_items([sold, sold]) == (sold.item,)
    same_price, dearer = replace(row, **{key: "Another"}), replace(row, price=row.price + 1)
    assert invented_items([line(same_price), line(dearer)]) == ()
    if table != "works":  # whatever else of it was corrected, the price is the demo's
        assert invented_items([line(replace(row, mass_kg=1.0))]) != ()


@pytest.mark.parametrize(
    ("table", "own"),
    [
        ("cables", {"ampacity_a": 1.0}),
        ("fuses", {"breaking_ka": 1.0}),
        ("parts", {"supplier": "Own"}),
    ],
)
def test_what_has_no_name_is_the_demos_by_its_whole_row(table, own):
    """Another's fuse of that rating may well cost the same."""
    row = getattr(CATALOG, table)[0]
    assert invented_items([line(row)]) == (line(row).item,)
    assert invented_items([line(replace(row, **own))]) == ()


def test_what_is_no_row_of_a_price_list_is_nobodys_invention():
    assert invented_items([line(None, Part.EXTRA, "Scaffold")]) == ()
    assert invented_items([line(ListedPart(CATALOG.parts[0].kind, 1.0))]) == ()


@pytest.mark.slow
def test_a_quote_says_once_how_many_prices_are_invented():
    demo, write = quote("clinic"), Writer("EUR")
    sold = {one.item for option in demo.options for one in option.pricing.first.lines}
    extras = {one for one in sold if one.part is Part.EXTRA}  # of the company's file
    assert {*demo.invented} == sold - extras
    (told,) = [one for one in words.beside(write, demo) if "invented demo price list" in one]
    assert told.startswith(f"{len(demo.invented)} prices are still those of ")
    assert demo.options[0].design.inverter.inverter in told
