"""The load survey: rows → `Load`, and its agreement with the site's tiers and seasons."""

from collections.abc import Mapping

from optimizer.errors import Fault
from optimizer.inputs.faults import CONFLICT, UNKNOWN, one_of, shown
from optimizer.inputs.records import check_known, read_records
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.tables import Table, read_table
from optimizer.model.job import Load
from optimizer.model.phrase import Phrase
from optimizer.model.warning import JobWarning, WarningKind


def read_loads(site: SiteFile, faults: list[Fault], warnings: list[JobWarning]) -> tuple[Load, ...]:
    """Return the loads."""
    if "loads" not in site.values:
        return ()
    place = site.place("site.loads", faults)
    table = None if place is None else read_table(place, faults)
    if table is None:
        return ()
    own: list[Fault] = []
    supply_v = site.value("supply.voltage_v")
    records = read_records(table, LoadRow, own, unique="load", supply_v=supply_v)
    names = dict.fromkeys(name for _, name in table.column("load"))
    check_known(table, "with", Phrase("another load of this table"), names, own)
    if site.seasons is not None:
        _check_seasons(table, records, [season.name for season in site.seasons], own)
    faults.extend(sorted(own, key=lambda fault: fault.row or 0))
    _check_tiers(site, table, faults)
    loads = {row: record.made() for row, record in records}
    _check_carried(site, table, loads, faults)
    tiers = site.values.get("tiers", ())
    for load in loads.values():
        if load.critical and tiers and load.tier not in tiers:
            operands = {"load": load.load, "tier": load.tier}
            warnings.append(JobWarning(WarningKind.CRITICAL_NOT_CARRIED, operands))
    return tuple(loads.values())


def _check_carried(
    site: SiteFile, table: Table, loads: Mapping[int, Load], faults: list[Fault]
) -> None:
    """Complain of loads let go though they stay on, or not carried as long as their partner."""
    tiers, hours = site.values.get("tiers", ()), site.values.get("tier_hours", {})
    by_name = {load.load: load for load in loads.values()}
    for row, load in loads.items():
        if load.stays_on and load.tier in hours:
            found = Phrase(
                "{tier}, let go after {hours} h, for a load that stays on",
                tier=shown(load.tier),
                hours=hours[load.tier],
            )
            wanted = Phrase("a tier that is not let go")
            faults.append(table.fault(row, "tier", found, wanted, CONFLICT))
        partner = by_name.get(load.only_with or "", load)
        if len({(one.tier in tiers, hours.get(one.tier)) for one in (load, partner)}) > 1:
            found = Phrase("{name}, of tier {tier}", name=shown(partner.load), tier=partner.tier)
            wanted = Phrase("a load that is carried as long as this one")
            faults.append(table.fault(row, "with", found, wanted, CONFLICT))


def _check_seasons(
    table: Table, records: list[tuple[int, LoadRow]], known: list[str], faults: list[Fault]
) -> None:
    for row, record in records:
        for name in record.seasons or ():
            if name not in known:
                wanted = one_of("a season of the site", name, known, so_far=len(faults))
                found = Phrase("the season {name}", name=shown(name))
                faults.append(table.fault(row, "seasons", found, wanted, UNKNOWN))


def _check_tiers(site: SiteFile, table: Table, faults: list[Fault]) -> None:
    tiers = dict.fromkeys(tier for _, tier in table.column("tier"))
    if not tiers:
        return
    named = [("tiers", tier) for tier in site.values.get("tiers", ())]
    named += [(f"tier_hours.{tier}", tier) for tier in site.values.get("tier_hours", ())]
    for key, tier in named:
        if tier not in tiers:
            wanted = one_of("a tier that some load has", tier, tiers, so_far=len(faults))
            faults.append(site.fault(f"resilience.{key}", shown(tier), wanted, UNKNOWN))
