"""Grids on the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from rich.cells import cell_len
from rich.table import Table
from rich.text import Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.report.grids.grid import Grid
    from optimizer.report.words.writer import Writer

#: Characters between columns, and where there is too little room.
_GAPS: Final = (2, 1)
#: A column of text is squeezed to no fewer characters.
_NARROWEST: Final = 6


def table(grid: Grid, writer: Writer, width: int) -> Table:
    """Return a grid as the terminal shows it; texts are never read as markup.

    Parameters
    ----------
    width : int
        Characters of a line. Headings and texts take several lines where they must; numbers
        never, and words only in the last resort.
    """
    rows = grid.texts(writer)
    gap, widths = _widths(grid, rows, width)
    made = Table(
        title=Text(grid.title, "bold") if grid.title else None,
        title_justify="left",
        caption=Text("\n".join(grid.notes), "dim") if grid.notes else None,
        caption_justify="left",
        show_header=any(column.heading for column in grid.columns),
        box=None,
        padding=(0, gap, 0, 0),
        pad_edge=False,
    )
    for column, characters in zip(grid.columns, widths, strict=True):
        made.add_column(
            Text(column.heading),
            justify="right" if column.is_number else "left",
            overflow="fold",
            width=characters,
        )
    for number, row in enumerate(rows, start=1):
        bold = grid.has_total and number == len(rows)
        made.add_row(*(Text(text, "bold" if bold else "") for text in row))
    return made


def _widths(grid: Grid, rows: Sequence[Sequence[str]], width: int) -> tuple[int, list[int]]:
    """Return the gap between the columns, and the width of each."""
    least: list[int] = []
    most: list[int] = []
    for place, column in enumerate(grid.columns):
        texts = [row[place] for row in rows]
        whole = column.is_number or column.is_short
        pieces = texts if whole else [word for text in texts for word in text.split(" ")]
        least.append(_longest([*pieces, *column.heading.split(" ")]))
        most.append(_longest([*texts, column.heading]))
    for gap in _GAPS:
        spare = width - sum(least) - gap * (len(least) - 1)
        if spare >= 0:
            break
    if spare >= 0:
        # first room for the texts, so that rows take one line; then for headings, all or none
        for is_number in (False, True):
            wanted = [
                (wide - narrow) * (column.is_number is is_number)
                for column, wide, narrow in zip(grid.columns, most, least, strict=True)
            ]
            share = min(1.0, spare / max(1, sum(wanted)))
            given = [int(share * more) * (share == 1 or not is_number) for more in wanted]
            least = [narrow + more for narrow, more in zip(least, given, strict=True)]
            spare -= sum(given)
        return gap, least
    texts_at = [place for place, column in enumerate(grid.columns) if not column.is_number]
    while spare < 0 and texts_at:
        widest = max(texts_at, key=least.__getitem__)
        if least[widest] <= _NARROWEST:
            break
        least[widest] -= 1
        spare += 1
    return gap, least


def _longest(texts: Sequence[str]) -> int:
    return max((cell_len(text) for text in texts), default=0)
