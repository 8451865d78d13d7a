"""The sections of the company file: their keys and the facts about each."""

from typing import Final, Literal

from optimizer.inputs.columns import (
    MONEY,
    Kind,
    Record,
    choice,
    declare,
    flag,
    number,
    share,
    text,
    whole,
)
from optimizer.inputs.site_keys import Name, Paragraph, names

#: The shares of a payment plan may miss one by rounding only.
SHARES_TOLERANCE: Final = 1e-9
#: So many lines stand in a letter's head beside its other side.
_ADDRESS_LINES: Final = 8
_LINES: Final = f"at most {_ADDRESS_LINES} lines"


class CompanyKeys(Record):
    """[company]."""

    name: Name = text("the company's name")
    address: list[Name] | None = names(_LINES, max_length=_ADDRESS_LINES)
    telephone: Name | None = text(
        "the number a household calls; it stands on the sheet by the fuse board"
    )
    contact: list[Name] | None = names(
        f"at most {_ADDRESS_LINES} more lines to reach the company by", max_length=_ADDRESS_LINES
    )
    registration: Name | None = text("the company's licence or tax number")
    logo: Name | None = text("the path of a PNG or JPEG file")


class QuoteKeys(Record):
    """[quote]."""

    customer: Name | None = text("the customer's name")
    customer_address: list[Name] | None = names(_LINES, max_length=_ADDRESS_LINES)
    cover: list[Paragraph] | None = names("paragraphs that open the quote")
    delivery: Paragraph | None = text(
        'when it is delivered, such as "four weeks after the deposit"'
    )
    valid_days: int | None = whole("days", "the offer holds", ge=1, le=730)
    locale: str | None = declare(
        Kind.TEXT, "a locale such as en_IE, de or pt_BR", pattern=r"^[A-Za-z]{2,3}([_-]\w+)*$"
    )
    markup: Literal["line", "spread"] | None = text(
        '"spread" (inside the prices: nobody sees it) or "line" (shown to the customer)'
    )
    terms: list[Paragraph] | None = names("sentences")
    not_included: list[Paragraph] | None = names("what is not included")
    monitor: bool | None = flag(
        "a battery monitor and an energy meter behind the inverter are sold too"
    )
    # last: within this class its name hides the function that declares numbers
    number: Name | None = text('a text such as "2026-118"')


class PriceKeys(Record):
    """[prices]: what comes on top of the price list; the site's own where left out."""

    markup_goods: float | None = share("added to equipment, cable, fuses, boxes", ge=0, le=5)
    markup_labour: float | None = share("added to labour and fittings", ge=0, le=5)
    tax_goods: float | None = share("tax on goods", ge=0, le=1)
    tax_labour: float | None = share("tax on labour and fittings", ge=0, le=1)
    discounts: dict[str, float] | None = declare(
        Kind.BY_NAME, 'shares of the sum before tax by name, such as { "Old customer" = 0.05 }'
    )


Heading = Literal[
    "equipment", "cable_and_fuse", "box_or_ventilation", "protective_devices", "labour"
]
#: What an extra is charged by, and how a line writes the unit.
EXTRA_UNITS: Final = {"piece": "", "hour": "h", "metre": "m"}


class ExtraKeys(Record):
    """[[extra]]: a line of the installer's own on every option; a price below 0 takes off."""

    item: Name = text("what it is")
    quantity: float = number("", "how many", gt=0)
    unit: Literal["piece", "hour", "metre"] = text('"piece", "hour" or "metre"')
    price: float = number(MONEY, "for one, before tax")
    heading: Heading | None = choice(Heading)
    tax: float | None = share("its own tax rate", ge=0, le=1)


class PaymentKeys(Record):
    """[payment]."""

    deposit: float | None = share("paid with the order", ge=0, le=1)
    stages: dict[str, float] | None = declare(
        Kind.BY_NAME, 'shares by name such as {"On delivery" = 0.5, "At handing over" = 0.2}'
    )


class HeadingKeys(Record):
    """[headings]: works of the price list by the heading they stand under."""

    box_or_ventilation: list[Name] | None = names("works of the price list")
    protective_devices: list[Name] | None = names("works of the price list")


SECTIONS: Final[dict[str, type[Record]]] = {
    "company": CompanyKeys,
    "quote": QuoteKeys,
    "prices": PriceKeys,
    "payment": PaymentKeys,
    "headings": HeadingKeys,
}
