"""The tables of a price list: what a row of each holds, and what tells its rows apart."""

from collections.abc import Mapping
from typing import Final, NamedTuple

from optimizer.inputs import rows
from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.columns import Column, Record, columns_of


class PriceTable(NamedTuple):
    """One table: ``key`` names a row, ``apart`` tells rows of one name apart where there may be."""

    model: type[Record]
    key: str
    apart: tuple[str, ...] = ()
    price: str = "price"
    is_optional: bool = False

    @property
    def columns(self) -> Mapping[str, Column]:
        """The facts about its columns."""
        return columns_of(self.model)


#: By their names; suppliers' lists can be made into each of them.
TABLES: Final = {
    "batteries": PriceTable(BatteryRow, "battery"),
    "inverters": PriceTable(rows.InverterRow, "inverter"),
    "works": PriceTable(rows.WorkRow, "item", is_optional=True),
    "cables": PriceTable(rows.CableRow, "section_mm2", ("conductor_degc",), price="price_per_m"),
    "fuses": PriceTable(rows.FuseRow, "rating_a", ("breaking_ka", "rated_v")),
    "generators": PriceTable(rows.GeneratorRow, "generator"),
    "parts": PriceTable(rows.PartRow, "kind", ("rating_a", "rated_v"), is_optional=True),
}
#: All names, in the order in which they are read.
PRICE_TABLES: Final = ("chemistries", *TABLES)
