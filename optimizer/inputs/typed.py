"""What a person types into one field → the number of its column.

A file decides once how it writes decimals; a person at a screen writes ``7,5`` here and ``7.5``
there, with or without a unit. Both marks are read; what could mean two numbers is asked back, and
nothing is clamped.
"""

import re
from collections.abc import Mapping
from typing import Any, Final

from babel.numbers import get_currency_symbol

from optimizer.inputs.cells import CellError, number, windows
from optimizer.inputs.columns import MONEY, Column, Kind
from optimizer.inputs.decimals import either_number
from optimizer.inputs.quantities import average_hours, in_column, quantity
from optimizer.model.phrase import Phrase

#: A blank or an apostrophe between groups of three digits.
_GROUPS: Final = re.compile(r"(?<=\d)[\s\u00a0\u202f'’](?=\d{3}(?!\d))")
_NUMBER: Final = re.compile(r"([+\-]?)(\d[\d.,]*|[.,]\d+)(?!\s*/)")
_FRACTION: Final = re.compile(r"(\d+ )?\d+/\d+")
#: One mark, then three digits: thousands here, thousandths there.
_TWO_WAYS: Final = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")
#: Shares that the trade writes as they are.
_RATIOS: Final = frozenset({"power_factor"})
_PERCENT: Final = 100.0
_DIGITS: Final = 12
_HOURS_A_DAY: Final = re.compile(r"(\d[\d.,]*)\s*(?:h|hours?)?(?:\s*(?:/|a|per)\s*d(?:ay)?)?")
#: Windows of a load that may run at any hour.
WHOLE_DAY: Final = "0:00-24:00"
#: A number of no column: in a list of pairs, a rate of exchange.
PLAIN_NUMBER: Final = Column(
    name="",
    kind=Kind.NUMBER,
    limits={"ge": 0.0},
    required=True,
    help=Phrase("a number"),
    wanted=Phrase("a number of at least 0"),
)


def typed_number(
    text: str, column: Column, row: Mapping[str, Any] | None = None, currency: str = ""
) -> float:
    """Return the number that was meant, typed as ``7,5``, ``1.5 kW``, ``1/2 hp`` or ``6x``.

    Shares and rates are typed in percent, with or without its sign. ``row`` is the rest of the row,
    for units that lean on it (starting power as a multiple); the code and symbol of ``currency``
    may stand beside an amount. CellError for no number, another unit, two possible meanings, or out
    of range.

    >>> from optimizer.inputs.columns import columns_of
    >>> from optimizer.inputs.rows import LoadRow
    >>> loads = columns_of(LoadRow)
    >>> typed_number("1,5 kW", loads["running_w"]), typed_number("6x", loads["starting_w"],
    ...     {"running_w": 90.0})
    (1500.0, 540.0)
    """
    plain = _GROUPS.sub("", text.strip().replace("−", "-"))
    if MONEY in column.unit:
        plain = _without_currency(plain, currency)
    marked = _NUMBER.match(plain)
    if marked is not None:
        plain = _with_point(marked) + plain[marked.end() :]
    value = _value(plain.strip(), column, row or {})
    if column.kind is Kind.WHOLE and not value.is_integer():
        raise CellError(Phrase("a whole number"))
    if not column.allows(value):
        raise CellError
    return value


def in_percent(column: Column) -> bool:
    """Return whether people write a column's share in percent; a power factor they do not."""
    return column.kind in {Kind.SHARE, Kind.RATE} and column.name not in _RATIOS


def typed_hours(text: str) -> tuple[str, float | None]:
    """Return the windows of the day that were typed, and the duty that hours a day stand for.

    Hours a day at no certain time count as that share of every hour.

    >>> typed_hours("6-8; 18:00-22:00"), typed_hours("6 h")
    (('6-8; 18:00-22:00', None), ('0:00-24:00', 0.25))
    """
    plain = text.strip()
    hours = _HOURS_A_DAY.fullmatch(plain)
    if hours is None:
        windows(plain)
        return plain, None
    day = number(hours[1].replace(",", "."))
    if not 0 < day <= 24:  # noqa: PLR2004 - hours of a day
        raise CellError(Phrase("from 0 to 24 hours a day"))
    return WHOLE_DAY, round(day / 24, _DIGITS)


def is_average(text: str) -> bool:
    """Return whether a power was typed as an energy over a time: the load then runs all day.

    >>> is_average("35 kWh/month"), is_average("35 W")
    (True, False)
    """
    found = _NUMBER.match(text.strip())
    return found is not None and average_hours(text.strip()[found.end() :].strip()) is not None


def _without_currency(text: str, currency: str) -> str:
    if not currency:
        return text
    names = "|".join(map(re.escape, (currency, get_currency_symbol(currency, "en"))))
    return re.sub(rf"(?i)^(?:{names})\s*|\s*(?:{names})$", "", text)


def _with_point(marked: re.Match[str]) -> str:
    """Return a number with a point for its decimals and nothing between its thousands."""
    sign, digits = marked[1], marked[2].rstrip(".,")
    marks = [mark for mark in digits if mark in ".,"]
    if len(marks) == 1 and _TWO_WAYS.fullmatch(digits):
        raise CellError(either_number(digits, marks[0]))
    if len(set(marks)) > 1:  # the last one parts the decimals
        whole, _, decimals = digits.rpartition(marks[-1])
        if marks[-1] in whole:
            raise CellError
        return f"{sign}{whole.replace(marks[0], '')}.{decimals}"
    if len(marks) > 1:
        if any(len(group) != 3 for group in digits.split(marks[0])[1:]):  # noqa: PLR2004 - thousands
            raise CellError
        return sign + digits.replace(marks[0], "")
    return sign + digits.replace(",", ".")


def _value(plain: str, column: Column, row: Mapping[str, Any]) -> float:
    try:
        bare = float(plain)
    except ValueError:
        given = quantity(f"{plain} W" if _FRACTION.fullmatch(plain) else plain, comma=False)
        if given is None:
            raise CellError from None
        if _FRACTION.fullmatch(plain):
            bare = given.value
        else:
            return in_column(given, column, row)
    return round(bare / _PERCENT, _DIGITS) if in_percent(column) else bare
