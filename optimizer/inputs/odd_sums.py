"""Sums of money that can only be a slip: beside them no other would count at all."""

from collections.abc import Iterator, Mapping
from statistics import median
from typing import Final

from optimizer.errors import Fault
from optimizer.inputs.columns import MONEY, columns_of
from optimizer.inputs.faults import CONFLICT
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.site_keys import SECTIONS
from optimizer.inputs.tables import Table
from optimizer.model.job import Catalog
from optimizer.model.phrase import Phrase

#: So many times the usual price no sum is: a number in the computer has sixteen digits, and costs
#: are told apart down to a billionth of the dearest price.
_ODD_TIMES: Final = 1e5
#: Sections whose money goes into every cost.
_SECTIONS: Final = ("economics", "generator")
_WANTED: Final = Phrase("money in the same currency as the prices of batteries and inverters")


def odd_sums(
    site: SiteFile | None, tables: Mapping[str, Table | None], offered: Catalog
) -> Iterator[Fault]:
    """Yield each sum that is far beyond the usual price; every row of the tables was read."""
    prices = [one.price for one in offered.batteries] + [one.price for one in offered.inverters]
    usual = median(prices or [0.0])
    if not usual:
        return

    def found(value: float | None) -> Phrase | None:
        if value is None or value <= _ODD_TIMES * usual:
            return None
        return Phrase(
            "{sum}, {times} times the usual price of {usual}",
            sum=f"{value:g}",
            times=f"{value / usual:.0e}",
            usual=f"{usual:g}",
        )

    for name, kind in TABLES.items():
        if (table := tables.get(name)) is None:
            continue
        money = [key for key, facts in kind.columns.items() if MONEY in facts.unit]
        for row, one in zip(table.rows, getattr(offered, name), strict=True):
            for key in money:
                if (odd := found(getattr(one, key))) is not None:
                    yield table.fault(row.number, key, odd, _WANTED, CONFLICT)
    if site is None:
        return
    for section in _SECTIONS:
        for key, facts in columns_of(SECTIONS[section]).items():
            if MONEY in facts.unit and (odd := found(site.values.get(key))) is not None:
                yield site.fault(f"{section}.{key}", odd, _WANTED, CONFLICT)
    for step in site.values.get("contracts", ()):
        if (odd := found(step[-1] if step else None)) is not None:
            yield site.fault("supply.contracts", odd, _WANTED, CONFLICT)
