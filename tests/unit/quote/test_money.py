from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from optimizer.formulas.rounding import exact, minor_units, parts, rounded
from optimizer.quote.company import known_locale
from optimizer.report.words.writer import Writer


@pytest.mark.parametrize(
    ("currency", "decimals"), [("JPY", 0), ("XOF", 0), ("EUR", 2), ("KWD", 3), ("TND", 3)]
)
def test_minor_units(currency, decimals):
    """ISO 4217 (from memory)."""
    assert minor_units(currency) == decimals


@pytest.mark.parametrize(
    ("amount", "currency", "expected"),
    [
        ("1.005", "EUR", "1.01"),  # as a binary fraction it would fall to 1.00
        ("-1.005", "EUR", "-1.01"),
        ("2.5", "JPY", "3"),
        ("0.0005", "KWD", "0.001"),
    ],
)
def test_halves_go_up(amount, currency, expected):
    assert str(rounded(Decimal(amount), currency)) == expected


def test_numbers_are_taken_as_they_were_typed():
    assert exact(0.1) + exact(0.2) == exact(0.3)


def test_parts_add_up_whatever_rounding_does():
    thirds = [Decimal(1) / 3, Decimal(1) / 3, Decimal(1) / 3]
    found = parts(Decimal("100.00"), thirds, "EUR")
    assert found == [Decimal("33.33"), Decimal("33.33"), Decimal("33.34")]


@pytest.mark.parametrize(
    ("currency", "locale", "expected"),
    [
        ("EUR", "en_IE", "€1,234,567.50"),
        ("EUR", "de", "1.234.567,50\u00a0€"),
        ("JPY", "en", "¥1,234,568"),
        ("KWD", "en", "KWD\u00a01,234,567.500"),
        ("INR", "en_IN", "₹12,34,567.50"),
    ],
)
def test_money_as_the_locale_writes_it(currency, locale, expected):
    assert Writer(currency, locale).money(Decimal("1234567.5")) == expected


def test_dates_and_numbers_as_the_locale_writes_them():
    german = Writer("EUR", "de")
    assert german.day(date(2026, 11, 5)) == "05.11.2026"
    assert german.number(1234.5, 1) == "1.234,5"
    assert german.number(-0.0001, 2) == "0,00"
    assert Writer("EUR", "en").number(-2) == "−2"


@pytest.mark.parametrize(
    ("value", "digits", "expected"),
    [(0.19735, 3, "0.197"), (45.306, 3, "45.3"), (45.306, 4, "45.31"), (1687, 3, "1,687")],
)
def test_figures_have_the_digits_that_matter(value, digits, expected):
    assert Writer("EUR").figure(value, digits) == expected


def test_a_price_keeps_the_decimals_of_the_price_list():
    write = Writer("EUR")
    assert write.price(Decimal("0.4225")) == "0.4225"
    assert write.price(Decimal("812.0")) == "812.00"


def test_locales_that_are_not_known():
    assert known_locale("en-GB")
    assert not known_locale("zz")
    assert not known_locale("..")
