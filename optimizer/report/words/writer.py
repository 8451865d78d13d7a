"""Sentences, numbers, money and dates as a locale writes them."""

from __future__ import annotations

import math
import re
import string
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple, TypeAlias
from unicodedata import category

from optimizer.formulas.rounding import exact, minor_units
from optimizer.report.words import catalogue

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from datetime import date

    from babel import Locale

Number: TypeAlias = float | Decimal

#: Decimals of a percentage whose number is not fixed, at most.
_SHARE_DECIMALS: Final = 2


def plain(text: str) -> str:
    r"""Return a name from a file as it may be shown: control characters made visible.

    >>> plain("two\nlines")
    'two␊lines'
    """
    if text.isprintable():
        return text
    return "".join(
        chr(0x2400 + ord(letter)) if ord(letter) < ord(" ") else letter
        for letter in text
        if letter.isprintable() or ord(letter) < ord(" ") or category(letter) == "Zs"
    )


def clock(hour: float) -> str:
    """Return an hour of the day as a clock shows it, to the minute."""
    minutes = round(hour * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


class Sentence(NamedTuple):
    """A sentence in a table of kinds, for a writer to say with the operands of a case."""

    #: Its key in the catalogue.
    english: str


class Writer(string.Formatter):
    """Writes sentences, numbers, money (of a code of ISO 4217) and dates as a locale does.

    The locale is one such as ``en_IE`` or ``de``.
    """

    def __init__(self, currency: str, locale: str = "en") -> None:
        from babel import Locale  # noqa: PLC0415 - start-up time

        self.currency = currency
        self.locale = Locale.parse(locale, sep="-" if "-" in locale else "_")
        self._catalogue = catalogue.of_locale(str(self.locale))

    def say(self, english: str, /, **fields: Any) -> str:  # noqa: ANN401 - by the field's spec
        """Return a sentence, given in English, in the writer's language.

        The English is its key in the catalogue. A field names after its colon how it is written:
        ``money`` (whole units), ``cents`` (to the minor unit), ``difference`` (money more or less),
        ``number`` (``number.1``: with one decimal), ``figure`` (digits that matter), ``factor``,
        ``share`` (per cent), ``hours``, ``years`` (with the unit), ``date``, ``clock`` (an hour of
        the day), ``capital`` (as it begins a sentence), ``list`` or ``choice`` (a, b or c); without
        a colon as text, or a whole number. ``{currency}`` needs no field.

        >>> write = Writer("EUR")
        >>> write.say("{saving:money} cheaper over {time:years}", saving=415.2, time=10)
        '€415 cheaper over 10 years'
        """
        # under the empty sentence a catalogue tells of itself
        text = self._catalogue.gettext(english) if english else ""
        return self.vformat(text, (), {"currency": self.currency, **fields})

    def say_number(self, one: str, many: str, n: int, /, **fields: Any) -> str:  # noqa: ANN401 - as in say
        """Return a sentence whose words follow a number, which is its field ``n``.

        Examples
        --------
        >>> Writer("EUR").say_number("{n} bank", "{n} banks", 3)
        '3 banks'
        """
        return self.vformat(self._catalogue.ngettext(one, many, n), (), {"n": n, **fields})

    def format_field(self, value: Any, format_spec: str) -> str:  # noqa: ANN401 - by the spec
        """Return one field of a sentence as its spec says."""
        way, _, given = format_spec.partition(".")
        if way:
            return _WAYS[way](self, value, int(given) if given else None)
        return self.number(value) if isinstance(value, int) else plain(str(value))

    @property
    def decimal_mark(self) -> str:
        """What stands before the decimals."""
        from babel.numbers import get_decimal_symbol  # noqa: PLC0415 - start-up time

        return get_decimal_symbol(self.locale)

    def number(self, value: Number, decimals: int = 0) -> str:
        """Return a number with the locale's separators and fixed decimals."""
        from babel.numbers import format_decimal  # noqa: PLC0415 - start-up time

        pattern = "#,##0." + "0" * decimals if decimals else "#,##0"
        step = _quantized(value, decimals)
        return format_decimal(step, pattern, locale=self.locale).replace("-", "−")

    def plain(self, value: Number, most: int = 3) -> str:
        """Return a number with as many decimals as it has, at most ``most``."""
        return self.number(value, _decimals(_quantized(value, most)))

    def figure(self, value: Number, digits: int = 3) -> str:
        """Return a measured quantity with the digits that matter, and separators."""
        size = abs(float(value))
        before = 0 if size < 1 else len(str(int(size)))
        return self.plain(value, max(0, digits - before))

    def share(self, value: Number, decimals: int | None = None) -> str:
        r"""Return a share of one as per cent, as the locale writes it.

        >>> Writer("EUR").share(0.21), Writer("EUR", "de").share(0.075)
        ('21%', '7,5\xa0%')
        """
        percent = _exact(value) * 100
        if decimals is None:
            decimals = _decimals(_quantized(percent, _SHARE_DECIMALS))
        usual = self.locale.percent_formats[None].pattern
        return re.sub(r"[#,0.]+", self.number(percent, decimals), usual)

    def hours(self, value: float, decimals: int | None = None) -> str:
        """Return hours cut down to a tenth: nothing is promised that is not there.

        >>> Writer("EUR").hours(23.89), Writer("EUR").hours(24)
        ('23.8', '24')
        """
        if decimals is None:
            decimals = 0 if value == int(value) else 1
        scale = 10**decimals
        return self.number(math.floor(value * scale + 1e-6) / scale, decimals)

    def amount(self, value: Number) -> str:
        """Return money to its minor unit, without its sign: for columns."""
        return self.number(value, minor_units(self.currency))

    def price(self, value: Number) -> str:
        """Return a price of one: to the minor unit, or finer where the price list is."""
        finest = _decimals(_exact(value).normalize())
        return self.number(value, max(minor_units(self.currency), finest))

    def money(self, value: Number, *, whole: bool = False) -> str:
        """Return money with its sign, where the locale puts it; ``whole`` leaves decimals out."""
        from babel.numbers import format_currency  # noqa: PLC0415 - start-up time

        decimals = 0 if whole else minor_units(self.currency)
        usual = self.locale.currency_formats["standard"].pattern
        pattern = re.sub(r"\.0+", "." + "0" * decimals if decimals else "", usual)
        text = format_currency(
            _quantized(value, decimals),
            self.currency,
            pattern,
            locale=self.locale,
            currency_digits=False,
        ).replace("-", "−")
        # a code in the place of a sign stands apart from the digits (CLDR's spacing rule)
        return re.sub(r"(?<=[A-Z])(?=\d)", "\N{NO-BREAK SPACE}", text)

    def difference(self, value: Number) -> str:
        """Return money by which one thing is dearer than another, or cheaper."""
        if value < 0:
            return self.say("{less:money} less", less=-value)
        return self.say("{more:money} more", more=value)

    def day(self, value: date) -> str:
        """Return a date."""
        from babel.dates import format_date  # noqa: PLC0415 - start-up time

        return format_date(value, "medium", locale=self._english)

    def first(self, texts: Sequence[str], most: int) -> list[str]:
        """Return the first of some texts, and how many more there are."""
        if len(texts) <= most:
            return [*texts]
        return [*texts[:most], self.say("{n} more", n=len(texts) - most)]

    def listed(self, names: Sequence[str], style: Literal["standard", "or"] = "standard") -> str:
        """Return names as an enumeration.

        >>> Writer("EUR").listed(["a", "b", "c"])
        'a, b and c'
        """
        from babel.lists import format_list  # noqa: PLC0415 - start-up time

        return format_list([plain(name) for name in names], style, locale=self._english)

    @property
    def _english(self) -> Locale | str:
        """The locale; where it is English and no more, that outside the Americas, as spelt here."""
        return "en_001" if str(self.locale) == "en" else self.locale

    def time(self, value: float, unit: Literal["hour", "year"], decimals: int | None) -> str:
        """Return a span of time with its unit in words."""
        from babel.units import format_unit  # noqa: PLC0415 - start-up time

        number = self.hours(value, decimals) if unit == "hour" else None
        if number is None:
            number = self.plain(value, 1) if decimals is None else self.number(value, decimals)
        # CLDR chooses the unit's plural by the number, which it would write without our rounding
        name, locale = f"duration-{unit}", self.locale
        words = format_unit(value, name, length="long", format="'#'", locale=locale)
        return words.replace("#", number)


#: How the value of a field is written, by the name of its spec and the digits asked for.
_WAYS: Final[Mapping[str, Callable[[Writer, Any, int | None], str]]] = {
    "money": lambda write, value, _: write.money(value, whole=True),
    "cents": lambda write, value, _: write.money(value),
    "difference": lambda write, value, _: write.difference(value),
    "number": lambda write, value, decimals: write.number(value, decimals or 0),
    "figure": lambda write, value, digits: write.figure(value, digits or 3),
    "factor": lambda write, value, digits: f"×\N{NO-BREAK SPACE}{write.figure(value, digits or 3)}",
    "share": lambda write, value, decimals: write.share(value, decimals),
    "hours": lambda write, value, decimals: write.time(value, "hour", decimals),
    "years": lambda write, value, decimals: write.time(value, "year", decimals),
    "date": lambda write, value, _: write.day(value),
    "clock": lambda _write, value, _: clock(value),
    "capital": lambda _write, value, _: str(value)[:1].upper() + plain(str(value))[1:],
    "list": lambda write, value, _: write.listed(value),
    "choice": lambda write, value, _: write.listed(value, "or"),
}


def _exact(value: Number) -> Decimal:
    return value if isinstance(value, Decimal) else exact(value)


def _quantized(value: Number, decimals: int) -> Decimal:
    step = _exact(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    return step + 0  # no "−0"


def _decimals(value: Decimal) -> int:
    exponent = value.normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
