"""Text of single cells."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from optimizer.inputs import cells


@pytest.mark.parametrize(
    ("text", "comma", "value"),
    [
        ("12.8", False, 12.8),
        ("12,8", True, 12.8),
        ("-3", False, -3.0),
        ("−3.9", False, -3.9),
        ("1e3", False, 1000.0),
        (".5", False, 0.5),
    ],
)
def test_numbers(text, comma, value):
    assert cells.number(text, comma) == value


@pytest.mark.parametrize(
    ("text", "comma"),
    [
        ("12,8", False),
        ("12.8", True),
        ("1.234,5", True),
        ("1,234.5", False),
        ("1_000", False),
        ("12 V", False),
        ("40%", False),
        ("", False),
        ("=1+1", False),
        ("0x10", False),
    ],
)
def test_texts_that_are_no_numbers(text, comma):
    with pytest.raises(cells.CellError):
        cells.number(text, comma)


def test_whole_numbers():
    assert cells.whole("4") == cells.whole("4.0") == 4
    for text in ("4.5", "nan", "inf"):
        with pytest.raises(cells.CellError):
            cells.whole(text)


@pytest.mark.parametrize(
    ("text", "windows"),
    [
        ("22:00-6:00;6:30-8:00", ((22.0, 30.0), (6.5, 8.0))),
        ("0:00-24:00", ((0.0, 24.0),)),
        ("06:00 - 08:15", ((6.0, 8.25),)),
        ("18:00-0:00", ((18.0, 24.0),)),
        ("12:00-24:00; 0:00-12:00", ((12.0, 24.0), (0.0, 12.0))),
    ],
)
def test_windows(text, windows):
    assert cells.windows(text) == windows


@pytest.mark.parametrize(
    "text",
    [
        "8",
        "6:00",
        "6:60-8:00",
        "24:00-2:00",
        "6:00-24:30",
        "7:00-7:00",
        "6:00-8:00;",
        "22:00-6:00;5:00-7:00",
        "0:00-24:00;6:00-8:00",
        "2026-08-06T00:00:00",
        "always",
    ],
)
def test_windows_that_are_none(text):
    with pytest.raises(cells.CellError):
        cells.windows(text)


@pytest.mark.parametrize(
    "text",
    [
        "6-Aug",
        "06. Aug",
        "6. März",
        "Aug-06",
        "Aug 2026",
        "06.08.2026",
        "6/8/26",
        "06.08.",
        "06-08-2026",
        "2026-08-06",
        "2026-08-06 00:00:00",
    ],
)
def test_dates_that_spreadsheets_make(text):
    assert cells.looks_like_date(text)
    with pytest.raises(cells.CellError, match="turned the window into a date"):
        cells.windows(text)
    with pytest.raises(cells.CellError, match="turned the number into a date"):
        cells.number(text)


@pytest.mark.parametrize("text", ["6-8", "12.8", "6:00-8:00", "always", "1.234,5", "1e-3"])
def test_texts_that_are_no_dates(text):
    assert not cells.looks_like_date(text)


def test_points_and_multipliers():
    assert cells.points("0,5:1200;0,8:600", comma=True) == ((0.5, 1200.0), (0.8, 600.0))
    assert cells.multipliers("wet season:1.2; dry:0") == {"wet season": 1.2, "dry": 0.0}
    for text in ("0.5", "0.5:1200;", "a:b"):
        with pytest.raises(cells.CellError):
            cells.points(text)
    for text in ("winter", ":1", "winter:1;winter:2"):
        with pytest.raises(cells.CellError):
            cells.multipliers(text)


def test_days_and_moments():
    assert cells.day("2026-01-31") == cells.day("2026-01-31T00:00:00") == date(2026, 1, 31)
    assert cells.moment("2026-01-31 17:40") == datetime(2026, 1, 31, 17, 40)
    assert cells.moment("2026-01-31T00:00") == datetime(2026, 1, 31)
    for text in ("31.01.2026", "2026-02-30"):
        with pytest.raises(cells.CellError):
            cells.day(text)


def test_flags():
    assert cells.flag("TRUE") is True
    assert cells.flag("false") is False
    assert cells.flag("Yes") is True
    assert cells.flag("no") is False
    with pytest.raises(cells.CellError):
        cells.flag("1")
