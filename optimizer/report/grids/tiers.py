"""What each tier of loads costs, as a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.grids.grid import Cell, Column, Grid, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.tier_costs import Tiers
    from optimizer.report.grids.grid import Value
    from optimizer.report.words.writer import Writer


def tiers(write: Writer, found: Tiers, hours: Sequence[int]) -> Grid:
    """Return what each tier costs at the same hours, one row an autonomy."""
    site = found.job.site
    columns = [Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h")]
    for place, one in enumerate(found.curves):
        if not place:
            columns.append(Column(one.added, write.say("{tier} alone", tier=one.added), Kind.MONEY))
            continue
        columns += [
            Column(one.added, write.say("with {tier}", tier=one.added), Kind.MONEY),
            Column(f"{one.added}_extra", write.say("more by"), Kind.MONEY),
        ]
    none = Cell(write.say("none"))
    rows: list[list[Value | Cell]] = []
    for hour in hours:
        row: list[Value | Cell] = [hour]
        for place, cost in enumerate(found.at(hour)):
            row.append(none if cost.cost is None else cost.cost)
            if place:
                row.append(cost.extra)
        rows.append(row)
    title = write.say(
        "Life-cycle cost tier by tier over {study:years}, {currency}",
        study=site.horizon_years,
        currency=write.currency,
    )
    note = write.say("Required: {hours:hours}.", hours=site.target_hours)
    notes = [note]
    if found.staying_on:
        notes.append(
            write.say(
                "Of later tiers, these stay on whatever the hours and count with “{tier}”: "
                "{loads:list}.",
                tier=found.curves[0].added,
                loads=found.staying_on,
            )
        )
    return Grid("tiers", title, columns, rows, notes)
