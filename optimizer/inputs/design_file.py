"""A bank and inverter that stand already, or that somebody has quoted: TOML → `Existing`."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal, TypeVar

from optimizer.errors import Fault, InputError
from optimizer.inputs.batteries import read_batteries
from optimizer.inputs.catalog import find_table
from optimizer.inputs.chemistry import Chemistries, check_known, read_chemistries
from optimizer.inputs.columns import Record, columns_of, declare, number, share, whole
from optimizer.inputs.demo import site_file
from optimizer.inputs.faults import nearest_known, shown
from optimizer.inputs.load import load
from optimizer.inputs.records import read_records
from optimizer.inputs.rows import BatteryRow, InverterRow
from optimizer.inputs.sections import valid_values
from optimizer.inputs.site import read_site
from optimizer.inputs.tables import Row, Table, read_table
from optimizer.inputs.toml_text import read_toml
from optimizer.model.existing import Existing
from optimizer.model.job import Battery, Inverter, Job

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.inputs.place import Place
    from optimizer.inputs.toml_text import SectionFile
    from optimizer.model.job import Job

ItemT = TypeVar("ItemT", Battery, Inverter)

_EXAMPLE: Final = 'inverter = "name", units = 1, battery = "name", strings = 2, voltage = 24'
_MODELS: Final[dict[str, type[Record]]] = {"battery": BatteryRow, "inverter": InverterRow}


class DesignKeys(Record):
    """The keys of a design file that hold one value."""

    units: int = whole("inverter-chargers", ge=1, le=20)
    strings: int = whole("strings in parallel", ge=1, le=40)
    voltage: Literal[12, 24, 48] = declare("whole", "12, 24 or 48 V")
    max_dod: float | None = share(gt=0, le=1, default=None)
    age_years: float = number("years, the age of the bank", ge=0, default=0.0)
    measured_ah: float | None = number("Ah, the capacity measured", gt=0, default=None)
    charge_at_start: float = share(ge=0, le=1, default=1.0)
    paid: float | None = number("in the site's currency", ge=0, default=None)


def catalog_chemistries(site: Path, catalog: str | Path | None) -> Chemistries:
    """Return the chemistries that hold for a site's price list, from files read well before.

    Parameters
    ----------
    site : Path
        The site file.
    catalog : str or Path, optional
        The folder of the price list, where the site's own is not meant.
    """
    faults: list[Fault] = []
    found = None if catalog is not None else read_site(site, faults)
    folder: Place = Path(catalog or ".")
    if found is not None:
        folder = found.folder / found.values.get("catalog", ".")
    files = find_table(folder, "chemistries")
    chemistries = read_chemistries(read_table(files[0], faults) if files else None, faults)
    if faults:
        raise InputError(faults)
    return chemistries


def load_design(
    file: str | Path, site: str | Path, catalog: str | Path | None = None, job: Job | None = None
) -> Existing:
    """Read a bank and inverter that stand already, or that somebody has quoted.

    Parameters
    ----------
    file : str or Path
        The design file (TOML).
    site : str or Path
        As for `load`: its price list is what names refer to.
    catalog : str or Path, optional
        As for `load`.
    job : Job, optional
        What `load` made of both, where it is at hand.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    offered = load(site, catalog) if job is None else job
    return read_design(Path(file), offered, catalog_chemistries(site_file(site), catalog))


def read_design(path: Path, job: Job, chemistries: Chemistries) -> Existing:
    """Return the design that a file describes.

    Parameters
    ----------
    path : Path
        A TOML file.
    job : Job
        Whose price list names refer to.
    chemistries : Chemistries
        Where a battery typed in takes what it leaves open.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults: list[Fault] = []
    read = read_toml(path, "a design file", faults, example=_EXAMPLE)
    if read is None:
        raise InputError(faults)
    file, data, lines = read.file, read.content, read.lines
    _check_known_keys(file, data, lines, faults)
    values = _single_keys(read, faults)
    batteries = {one.battery: one for one in job.catalog.batteries}
    inverters = {one.inverter: one for one in job.catalog.inverters}
    battery, inverter = data.get("battery"), data.get("inverter")
    bank = units = None
    if isinstance(battery, dict):
        table = _as_table(file, "battery", battery)
        own: list[Fault] = []
        found = read_batteries(table, chemistries, own)
        check_known(chemistries, table, own)
        faults += _placed(own, "battery", battery, lines)
        bank = found[0] if found and not own else None
    else:
        bank = _by_name(file, "battery", battery, batteries, lines=lines, faults=faults)
    if isinstance(inverter, dict):
        own = []
        rows = read_records(_as_table(file, "inverter", inverter), InverterRow, own)
        faults += _placed(own, "inverter", inverter, lines)
        units = rows[0][1].made() if rows and not own else None
    else:
        units = _by_name(file, "inverter", inverter, inverters, lines=lines, faults=faults)
    voltage_v = values.get("voltage")
    if voltage_v is not None:
        _check_voltage(file, int(voltage_v), bank, units, lines=lines, faults=faults)
    depth = values.get("max_dod")
    if bank is not None and depth is not None and depth not in bank.max_dods:
        depths = " or ".join(f"{one:g}" for one in bank.max_dods)
        wanted = f"{depths}, what the row of {bank.battery} lists"
        faults.append(Fault(file, lines.get("max_dod"), "max_dod", f"{depth:g}", wanted))
    if faults or bank is None or units is None:
        raise InputError(sorted(faults, key=lambda fault: fault.row or len(lines) + 1))
    return Existing(
        inverter=units,
        units=values["units"],
        battery=bank if depth is None else replace(bank, max_dod=depth),
        strings=values["strings"],
        voltage_v=int(values["voltage"]),
        **{name: values[name] for name in ("age_years", "paid", "measured_ah", "charge_at_start")},
    )


def _check_known_keys(
    file: str, data: Mapping[str, Any], lines: Mapping[str, int], faults: list[Fault]
) -> None:
    known = [*columns_of(DesignKeys), *_MODELS]
    for key in data:
        if key not in known:
            free = [name for name in known if name not in data] or known
            wanted = f"a key of a design; {nearest_known(key, free)}"
            faults.append(Fault(file, lines.get(key), key, "an unknown key", wanted))


def _single_keys(read: SectionFile, faults: list[Fault]) -> dict[str, Any]:
    """Return the keys that hold one value, with their defaults; those at fault are left out."""
    columns = columns_of(DesignKeys)
    given = {key: value for key, value in read.content.items() if key in columns}
    values = valid_values(read, "", given, DesignKeys, faults)
    fields = DesignKeys.model_fields.items()
    return {key: field.default for key, field in fields if not field.is_required()} | values


def _by_name(
    file: str,
    key: str,
    name: object,
    items: Mapping[str, ItemT],
    *,
    lines: Mapping[str, int],
    faults: list[Fault],
) -> ItemT | None:
    if isinstance(name, str) and name in items:
        return items[name]
    wanted = f"the name of one in the price list, or a table [{key}] with its values"
    if isinstance(name, str):
        wanted += f"; {nearest_known(name, items)}"
    found = "no such key" if name is None else shown(name)
    faults.append(Fault(file, lines.get(key), key, found, wanted))
    return None


def _as_table(file: str, key: str, content: Mapping[str, Any]) -> Table:
    """Return a table of the file as a table of one row, so that it is read like a price list."""
    named = {key: f"{key} of {file}", **content}
    cells = tuple("" if value is None else _cell(value) for value in named.values())
    return Table(file, Row(0, tuple(named)), (Row(0, cells),), bare=False)


def _cell(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return str(value).strip()


def _placed(
    own: list[Fault], key: str, content: Mapping[str, Any], lines: Mapping[str, int]
) -> list[Fault]:
    """Return faults of a table of one row as faults of the file's lines and keys."""
    placed = []
    for fault in own:
        column = fault.column or ""
        dotted = f"{key}.{column}" if column else key
        found, wanted = fault.found, fault.wanted
        if found == "an unknown column":
            found = "an unknown key"
            wanted = f"a key of [{key}]; {nearest_known(column, columns_of(_MODELS[key]))}"
            if column in columns_of(DesignKeys) or column in _MODELS:
                wanted = f"it above the first [table]: it is a key of the design, not of [{key}]"
        elif found == "no such column":
            found = "no such key"
        elif isinstance(content.get(column), int | float):
            found = f"{content[column]}"
        line = lines.get(dotted, lines.get(key))
        placed.append(Fault(fault.file, line, dotted, found, wanted))
    return placed


def _check_voltage(
    file: str,
    voltage_v: int,
    battery: Battery | None,
    inverter: Inverter | None,
    *,
    lines: Mapping[str, int],
    faults: list[Fault],
) -> None:
    """Complain where the units make no string of this voltage or the inverter runs at another."""
    place = lines.get("voltage")
    if battery is not None and voltage_v % battery.class_v:
        reached = [v for v in (12, 24, 48) if v % battery.class_v == 0]
        wanted = (
            f"a voltage that whole units of {battery.battery} ({battery.class_v} V class) make in "
            f"series: {', '.join(map(str, reached))} V"
        )
        faults.append(Fault(file, place, "voltage", f"{voltage_v}", wanted))
    if inverter is not None and inverter.system_v != voltage_v:
        wanted = f"{inverter.system_v}, the voltage of {inverter.inverter}, or another inverter"
        faults.append(Fault(file, place, "voltage", f"{voltage_v}", wanted))
