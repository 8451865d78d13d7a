"""Rows of batteries, completed from their chemistries → `Battery`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from optimizer.errors import Fault
from optimizer.inputs.chemistry import KINDS, Chemistries, fill_in
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import shown
from optimizer.inputs.records import check_unique, read_records
from optimizer.inputs.rows import OPEN_TRAITS, TRAITS, BatteryRow, ChemistryRow
from optimizer.inputs.voltage import voltage_class
from optimizer.model.job import FLOAT_LIFE_DEGC, Battery

if TYPE_CHECKING:
    from optimizer.inputs.tables import Table


def read_batteries(
    table: Table, chemistries: Chemistries, faults: list[Fault]
) -> tuple[Battery, ...]:
    """Return the batteries, every open value filled in.

    Parameters
    ----------
    table : Table
        The batteries as text.
    chemistries : Chemistries
        Where open values come from.
    faults : list of Fault
        Takes what is wrong.
    """
    before = len(faults)
    records = read_records(table, BatteryRow, faults)
    if table.bare and len(faults) == before:
        faults.append(Fault(table.file, None, None, "no row below the names", "at least one row"))
    check_unique(table, "battery", faults)
    complained: set[tuple[str, str]] = set()
    found = []
    for number, row in records:
        battery = _complete(
            table.file, number, row, chemistries=chemistries, complained=complained, faults=faults
        )
        if battery is not None:
            found.append(battery)
    return tuple(found)


def _complete(
    file: str,
    number: int,
    row: BatteryRow,
    *,
    chemistries: Chemistries,
    complained: set[tuple[str, str]],
    faults: list[Fault],
) -> Battery | None:
    class_v = voltage_class(row.voltage_v)
    if row.chemistry not in chemistries.known:
        return None
    values, sources, empty = fill_in(row, chemistries, (*TRAITS, *KINDS))
    missing = [field for field in empty if field not in OPEN_TRAITS]
    for field in missing:
        _complain_of_missing(
            file,
            number,
            row,
            field=field,
            chemistries=chemistries,
            complained=complained,
            faults=faults,
        )
    if missing or class_v is None or not _rates_agree(file, number, row, values, faults):
        return None
    own = {name: value for name, value in dict(row).items() if name not in TRAITS}
    depths = values.pop("max_dod")
    if values["float_life_degc"] is None:
        values["float_life_degc"] = FLOAT_LIFE_DEGC
    return Battery(
        class_v=class_v, sources=sources, max_dod=depths[-1], max_dods=depths, **own, **values
    )


def _complain_of_missing(
    file: str,
    number: int,
    row: BatteryRow,
    *,
    field: str,
    chemistries: Chemistries,
    complained: set[tuple[str, str]],
    faults: list[Fault],
) -> None:
    """Complain once for a chemistry, in its own row, of what neither it nor a battery says."""
    if (row.chemistry, field) in complained or row.chemistry not in chemistries.own:
        return  # a faulty row of the chemistries has its own faults
    complained.add((row.chemistry, field))
    if field in KINDS:
        return  # said where the chemistries are read
    place, _ = chemistries.own[row.chemistry]
    wanted = (
        f"{columns_of(ChemistryRow)[field].wanted}, here or in each battery: {shown(row.battery)} "
        f"({file}, row {number}) leaves it to its chemistry"
    )
    faults.append(Fault(chemistries.file, place, field, "nothing", wanted))


def _rates_agree(
    file: str, number: int, row: BatteryRow, values: dict[str, Any], faults: list[Fault]
) -> bool:
    """Check what only the completed battery shows; one side's rows were checked as read."""
    steady, start = values["discharge_rate_max"], values["surge_rate_max"]
    if start is not None and start < steady:
        if row.surge_rate_max is not None:
            wanted = f"at least discharge_rate_max ({steady:g} per hour, its chemistry's)"
            faults.append(Fault(file, number, "surge_rate_max", f"{start:g}", wanted))
            return False
        values["surge_rate_max"] = steady  # what it gives for hours it gives for seconds
    low, high = values["charge_rate_min"], values["charge_rate_max"]
    if low <= high or (row.charge_rate_min is None and row.charge_rate_max is None):
        return True
    if row.charge_rate_min is not None:
        column, value, wanted = "charge_rate_min", low, f"at most charge_rate_max ({high:g}"
    else:
        column, value, wanted = "charge_rate_max", high, f"at least charge_rate_min ({low:g}"
    faults.append(Fault(file, number, column, f"{value:g}", f"{wanted} per hour, its chemistry's)"))
    return False
