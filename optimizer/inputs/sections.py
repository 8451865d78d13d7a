"""A TOML file of sections → its checked keys, or a fault for each that is wrong."""

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from optimizer.errors import Fault, nearest
from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import Column, Kind, Record, columns_of
from optimizer.inputs.faults import (
    MISSING,
    NO_KEY,
    UNKNOWN,
    UNKNOWN_KEY,
    VALUE,
    one_of,
    shown,
)
from optimizer.inputs.quantities import in_column, quantity
from optimizer.inputs.records import refused
from optimizer.inputs.toml_text import SectionFile
from optimizer.model.phrase import Phrase


def check_sections(
    source: SectionFile,
    sections: Mapping[str, type[Record]],
    faults: list[Fault],
    *,
    free: frozenset[str] = frozenset(),
    optional: frozenset[str] = frozenset(),
) -> dict[str, dict[str, Any]]:
    """Return the keys of each section that are as they must be.

    ``free`` sections hold the user's own words as keys, which the caller checks; ``optional`` ones
    ask for something only where they stand.
    """
    for name, content in source.content.items():
        if name not in sections and name not in free:
            is_section = isinstance(content, dict)
            found = Phrase("an unknown section") if is_section else Phrase("a key in no section")
            home = None if is_section else _home(name, sections)
            wanted = home or one_of("a section", name, [*sections, *free], so_far=len(faults))
            faults.append(source.fault(name, found, wanted, UNKNOWN))
    values: dict[str, dict[str, Any]] = {}
    for name, model in sections.items():
        asked = name in source.content or name not in optional
        values[name] = check_section(source, name, model, faults, sections) if asked else {}
    return values


def check_section(
    source: SectionFile,
    name: str,
    model: type[Record],
    faults: list[Fault],
    sections: Mapping[str, type[Record]] | None = None,
) -> dict[str, Any]:
    """Return the keys of one section, as `check_keys`; where it is left out it is empty."""
    content = source.content.get(name, {})
    if isinstance(content, dict):
        return check_keys(source, name, content, model, faults, sections=sections)
    faults.append(source.fault(name, shown(content), Phrase("a section [{name}]", name=name)))
    return {}


def _home(key: str, sections: Mapping[str, type[Record]]) -> Phrase | None:
    """Return the section that a key belongs to, in words."""
    for section, model in sections.items():
        if key in columns_of(model):
            at = f"[{section}] {key}"
            return Phrase("it in its section: nearest known: {at}", at=at)
    return None


def check_keys(
    source: SectionFile,
    section: str,
    content: dict[str, Any],
    model: type[Record],
    faults: list[Fault],
    *,
    sections: Mapping[str, type[Record]] | None = None,
) -> dict[str, Any]:
    """Return the keys of one table that are as they must be; numbers as their column has them.

    ``section`` is the table's dotted name, for messages; ``sections`` tell where else a key may
    belong.
    """
    columns = columns_of(model)
    free = [known for known in columns if known not in content]
    for key in content:
        if key not in columns:
            elsewhere = None if nearest(key, free) else _home(key, sections or {})
            what = Phrase("a key of [{section}]", section=section)
            wanted = elsewhere or one_of(what, key, columns, so_far=len(faults))
            faults.append(source.fault(f"{section}.{key}", UNKNOWN_KEY, wanted, UNKNOWN))
    given = {key: value for key, value in content.items() if key in columns}
    return valid_values(source, f"{section}.", given, model, faults)


def valid_values(
    source: SectionFile,
    prefix: str,
    given: Mapping[str, Any],
    model: type[Record],
    faults: list[Fault],
) -> dict[str, Any]:
    """Return the values that are as they must be; numbers as their column has them."""
    columns = columns_of(model)
    given = {key: _bare(columns[key], value) for key, value in given.items()}
    empty = [columns[key] for key, value in given.items() if value is None]  # JSON's null
    wrong = [(one.name, None, one.wanted) for one in empty if not one.required]
    try:
        model.model_validate(given)
    except ValidationError as problem:
        wrong += refused(problem, columns, given)
    for key, value, wanted in wrong:
        missing = key not in given
        found = NO_KEY if missing else Phrase("an empty list") if value == [] else shown(value)
        faults.append(source.fault(f"{prefix}{key}", found, wanted, MISSING if missing else VALUE))
    real, at_fault = {Kind.NUMBER, Kind.SHARE, Kind.RATE}, {key for key, *_ in wrong}
    return {
        key: float(value) if columns[key].kind in real else value
        for key, value in given.items()
        if key not in at_fault
    }


def _bare(column: Column, value: object) -> object:
    """Return a number that was written with its unit, in quotes, as the key's bare number."""
    found = quantity(value, comma=False) if isinstance(value, str) else None
    if found is None or not column.kind.is_numeric:
        return value
    try:
        return in_column(found, column, {})
    except CellError:
        return value
