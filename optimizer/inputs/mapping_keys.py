"""The keys of a mapping file for suppliers' lists: ranges and words."""

from __future__ import annotations

from typing import Any, Final, Literal

from optimizer.inputs.columns import Record, declare, number, text, whole
from optimizer.inputs.rows import BatteryRow, CableRow, FuseRow, InverterRow, WorkRow
from optimizer.inputs.site_keys import Name  # noqa: TC001 - pydantic reads it at run time

#: Tables a supplier's list can be made into.
TABLES: Final[dict[str, type[Record]]] = {
    "batteries": BatteryRow,
    "inverters": InverterRow,
    "works": WorkRow,
    "cables": CableRow,
    "fuses": FuseRow,
}

_CODE: Final = "a currency code of ISO 4217, three capital letters, e.g. EUR"


class ListKeys(Record):
    """[list]."""

    table: Literal["batteries", "inverters", "works", "cables", "fuses"] = declare(
        "text", "batteries, inverters, works, cables or fuses"
    )
    currency: str = declare("text", _CODE, pattern="^[A-Z]{3}$")
    into: str = declare("text", _CODE, None, pattern="^[A-Z]{3}$")
    exchange: float = number("of our currency for one of theirs", gt=0, default=None)
    factor: float = number("by which every price is multiplied", gt=0, le=100, default=None)
    heading_row: int = whole("(the row of the column names)", ge=1, le=1000, default=None)
    decimals: Literal["comma", "point"] = declare("text", '"comma" or "point"', None)


class ColumnKeys(Record):
    """One column in [columns], written out."""

    column: Name = text("a column of the supplier's list", default=None)
    value: Any = declare("any", "one value for every row", None)
    unit: Name = text("the unit the supplier writes in", default=None)
    factor: float = number("by which the value is multiplied", gt=0, default=None)
    values: dict[str, str] = declare("map", 'their words and ours such as {"GEL" = "gel"}', None)
    pattern: Name = text("a regular expression with one group", default=None)
    dates: Name = text("how dates are written, such as %d.%m.%Y", default=None)
