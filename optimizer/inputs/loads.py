"""The load survey: rows → `Load`, and its agreement with the site's tiers and seasons."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.errors import Fault
from optimizer.inputs.faults import nearest_known, shown
from optimizer.inputs.records import check_unique, read_records
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.tables import read_table

if TYPE_CHECKING:
    from optimizer.inputs.site import SiteFile
    from optimizer.inputs.tables import Table
    from optimizer.model.job import Load


def read_loads(site: SiteFile, faults: list[Fault]) -> tuple[Load, ...]:
    """Return the loads.

    Parameters
    ----------
    site : SiteFile
        The site file, which names the survey, the tiers and the seasons.
    faults : list of Fault
        Takes what is wrong.
    """
    if "loads" not in site.values:
        return ()
    table = read_table(site.folder / site.values["loads"], faults)
    if table is None:
        return ()
    own: list[Fault] = []
    records = read_records(table, LoadRow, own)
    if table.bare and not own:
        own.append(Fault(table.file, None, None, "no load", "a row for each load"))
    check_unique(table, "load", own)
    _check_with(table, own)
    if site.seasons is not None:
        _check_seasons(table, records, [season.name for season in site.seasons], own)
    faults.extend(sorted(own, key=lambda fault: fault.row or 0))
    _check_tiers(site, table, faults)
    return tuple(record.made() for _, record in records)


def _check_with(table: Table, faults: list[Fault]) -> None:
    names = {name for _, name in table.column("load")}
    for number, name in table.column("with"):
        if name not in names:
            wanted = f"another load of this table; {nearest_known(name, names)}"
            faults.append(Fault(table.file, number, "with", shown(name), wanted))


def _check_seasons(
    table: Table, records: list[tuple[int, LoadRow]], known: list[str], faults: list[Fault]
) -> None:
    for row, record in records:
        for name in record.seasons or ():
            if name not in known:
                wanted = f"a season of the site; {nearest_known(name, known)}"
                found = f"the season {shown(name)}"
                faults.append(Fault(table.file, row, "seasons", found, wanted))


def _check_tiers(site: SiteFile, table: Table, faults: list[Fault]) -> None:
    tiers = list(dict.fromkeys(tier for _, tier in table.column("tier")))
    if not tiers:
        return
    for tier in site.values.get("tiers", ()):
        if tier not in tiers:
            wanted = f"a tier that some load has; {nearest_known(tier, tiers)}"
            faults.append(site.fault("resilience.tiers", shown(tier), wanted))
    for tier in site.values.get("tier_hours", ()):
        if tier not in tiers:
            wanted = f"a tier that some load has; {nearest_known(tier, tiers)}"
            faults.append(site.fault(f"resilience.tier_hours.{tier}", shown(tier), wanted))
