"""Grids as Markdown."""

import re
from collections.abc import Callable

from optimizer.report.grids.grid import Grid
from optimizer.report.words.writer import Writer


def escaped(text: str) -> str:
    r"""Return a text that Markdown shows as it is.

    >>> escaped("2 | 3 *a*")
    '2 \\| 3 \\*a\\*'
    """
    return re.sub(r"([\\`*_{}\[\]<>|~$#])", r"\\\1", text)


def table(grid: Grid, writer: Writer, escape: Callable[[str], str] = escaped) -> str:
    """Return a grid as a Markdown table, its notes below."""
    lines = [
        [escape(column.heading) for column in grid.columns],
        ["---:" if column.is_number else "---" for column in grid.columns],
        *([escape(text) for text in row] for row in grid.texts(writer)),
    ]
    made = "\n".join(f"| {' | '.join(line)} |" for line in lines)
    return "\n\n".join([made, *map(escape, grid.notes)])
