"""What people type into fields: both decimal marks, units, and nothing guessed or clamped."""

import pytest

from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import columns_of
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.typed import is_average, typed_hours, typed_number

LOADS = columns_of(LoadRow)
MONEY = columns_of(SECTIONS["economics"])
LIMITS = columns_of(SECTIONS["limits"])


@pytest.mark.parametrize(
    ("text", "column", "expected"),
    [
        ("7,5", LOADS["running_w"], 7.5),
        ("7.5", LOADS["running_w"], 7.5),
        (" 1.234,5 ", LOADS["running_w"], 1234.5),
        ("1,234.5 W", LOADS["running_w"], 1234.5),
        ("12 500", LOADS["running_w"], 12500),
        ("1.5 kW", LOADS["running_w"], 1500),
        ("1,5kW", LOADS["running_w"], 1500),
        ("1/2 hp", LOADS["running_w"], 372.849935791),
        ("35 kWh/month", LOADS["running_w"], 47.9452054795),
        ("6x", LOADS["starting_w"], 540),
        ("6 ×", LOADS["starting_w"], 540),
        ("0,85", LOADS["power_factor"], 0.85),
        ("40", LOADS["duty"], 0.4),
        ("40 %", LOADS["duty"], 0.4),
        ("0,34", MONEY["tariff"], 0.34),
        ("0.34 EUR", MONEY["tariff"], 0.34),
        ("€5000", LIMITS["budget"], 5000),
        ("1 234 567", LIMITS["budget"], 1234567),
        ("1.234.567,50 €", LIMITS["budget"], 1234567.5),
        ("2,5", MONEY["discount_rate"], 0.025),
        ("−1", MONEY["discount_rate"], -0.01),
    ],
)
def test_what_is_meant(text, column, expected):
    read = typed_number(text, column, {"running_w": 90.0}, "EUR")
    assert read == pytest.approx(expected, rel=1e-11)


@pytest.mark.parametrize(
    ("text", "column", "hint"),
    [
        ("1,200", LOADS["running_w"], "1200 if thousands are meant, 1,2 if decimals are"),
        ("1.200", LOADS["running_w"], "1200 if thousands are meant, 1.2 if decimals are"),
        ("1.5", LOADS["count"], "a whole number"),
        ("150", LOADS["duty"], ""),
        ("-5", LOADS["running_w"], ""),
        ("a lot", LOADS["running_w"], ""),
        ("1e999", LOADS["running_w"], ""),
        ("", LOADS["running_w"], ""),
        ("$5000", LIMITS["budget"], ""),
        ("1,2,3", LIMITS["budget"], ""),
    ],
)
def test_what_is_asked_back(text, column, hint):
    with pytest.raises(CellError) as caught:
        typed_number(text, column, {}, "EUR")
    if hint:
        assert str(caught.value.hint) == hint


def test_a_unit_of_something_else_is_named():
    with pytest.raises(CellError, match="'kg' does not belong"):
        typed_number("5 kg", LOADS["running_w"])


def test_hours_of_the_day():
    assert typed_hours("22:00-6:00") == ("22:00-6:00", None)
    assert typed_hours("8") == ("0:00-24:00", pytest.approx(1 / 3))
    assert typed_hours("1,5 h a day") == ("0:00-24:00", 0.0625)
    for wrong in ("25", "0 h", "noon", "6-25", "6.5.2", "31.01.2026"):
        with pytest.raises(CellError):
            typed_hours(wrong)


def test_energy_over_a_time_is_an_average():
    assert is_average("2 kWh/day")
    assert not is_average("2 kW")
    assert not is_average("much")
