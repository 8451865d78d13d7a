"""Articles that a list holds more than once."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from optimizer.errors import Fault
from optimizer.inputs.faults import shown
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.tables import Row
from optimizer.model.phrase import Phrase
from optimizer.suppliers.converted import Repeated, identity, label
from optimizer.suppliers.layout import Layout, both, is_numeric

#: Figures in which two rows of one thing may differ.
_MAY_DIFFER: Final = frozenset({*(one.price for one in TABLES.values()), "mass_kg"})


def once_each(
    rows: Iterable[Row], at: Layout
) -> tuple[list[Row], tuple[Repeated, ...], list[Fault]]:
    """Return each article once: by its newest price, then its cheapest.

    With the rows taken come what is told of the others, and faults where rows of one name are
    different things.
    """
    place = {name: cell for cell, name in enumerate(at.names)}
    table = at.mapping.table
    price, day = place[TABLES[table].price], place.get("price_date")

    def named(row: Row) -> dict[str, str]:
        return dict(zip(at.names, row.cells, strict=True))

    by_name: dict[tuple[str, ...], list[Row]] = {}
    for row in rows:
        by_name.setdefault(identity(named(row), table), []).append(row)
    chosen, repeated, faults = [], [], []
    for same in by_name.values():
        newest = max(row.cells[day] for row in same) if day is not None else ""
        fresh = [row for row in same if day is None or row.cells[day] == newest]
        best = min(fresh, key=lambda row: Decimal(row.cells[price]))
        others = [row for row in same if row is not best]
        if (fault := _difference(best, others, at)) is not None:
            faults.append(fault)
            continue
        chosen.append(best)
        if others:
            told = tuple((row.number, Decimal(row.cells[price])) for row in others)
            taken = Decimal(best.cells[price])
            repeated.append(Repeated(label(named(best), table), best.number, taken, told))
    return sorted(chosen, key=lambda row: row.number), tuple(repeated), faults


def _difference(best: Row, others: Iterable[Row], at: Layout) -> Fault | None:
    """Return that rows of one name are different things, by a figure that tells them apart."""
    for place, name in enumerate(at.names):
        column = at.known[name]
        if name in _MAY_DIFFER or not (column.required and is_numeric(column)):
            continue
        for row in others:
            if row.cells[place] != best.cells[place]:
                found = Phrase(
                    "{name} again, with {one} here and {other} in row {row}",
                    name=shown(best.cells[at.names.index(TABLES[at.mapping.table].key)]),
                    one=row.cells[place],
                    other=best.cells[place],
                    row=str(best.number),
                )
                wanted = Phrase("one name for one thing: exclude one of the rows")
                return Fault(at.file, row.number, both(name, at.columns[name]), found, wanted)
    return None
