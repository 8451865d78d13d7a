"""A bank and inverter that stand already, or that somebody has quoted: TOML → `Existing`."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any, ClassVar, Final, Literal, TypeVar

from optimizer.errors import Fault, InputError
from optimizer.files.place import Place
from optimizer.inputs.as_built_keys import EQUIPMENT, AsBuiltKeys, sign_of
from optimizer.inputs.catalog import find_table, read_parts
from optimizer.inputs.cells import cell_text
from optimizer.inputs.chemistry import Chemistries, read_chemistries
from optimizer.inputs.columns import MONEY, Kind, Record, columns_of, declare, number, share, whole
from optimizer.inputs.demo import site_file
from optimizer.inputs.faults import (
    CONFLICT,
    MISSING,
    NO_KEY,
    UNKNOWN,
    UNKNOWN_KEY,
    one_of,
    shown,
)
from optimizer.inputs.load import load
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.sections import check_section, valid_values
from optimizer.inputs.site import read_site
from optimizer.inputs.tables import Row, Table, read_table
from optimizer.inputs.toml_text import SectionFile, read_toml
from optimizer.inputs.voltage import SYSTEM_VOLTAGES
from optimizer.model.existing import Existing, Plan
from optimizer.model.job import Battery, Contract, Generator, Inverter, Job
from optimizer.model.phrase import Phrase

ItemT = TypeVar("ItemT", Battery, Inverter, Generator)

_EXAMPLE: Final = 'inverter = "name", units = 1, battery = "name", strings = 2, voltage = 24'


class DesignKeys(Record):
    """The keys of a design file that hold one value."""

    defaults: ClassVar[Any] = Existing

    units: int = whole("", "inverter-chargers", ge=1, le=20)
    strings: int = whole("", "strings in parallel", ge=1, le=40)
    voltage: Literal[12, 24, 48] = declare(Kind.WHOLE, "12, 24 or 48 V", "of the system", unit="V")
    max_dod: float | None = share(
        "depth of discharge, of those the battery lists; blank: its deepest", gt=0, le=1
    )
    age_years: float | None = number("years", "age of the bank", ge=0)
    measured_ah: float | None = number(
        "Ah", "capacity of the bank as measured, instead of its age", gt=0
    )
    charge_at_start: float | None = share("state of charge as an outage begins", ge=0, le=1)
    paid: float | None = number(MONEY, "what was or is asked for it all", ge=0)
    contract_w: float | None = number(
        "W", "step of the supply contract; blank: the smallest that covers every peak", gt=0
    )
    fuel_l: float | None = number(
        "l", "stored for the generator; blank: what the hours take, as far as allowed", ge=0
    )


def _chemistries(site: Path, catalog: str | Path | None) -> Chemistries:
    """Return the chemistries that hold for a site's price list, from files read well before."""
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
    source = read_toml(Path(file), Phrase("a design file"), example=_EXAMPLE)
    return existing_of(source, offered, _chemistries(site_file(site), catalog))


def existing_of(source: SectionFile, job: Job, chemistries: Chemistries) -> Existing:
    """Return the design that a file's keys describe; InputError with every fault of theirs."""
    faults: list[Fault] = []
    _check_known_keys(source, faults)
    chemistries = replace(chemistries, currency=job.site.currency)
    columns = columns_of(DesignKeys)
    given = {key: value for key, value in source.content.items() if key in columns}
    usual: dict[str, Any] = {
        key: column.default for key, column in columns.items() if not column.required
    }
    values = usual | valid_values(source, "", given, DesignKeys, faults)
    read = partial(_equipment, source, chemistries=chemistries, faults=faults)
    battery: Battery | None = read("battery", job.catalog.batteries)
    inverter: Inverter | None = read("inverter", job.catalog.inverters)
    generator: Generator | None = None
    if "generator" in source.content and job.site.generator is not None:
        generator = read("generator", job.catalog.generators)
    elif "generator" in source.content:
        wanted = Phrase("no generator, or a site with a [generator] section: its rules and fuel")
        faults.append(source.fault("generator", Phrase("a generator"), wanted, CONFLICT))
    contract = _contract(source, job, values.pop("contract_w"), faults)
    if "voltage" in values:
        faults.extend(_voltage_faults(source, int(values["voltage"]), battery, inverter))
    plan = check_section(source, "as_built", AsBuiltKeys, faults)
    depth = values.pop("max_dod")
    if battery is not None and depth is not None and depth not in battery.max_dods:
        wanted = Phrase(
            "one of {depths}, what the row of {battery} lists",
            depths=", ".join(f"{one:g}" for one in battery.max_dods),
            battery=battery.battery,
        )
        faults.append(source.fault("max_dod", f"{depth:g}", wanted, CONFLICT))
    if battery is not None and inverter is not None:
        faults.extend(_box_faults(source, values, battery, inverter))
    if faults or battery is None or inverter is None:
        raise InputError(sorted(faults, key=lambda fault: fault.row or len(source.lines) + 1))
    found = Existing(
        inverter=inverter,
        battery=battery if depth is None else replace(battery, max_dod=depth),
        voltage_v=int(values.pop("voltage")),
        contract=contract,
        generator=generator,
        **values,
    )
    if "as_built" not in source.content:
        return found
    given = {key: plan.get(key) for key in ("quote", "day", "planned_hours", "bank_years")}
    return replace(found, plan=Plan(**given, is_unchanged=plan.get("design") == sign_of(found)))


def _check_known_keys(source: SectionFile, faults: list[Fault]) -> None:
    known = [*columns_of(DesignKeys), *EQUIPMENT, "as_built"]
    for key in source.content:
        if key not in known:
            free = [name for name in known if name not in source.content] or known
            wanted = one_of("a key of a design", key, free)
            faults.append(source.fault(key, UNKNOWN_KEY, wanted, UNKNOWN))


def _equipment(
    source: SectionFile,
    key: str,
    listed: tuple[ItemT, ...],
    *,
    chemistries: Chemistries,
    faults: list[Fault],
) -> ItemT | None:
    """Return what a key names in the price list, or describes as a row of its table would."""
    content = source.content.get(key)
    if not isinstance(content, dict):
        return _by_name(source, key, {getattr(one, key): one for one in listed}, faults)
    lists = {name: value for name, value in content.items() if isinstance(value, dict | list)}
    for name, value in lists.items():  # no cell of a table could hold it
        wanted = Phrase("one number or one text")
        faults.append(source.fault(f"{key}.{name}", shown(value), wanted))
    if lists:
        return None
    named = {key: f"{key} of {source.file}", **content}
    cells = tuple(cell_text(value).strip() for value in named.values())
    own: list[Fault] = []
    table = Table(source.file, Row(0, tuple(named)), (Row(0, cells),), bare=False)
    found = read_parts(EQUIPMENT[key], table, chemistries, own)
    faults += _placed(own, source, key)
    return found[0] if found and not own else None


def _contract(
    source: SectionFile, job: Job, power_w: float | None, faults: list[Fault]
) -> Contract | None:
    steps = {one.power_w: one for one in job.site.contracts}
    if power_w is None or power_w in steps:
        return steps.get(power_w or 0.0)
    wanted = Phrase("no step: the site offers no supply contracts")
    if steps:
        listed = ", ".join(f"{one:g}" for one in steps)
        wanted = Phrase("one of {steps} W, the steps of the site's contract", steps=listed)
    faults.append(source.fault("contract_w", f"{power_w:g}", wanted, CONFLICT))
    return None


def _by_name(
    source: SectionFile, key: str, items: Mapping[str, ItemT], faults: list[Fault]
) -> ItemT | None:
    name = source.content.get(key)
    if isinstance(name, str) and name in items:
        return items[name]
    wanted = Phrase(
        "the name of one in the price list, or a table [{key}] with its values", key=key
    )
    if isinstance(name, str):
        faults.append(source.fault(key, shown(name), one_of(wanted, name, items), UNKNOWN))
    else:
        found = NO_KEY if name is None else shown(name)
        faults.append(source.fault(key, found, wanted, MISSING))
    return None


def _placed(own: list[Fault], source: SectionFile, key: str) -> Iterator[Fault]:
    """Yield faults of a table of one row as faults of the file's lines and keys."""
    content, columns = source.content[key], TABLES[EQUIPMENT[key]].columns
    for fault in own:
        column = fault.column or ""
        dotted = f"{key}.{column}" if column else key
        found, wanted = fault.found, fault.wanted
        if column and column not in columns:
            found = UNKNOWN_KEY
            wanted = one_of(Phrase("a key of [{key}]", key=key), column, columns)
            if column in columns_of(DesignKeys) or column in EQUIPMENT:
                wanted = Phrase(
                    "it above the first [table]: it is a key of the design, not of [{key}]", key=key
                )
        elif fault.kind is MISSING and column not in content:
            found = NO_KEY
        elif isinstance(content.get(column), int | float):
            found = f"{content[column]}"
        line = source.lines.get(dotted, source.lines.get(key))
        yield replace(fault, row=line, column=dotted, found=found, wanted=wanted)


def _box_faults(
    source: SectionFile, values: Mapping[str, Any], battery: Battery, inverter: Inverter
) -> Iterator[Fault]:
    """Yield where a battery in one box with an inverter does not come with it, one for one."""
    if battery.built_into is None:
        return
    if battery.built_into != inverter.inverter:
        wanted = Phrase(
            "{inverter}, which is in one box with {battery}",
            inverter=battery.built_into,
            battery=battery.battery,
        )
        yield source.fault("inverter", shown(inverter.inverter), wanted, CONFLICT)
    elif "strings" in values and "units" in values and values["strings"] != values["units"]:
        wanted = Phrase("{strings}, as many as boxes", strings=str(values["strings"]))
        yield source.fault("units", str(values["units"]), wanted, CONFLICT)


def _voltage_faults(
    source: SectionFile, voltage_v: int, battery: Battery | None, inverter: Inverter | None
) -> Iterator[Fault]:
    """Yield where the units make no string of this voltage or the inverter runs at another."""
    if battery is not None and voltage_v % battery.class_v:
        reached = [str(v) for v in SYSTEM_VOLTAGES if v % battery.class_v == 0]
        wanted = Phrase(
            "a voltage that whole units of {battery} ({class_v} V class) make in series: {volts} V",
            battery=battery.battery,
            class_v=str(battery.class_v),
            volts=", ".join(reached),
        )
        yield source.fault("voltage", str(voltage_v), wanted, CONFLICT)
    if inverter is not None and inverter.system_v != voltage_v:
        wanted = Phrase(
            "{volts}, the voltage of {inverter}, or another inverter",
            volts=str(inverter.system_v),
            inverter=inverter.inverter,
        )
        yield source.fault("voltage", str(voltage_v), wanted, CONFLICT)
