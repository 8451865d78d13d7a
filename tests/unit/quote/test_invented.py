"""Prices of the bundled list that still stand in a quote, told apart from the installer's own."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from optimizer import load
from optimizer.formulas.rounding import exact
from optimizer.model.part import PartKind
from optimizer.quote.invented import invented_items
from optimizer.quote.sums import Heading, Item, Line, Part
from optimizer.report.words import quote as words
from optimizer.report.words.writer import Writer
from tests.unit.quote.made import quote

CATALOG = load("house").catalog


def line(part, cost, **item):
    one, each = Decimal(1), exact(cost)
    return Line(
        Heading.EQUIPMENT, Item(part=part, **item), one, "", each, each, Decimal(0), cost_each=each
    )


def battery_line(cost):
    first = CATALOG.batteries[0]
    return line(Part.BATTERY, cost, name=first.battery, voltage_v=first.voltage_v)


def test_a_model_or_work_is_the_demos_by_name_and_price():
    battery, work = CATALOG.batteries[0], CATALOG.works[0]
    own = line(Part.BATTERY, battery.price, name="Another")
    lines = [battery_line(battery.price), line(Part.WORK, work.price, name=work.item), own]
    assert [one.name for one in invented_items(CATALOG, lines)] == [battery.battery, work.item]
    assert invented_items(CATALOG, [battery_line(battery.price + 1)]) == ()


@pytest.mark.parametrize("table", ["cables", "fuses", "parts"])
def test_what_has_no_name_is_the_demos_by_its_whole_row(table):
    """Another's fuse of that rating may well cost the same."""
    row = getattr(CATALOG, table)[0]
    sold, changed = {
        "cables": lambda: (
            line(Part.CABLE, row.price_per_m, size=row.section_mm2),
            replace(row, ampacity_a=row.ampacity_a + 1),
        ),
        "fuses": lambda: (
            line(Part.FUSE, row.price, size=row.rating_a),
            replace(row, breaking_ka=1.0),
        ),
        "parts": lambda: (
            line(Part.CIRCUIT, row.price, kind=PartKind(row.kind), size=row.rating_a),
            replace(row, supplier="Another"),
        ),
    }[table]()
    assert invented_items(CATALOG, [sold, sold]) == (sold.item,)
    own = replace(CATALOG, **{table: (changed,)})
    assert invented_items(own, [sold]) == ()


@pytest.mark.slow
def test_a_quote_says_once_how_many_prices_are_invented():
    demo, write = quote("clinic"), Writer("EUR")
    sold = {one.item for option in demo.options for one in option.pricing.first.lines}
    extras = {one for one in sold if one.part is Part.EXTRA}  # of the company's file
    assert {*demo.invented} == sold - extras
    (told,) = [one for one in words.beside(write, demo) if "invented demo price list" in one]
    assert told.startswith(f"{len(demo.invented)} prices are still those of ")
    assert demo.options[0].option.design.inverter.inverter in told
