"""Grids and sentences on the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

if TYPE_CHECKING:
    from optimizer.report.grids.grid import Grid
    from optimizer.report.words.writer import Writer


def table(grid: Grid, writer: Writer) -> Table:
    """Return a grid as the terminal shows it; texts are never read as markup."""
    made = Table(
        title=Text(grid.title, "bold"),
        title_justify="left",
        caption=Text("\n".join(grid.notes), "dim") if grid.notes else None,
        caption_justify="left",
        show_header=any(column.heading for column in grid.columns),
        box=None,
        pad_edge=False,
    )
    for column in grid.columns:
        made.add_column(
            Text(column.heading),
            justify="right" if column.is_number else "left",
            no_wrap=column.is_number,
            overflow="fold",
        )
    rows = grid.texts(writer)
    for number, row in enumerate(rows, start=1):
        bold = grid.has_total and number == len(rows)
        made.add_row(*(Text(text, "bold" if bold else "") for text in row))
    return made
