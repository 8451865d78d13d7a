"""Several suppliers' rows in one table of the price list: nobody's rows are lost by another's."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

from optimizer.errors import Fault, FaultKind, InputError
from optimizer.inputs.columns import Column
from optimizer.inputs.decimals import decimal_comma
from optimizer.inputs.draft import RawTable
from optimizer.inputs.faults import shown
from optimizer.inputs.neutral import read_back
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.records import LISTS_OF_NUMBERS, read_records
from optimizer.inputs.tables import Row, Table, tidy
from optimizer.model.phrase import Phrase
from optimizer.suppliers.converted import Converted, decimal_of, identity, label, price_table
from optimizer.suppliers.price_changes import Changes, changes, prices_of

_Record = dict[str, str]
#: Notes on whose offer of the same article was dearer: tables leave such columns aside.
_OTHER: Final = "#other_supplier"
_OTHER_PRICE: Final = "#other_price"


class Stays(StrEnum):
    """Which rows of a table stay where a supplier's list is taken in."""

    OTHERS = "others"  # the supplier's own give way, as to a newer list
    ALL = "all"  # all but those of the same name, as beside a second list of the supplier
    NONE = "none"


@dataclass(frozen=True, slots=True)
class OfferedTwice:
    """An article that two suppliers have: whose price was taken, and whose was dearer."""

    name: str
    supplier: str
    price: Decimal
    other_supplier: str
    other_price: Decimal


@dataclass(frozen=True, slots=True)
class Joined:
    """A table with suppliers' rows taken in.

    ``cheaper_before`` are articles that another supplier had for less in a list read earlier.
    ``before`` and ``rows`` count the table's rows then and now, ``untouched`` those of others;
    ``loses`` tells that it holds fewer than before, or other articles for the most part.
    """

    table: RawTable
    changes: Changes
    offered_twice: tuple[OfferedTwice, ...]
    cheaper_before: tuple[OfferedTwice, ...]
    before: int
    rows: int
    untouched: int
    loses: bool


def join(now: RawTable | None, lists: Sequence[Converted], stay: Stays = Stays.OTHERS) -> Joined:
    """Return a table as it stands with suppliers' rows for it taken in.

    A new row keeps what was written by hand into columns that its list does not fill, unless none
    of the old ones ``stay``. InputError where two suppliers call different things by one name.
    """
    table = lists[0].table
    rows = _records(now, TABLES[table].columns)
    new = [row for one in lists for row in map(dict, one.rows)]
    old = [] if stay is Stays.NONE else rows
    names = {identity(row, table) for row in new}
    suppliers = {row["supplier"] for row in new if row.get("supplier")}
    gone = set() if stay is Stays.ALL else suppliers
    stays = [
        row
        for row in old
        if row.get("supplier", "") not in {*suppliers, ""}
        or (row.get("supplier") not in gone and identity(row, table) not in names)
    ]
    fresh = [_completed(row, old, table) for row in new]
    chosen, twice = _cheapest([*stays, *fresh], table)
    before = _cheaper_before(chosen, twice, suppliers, table)
    noted = (name for name in (_OTHER, _OTHER_PRICE) if any(row.get(name) for row in chosen))
    heading = tuple(
        dict.fromkeys(
            [
                *_heading(now if old else None),
                *(name for one in lists for name in one.columns),
                *noted,
            ]
        )
    )
    body = ([row.get(name, "") for name in heading] for row in chosen)
    replaced = [row for row in rows if row not in stays]
    found = changes(prices_of(replaced, table), prices_of(fresh, table))
    return Joined(
        price_table(table, heading, body),
        found,
        twice,
        before,
        before=len(rows),
        rows=len(chosen),
        untouched=len([row for row in chosen if row in stays]),
        loses=len(chosen) < len(rows) or len(found.vanished) > len(replaced) / 2,
    )


def spoiled(joined: Joined, table: str, file: str) -> list[Fault]:
    """Return what is wrong with a joined table: its old rows, the new ones are checked."""
    faults: list[Fault] = []
    if (held := tidy(file, joined.table.rows, faults)) is not None:
        read_records(held, TABLES[table].model, faults)
    return faults


def _completed(new: _Record, old: Sequence[_Record], table: str) -> _Record:
    """Return a new row with what its last version holds in columns that the list leaves empty."""
    for row in old:
        is_same = row.get("supplier", "") in {"", new.get("supplier", "")}
        if is_same and identity(row, table) == identity(new, table):
            return row | {name: cell for name, cell in new.items() if cell}
    return dict(new)


def _cheapest(
    rows: Sequence[_Record], table: str
) -> tuple[list[_Record], tuple[OfferedTwice, ...]]:
    """Return each article once, by its cheapest supplier; the first of equal prices."""
    by_name: dict[tuple[str, ...], _Record] = {}
    twice = []
    for row in rows:
        name = identity(row, table)
        held = by_name.setdefault(name, row)
        if held is row:
            continue
        _check_alike(held, row, table)
        first, second = _price(held, table), _price(row, table)
        wins, loses = (held, row) if first <= second else (row, held)
        by_name[name] = wins
        twice.append(
            OfferedTwice(
                label(wins, table),
                wins.get("supplier", ""),
                min(first, second),
                loses.get("supplier", ""),
                max(first, second),
            )
        )
    return list(by_name.values()), tuple(twice)


def _cheaper_before(
    rows: Sequence[_Record], twice: Sequence[OfferedTwice], suppliers: set[str], table: str
) -> tuple[OfferedTwice, ...]:
    """Note on each row who else has it, and return those that were cheaper in an earlier list."""
    dearer = {one.name: one for one in twice}
    found = []
    for row in rows:
        one = dearer.get(label(row, table))
        if one is not None:
            row |= {_OTHER: one.other_supplier, _OTHER_PRICE: str(one.other_price)}
            continue
        other, noted = row.get(_OTHER), decimal_of(row.get(_OTHER_PRICE, ""))
        if not other or noted is None or other in suppliers:
            row |= {_OTHER: "", _OTHER_PRICE: ""}
        elif (price := _price(row, table)) > noted:
            mine = row.get("supplier", "")
            found.append(OfferedTwice(label(row, table), mine, price, other, noted))
    return tuple(found)


def _check_alike(one: _Record, other: _Record, table: str) -> None:
    """Complain of two things of one name that are not one thing: by voltage or power."""
    for name in ("voltage_v", "system_v", "power_w"):
        column = TABLES[table].columns.get(name)
        values = {row[name] for row in (one, other) if row.get(name)}
        if column is not None and len({decimal_of(value) for value in values}) > 1:
            found = Phrase(
                "{name} with {one} of {first} and with {other} of {second}",
                name=shown(label(one, table)),
                one=one[name],
                first=one.get("supplier") or Phrase("nobody named"),
                other=other[name],
                second=other.get("supplier") or Phrase("nobody named"),
            )
            wanted = Phrase("one name for one thing: exclude one of the rows in its mapping")
            raise InputError([Fault(f"{table}.csv", None, name, found, wanted, FaultKind.CONFLICT)])


def _price(row: Mapping[str, str], table: str) -> Decimal:
    """Return a row's price; a table with faults of its own has nothing to compare with."""
    found = decimal_of(row.get(TABLES[table].price, ""))
    return Decimal("Infinity") if found is None else found


def _heading(table: RawTable | None) -> tuple[str, ...]:
    """Return a table's column names; columns without one are not kept."""
    names = table.rows[0] if table is not None and table.rows else ()
    return tuple(name.strip() for name in names if name.strip())


def _records(table: RawTable | None, columns: Mapping[str, Column]) -> list[_Record]:
    """Return the rows of a table that stands, decimals with a point as new rows have them."""
    if table is None or not table.rows:
        return []
    names = tuple(name.strip() for name in table.rows[0])
    rows = tuple(
        Row(number, tuple(read_back(cell.strip()) for cell in row))
        for number, row in enumerate(table.rows[1:], 2)
        if len(row) == len(names) and any(cell.strip() for cell in row)
    )
    kinds = {name: one.kind for name, one in columns.items()}
    figures = {name for name, kind in kinds.items() if kind.is_numeric or kind in LISTS_OF_NUMBERS}
    faults: list[Fault] = []
    comma = decimal_comma(Table(table.file, Row(1, names), rows, not rows), figures, faults)
    if faults:
        raise InputError(faults)
    return [
        {
            name: cell.replace(",", ".") if comma and name in figures else cell
            for name, cell in zip(names, row.cells, strict=True)
            if name
        }
        for row in rows
    ]
