"""A small TOML file of sections → its checked keys, or a fault for each that is wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from optimizer.inputs.columns import Record, columns_of
from optimizer.inputs.faults import nearest_known, shown
from optimizer.inputs.records import hint_for
from optimizer.inputs.toml_text import SectionFile, read_toml

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.errors import Fault

__all__ = ["SectionFile", "check_keys", "check_sections", "read_toml", "valid_values"]


def check_sections(
    source: SectionFile,
    sections: Mapping[str, type[Record]],
    faults: list[Fault],
    *,
    free: frozenset[str] = frozenset(),
) -> dict[str, dict[str, Any]]:
    """Return the keys of each section that are as they must be.

    Parameters
    ----------
    source : SectionFile
        From `read_toml`.
    sections : mapping of str to Record
        The model of each section.
    faults : list of Fault
        Takes what is wrong.
    free : frozenset of str
        Sections whose keys are the user's own words; the caller checks them.
    """
    for name, content in source.content.items():
        if name not in sections and name not in free:
            kind = "an unknown section" if isinstance(content, dict) else "a key in no section"
            wanted = f"a section; {nearest_known(name, [*sections, *free])}"
            faults.append(source.fault(name, kind, wanted))
    return {name: _check_section(source, name, model, faults) for name, model in sections.items()}


def _check_section(
    source: SectionFile, section: str, model: type[Record], faults: list[Fault]
) -> dict[str, Any]:
    content = source.content.get(section, {})
    if not isinstance(content, dict):
        faults.append(source.fault(section, shown(content), f"a section [{section}]"))
        return {}
    return check_keys(source, section, content, model, faults)


def check_keys(
    source: SectionFile,
    section: str,
    content: dict[str, Any],
    model: type[Record],
    faults: list[Fault],
) -> dict[str, Any]:
    """Return the keys of one table that are as they must be; numbers as their column has them.

    Parameters
    ----------
    source : SectionFile
        From `read_toml`.
    section : str
        The table's dotted name, for messages.
    content : dict
        The table.
    model : type of Record
        What is expected of it.
    faults : list of Fault
        Takes what is wrong.
    """
    columns = columns_of(model)
    given = {}
    for key, value in content.items():
        if key in columns:
            given[key] = value
        else:
            wanted = f"a key of [{section}]; {nearest_known(key, columns)}"
            faults.append(source.fault(f"{section}.{key}", "an unknown key", wanted))
    return valid_values(source, f"{section}.", given, model, faults)


def valid_values(
    source: SectionFile,
    prefix: str,
    given: Mapping[str, Any],
    model: type[Record],
    faults: list[Fault],
) -> dict[str, Any]:
    """Return the values that are as they must be; numbers as their column has them.

    Parameters
    ----------
    source : SectionFile
        From `read_toml`.
    prefix : str
        What stands before a key in its dotted name: the section and a dot, or nothing.
    given : mapping
        Known keys and what stands there.
    model : type of Record
        What is expected of them.
    faults : list of Fault
        Takes what is wrong, keys that are missing included.
    """
    columns = columns_of(model)
    wrong: set[str] = set()
    try:
        model.model_validate(given)
    except ValidationError as problem:
        for error in problem.errors(include_url=False, include_context=False):
            key = str(error["loc"][0])
            if key in wrong:
                continue
            wrong.add(key)
            found = shown(given[key]) if key in given else "no such key"
            wanted = columns[key].wanted + hint_for(columns[key], given.get(key))
            faults.append(source.fault(f"{prefix}{key}", found, wanted))
    return {
        key: float(value) if columns[key].kind in {"number", "share", "rate"} else value
        for key, value in given.items()
        if key not in wrong
    }
