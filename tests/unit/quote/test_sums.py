"""Markups, discounts, taxes, extras and owned parts, worked out by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from optimizer.errors import InputError
from optimizer.quote import company_from, price
from optimizer.quote.sums import AddedKind, Heading
from tests.unit.builders import every_work, make_design, make_job, make_period

D = Decimal


def priced(content=None, **site):
    job = make_job(works=every_work(), **({"tax_rate": 0.2} | site))
    sender = company_from({"company": {"name": "K"}, **(content or {})})
    return price(job, make_design(make_period()), sender)


def line(found, name):
    return next(one for one in found.first.lines if one.item.name == name)


def test_the_margin_is_inside_the_prices_unless_asked():
    spread, shown = priced(markup=0.25), priced({"quote": {"markup": "line"}}, markup=0.25)
    assert not spread.first.added
    assert {one.kind for one in shown.first.added} == {
        AddedKind.MARKUP_GOODS, AddedKind.MARKUP_LABOUR,
    }  # fmt: skip
    assert line(spread, "Slate").price_each == D("125.00")
    assert line(shown, "Slate").price_each == D("100.0")
    assert abs(spread.total - shown.total) < D("0.10")


def test_goods_and_labour_have_markups_and_taxes_of_their_own():
    found = priced({
        "prices": {"markup_goods": 0.5, "markup_labour": 0.1, "tax_goods": 0.2, "tax_labour": 0.1}
    })  # fmt: skip
    assert line(found, "Slate").price_each == D("150.00")
    work = next(one for one in found.first.lines if one.heading is Heading.LABOUR)
    assert work.price_each * work.quantity == work.amount
    assert work.price_each == (work.cost_each * D("1.1")).quantize(D("0.01"))
    goods = sum(one.amount for one in found.first.lines if one.heading is not Heading.LABOUR)
    labour = found.first.net - goods
    assert [(one.rate, one.base) for one in found.first.taxes] == [
        (D("0.2"), goods), (D("0.1"), labour),
    ]  # fmt: skip
    assert found.total == goods + labour + (goods * D("0.2")).quantize(D("0.01")) + (
        labour * D("0.1")
    ).quantize(D("0.01"))


def test_discounts_come_off_before_tax():
    plain = priced()
    found = priced({"prices": {"discounts": {"Old customer": 0.1, "Spring": 0.05}}})
    off = [(one.name, one.amount) for one in found.first.added]
    net = plain.first.net
    assert off == [
        ("Old customer", -(net * D("0.1")).quantize(D("0.01"))),
        ("Spring", -(net * D("0.05")).quantize(D("0.01"))),
    ]
    assert found.first.before_tax == net + sum(amount for _, amount in off)
    assert found.first.tax == (found.first.before_tax * D("0.2")).quantize(D("0.01"))
    assert found.life_cycle_cost == pytest.approx(
        plain.life_cycle_cost - float(plain.total - found.total)
    )


def test_extras_by_piece_hour_and_metre():
    found = priced({
        "extra": [
            {"item": "Shelf", "quantity": 2, "unit": "piece", "price": 40},
            {"item": "Chasing walls", "quantity": 3.5, "unit": "hour", "price": 48},
            {"item": "Duct", "quantity": 6.5, "unit": "metre", "price": 4.2, "tax": 0.07},
            {"item": "Trade-in", "quantity": 1, "unit": "piece", "price": -30},
        ]
    }, markup=0.5)  # fmt: skip
    rows = {one.item.name: one for one in found.first.lines}
    assert (rows["Shelf"].amount, rows["Shelf"].heading) == (D("80.00"), Heading.EQUIPMENT)
    assert (rows["Chasing walls"].amount, rows["Chasing walls"].unit) == (D("168.00"), "h")
    assert rows["Chasing walls"].heading is Heading.LABOUR
    assert (rows["Duct"].amount, rows["Duct"].unit) == (D("27.30"), "m")
    assert rows["Trade-in"].amount == D("-30.00")
    assert (D("0.07"), D("27.30")) in [(one.rate, one.base) for one in found.first.taxes]


def test_what_the_customer_owns_stands_at_no_price():
    found, plain = priced({"owned": {"Slate": 1}}), priced()
    own = line(found, "Slate")
    assert (own.item.is_owned, own.quantity, own.amount) == (True, 1, 0)
    assert plain.first.net - found.first.net == D("100.00")
    assert sum(one.margin for one in found.margins) == sum(one.margin for one in plain.margins)


def test_of_two_units_the_second_is_sold():
    job = make_job(works=every_work())
    sender = company_from({"company": {"name": "K"}, "owned": {"Slate": 1}})
    found = price(job, make_design(make_period(strings=2)), sender).first
    units = [(one.quantity, one.amount) for one in found.lines if one.item.name == "Slate"]
    assert units == [(1, 0), (1, D("100.00"))]


def test_a_discount_is_taken_off_the_margin():
    found = priced({"prices": {"discounts": {"Spring": 0.1}, "markup_goods": 0.5}})
    one = next(one for one in found.margins if one.line.item.name == "Slate")
    assert (one.cost, one.selling, one.margin) == (D("100.00"), D("135.00"), D("35.00"))


@pytest.mark.parametrize(
    ("content", "place", "wanted"),
    [
        ({"owned": {"Slat": 1}}, "owned.Slat", "nearest known: Slate"),
        ({"owned": {"Slate": 0}}, "owned", "how many of each"),
        ({"extra": {"item": "x"}}, "extra", "tables [[extra]]"),
        ({"extra": [{"item": "x", "quantity": 1, "unit": "day", "price": 1}]}, "extra.unit",
         '"piece", "hour" or "metre"'),
        ({"extra": [{"item": "x", "unit": "hour", "price": 1}]}, "extra.quantity", "a number"),
        ({"prices": {"discounts": {"all": 1.0}}}, "prices.discounts", "together below 1"),
        ({"prices": {"markup_goods": -0.1}}, "prices.markup_goods", "a share"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said(content, place, wanted):
    with pytest.raises(InputError) as caught:
        priced(content)
    assert caught.value.faults[0].column == place
    assert wanted in str(caught.value.faults[0].wanted)
