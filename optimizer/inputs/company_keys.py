"""The sections of the company file: their keys, ranges and words."""

from __future__ import annotations

from typing import Final, Literal

from optimizer.inputs.columns import Record, declare, number, share, text, whole
from optimizer.inputs.site_keys import Name  # noqa: TC001 - pydantic reads it at run time

#: The shares of a payment plan may miss one by rounding only.
SHARES_TOLERANCE: Final = 1e-9


class CompanyKeys(Record):
    """[company]."""

    name: Name = text("the company's name")
    address: list[Name] = declare("list", "a list of lines", None)
    contact: list[Name] = declare("list", "a list of lines such as a telephone number", None)
    registration: Name = text("the company's licence or tax number", default=None)
    logo: Name = text("the path of a PNG or JPEG file", default=None)


class QuoteKeys(Record):
    """[quote]."""

    customer: Name = text("the customer's name", default=None)
    valid_days: int = whole("days", ge=1, le=730, default=None)
    locale: str = declare(
        "text", "a locale such as en_IE, de or pt_BR", None, pattern=r"^[A-Za-z]{2,3}([_-]\w+)*$"
    )
    markup: Literal["line", "spread"] = declare(
        "text", '"line" (its own line) or "spread" (inside the prices)', None
    )
    terms: list[Name] = declare("list", "a list of sentences", None)
    not_included: list[Name] = declare("list", "a list of what is not included", None)
    ac_voltage_v: float = number("V between line and neutral", ge=100, le=277, default=None)
    # last: within this class its name hides the function that declares numbers
    number: Name = text('a text such as "2026-118"', default=None)


class PaymentKeys(Record):
    """[payment]."""

    deposit: float = share(ge=0, le=1, default=None)
    stages: dict[str, float] = declare(
        "shares", 'shares by name such as {"On delivery" = 0.5, "At handing over" = 0.2}', None
    )


class HeadingKeys(Record):
    """[headings]: works of the price list by the heading they stand under."""

    box_or_ventilation: list[Name] = declare("names", "a list of works of the price list", None)
    protective_devices: list[Name] = declare("names", "a list of works of the price list", None)


SECTIONS: Final[dict[str, type[Record]]] = {
    "company": CompanyKeys,
    "quote": QuoteKeys,
    "payment": PaymentKeys,
    "headings": HeadingKeys,
}
