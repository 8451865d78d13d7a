"""The keys of a mapping file for suppliers' lists, and the facts about each."""

from datetime import date
from typing import Any, Final, Literal

from optimizer.inputs.columns import Kind, Record, declare, number, share, text, whole
from optimizer.inputs.site_keys import CURRENCY_WORDS, Name

#: What a word of [words] may mean beside a number.
IGNORE: Final = "ignore"
SKIP: Final = "skip"


class ListKeys(Record):
    """[list]."""

    table: Literal["batteries", "inverters", "works", "cables", "fuses", "generators", "parts"] = (
        text(
            "batteries, inverters, works, cables, fuses, generators or parts",
            "which table of the price list it becomes",
            required=True,
        )
    )
    currency: str = declare(
        Kind.TEXT, CURRENCY_WORDS, "of their prices", required=True, pattern="^[A-Z]{3}$"
    )
    supplier: Name = text("the supplier's name", "by which its rows are told from others'")
    price_date: date = declare(
        Kind.DAY, "a date such as 2026-01-31, without quotes", "of the list, where rows have none"
    )
    into: str = declare(
        Kind.TEXT, CURRENCY_WORDS, "of the price list, where another", pattern="^[A-Z]{3}$"
    )
    exchange: float = number("", "of our currency for one of theirs", gt=0)
    factor: float = number(
        "", "every price is multiplied by it: 0.82 is a discount of 18 %", gt=0, le=100, default=1
    )
    sheet: Name = text("the name of the workbook's sheet", "the first without it")
    heading_row: int = whole(
        "", "where the column names begin; the first of the fullest without it", ge=1, le=1000
    )
    heading_rows: int = whole(
        "", "how many rows hold the names; merged ones are read together", ge=1, le=3, default=1
    )
    decimals: Literal["comma", "point", "mixed"] = text(
        '"comma", "point" or "mixed" (each number as it shows)',
        "needed only where the list's own numbers leave it open",
    )


class ColumnKeys(Record):
    """One column in [columns], written out."""

    column: Name = text("a column of the supplier's list")
    value: Any = text("one value for every row")
    unit: Name = text("the unit of bare numbers, where neither cell nor heading names it")
    factor: float = number("", "by which the value is multiplied", gt=0)
    values: dict[str, str] = declare(Kind.LIST, 'their words and ours such as {"GEL" = "gel"}')
    piece: Name = text(
        'first, second, third or a text such as "# x * x *"',
        "which piece of the cell is meant; # marks it, * is any text",
    )
    dates: Name = text("how dates are written, such as %d.%m.%Y")


class WordKeys(Record):
    """What a word beside a number means, in [words], written out."""

    pieces: float = number("", "as many are sold at that price", gt=0, le=10_000)
    tax: float = share("the tax in that price, taken off", gt=0, lt=1)
    exchange: float = number("", "of our currency for one of that currency", gt=0)
    unit: Name = text("the unit that the word stands for")
