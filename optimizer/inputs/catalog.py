"""The price list: six tables in a folder → `Catalog`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, TypeVar

from optimizer.errors import Fault
from optimizer.inputs.batteries import read_batteries
from optimizer.inputs.chemistry import check_known, read_chemistries
from optimizer.inputs.columns import Record
from optimizer.inputs.faults import nearest_known, shown
from optimizer.inputs.records import check_unique, read_records
from optimizer.inputs.rows import CableRow, FuseRow, GeneratorRow, InverterRow, WorkRow
from optimizer.inputs.tables import read_table
from optimizer.model.job import Catalog

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.inputs.place import Place
    from optimizer.inputs.site import SiteFile
    from optimizer.inputs.tables import Table
    from optimizer.model.job import Battery, Inverter

RecordT = TypeVar("RecordT", bound=Record)

_SUFFIXES: Final = (".csv", ".xlsx")
#: The tables of a price list.
PRICE_TABLES: Final = (
    "chemistries",
    "batteries",
    "inverters",
    "works",
    "cables",
    "fuses",
    "generators",
)
_REQUIRED: Final = ("batteries", "inverters", "cables", "fuses")


def find_table(folder: Place, name: str) -> list[Place]:
    """Return the files that hold a table of this name: none, one, or two that compete.

    Parameters
    ----------
    folder : Place
        The catalog.
    name : str
        The table, e.g. ``batteries``.
    """
    return [path for suffix in _SUFFIXES if (path := folder / (name + suffix)).is_file()]


def read_catalog(
    folder: Place, site: SiteFile | None, faults: list[Fault], warnings: list[str]
) -> Catalog:
    """Return the catalog.

    Parameters
    ----------
    folder : Place
        Where the tables lie.
    site : SiteFile or None
        The site file, whose ``exclude`` and ``voltages`` must suit; None where it is unreadable.
    faults, warnings : list
        Take what is wrong and what is merely odd.
    """
    generators = site is not None and site.generator
    tables = {
        name: _table(folder, name, faults, required=name in _REQUIRED or name == "generators")
        for name in PRICE_TABLES
        if generators or name != "generators"
    }
    own: list[Fault] = []
    chemistries = read_chemistries(tables["chemistries"], own)
    batteries: tuple[Battery, ...] = ()
    if (table := tables["batteries"]) is not None:
        batteries = read_batteries(table, chemistries, own)
        check_known(chemistries, table, own)
    inverters = tuple(
        row.made() for row in _rows(tables["inverters"], InverterRow, "inverter", own)
    )
    offered = Catalog(
        batteries,
        inverters,
        tuple(row.made() for row in _rows(tables["works"], WorkRow, "item", own)),
        tuple(row.made() for row in _rows(tables["cables"], CableRow, "", own)),
        tuple(row.made() for row in _rows(tables["fuses"], FuseRow, "", own)),
        tuple(
            row.made() for row in _rows(tables.get("generators"), GeneratorRow, "generator", own)
        ),
    )
    _check_boxes(tables["batteries"], _names(tables["inverters"], "inverter"), own)
    order = {table.file: place for place, table in enumerate(tables.values()) if table is not None}
    faults.extend(sorted(own, key=lambda fault: (order.get(fault.file, 0), fault.row or 0)))
    for inverter in inverters:
        if inverter.power_w_40c > inverter.power_w:
            warnings.append(f"Inverter {inverter.inverter!r}: power_w_40c exceeds power_w.")
    if site is not None:
        known = [*_names(tables["batteries"], "battery"), *_names(tables["inverters"], "inverter")]
        _check_exclude(site, [*known, *chemistries.known], faults)
        if not own and (table := tables["inverters"]) is not None:
            _check_voltages(site, table.file, batteries, inverters, faults=faults)
    return offered


def _check_boxes(table: Table | None, inverters: Sequence[str], faults: list[Fault]) -> None:
    """Complain of each battery in one box with an inverter that is not in the list."""
    if table is None or not inverters:
        return
    for number, name in table.column("built_into"):
        if name not in inverters:
            wanted = f"an inverter of the list; {nearest_known(name, inverters)}"
            faults.append(Fault(table.file, number, "built_into", shown(name), wanted))


def _table(folder: Place, name: str, faults: list[Fault], *, required: bool) -> Table | None:
    files = find_table(folder, name)
    if len(files) > 1:
        found = f"both {files[0].name} and {files[1].name}"
        faults.append(Fault(name, None, None, found, "one of them"))
        return None
    if not files:
        if required:
            wanted = f"{name}.csv or {name}.xlsx in the catalog {folder}"
            faults.append(Fault(f"{name}.csv", None, None, "no such file", wanted))
        return None
    return read_table(files[0], faults)


def _rows(
    table: Table | None, model: type[RecordT], unique: str, faults: list[Fault]
) -> list[RecordT]:
    if table is None:
        return []
    before = len(faults)
    records = read_records(table, model, faults)
    if unique:
        check_unique(table, unique, faults)
    if table.bare and len(faults) == before and model is not WorkRow:
        faults.append(Fault(table.file, None, None, "no row below the names", "at least one row"))
    return [record for _, record in records]


def _names(table: Table | None, column: str) -> list[str]:
    return [] if table is None else [name for _, name in table.column(column)]


def _check_exclude(site: SiteFile, known: Sequence[str], faults: list[Fault]) -> None:
    for name in site.values.get("exclude", ()):
        if name not in known:
            wanted = f"a battery, inverter or chemistry; {nearest_known(name, known)}"
            faults.append(site.fault("limits.exclude", shown(name), wanted))


def _check_voltages(
    site: SiteFile,
    file: str,
    batteries: Sequence[Battery],
    inverters: Sequence[Inverter],
    *,
    faults: list[Fault],
) -> None:
    """Complain where no inverter runs at a voltage that some battery can be put in series to."""
    if not batteries or not inverters:
        return
    allowed = site.values.get("voltages", (12, 24, 48))
    reached = {
        system_v
        for system_v in (12, 24, 48)
        for battery in batteries
        if system_v % battery.class_v == 0 and system_v // battery.class_v <= battery.max_series
    }
    offered = {inverter.system_v for inverter in inverters}
    if not reached & offered & set(allowed):
        found = (
            f"inverters of {_volts(offered)}, batteries that make {_volts(reached)}, and "
            f"{_volts(allowed)} allowed by the site"
        )
        wanted = "an inverter at a voltage that the batteries make and the site allows"
        faults.append(Fault(file, None, "system_v", found, wanted))


def _volts(values: Sequence[int] | set[int]) -> str:
    return " and ".join(str(value) for value in sorted(values)) + " V" if values else "no voltage"
