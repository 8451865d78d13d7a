"""The keys of a mapping file for suppliers' lists, and the facts about each."""

from datetime import date
from typing import Any, Final, Literal

from optimizer.inputs.columns import Kind, Record, choice, declare, number, share, text, whole
from optimizer.inputs.site_keys import Name, currency_code

#: What a word of [words] may mean beside a number.
IGNORE: Final = "ignore"
SKIP: Final = "skip"


Listed = Literal["batteries", "inverters", "works", "cables", "fuses", "generators", "parts"]


class ListKeys(Record):
    """[list]."""

    table: Listed = choice(Listed, "which table of the price list it becomes")
    currency: str = currency_code("of their prices")
    supplier: Name | None = text("the supplier's name", "by which its rows are told from others'")
    price_date: date | None = declare(
        Kind.DAY, "a date such as 2026-01-31, without quotes", "of the list, where rows have none"
    )
    into: str | None = currency_code("of the price list, where another")
    exchange: float | None = number("", "of our currency for one of theirs", gt=0)
    factor: float | None = number(
        "", "every price is multiplied by it: 0.82 is a discount of 18 %", gt=0, le=100, default=1
    )
    sheet: Name | None = text("the name of the workbook's sheet", "the first without it")
    heading_row: int | None = whole(
        "", "where the column names begin; the first of the fullest without it", ge=1, le=1000
    )
    heading_rows: int | None = whole(
        "", "how many rows hold the names; merged ones are read together", ge=1, le=3, default=1
    )
    decimals: Literal["comma", "point", "mixed"] | None = text(
        '"comma", "point" or "mixed" (each number as it shows)',
        "needed only where the list's own numbers leave it open",
    )


class ColumnKeys(Record):
    """One column in [columns], written out."""

    column: Name | None = text("a column of the supplier's list")
    value: Any | None = text("one value for every row")
    unit: Name | None = text("the unit of bare numbers, where neither cell nor heading names it")
    factor: float | None = number("", "by which the value is multiplied", gt=0)
    values: dict[str, str] | None = declare(
        Kind.LIST, 'their words and ours such as {"GEL" = "gel"}'
    )
    piece: Name | None = text(
        'first, second, third or a text such as "# x * x *"',
        "which piece of the cell is meant; # marks it, * is any text",
    )
    dates: Name | None = text("how dates are written, such as %d.%m.%Y")


class WordKeys(Record):
    """What a word beside a number means, in [words], written out."""

    pieces: float | None = number("", "as many are sold at that price", gt=0, le=10_000)
    tax: float | None = share("the tax in that price, taken off", gt=0, lt=1)
    exchange: float | None = number("", "of our currency for one of that currency", gt=0)
    unit: Name | None = text("the unit that the word stands for")
