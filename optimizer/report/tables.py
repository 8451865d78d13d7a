"""Results as tables for the terminal."""

from __future__ import annotations

from rich.table import Table


def new_table(title: str, *columns: tuple[str, bool]) -> Table:
    """Return an empty table; each column a heading and whether it holds numbers."""
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False)
    for heading, numbers in columns:
        table.add_column(
            heading, justify="right" if numbers else "left", no_wrap=numbers, overflow="fold"
        )
    return table
