"""Grids and sentences as lines of a terminal."""

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import zip_longest
from typing import Final, NamedTuple

from rich.cells import cell_len, chop_cells

from optimizer.report.grids.grid import Grid, raw
from optimizer.report.words.writer import Writer

#: Ways to gain room, one after the other: characters between columns, and whether short texts stay
#: on one line.
_WAYS: Final = ((2, True), (1, True), (1, False))
#: A column is wide enough where none of its texts takes more lines; of alternatives, which are
#: better seen side by side, more.
_MOST_LINES: Final = 3
_MOST_LINES_OF_ALTERNATIVES: Final = 5
#: So wide a column is good for a text of any length [characters].
_MEASURE: Final = 45
#: Where a sentence is broken: at blanks, but for one between a figure and its unit.
WORDS: Final = (r"(?<!\d) | (?!\S{1,3}(?!\S))",)
#: Where another text is broken, best first.
_BREAKS: Final = (r"(?<=·) ", r"(?<=;) ", r"(?<=[,:]) ", *WORDS)
#: A part of a text, such as the name of a model, is not broken if it is no longer [characters].
_PART: Final = 20
#: A longer text is better read below its row than in a narrow column [characters].
_LONG: Final = 16
#: What stands below a row stands in by so many characters, and its next lines by twice as many.
_INDENT: Final = "    "


class Line(NamedTuple):
    """A line of a terminal, and how it is set: bold, dim or plainly."""

    text: str
    style: str = ""


class _Text(NamedTuple):
    """A cell or heading; what is whole is never broken, what is short only for want of room."""

    text: str
    is_whole: bool = False
    is_short: bool = False


class _Layout(NamedTuple):
    """Which columns stand side by side, how wide, and which stand below each row.

    The first long text below needs no name there: it is named once, below the headings.
    """

    gap: int
    widths: dict[int, int]
    below: list[int]
    main: int | None


def table(grid: Grid, writer: Writer, width: int) -> Iterator[Line]:
    """Yield a grid as lines no longer than the terminal is wide.

    Numbers and dates are never broken or left out. Where columns have no room side by side, they
    go below their row as "name: value": the longest texts first, then details, then from the right.
    """
    for text in wrapped(grid.title, width) if grid.title else ():
        yield Line(text, "bold")
    yield from _body(grid, writer, width)
    for note in grid.notes:
        for text in wrapped(note, width, breaks=WORDS):
            yield Line(text, "dim")


def _body(grid: Grid, writer: Writer, width: int) -> Iterator[Line]:
    headings = [_Text(column.heading) for column in grid.columns]
    rows = [
        [
            _Text(text, not isinstance(raw(cell), str), column.is_short)
            for text, cell, column in zip(texts, cells, grid.columns, strict=True)
        ]
        for texts, cells in zip(grid.texts(writer), grid.rows, strict=True)
    ]
    layout = _layout(grid, [headings, *rows], width)
    first, *others = [column.key for column in grid.columns]
    if grid.has_alternatives and layout.below and len(others) > 1:
        half = (len(others) + 1) // 2
        yield from _body(grid.only(first, *others[:half]), writer, width)
        yield Line("")
        yield from _body(grid.only(first, *others[half:]), writer, width)
        return
    if any(one.text for one in headings):
        yield from _beside(grid, headings, layout, "bold", low=True)
        if layout.main is not None:
            named = [one if at == layout.main else _Text("") for at, one in enumerate(headings)]
            yield from _below(grid, named, layout, width, "bold")
    for number, row in enumerate(rows, start=1):
        style = "bold" if grid.has_total and number == len(rows) else ""
        yield from _beside(grid, row, layout, style)
        yield from _below(grid, row, layout, width, style)


def wrapped(text: str, width: int, indent: str = "", breaks: Sequence[str] = _BREAKS) -> list[str]:
    """Return a text in lines, ``indent`` before all but the first; only a longer word is cut.

    What stands between two commas, such as the name of a model, stays together where a line has
    room for it; a sentence, and a text with breaks between `WORDS` alone, fills its lines.

    >>> wrapped("Gull Row, 2 × 1, 24 V; Heath", 12)
    ['Gull Row,', '2 × 1, 24 V;', 'Heath']
    >>> wrapped("A sentence, of 2.5 kWh in parts.", 15)
    ['A sentence, of', '2.5 kWh in', 'parts.']
    """
    room = max(1, width - len(indent))
    if "\n" not in text and cell_len(text) <= room:
        return [text]
    lines: list[str] = []
    for paragraph in text.split("\n"):
        is_first = True
        for piece in _pieces(paragraph, room, breaks):
            if not is_first and cell_len(f"{lines[-1]} {piece}") <= width:
                lines[-1] += f" {piece}"
                continue
            for bit in chop_cells(piece, room) or [""]:
                lines.append((indent if lines else "") + bit)
            is_first = False
    return lines


def _pieces(text: str, width: int, breaks: Sequence[str] = _BREAKS) -> Iterator[str]:
    """Yield what stays together of a text: the largest parts that a line has room for."""
    if cell_len(text) <= width or not breaks:
        yield text
    elif text.endswith("."):
        yield from re.split(*WORDS, text)
    else:
        for part in re.split(breaks[0], text):
            yield from _pieces(part, width, breaks[1:])


def _layout(grid: Grid, rows: Sequence[Sequence[_Text]], width: int) -> _Layout:
    columns = list(zip(*rows, strict=True))
    most = [_longest(one.text for one in column) for column in columns]
    lines = _MOST_LINES_OF_ALTERNATIVES if grid.has_alternatives else _MOST_LINES
    long = {
        at
        for at, column in enumerate(grid.columns)
        if most[at] > _LONG and not column.is_number and not column.is_short
    }
    going = sorted(
        range(1, len(columns)),
        key=lambda at: (most[at] if at in long else 0, grid.columns[at].is_detail, at),
    )
    beside = list(range(len(columns)))
    least_of = cache(lambda at, keeps_short: _least(columns[at], lines, keeps_short=keeps_short))
    while True:
        below = [at for at in range(len(columns)) if at not in beside]
        main = next((at for at in below if at in long), None)
        for gap, keeps_short in _WAYS:
            least = {at: least_of(at, keeps_short) for at in beside}
            spare = width - sum(least.values()) - gap * (len(beside) - 1)
            if spare >= 0:
                return _Layout(gap, _widened(grid, least, most, spare), below, main)
        if not going:
            return _Layout(gap, {0: width}, below, main)
        beside.remove(going.pop())


def _widened(grid: Grid, least: dict[int, int], most: Sequence[int], spare: int) -> dict[int, int]:
    """Give away the room that is left: to texts, so that rows take one line; then to headings."""
    for is_number in (False, True):
        wanted = {
            at: (most[at] - narrow) * (grid.columns[at].is_number is is_number)
            for at, narrow in least.items()
        }
        if is_number and sum(wanted.values()) > spare:
            break  # headings all or none
        for at, more in sorted(wanted.items(), key=lambda one: one[1]):  # little makes most whole
            given = min(more, spare)
            least[at] += given
            spare -= given
    return least


def _least(column: Sequence[_Text], lines: int, *, keeps_short: bool) -> int:
    """Return the width at which nothing whole is broken and no text takes too many lines."""
    heading, *cells = column
    broken: list[str] = []
    pieces = heading.text.split(" ")
    for one in cells:
        if one.is_whole or (one.is_short and keeps_short):
            pieces.append(one.text)
        else:
            broken.append(one.text)
            pieces += _pieces(one.text, _PART)
    width = _longest(pieces)
    while width < _MEASURE and any(len(wrapped(text, width)) > lines for text in broken):
        width += 1
    return width


def _beside(
    grid: Grid, row: Sequence[_Text], layout: _Layout, style: str, *, low: bool = False
) -> Iterator[Line]:
    """Yield the lines of what stands side by side; ``low`` sets short cells to the last line."""
    cells = [wrapped(row[at].text, width) for at, width in layout.widths.items()]
    if low:
        most = max(len(cell) for cell in cells)
        cells = [[""] * (most - len(cell)) + cell for cell in cells]
    for texts in zip_longest(*cells, fillvalue=""):
        pieces = []
        for (at, width), text in zip(layout.widths.items(), texts, strict=True):
            room = " " * (width - cell_len(text))
            pieces.append(room + text if grid.columns[at].is_number else text + room)
        yield Line((" " * layout.gap).join(pieces).rstrip(" "), style)


def _below(
    grid: Grid, row: Sequence[_Text], layout: _Layout, width: int, style: str
) -> Iterator[Line]:
    """Yield the lines of what stands below a row: long texts by themselves, the rest together."""
    together: list[str] = []
    alone: list[str] = []
    for at in layout.below:
        heading, text = grid.columns[at].heading, row[at].text
        if text:
            # a short text says too little of what it is of, wherever its heading stands
            is_clear = at == layout.main and (cell_len(text) > _LONG or text == heading)
            told = text if is_clear or not heading else f"{heading}: {text}"
            (alone if is_clear or cell_len(told) > width // 2 else together).append(told)
    for told in [*alone, " · ".join(together)]:
        for text in wrapped(told, width - len(_INDENT), _INDENT) if told else ():
            yield Line(_INDENT + text, style)


def _longest(texts: Iterable[str]) -> int:
    return max((cell_len(text) for text in texts), default=0)
