"""Money as it is asked for: whole minor units of a currency, halves up."""

from decimal import ROUND_HALF_UP, Context, Decimal
from typing import Final

#: Minor units of currencies that do not have two (ISO 4217, from memory).
_MINOR_UNITS: Final = {
    **dict.fromkeys(["BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF"], 0),
    **dict.fromkeys(["UGX", "UYI", "VND", "VUV", "XAF", "XOF", "XPF"], 0),
    **dict.fromkeys(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"], 3),
    **dict.fromkeys(["CLF", "UYW"], 4),
}
#: Digits for any sum of what files may ask for; the usual 28 refuse the largest.
_ENOUGH: Final = Context(prec=60)


def minor_units(currency: str) -> int:
    """Return the decimals of a currency: 0, 2, 3 or 4.

    >>> minor_units("JPY"), minor_units("EUR"), minor_units("KWD")
    (0, 2, 3)

    Returns
    -------
    int in [0, 4]
    """
    return _MINOR_UNITS.get(currency, 2)


def exact(value: float) -> Decimal:
    """Return a number from a file as it was written there: 0.1 is a tenth.

    >>> exact(0.1) * 3
    Decimal('0.3')

    Returns
    -------
    Decimal in [-1e12, 1e12]
    """
    return Decimal(repr(float(value)))


def rounded(amount: Decimal, currency: str) -> Decimal:
    """Return an amount in whole minor units, halves away from zero.

    >>> rounded(Decimal("2.345"), "EUR"), rounded(Decimal("2.5"), "JPY")
    (Decimal('2.35'), Decimal('3'))

    Returns
    -------
    Decimal in [-1e26, 1e26]
    """
    step = Decimal(1).scaleb(-minor_units(currency))
    return amount.quantize(step, ROUND_HALF_UP, _ENOUGH)


def parts(total: Decimal, shares: list[Decimal], currency: str) -> list[Decimal]:
    """Return a sum split by shares that make up one; the last part takes what rounding leaves.

    >>> parts(Decimal("100.00"), [Decimal("0.333"), Decimal("0.667")], "EUR")
    [Decimal('33.30'), Decimal('66.70')]

    Returns
    -------
    list of Decimal in [0, 1e26]
    """
    first = [rounded(total * share, currency) for share in shares[:-1]]
    return [*first, total - sum(first, Decimal(0))] if shares else []
