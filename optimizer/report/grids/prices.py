"""How suppliers' prices changed, and which of several was taken, as tables."""

from collections.abc import Sequence

from optimizer.inputs.supplier_list import SupplierList
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row
from optimizer.report.words.faults import said
from optimizer.report.words.writer import Writer
from optimizer.suppliers.converted import Converted
from optimizer.suppliers.joining import Joined, OfferedTwice
from optimizer.suppliers.price_changes import Changes

#: So much of a row that cannot be read is shown.
_MOST_LETTERS = 60


def changed(write: Writer, found: Changes) -> Grid:
    """Return every price that is another than in the last list."""
    unit = write.currency
    columns = [
        Column("name", write.say("Name")),
        Column("before", write.say("Before"), Kind.CENTS, unit=unit),
        Column("now", write.say("Now"), Kind.CENTS, unit=unit),
        Column("share", write.say("Change"), Kind.SHARE, 1),
    ]
    rows: list[Row] = [
        [
            one.name,
            one.before,
            one.now,
            Cell(one.share, Kind.SHARE, 1, sign="+" * (one.share > 0)) if one.before else None,
        ]
        for one in found.changed
    ]
    return Grid("changed", write.say("Changed prices"), columns, rows)


def repeated(write: Writer, found: Converted) -> Grid:
    """Return each article that a list holds more than once: the row taken, and the others."""
    unit = write.currency
    columns = [
        Column("name", write.say("Name")),
        Column("row", write.say("Row taken"), Kind.NUMBER),
        Column("price", write.say("Price"), Kind.CENTS, unit=unit),
        Column("other_row", write.say("Other row"), Kind.NUMBER),
        Column("other_price", write.say("Its price"), Kind.CENTS, unit=unit),
    ]
    rows: list[Row] = [
        [one.name, one.row, one.price, row, price]
        for one in found.repeated
        for row, price in one.others
    ]
    title = write.say("Listed more than once: the newest, then the cheapest is taken")
    return Grid("repeated", title, columns, rows)


def offered_twice(write: Writer, joined: Joined) -> list[Grid]:
    """Return the articles that two suppliers have: who is cheaper, who was in an earlier list."""
    titles = (
        ("offered_twice", write.say("Offered by two suppliers; the cheaper is taken")),
        ("cheaper_before", write.say("Cheaper from another in an earlier list: read that again")),
    )
    kinds = zip(titles, (joined.offered_twice, joined.cheaper_before), strict=True)
    return [_offers(write, key, title, found) for (key, title), found in kinds if found]


def _offers(write: Writer, key: str, title: str, found: Sequence[OfferedTwice]) -> Grid:
    unit = write.currency
    columns = [
        Column("name", write.say("Name")),
        Column("supplier", write.say("Taken from")),
        Column("price", write.say("Price"), Kind.CENTS, unit=unit),
        Column("other_supplier", write.say("Also from")),
        Column("other_price", write.say("Its price"), Kind.CENTS, unit=unit),
    ]
    rows: list[Row] = [
        [one.name, one.supplier, one.price, one.other_supplier, one.other_price] for one in found
    ]
    return Grid(key, title, columns, rows)


def unreadable(write: Writer, found: Converted, supplier: SupplierList) -> Grid:
    """Return each row that cannot be read: what it says, and what first stops it."""
    columns = [
        Column("row", write.say("Row"), Kind.NUMBER),
        Column("says", write.say("It says")),
        Column("column", write.say("Column")),
        Column("found", write.say("Found")),
        Column("wanted", write.say("Wanted")),
    ]
    first = {fault.row: fault for fault in reversed(found.unreadable)}
    rows: list[Row] = []
    for number, fault in sorted(first.items(), key=lambda one: one[0] or 0):
        cells = supplier.rows[number - 1] if number else ()
        says = " · ".join(cell for cell in cells if cell)
        if len(says) > _MOST_LETTERS:
            says = f"{says[:_MOST_LETTERS]}…"
        row: Row = [number, says, fault.column, said(write, fault.found), said(write, fault.wanted)]
        rows.append(row)
    return Grid("unreadable", write.say("Rows that cannot be read"), columns, rows)
