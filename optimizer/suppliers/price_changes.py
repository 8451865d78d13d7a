"""What has changed since a supplier's last list: prices, names gone, names new."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from optimizer.errors import Fault, InputError
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import read_list
from optimizer.inputs.tables import read_table
from optimizer.model.phrase import Phrase
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.converted import decimal_of, label
from optimizer.suppliers.mapping import SupplierMapping


@dataclass(frozen=True, slots=True)
class Changed:
    """A price before and now."""

    name: str
    before: Decimal
    now: Decimal

    @property
    def share(self) -> float:
        """The change as a share of the price before; 0 where it was nothing."""
        return float((self.now - self.before) / self.before) if self.before else 0.0


@dataclass(frozen=True, slots=True)
class Changes:
    """What differs between two lists, in the order of the lists."""

    changed: tuple[Changed, ...]
    vanished: tuple[str, ...]
    added: tuple[str, ...]


def last_prices(path: str | Path, mapping: SupplierMapping) -> dict[str, Decimal]:
    """Return the prices of the last list by name, by what reads the supplier's list.

    It is a table of ours made before, or the supplier's last list as it came; InputError where it
    is neither.
    """
    faults: list[Fault] = []
    table = read_table(Path(path), faults)
    price = TABLES[mapping.table].price
    if table is not None and {TABLES[mapping.table].key, price} <= set(table.heading.cells):
        rows = [dict(zip(table.heading.cells, row.cells, strict=True)) for row in table.rows]
        if any(row[price] and decimal_of(row[price]) is None for row in rows):
            found, wanted = Phrase("text in prices"), Phrase("numbers with a point")
            raise InputError([Fault(Path(path).name, None, price, found, wanted)])
        return prices_of(rows, mapping.table)
    converted = convert(read_list(path, mapping.sheet), mapping)
    if converted.open_words:
        raise InputError(converted.questions())
    return prices_of(converted.rows, converted.table)


def prices_of(rows: Iterable[Mapping[str, str]], table: str) -> dict[str, Decimal]:
    """Return the prices of rows of a table by what messages call them; those that have one."""
    price = TABLES[table].price
    found = ((label(row, table), decimal_of(row.get(price, ""))) for row in rows)
    return {name: one for name, one in found if name and one is not None}


def changes(before: Mapping[str, Decimal], now: Mapping[str, Decimal]) -> Changes:
    """Return what has changed since the last list, by prices from `last_prices` and `prices_of`."""
    return Changes(
        tuple(
            Changed(name, before[name], price)
            for name, price in now.items()
            if name in before and before[name] != price
        ),
        tuple(name for name in before if name not in now),
        tuple(name for name in now if name not in before),
    )
