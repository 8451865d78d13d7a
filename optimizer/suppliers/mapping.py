"""The mapping file of a supplier's list: read, checked, written again."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from optimizer.errors import Fault, InputError
from optimizer.formulas.wiring import awg_section_mm2
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import one_of, shown
from optimizer.inputs.mapping_keys import TABLES, ColumnKeys, ListKeys
from optimizer.inputs.sections import SectionFile, check_keys, check_sections, read_toml
from optimizer.inputs.toml_text import toml_sections
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from optimizer.files.place import Place

_FOOT_M: Final = 0.3048  # international foot, exact
#: By the ending of our column's name: their unit and what one of it is in ours.
UNITS: Final[dict[str, dict[str, float]]] = {
    "_mm": {"mm": 1, "cm": 10, "m": 1000, "in": 25.4},
    "_kg": {"kg": 1, "g": 0.001, "lb": 0.45359237},
    "_ah": {"Ah": 1, "mAh": 0.001},
    "_v": {"V": 1, "mV": 0.001},
    "_w": {"W": 1, "kW": 1000},
    "_w_40c": {"W": 1, "kW": 1000},
    "_va": {"VA": 1, "kVA": 1000},
    "_a": {"A": 1, "mA": 0.001, "kA": 1000},
    "_ka": {"kA": 1, "A": 0.001},
    "_h": {"h": 1, "min": 1 / 60},
    "_ms": {"ms": 1, "s": 1000},
    "_years": {"years": 1, "months": 1 / 12},
    "_dod": {"share": 1, "%": 0.01},
    "efficiency": {"share": 1, "%": 0.01},
    "_mm2": {"mm²": 1, "AWG": 0},
    "_per_km": {"per km": 1, "per 1000 ft": 1 / _FOOT_M},
    "_per_m": {"per m": 1, "per ft": 1 / _FOOT_M, "per 100 m": 0.01},
}


@dataclass(frozen=True, slots=True)
class ColumnMapping:
    """Where one of our columns comes from: theirs with its conversions, or one value for all."""

    column: str | None = None
    value: str | None = None
    unit: str | None = None
    factor: float = 1.0
    values: Mapping[str, str] = field(default_factory=dict)
    pattern: str | None = None
    dates: str | None = None


@dataclass(frozen=True, slots=True)
class SupplierMapping:
    """How a supplier's list becomes one of our tables."""

    table: str
    currency: str
    columns: Mapping[str, ColumnMapping]
    into: str
    exchange: float = 1.0
    factor: float = 1.0
    heading_row: int | None = None
    decimals: Literal["comma", "point"] | None = None
    filter: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    file: str = "mapping"


def units_for(column: str) -> dict[str, float]:
    """Return the units that a column of ours can be given in, and what one is in ours.

    >>> units_for("mass_kg")["lb"]
    0.45359237
    """
    return next((UNITS[end] for end in sorted(UNITS, key=len)[::-1] if column.endswith(end)), {})


def in_our_unit(column: str, unit: str, value: float) -> float:
    """Return a value in our unit.

    >>> round(in_our_unit("section_mm2", "AWG", 2), 2), in_our_unit("length_mm", "cm", 30)
    (33.63, 300)
    """
    if unit == "AWG":
        return awg_section_mm2(f"{value:.0f}")
    return value * units_for(column)[unit]


def read_mapping(path: str | Place) -> SupplierMapping:
    """Read a mapping file.

    Parameters
    ----------
    path : str, Path or Held
        A TOML file, on a disk or held in memory.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults: list[Fault] = []
    place = Path(path) if isinstance(path, str) else path
    source = read_toml(place, "a mapping file", faults)
    if source is None:
        raise InputError(faults)
    found = _made(source, faults)
    if faults or found is None:
        raise InputError(sorted(faults, key=lambda fault: (fault.row is None, fault.row or 0)))
    return found


def mapping_from(content: dict[str, Any]) -> SupplierMapping:
    """Return a mapping from the content of such a file, as a page gathers it.

    Raises
    ------
    InputError
        With every fault.
    """
    faults: list[Fault] = []
    found = _made(SectionFile("mapping", content, {}), faults)
    if faults or found is None:
        raise InputError(faults)
    return found


def _made(source: SectionFile, faults: list[Fault]) -> SupplierMapping | None:
    """Return the mapping that a file's content stands for, or None with its faults."""
    head = check_sections(source, {"list": ListKeys}, faults, free=frozenset({"columns", "filter"}))
    values = head["list"]
    table = values.get("table")
    into = str(values.get("into", values.get("currency")))
    if values.get("currency") != into and "exchange" not in values:
        wanted = f"{into} for one {values.get('currency')}"
        faults.append(source.fault("list.exchange", "no such key", wanted))
    columns = _columns(source, table, faults)
    filters = _filters(source, faults)
    if faults or table is None:
        return None
    plain = {key: value for key, value in values.items() if key not in {"table", "into"}}
    return SupplierMapping(
        table=table, into=into, columns=columns, filter=filters, file=source.file, **plain
    )


def _columns(
    source: SectionFile, table: str | None, faults: list[Fault]
) -> dict[str, ColumnMapping]:
    content = source.content.get("columns")
    if not isinstance(content, dict) or not content:
        wanted = 'a section [columns] with lines such as battery = "Article"'
        faults.append(source.fault("columns", "none", wanted))
        return {}
    known = columns_of(TABLES[table]) if table in TABLES else None
    found: dict[str, ColumnMapping] = {}
    for name, given in content.items():
        key = f"columns.{name}"
        if known is not None and name not in known:
            wanted = one_of(Phrase("a column of {table}", table=str(table)), name, known)
            faults.append(source.fault(key, "an unknown column", wanted))
            continue
        written = {"column": given} if isinstance(given, str) else given
        if not isinstance(written, dict):
            wanted = 'a column of theirs, or {column = "…", unit = "…"}, or {value = …}'
            faults.append(source.fault(key, shown(given), wanted))
            continue
        before = len(faults)
        values = check_keys(source, key, written, ColumnKeys, faults)
        _check_column(source, key, name, values, faults)
        if len(faults) == before:
            fixed = values.pop("value", None)
            text = None if fixed is None else fixed if isinstance(fixed, str) else f"{fixed}"
            found[name] = ColumnMapping(value=text, **values)
    for name, column in (known or {}).items():
        if column.required and name not in content:
            faults.append(
                source.fault(f"columns.{name}", "no such key", f"where {name} comes from")
            )
    return found


def _check_column(
    source: SectionFile, key: str, name: str, values: dict[str, Any], faults: list[Fault]
) -> None:
    if ("column" in values) == ("value" in values):
        faults.append(source.fault(key, "both or neither", "either column or value"))
    unit = values.get("unit")
    if unit is not None and unit not in units_for(name):
        wanted = one_of(Phrase("a unit for {name}", name=name), unit, units_for(name))
        faults.append(source.fault(key, shown(unit), wanted))
    pattern = values.get("pattern")
    if pattern is not None:
        try:
            groups = re.compile(pattern).groups
        except re.error as problem:
            faults.append(source.fault(key, shown(pattern), f"a regular expression ({problem})"))
        else:
            if groups != 1:
                faults.append(source.fault(key, shown(pattern), "a pattern with one group"))


def _filters(source: SectionFile, faults: list[Fault]) -> dict[str, tuple[str, ...]]:
    content = source.content.get("filter", {})
    wanted = 'lines such as "Group" = ["Batteries"]: rows with these words are taken'
    if not isinstance(content, dict):
        faults.append(source.fault("filter", shown(content), wanted))
        return {}
    found = {}
    for name, words in content.items():
        listed = [words] if isinstance(words, str) else words
        if not isinstance(listed, list) or not all(isinstance(word, str) for word in listed):
            faults.append(source.fault(f"filter.{name}", shown(words), wanted))
            continue
        found[name] = tuple(listed)
    return found


def content_of(mapping: SupplierMapping) -> dict[str, Any]:
    """Return a mapping as the content of its file, every column written out."""
    head = {
        "table": mapping.table,
        "currency": mapping.currency,
        "into": None if mapping.into == mapping.currency else mapping.into,
        "exchange": None if mapping.into == mapping.currency else mapping.exchange,
        "factor": None if mapping.factor == 1 else mapping.factor,
        "heading_row": mapping.heading_row,
        "decimals": mapping.decimals,
    }
    columns = {
        name: _given({**asdict(one), "factor": None if one.factor == 1 else one.factor})
        for name, one in mapping.columns.items()
    }
    filters = {name: list(words) for name, words in mapping.filter.items()}
    return _given({"list": _given(head), "columns": columns, "filter": filters})


def _given(keys: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in keys.items() if value not in (None, {})}


def mapping_toml(mapping: SupplierMapping) -> str:
    """Return a mapping as its file, to be used again for the next list."""
    content = content_of(mapping)
    content["columns"] = {
        name: one["column"] if set(one) == {"column"} else one
        for name, one in content["columns"].items()
    }
    return toml_sections(content)
