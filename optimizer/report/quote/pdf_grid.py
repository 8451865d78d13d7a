"""A grid as a table of the PDF: numbers to the right, hairlines, headings repeated, rows whole."""

import itertools
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph, Table, TableStyle

from optimizer.report.grids.grid import Grid, is_heading, raw
from optimizer.report.quote import pdf_style as look
from optimizer.report.quote.pdf_fonts import REGULAR, width_of
from optimizer.report.quote.pdf_style import say, to_right
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
    """Return a grid as a table as wide as the page's text [points].

    ``below`` names columns that stand in small print below another one, in the same cell, and
    ``soft`` those in quiet ink; with ``has_names`` headings are names of what stands below them;
    ``row_high`` is the height of rows to be filled in by hand [points].
    """
    under = below or {}
    shown = [place for place, one in enumerate(grid.columns) if one.key not in under]
    places = {one.key: place for place, one in enumerate(grid.columns)}
    beneath = {places[upper]: places[lower] for lower, upper in under.items()}
    texts = grid.texts(write)
    total = len(texts) - 1 if grid.has_total else None

    def style(row: int, place: int) -> ParagraphStyle:
        if row == total:
            found = look.STRONG_CELL
        elif grid.columns[place].key in soft:
            return look.SMALL_SOFT
        else:
            found = look.SMALL_CELL if is_small else look.CELL
        return to_right(found) if _is_number(grid, row, place) else found

    def cell(row: int, place: int) -> list[Paragraph]:
        lower = texts[row][beneath[place]] if place in beneath else ""
        found = [say(texts[row][place], style(row, place))]
        return [*found, say(lower, look.SMALL_SOFT)] if lower else found

    rows: list[list[Any]] = []
    heads = [grid.columns[place] for place in shown]
    if any(one.heading for one in heads):
        plain, number = look.STRONG_CELL if has_names else look.HEAD, to_right(look.HEAD)
        rows.append([say(one.heading, number if one.is_number else plain) for one in heads])
    first = len(rows)
    extra: Commands = []
    for row, cells in enumerate(grid.rows):
        at = len(rows)
        if is_heading(cells):
            rows.append([say(texts[row][0], look.STRONG_CELL), *[""] * (len(shown) - 1)])
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
        extra += [("LINEABOVE", (0, last), (-1, last), 0.7, look.INK)]
        extra += [("NOSPLIT", (0, max(first, last - 3)), (-1, last))]
    for column, (here, there) in enumerate(itertools.pairwise(heads)):
        if here.is_number and not there.is_number:
            extra.append(("RIGHTPADDING", (column, 0), (column, -1), _WIDE_GAP))
    table = Table(
        rows,
        colWidths=_widths(grid, texts, shown, beneath, width, style=style),
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
        ("FONT", (0, 0), (-1, -1), REGULAR, look.SIZE),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-2, -1), _GAP),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1.6 if is_small else 2.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.2 if is_small else 3.2),
        ("LINEBELOW", (0, first), (-1, -1), 0.5, look.RULE),
    ]
    if first:
        style.append(("VALIGN", (0, 0), (-1, 0), "BOTTOM"))
        style.append(("LINEBELOW", (0, 0), (-1, 0), 0.7, look.INK))
    return style


def _is_number(grid: Grid, row: int, place: int) -> bool:
    """Tell whether a cell stands to the right: a number in a column of numbers."""
    cell = grid.rows[row][place]
    return grid.columns[place].is_number and not isinstance(raw(cell), str)


def _needed(text: str, style: ParagraphStyle) -> float:
    return width_of(text, style.fontName, style.fontSize)


def _widths(
    grid: Grid,
    texts: Sequence[Sequence[str]],
    shown: Sequence[int],
    beneath: Mapping[int, int],
    width: float,
    *,
    style: Callable[[int, int], ParagraphStyle],
) -> list[float]:
    """Return the columns' widths [points]: numbers whole on one line, words share the rest.

    Words get of the room by how much of them there is, at most what their longest text takes.
    What is left goes to the columns that are to be filled in by hand, else to the widest words.
    """
    least: list[float] = []
    most: list[float] = []
    weights: list[float] = []
    for place in shown:
        column = grid.columns[place]
        cells = [
            (texts[row][place], style(row, place))
            for row, found in enumerate(grid.rows)
            if not is_heading(found) and _is_number(grid, row, place) == column.is_number
        ]
        lower = [text[beneath[place]] for text in texts] if place in beneath else []
        whole = [_needed(*one) for one in cells]
        under = [_needed(text, look.SMALL_SOFT) for text in lower]
        words = [_needed(word, look.HEAD) for word in column.heading.split(" ")]
        words += [_needed(word, how) for text, how in cells for word in text.split(" ")]
        gap = 0.0 if place == shown[-1] else _WIDE_GAP if column.is_number else _GAP
        head = min(_needed(column.heading, look.HEAD), 70.0)
        least.append(max([*words, *(whole if column.is_number else [])]) + gap)
        most.append(max([*whole, *under, head, _NARROWEST]) + gap)
        weights.append(sum([*whole, *under]))
    if width <= sum(least):
        return [one * width / sum(least) for one in least]
    found = least
    for _ in shown:  # a column that is full leaves its share to the others
        spare = width - sum(found)
        sides = list(zip(found, most, weights, strict=True))
        whole_weight = sum(weight for one, high, weight in sides if one < high) or 1.0
        found = [
            min(max(one, high), one + spare * weight / whole_weight) for one, high, weight in sides
        ]
    columns = range(len(shown))
    words_in = [one for one in columns if not grid.columns[shown[one]].is_number] or columns
    blank = [one for one in columns if not any(text[shown[one]].strip() for text in texts)]
    growing = blank or [max(words_in, key=lambda one: most[one])]
    left = (width - sum(found)) / len(growing)
    return [one + left * (place in growing) for place, one in enumerate(found)]
