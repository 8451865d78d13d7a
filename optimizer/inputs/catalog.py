"""The price list: its tables in a folder → `Catalog`."""

from collections.abc import Iterator
from typing import Any, Final

from optimizer.errors import Fault
from optimizer.files.place import Place, leads_outside
from optimizer.files.reading import NO_FILE
from optimizer.inputs.batteries import read_batteries
from optimizer.inputs.chemistry import SHIPPED_CURRENCY, Chemistries, read_chemistries
from optimizer.inputs.faults import CONFLICT, FILE, UNKNOWN, one_of, shown
from optimizer.inputs.odd_sums import odd_sums
from optimizer.inputs.price_tables import PRICE_TABLES, TABLES
from optimizer.inputs.records import OLD_NAMES, check_known, read_records
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.tables import Table, read_table
from optimizer.inputs.voltage import SYSTEM_VOLTAGES
from optimizer.model.job import Catalog
from optimizer.model.phrase import Phrase
from optimizer.model.warning import JobWarning, WarningKind

_SUFFIXES: Final = (".csv", ".xlsx")


def find_table(folder: Place, name: str) -> list[Place]:
    """Return the files that hold a table of this name: none, one, or two that compete."""
    return [path for suffix in _SUFFIXES if (path := folder / (name + suffix)).is_file()]


def read_parts(
    name: str, table: Table | None, chemistries: Chemistries, faults: list[Fault]
) -> tuple[Any, ...]:
    """Return what the rows of a table of the price list stand for; none without the table."""
    if table is None:
        return ()
    if name == "batteries":
        return read_batteries(table, chemistries, faults)
    kind = TABLES[name]
    unique = "" if kind.apart else kind.key
    rows = read_records(table, kind.model, faults, unique=unique, filled=not kind.is_optional)
    return tuple(row.made() for _, row in rows)


def read_catalog(
    folder: Place, site: SiteFile | None, faults: list[Fault], warnings: list[JobWarning]
) -> Catalog:
    """Return the catalog."""
    asked = [name for name in PRICE_TABLES if name != "generators" or (site and site.generator)]
    tables = {name: _table(folder, name, faults) for name in asked}
    own: list[Fault] = []

    currency = site.values.get("currency", SHIPPED_CURRENCY) if site else SHIPPED_CURRENCY
    chemistries = read_chemistries(tables["chemistries"], own, currency)
    parts = {name: read_parts(name, tables.get(name), chemistries, own) for name in TABLES}
    offered = Catalog(**parts)
    names = _names(tables["inverters"], "inverter")
    if (table := tables["batteries"]) is not None and names:
        check_known(table, "built_into", Phrase("an inverter of the list"), names, own)
    if not own:
        own += odd_sums(site, tables, offered)
    order = {table.file: place for place, table in enumerate(tables.values()) if table is not None}
    faults.extend(sorted(own, key=lambda fault: (order.get(fault.file, 0), fault.row or 0)))
    for table in filter(None, tables.values()):
        for old in OLD_NAMES.keys() & set(table.heading.cells):
            names_of = {"file": table.file, "old": old, "new": OLD_NAMES[old]}
            warnings.append(JobWarning(WarningKind.OLD_COLUMN, names_of))
    boxed = {battery.built_into for battery in offered.batteries}
    for inverter in offered.inverters:
        odd = {"inverter": inverter.inverter}
        if not inverter.price and inverter.inverter not in boxed:  # what a lost box leaves behind
            warnings.append(JobWarning(WarningKind.LOST_BOX, odd))
        if inverter.power_w_40c > inverter.power_w:
            warnings.append(JobWarning(WarningKind.RATING_RISES, odd))
    if site is not None:
        known = dict.fromkeys([*_names(tables["batteries"], "battery"), *names, *chemistries.known])
        for name in site.values.get("exclude", ()):
            if name not in known:
                wanted = one_of("a battery, inverter or chemistry", name, known, so_far=len(faults))
                faults.append(site.fault("limits.exclude", shown(name), wanted, UNKNOWN))
        if not own and (table := tables["inverters"]) is not None:
            faults.extend(_voltage_faults(site, table, offered))
    return offered


def _table(folder: Place, name: str, faults: list[Fault]) -> Table | None:
    files = find_table(folder, name)
    if len(files) > 1:
        found = Phrase("both {one} and {other}", one=files[0].name, other=files[1].name)
        faults.append(Fault(name, None, None, found, Phrase("one of them"), CONFLICT))
        return None
    if not files:
        if name in TABLES and not TABLES[name].is_optional:
            wanted = Phrase(
                "{name}.csv or {name}.xlsx in the catalog {folder}", name=name, folder=str(folder)
            )
            faults.append(Fault(f"{name}.csv", None, None, NO_FILE, wanted, FILE))
        return None
    if leads_outside(folder, files[0].name):
        found = Phrase("a link that leads out of the price list's folder")
        faults.append(Fault(files[0].name, None, None, found, Phrase("the file itself"), FILE))
        return None
    return read_table(files[0], faults)


def _names(table: Table | None, column: str) -> list[str]:
    return [] if table is None else [name for _, name in table.column(column)]


def _voltage_faults(site: SiteFile, table: Table, offered: Catalog) -> Iterator[Fault]:
    """Yield that no inverter runs at a voltage that some battery can be put in series to."""
    batteries, inverters = offered.batteries, offered.inverters
    allowed = set(site.values.get("voltages", SYSTEM_VOLTAGES))
    reached = {
        system_v
        for system_v in SYSTEM_VOLTAGES
        for battery in batteries
        if system_v % battery.class_v == 0 and system_v // battery.class_v <= battery.max_series
    }
    on_offer = {inverter.system_v for inverter in inverters}
    if batteries and inverters and not reached & on_offer & allowed:
        found = Phrase(
            "inverters of {offered}, batteries that make {reached}, and {allowed} allowed by the "
            "site",
            offered=_volts(on_offer),
            reached=_volts(reached),
            allowed=_volts(allowed),
        )
        wanted = Phrase("an inverter at a voltage that the batteries make and the site allows")
        yield table.fault(None, "system_v", found, wanted, CONFLICT)


def _volts(values: set[int]) -> Phrase:
    if not values:
        return Phrase("no voltage")
    return Phrase("{volts} V", volts=", ".join(str(value) for value in sorted(values)))
