"""The sections of the company file: their keys and the facts about each."""

from __future__ import annotations

from typing import Final, Literal

from optimizer.inputs.columns import Kind, Record, declare, number, share, text, whole
from optimizer.inputs.site_keys import Name, names

#: The shares of a payment plan may miss one by rounding only.
SHARES_TOLERANCE: Final = 1e-9


class CompanyKeys(Record):
    """[company]."""

    name: Name = text("the company's name", required=True)
    address: list[Name] = names("lines")
    contact: list[Name] = names("lines, a telephone number for one,")
    registration: Name = text("the company's licence or tax number")
    logo: Name = text("the path of a PNG or JPEG file")


class QuoteKeys(Record):
    """[quote]."""

    customer: Name = text("the customer's name")
    valid_days: int = whole("days", "the offer holds", ge=1, le=730)
    locale: str = declare(
        Kind.TEXT, "a locale such as en_IE, de or pt_BR", pattern=r"^[A-Za-z]{2,3}([_-]\w+)*$"
    )
    markup: Literal["line", "spread"] = text(
        '"line" (its own line) or "spread" (inside the prices)'
    )
    terms: list[Name] = names("sentences")
    not_included: list[Name] = names("what is not included")
    ac_voltage_v: float = number("V", "between line and neutral", ge=100, le=277)
    # last: within this class its name hides the function that declares numbers
    number: Name = text('a text such as "2026-118"')


class PaymentKeys(Record):
    """[payment]."""

    deposit: float = share("paid with the order", ge=0, le=1)
    stages: dict[str, float] = declare(
        Kind.LIST, 'shares by name such as {"On delivery" = 0.5, "At handing over" = 0.2}'
    )


class HeadingKeys(Record):
    """[headings]: works of the price list by the heading they stand under."""

    box_or_ventilation: list[Name] = names("works of the price list")
    protective_devices: list[Name] = names("works of the price list")


SECTIONS: Final[dict[str, type[Record]]] = {
    "company": CompanyKeys,
    "quote": QuoteKeys,
    "payment": PaymentKeys,
    "headings": HeadingKeys,
}
