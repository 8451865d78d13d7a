"""The text of one cell → a value, such as a number, a date or windows of the day; and back.

Every reader takes the stripped text of a cell, those of numbers also whether the file writes
decimals with a comma, and raises `CellError` where the text is none of its kind. Ranges are checked
later.
"""

import re
from collections.abc import Callable, Iterable
from contextlib import suppress
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from itertools import pairwise
from typing import Final, TypeVar

from optimizer.inputs.columns import Kind
from optimizer.model.outages import Window
from optimizer.model.phrase import Phrase

DAY_H: Final = 24.0
#: Between these everything can be added up in dates.
FIRST_YEAR: Final = 1900
LAST_YEAR: Final = 2199

Day = TypeVar("Day", bound=date)

_DATE: Final = re.compile(
    r"""(
      \d{4}-\d{2}-\d{2}([T\ ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?)?   # 2026-08-06, 2026-08-06 00:00:00
    | \d{1,2}[-./\ ]{1,2}[^\W\d_]{3,9}\.?([-./\ ]+\d{2,4})?   # 6-Aug, 06. Aug 2026
    | [^\W\d_]{3,9}\.?[-./\ ]+\d{1,4}                         # Aug-06
    | \d{1,2}(?P<mark>[./])\d{1,2}(?P=mark)(\d{4}|\d{2})?    # 06.08.2026, 6/8/26, 06.08.
    | \d{1,2}-\d{1,2}-\d{4}                                   # 06-08-2026
    )""",
    re.VERBOSE,
)
_WINDOW: Final = re.compile(r"(\d{1,2})(?::([0-5]\d))?\s*[-–]\s*(\d{1,2})(?::([0-5]\d))?")


class CellError(ValueError):
    """A cell that cannot be read; ``hint``, where there is one, says what to do about it."""

    def __init__(self, hint: str = "") -> None:
        self.hint = hint
        super().__init__(hint)


class WrittenNumber(str):
    """A workbook's own number, with a point, and what its format shows beside it."""

    __slots__ = ()


def cell_text(value: object) -> str:
    """Return a cell's value as text, dates in ISO 8601.

    >>> cell_text(4.0), cell_text(True), cell_text(None)
    ('4', 'true', '')
    """
    if value is None:
        return ""
    if isinstance(value, WrittenNumber):
        return value
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    if isinstance(value, datetime):
        with suppress(OverflowError):  # the last half second of the calendar
            value += timedelta(microseconds=500_000)  # serial dates carry rounding errors
        return value.replace(microsecond=0).isoformat()
    return str(value)


def looks_like_date(text: str) -> bool:
    """Return whether a text is what spreadsheets make of ``6-8`` or ``1.5``: a date.

    >>> [looks_like_date(text) for text in ("6-Aug", "2026-08-06 00:00:00", "12.8", "6:00-8:00")]
    [True, True, False, False]
    """
    return _DATE.fullmatch(text) is not None


def number(text: str, comma: bool = False) -> float:
    """Return a number.

    >>> number("12,8", comma=True)
    12.8
    """
    plain = text.replace("−", "-")
    if comma:
        if "." in plain:
            raise CellError(
                Phrase("decimals with a comma, as in the rest of the file; no thousands marks")
            )
        plain = plain.replace(",", ".")
    try:
        if "_" not in plain:  # Python reads 1_000, people do not write it
            return float(plain)
    except ValueError:
        pass
    if looks_like_date(text):
        raise CellError(
            Phrase(
                "a spreadsheet has turned the number into a date: set the cell to plain number and "
                "type it again"
            )
        )
    if "," in text and not comma:
        raise CellError(
            Phrase("decimals with a point, as in the rest of the file; no thousands marks")
        )
    raise CellError


def whole(text: str, comma: bool = False) -> int:
    """Return a whole number; ``4.0`` is one."""
    value = number(text, comma)
    if not value.is_integer():
        raise CellError
    return int(value)


def flag(text: str) -> bool:
    """Return true or false, in whatever case a spreadsheet writes them; yes and no are read too.

    >>> flag("Yes"), flag("FALSE")
    (True, False)
    """
    words = {"true": True, "yes": True, "false": False, "no": False}
    if text.lower() not in words:
        raise CellError
    return words[text.lower()]


def gas(text: str) -> str:
    """Return a kind of gassing; the older word for valve-regulated is understood.

    >>> gas("recombinant")
    'valve_regulated'
    """
    return "valve_regulated" if text == "recombinant" else text


def day(text: str) -> date:
    """Return a date; a workbook's date cell arrives with its midnight."""
    return _in_calendar(date, re.sub(r"[T ]00:00:00$", "", text))


def _in_calendar(kind: type[Day], text: str) -> Day:
    """Return a date as ISO 8601 writes it, or refuse one that no log or offer can bear."""
    try:
        found = kind.fromisoformat(text)
    except ValueError:
        raise CellError from None
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        years = {"first": str(FIRST_YEAR), "last": str(LAST_YEAR)}
        raise CellError(Phrase("years from {first} to {last}", **years))
    return found


def moment(text: str) -> datetime:
    """Return a date and a time of day, local, with an offset from UTC where one is given."""
    value = _in_calendar(datetime, text)
    if value.time() == time() and ":" not in text:
        raise CellError(Phrase("the time of day is missing"))
    return value


def points(text: str, comma: bool = False) -> tuple[tuple[float, float], ...]:
    """Return the points of a curve.

    >>> points("0.5:1200;0.8:600")
    ((0.5, 1200.0), (0.8, 600.0))
    """
    found = []
    for piece in text.split(";"):
        first, colon, second = piece.partition(":")
        if not colon:
            raise CellError
        found.append((number(first.strip(), comma), number(second.strip(), comma)))
    return tuple(found)


def depths(text: str, comma: bool = False) -> tuple[float, ...]:
    """Return the depths that a bank may be drawn to, one or several.

    >>> depths("0.5;0.8")
    (0.5, 0.8)
    """
    return tuple(number(piece.strip(), comma) for piece in text.split(";"))


@lru_cache(maxsize=1024)  # long surveys repeat the same multipliers
def _multipliers(text: str, comma: bool) -> tuple[tuple[str, float], ...]:
    found: dict[str, float] = {}
    for piece in text.split(";"):
        name, colon, value = (part.strip() for part in piece.rpartition(":"))
        if not colon or not name:
            raise CellError
        if name in found:
            raise CellError(Phrase("each season once, {name} stands twice", name=repr(name)))
        found[name] = number(value, comma)
    return tuple(found.items())


def multipliers(text: str, comma: bool = False) -> dict[str, float]:
    """Return the multiplier of each season named.

    >>> multipliers("winter:1.2;summer:0.6")
    {'winter': 1.2, 'summer': 0.6}
    """
    return dict(_multipliers(text, comma))


@lru_cache(maxsize=1024)  # long surveys repeat the same windows
def windows(text: str) -> tuple[Window, ...]:
    """Return windows of the day in hours; an end that lies before its start is tomorrow's.

    >>> windows("22:00-6:00;6:30-8:00"), windows("6-8")
    (((22.0, 30.0), (6.5, 8.0)), ((6.0, 8.0),))
    """
    found = tuple(_window(piece.strip()) for piece in text.split(";"))
    if overlapping(found):
        raise CellError(Phrase("the windows must not overlap"))
    return found


def _window(text: str) -> Window:
    if looks_like_date(text):
        raise CellError(
            Phrase(
                "a spreadsheet has turned the window into a date: set the cell to text and write "
                "6:00-8:00 for six to eight"
            )
        )
    parts = _WINDOW.fullmatch(text)
    if parts is None:
        raise CellError
    start_h = int(parts[1]) + int(parts[2] or 0) / 60
    end_h = int(parts[3]) + int(parts[4] or 0) / 60
    if start_h >= DAY_H or end_h > DAY_H:
        raise CellError(Phrase("a start is 0:00 to 23:59, an end at most 24:00"))
    if start_h == end_h:
        raise CellError(Phrase("a window of no length; the whole day is 0:00-24:00"))
    return start_h, end_h if end_h > start_h else end_h + DAY_H


def window_text(window: Window) -> str:
    """Return a window of the day as the files write it.

    >>> window_text((22.0, 30.5))
    '22:00-6:30'
    """
    start, end = (round(hour * 60) for hour in window)
    if end > 24 * 60:
        end -= 24 * 60
    return f"{start // 60}:{start % 60:02}-{end // 60}:{end % 60:02}"


def overlapping(day_windows: Iterable[Window]) -> bool:
    """Return whether any two windows of a day share time.

    >>> overlapping([(22.0, 30.0), (5.0, 7.0)]), overlapping([(6.0, 8.0), (8.0, 9.0)])
    (True, False)
    """
    pieces: list[Window] = []
    for start_h, end_h in day_windows:
        pieces.append((start_h, min(end_h, DAY_H)))
        if end_h > DAY_H:
            pieces.append((0.0, end_h - DAY_H))
    pieces.sort()
    return any(after[0] < before[1] for before, after in pairwise(pieces))


_NUMBERS: Final[dict[Kind, Callable[[str, bool], object]]] = {
    Kind.NUMBER: number,
    Kind.SHARE: number,
    Kind.RATE: number,
    Kind.WHOLE: whole,
    Kind.POINTS: points,
    Kind.DEPTHS: depths,
    Kind.MULTIPLIERS: multipliers,
}
_OTHERS: Final[dict[Kind, Callable[[str], object]]] = {
    Kind.GAS: gas,
    Kind.FLAG: flag,
    Kind.DAY: day,
    Kind.MOMENT: moment,
    Kind.WINDOWS: windows,
}


def parsed(kind: Kind, text: str, comma: bool) -> object:
    """Return what a cell of a column of some kind holds; text as it stands."""
    if kind in _NUMBERS:
        return _NUMBERS[kind](text, comma)
    return _OTHERS[kind](text) if kind in _OTHERS else text
