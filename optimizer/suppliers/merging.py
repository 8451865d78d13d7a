"""A supplier's rows taken into a table that stands already."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from optimizer.inputs.draft import RawTable, raw_table
from optimizer.inputs.neutral import read_back
from optimizer.suppliers.conversion import KEYS, PRICES
from optimizer.suppliers.price_changes import Changes, changes

if TYPE_CHECKING:
    from optimizer.suppliers.conversion import Converted


@dataclass(frozen=True, slots=True)
class Merged:
    """The table after the rows are taken in; what changes by it; how many rows stay as they are."""

    table: RawTable
    changes: Changes
    untouched: int


def merge(now: RawTable | None, converted: Converted, *, replace_all: bool = False) -> Merged:
    """Return a table with a supplier's rows taken in.

    Parameters
    ----------
    now : RawTable or None
        The table as it stands.
    converted : Converted
        The supplier's rows, from `optimizer.suppliers.conversion.convert`.
    replace_all : bool
        Nothing of the table stays. Otherwise rows of other suppliers do: a row goes where the
        new rows have its name or its supplier.
    """
    file = f"{converted.table}.csv"
    fresh = raw_table(file, converted.as_csv())
    rows = _records(now)
    new = _records(fresh)
    key = KEYS[converted.table]
    names = {row[key] for row in new}
    suppliers = {row["supplier"] for row in new if row.get("supplier")}
    stays = [
        row
        for row in rows
        if not replace_all and row.get(key) not in names and row.get("supplier") not in suppliers
    ]
    heading = tuple(dict.fromkeys([*_heading(now if stays else None), *converted.columns]))
    body = tuple(tuple(row.get(name, "") for name in heading) for row in [*stays, *new])
    before = _prices([row for row in rows if row not in stays], converted.table)
    return Merged(
        type(fresh)(file, (heading, *body)), changes(before, converted), untouched=len(stays)
    )


def _heading(table: RawTable | None) -> tuple[str, ...]:
    """Return a table's column names; columns without one are not kept."""
    names = table.rows[0] if table is not None and table.rows else ()
    return tuple(name.strip() for name in names if name.strip())


def _records(table: RawTable | None) -> list[dict[str, str]]:
    if table is None or not table.rows:
        return []
    names = [name.strip() for name in table.rows[0]]
    return [
        {name: cell.strip() for name, cell in zip(names, row, strict=False) if name}
        for row in table.rows[1:]
        if any(cell.strip() for cell in row)
    ]


def _prices(rows: list[dict[str, str]], table: str) -> dict[str, Decimal]:
    found = {}
    for row in rows:
        text = row.get(PRICES[table], "")
        try:
            found[read_back(row.get(KEYS[table], ""))] = Decimal(text.replace(",", "."))
        except InvalidOperation:  # a table with faults of its own: nothing to compare with
            continue
    return found
