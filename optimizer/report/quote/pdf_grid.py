"""A grid as a table of the PDF: numbers to the right, hairlines, headings repeated, rows whole."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any, Final

from reportlab.platypus import Paragraph, Table, TableStyle

from optimizer.report.grids.grid import Grid, is_heading, raw
from optimizer.report.quote.pdf_fonts import REGULAR, width_of
from optimizer.report.quote.pdf_style import (
    CELL,
    HEAD,
    HEAD_NUMBER,
    INK,
    NUMBER,
    RULE,
    SIZE,
    SMALL_CELL,
    SMALL_NUMBER,
    SMALL_SOFT,
    STRONG_CELL,
    STRONG_NUMBER,
    say,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from reportlab.lib.styles import ParagraphStyle

    from optimizer.report.words.writer import Writer

#: Between two columns, and more before words that follow a number [points].
_GAP, _WIDE_GAP = 7.0, 14.0
#: No column of words is narrower [points].
_NARROWEST: Final = 36.0

Commands = list[tuple[Any, ...]]


def pdf_table(
    grid: Grid,
    write: Writer,
    width: float,
    *,
    is_small: bool = False,
    below: Mapping[str, str] | None = None,
    soft: frozenset[str] = frozenset(),
    has_names: bool = False,
    row_high: float | None = None,
) -> Table:
    """Return a grid as a table of the page.

    Parameters
    ----------
    grid : Grid
        What is shown; a row that holds a text alone is a heading of those below it.
    write : Writer
        Of the quote's currency and locale.
    width : float
        Of the page's text [points].
    is_small : bool
        Small print, for tables of many columns.
    below : mapping of str to str
        Columns that stand in small print below another one, in the same cell.
    soft : frozenset of str
        Columns in quiet ink.
    has_names : bool
        Headings are names of what stands below them.
    row_high : float, optional
        Of rows to be filled in by hand [points].
    """
    under = below or {}
    shown = [place for place, one in enumerate(grid.columns) if one.key not in under]
    places = {one.key: place for place, one in enumerate(grid.columns)}
    beneath = {places[upper]: places[lower] for lower, upper in under.items()}
    texts = grid.texts(write)
    strong = {len(texts) - 1} if grid.has_total else set()

    def style(row: int, place: int) -> ParagraphStyle:
        is_number = _is_number(grid, row, place)
        if row in strong:
            return STRONG_NUMBER if is_number else STRONG_CELL
        if grid.columns[place].key in soft:
            return SMALL_SOFT
        if is_small:
            return SMALL_NUMBER if is_number else SMALL_CELL
        return NUMBER if is_number else CELL

    def cell(row: int, place: int) -> list[Paragraph]:
        lower = texts[row][beneath[place]] if place in beneath else ""
        found = [say(texts[row][place], style(row, place))]
        return [*found, say(lower, SMALL_SOFT)] if lower else found

    rows: list[list[Any]] = []
    if any(one.heading for one in grid.columns):
        heads = [grid.columns[place] for place in shown]
        plain = STRONG_CELL if has_names else HEAD
        rows.append([say(one.heading, HEAD_NUMBER if one.is_number else plain) for one in heads])
    first = len(rows)
    extra: Commands = []
    for row, cells in enumerate(grid.rows):
        at = len(rows)
        if is_heading(cells):
            rows.append([say(texts[row][0], STRONG_CELL), *[""] * (len(shown) - 1)])
            extra += [
                ("TOPPADDING", (0, at), (-1, at), _GAP),
                ("NOSPLIT", (0, at), (-1, at + 1)),
                ("SPAN", (0, at), (-1, at)),
            ]
        else:
            rows.append([cell(row, place) for place in shown])
            extra += _spans(grid, row, shown, at)
    if grid.has_total:
        last = len(rows) - 1
        extra += [("LINEABOVE", (0, last), (-1, last), 0.7, INK)]
        extra += [("NOSPLIT", (0, max(first, last - 3)), (-1, last))]
    for here, there in itertools.pairwise(shown):
        if grid.columns[here].is_number and not grid.columns[there].is_number:
            column = shown.index(here)
            extra.append(("RIGHTPADDING", (column, 0), (column, -1), _WIDE_GAP))
    table = Table(
        rows,
        colWidths=_widths(grid, texts, shown, beneath, width, is_small=is_small),
        rowHeights=row_high and [None] * first + [row_high] * len(grid.rows),
        repeatRows=first,
        style=TableStyle([*_ruled(first, is_small=is_small), *extra]),
        hAlign="LEFT",
    )
    table.spaceAfter = 6
    return table


def _spans(grid: Grid, row: int, shown: Sequence[int], at: int) -> Commands:
    """Return how words in the place of a number reach over the empty cells behind them."""
    commands: Commands = []
    for column, place in enumerate(shown):
        if grid.columns[place].is_number and isinstance(raw(grid.rows[row][place]), str):
            last = column
            while last + 1 < len(shown) and raw(grid.rows[row][shown[last + 1]]) in {None, ""}:
                last += 1
            commands.append(("SPAN", (column, at), (last, at)))
    return commands


def _ruled(first: int, *, is_small: bool) -> Commands:
    """Return a rule below the heading and hairlines between rows."""
    style: Commands = [
        ("FONT", (0, 0), (-1, -1), REGULAR, SIZE),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-2, -1), _GAP),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1.6 if is_small else 2.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.2 if is_small else 3.2),
        ("LINEBELOW", (0, first), (-1, -1), 0.5, RULE),
    ]
    if first:
        style.append(("VALIGN", (0, 0), (-1, 0), "BOTTOM"))
        style.append(("LINEBELOW", (0, 0), (-1, 0), 0.7, INK))
    return style


def _is_number(grid: Grid, row: int, place: int) -> bool:
    """Tell whether a cell stands to the right: a number in a column of numbers."""
    cell = grid.rows[row][place]
    return grid.columns[place].is_number and not isinstance(raw(cell), str)


def _widths(
    grid: Grid,
    texts: Sequence[Sequence[str]],
    shown: Sequence[int],
    beneath: Mapping[int, int],
    width: float,
    *,
    is_small: bool,
) -> list[float]:
    """Return the columns' widths [points]: numbers whole on one line, words share the rest."""
    look = SMALL_CELL if is_small else CELL

    strong = len(texts) - 1 if grid.has_total else None

    def needed(text: str, style: ParagraphStyle) -> float:
        return width_of(text, style.fontName, style.fontSize)

    least, most, weights = [], [], []
    for place in shown:
        column = grid.columns[place]
        cells = [
            texts[row][place]
            for row in range(len(texts))
            if not is_heading(grid.rows[row]) and _is_number(grid, row, place) == column.is_number
        ]
        lower = [text[beneath[place]] for text in texts] if place in beneath else []
        words = [word for text in [column.heading, *cells] for word in text.split(" ")]
        whole = max((needed(text, look) for text in cells), default=0.0)
        if strong is not None and column.is_number:
            whole = max(whole, needed(texts[strong][place], STRONG_NUMBER))
        under = max((needed(text, SMALL_SOFT) for text in lower), default=0.0)
        narrow = max((needed(word, look) for word in words), default=0.0)
        gap = 0.0 if place == shown[-1] else _WIDE_GAP if column.is_number else _GAP
        head = min(needed(column.heading, HEAD), 70.0)
        least.append((max(whole, narrow) if column.is_number else narrow) + gap)
        most.append(max(whole, under, head, _NARROWEST) + gap)
        weights.append(sum(needed(text, look) for text in [*cells, *lower]))
    blank = [
        place
        for place, column in enumerate(shown)
        if texts and not any(text[column].strip() for text in texts)
    ]
    if len(blank) == len(shown):
        return [width / len(shown)] * len(shown)
    for place in blank:  # to be filled in by hand: they take what is left
        most[place] += max(0.0, width - sum(most)) / len(blank)
    if width <= sum(least):
        return [one * width / sum(least) for one in least]
    text = [place for place, column in enumerate(shown) if not grid.columns[column].is_number]
    widest = max(text or range(len(shown)), key=lambda place: most[place])
    most[widest] = max(most[widest], width - sum(most) + most[widest])
    return _shared(least, most, weights, width)


def _shared(
    least: Sequence[float], most: Sequence[float], weights: Sequence[float], width: float
) -> list[float]:
    """Return widths between least and most that fill a page, the rest shared by weight.

    >>> _shared([10, 10], [20, 100], [50, 50], 60)
    [20, 40.0]
    """
    found, growing = list(least), set(range(len(least)))
    while growing and (spare := width - sum(found)) > 1e-6:  # noqa: PLR2004 - rounding
        whole = sum(weights[one] for one in growing)
        share = {one: spare * weights[one] / whole if whole else spare for one in growing}
        full = {one for one in growing if found[one] + share[one] >= most[one]}
        for one in full or growing:
            found[one] = most[one] if full else found[one] + share[one]
        growing -= full or growing
    return found
