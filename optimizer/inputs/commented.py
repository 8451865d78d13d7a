"""TOML files to fill in, a word on every key: written from the keys' own definitions."""

import textwrap
from collections.abc import Mapping
from datetime import date
from typing import Any, Final

from optimizer.inputs.columns import Column, Kind, Record, columns_of
from optimizer.inputs.toml_text import toml_value

_WIDTH: Final = 98
_EXAMPLE_DAY: Final = date(2026, 1, 31)


def commented_section(name: str, columns: Mapping[str, Column], values: Mapping[str, Any]) -> str:
    """Return a section with every key: those with a value or required as they are, others noted."""
    lines = [f"[{name}]"]
    for key, column in columns.items():
        lines += _comment(f"{column.told}{' (must be filled)' if column.required else ''}")
        value = values.get(key, _example(column))
        mark = "" if key in values or column.required else "# "
        lines.append(f"{mark}{key} = {toml_value(value)}")
    return "\n".join(lines) + "\n"


def commented_file(
    title: str, sections: Mapping[str, type[Record]], values: Mapping[str, Mapping[str, Any]]
) -> str:
    """Return a file of sections with every key, a word on each."""
    parts = [
        commented_section(name, columns_of(model), values.get(name, {}))
        for name, model in sections.items()
    ]
    return "\n".join(["\n".join(_comment(title)) + "\n", *parts])


def _comment(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="# ", subsequent_indent="# ")


def _example(column: Column) -> Any:  # noqa: ANN401 - a TOML value
    """Return what holds without the key, or a value of its kind."""
    if column.default is not None:
        return column.default
    if column.kind in {Kind.NUMBER, Kind.WHOLE, Kind.SHARE, Kind.RATE}:
        limits = column.limits
        lowest = limits.get("ge", limits.get("gt", 0))
        return lowest if "ge" in limits else min(lowest + 1, limits.get("le", lowest + 1))
    return {Kind.DAY: _EXAMPLE_DAY, Kind.FLAG: False, Kind.LIST: [], Kind.BY_NAME: {}}.get(
        column.kind, ""
    )
