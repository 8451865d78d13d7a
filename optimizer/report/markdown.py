"""Grids as Markdown."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.report.grids.grid import Grid
    from optimizer.report.words.writer import Writer


def table(grid: Grid, writer: Writer) -> str:
    """Return a grid as a Markdown table, its notes below."""
    lines = [
        _line([column.heading for column in grid.columns]),
        "|" + "|".join("---:" if column.is_number else "---" for column in grid.columns) + "|",
        *(_line(row) for row in grid.texts(writer)),
    ]
    return "\n".join([*lines, *(f"\n{escaped(note)}" for note in grid.notes)])


def _line(texts: Sequence[str]) -> str:
    return f"| {' | '.join(escaped(text) for text in texts)} |"


def escaped(text: str) -> str:
    r"""Return a text that Markdown shows as it is.

    >>> escaped("2 | 3 *a*")
    '2 \\| 3 \\*a\\*'
    """
    return re.sub(r"([\\`*_{}\[\]<>|~$#])", r"\\\1", text)
