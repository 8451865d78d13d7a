"""The keys of a mapping file for suppliers' lists, and the facts about each."""

from __future__ import annotations

from typing import Any, Final, Literal

from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.columns import Kind, Record, declare, number, text, whole
from optimizer.inputs.rows import CableRow, FuseRow, GeneratorRow, InverterRow, WorkRow
from optimizer.inputs.site_keys import CURRENCY_WORDS, Name

#: Tables a supplier's list can be made into.
TABLES: Final[dict[str, type[Record]]] = {
    "batteries": BatteryRow,
    "inverters": InverterRow,
    "works": WorkRow,
    "cables": CableRow,
    "fuses": FuseRow,
    "generators": GeneratorRow,
}


class ListKeys(Record):
    """[list]."""

    table: Literal["batteries", "inverters", "works", "cables", "fuses", "generators"] = text(
        "batteries, inverters, works, cables, fuses or generators", required=True
    )
    currency: str = text(CURRENCY_WORDS, required=True, pattern="^[A-Z]{3}$")
    into: str = text(CURRENCY_WORDS, pattern="^[A-Z]{3}$")
    exchange: float = number("", "of our currency for one of theirs", gt=0)
    factor: float = number("", "by which every price is multiplied", gt=0, le=100)
    heading_row: int = whole("", "the row of the column names", ge=1, le=1000)
    decimals: Literal["comma", "point"] = text('"comma" or "point"')


class ColumnKeys(Record):
    """One column in [columns], written out."""

    column: Name = text("a column of the supplier's list")
    value: Any = text("one value for every row")
    unit: Name = text("the unit the supplier writes in")
    factor: float = number("", "by which the value is multiplied", gt=0)
    values: dict[str, str] = declare(Kind.LIST, 'their words and ours such as {"GEL" = "gel"}')
    pattern: Name = text("a regular expression with one group")
    dates: Name = text("how dates are written, such as %d.%m.%Y")
