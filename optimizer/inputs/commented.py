"""TOML files to fill in, a word on every key: written from the keys' own definitions."""

import textwrap
from collections.abc import Mapping
from typing import Any, Final

from optimizer.inputs.columns import Column, Record, columns_of
from optimizer.inputs.toml_text import toml_value

_WIDTH: Final = 98
#: How such a file tells what holds already from what nobody knows but who fills it in.
LEFT_OPEN: Final = (
    "Lines that are commented out may stay so: they show the value that holds without them, or "
    "none where nothing does."
)


def commented_section(
    name: str,
    columns: Mapping[str, Column],
    values: Mapping[str, Any],
    usual: Mapping[str, Any],
) -> str:
    """Return a section with every key: those with a value or required as they are, others noted.

    A noted key shows what holds without it, by its own definition or by ``usual``, or nothing.
    """
    lines = [f"[{name}]"]
    for key, column in columns.items():
        lines += comment(f"{column.told}{' (must be filled)' if column.required else ''}")
        if key in values or column.required:
            lines.append(f"{key} = {toml_value(values.get(key, ''))}")
            continue
        held = usual.get(key) if column.default is None else column.default
        is_open = held is None or held in ((), "", [])
        lines.append(f"# {key} =" if is_open else f"# {key} = {toml_value(held)}")
    return "\n".join(lines) + "\n"


def commented_file(
    title: str,
    sections: Mapping[str, type[Record]],
    values: Mapping[str, Mapping[str, Any]],
    usual: Mapping[str, Any],
) -> str:
    """Return a file of sections with every key, a word on each."""
    parts = [
        commented_section(name, columns_of(model), values.get(name, {}), usual)
        for name, model in sections.items()
    ]
    return "\n".join(["\n".join(comment(f"{title} {LEFT_OPEN}")) + "\n", *parts])


def comment(text: str) -> list[str]:
    """Return a text as lines of comment."""
    return textwrap.wrap(text, _WIDTH, initial_indent="# ", subsequent_indent="# ")
