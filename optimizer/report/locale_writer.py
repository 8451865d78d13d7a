"""How a locale writes numbers, money, shares and dates."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from optimizer.formulas.rounding import exact, minor_units

if TYPE_CHECKING:
    from datetime import date


class Writer:
    """Writes numbers, money and dates as a locale does.

    Parameters
    ----------
    currency : str
        Code of ISO 4217.
    locale : str
        Such as ``en_IE`` or ``de``.
    """

    def __init__(self, currency: str, locale: str = "en") -> None:
        from babel import Locale  # noqa: PLC0415 - start-up time

        self.currency = currency
        self.locale = Locale.parse(locale, sep="-" if "-" in locale else "_")

    def number(self, value: float | Decimal, decimals: int = 0) -> str:
        """Return a number with the locale's separators and fixed decimals."""
        from babel.numbers import format_decimal  # noqa: PLC0415

        exactly = value if isinstance(value, Decimal) else exact(value)
        step = exactly.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP) + 0  # no "−0"
        pattern = "#,##0." + "0" * decimals if decimals else "#,##0"
        return format_decimal(step, pattern, locale=self.locale).replace("-", "−")

    def plain(self, value: float | Decimal, most: int = 3) -> str:
        """Return a number with as many decimals as it has, at most ``most``."""
        exactly = value if isinstance(value, Decimal) else exact(value)
        exactly = exactly.quantize(Decimal(1).scaleb(-most), ROUND_HALF_UP).normalize()
        exponent = exactly.as_tuple().exponent
        return self.number(exactly, max(0, -exponent) if isinstance(exponent, int) else 0)

    def figure(self, value: float, digits: int = 3) -> str:
        """Return a measured quantity with the digits that matter, and separators."""
        size = abs(value)
        before = 0 if size < 1 else len(str(int(size)))
        return self.plain(value, max(0, digits - before))

    def share(self, value: float | Decimal) -> str:
        """Return a share as per cent."""
        exactly = value if isinstance(value, Decimal) else exact(value)
        return f"{self.plain(exactly * 100, 2)} %"

    def amount(self, value: Decimal) -> str:
        """Return money to its minor unit, without its sign: for columns."""
        return self.number(value, minor_units(self.currency))

    def price(self, value: Decimal) -> str:
        """Return a price of one: to the minor unit, or finer where the price list is."""
        exponent = value.normalize().as_tuple().exponent
        finest = max(0, -exponent) if isinstance(exponent, int) else 0
        return self.number(value, max(minor_units(self.currency), finest))

    def money(self, value: Decimal, *, whole: bool = False) -> str:
        """Return money with its sign, where the locale puts it; ``whole`` leaves decimals out."""
        from babel.numbers import format_currency  # noqa: PLC0415

        decimals = 0 if whole else minor_units(self.currency)
        step = value.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP) + 0
        usual = self.locale.currency_formats["standard"].pattern
        pattern = re.sub(r"\.0+", "." + "0" * decimals if decimals else "", usual)
        text = format_currency(
            step, self.currency, pattern, locale=self.locale, currency_digits=False
        )
        # a code in the place of a sign stands apart from the digits (CLDR's spacing rule)
        return re.sub(r"(?<=[A-Z])(?=\d)", "\N{NO-BREAK SPACE}", text)

    def day(self, value: date) -> str:
        """Return a date."""
        from babel.dates import format_date  # noqa: PLC0415

        return format_date(value, "medium", locale=self.locale)
