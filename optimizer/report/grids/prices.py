"""How a supplier's prices changed, as a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.grids.grid import Cell, Column, Grid, Kind

if TYPE_CHECKING:
    from optimizer.report.grids.grid import Row
    from optimizer.report.words.writer import Writer
    from optimizer.suppliers.price_changes import Changes


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
