"""Which rows and which piece of a cell a mapping means, told by words and stars.

A star stands for any text, ``#`` for the piece that is taken. Nothing here looks twice at a text,
so that no list and no mapping can make the reading slow.
"""

import re
from typing import Final

from optimizer.suppliers.scanning import LONGEST, NUMBER

#: Pieces by their place among a cell's numbers.
PLACES: Final = {"first": 0, "second": 1, "third": 2}
MARK: Final = "#"
_STAR: Final = "*"


def plain(text: str) -> str:
    """Return a text with plain single spaces."""
    return " ".join(text.split())


def says(text: str, word: str) -> bool:
    """Tell whether a cell says a word of a filter, letters' case aside.

    >>> says("AGM block", "agm*"), says("Block (demo)", "*demo*"), says("AGM block", "agm")
    (True, True, False)
    """
    cell, wanted = plain(text).casefold(), plain(word).casefold()
    pieces = wanted.split(_STAR)
    if len(pieces) == 1:
        return cell == wanted
    if not cell.startswith(pieces[0]):
        return False
    place = len(pieces[0])
    for piece in pieces[1:-1]:
        found = cell.find(piece, place)
        if found < 0:
            return False
        place = found + len(piece)
    return len(cell) >= place + len(pieces[-1]) and cell.endswith(pieces[-1])


def is_template(template: str) -> bool:
    """Tell whether a text is a template: with one mark, no star beside it within a word of text."""
    return template.count(MARK) == 1


def taken(text: str, template: str, *, numeric: bool) -> str | None:
    """Return the piece of a cell that a template marks, or None where it does not fit.

    >>> taken("330 x 172 x 218 mm", "* x # x *", numeric=True)
    '172'
    >>> taken("Petrel 12 AGM (GT-2212)", "# (*", numeric=False)
    'Petrel 12 AGM'
    """
    if len(text) > LONGEST:
        return None
    cell = plain(text)
    before, _, after = plain(template).partition(MARK)
    for start, end in _places(cell, before, after, numeric=numeric):
        if _fits(cell[:start], before) and _fits(cell[end:], after):
            return cell[start:end].strip() or None
    return None


def _places(cell: str, before: str, after: str, *, numeric: bool) -> list[tuple[int, int]]:
    """Return where the piece may stand."""
    if numeric:
        return [found.span() for found in re.finditer(NUMBER, cell, re.VERBOSE)]
    head, tail = before.rpartition(_STAR)[2], after.partition(_STAR)[0]
    start = len(head) if _STAR not in before else cell.find(head) + len(head)
    if not after:
        return [(start, len(cell))]
    end = cell.find(tail, start + 1) if _STAR in after else len(cell) - len(tail)
    return [(start, end)] if start < end else []


def _fits(text: str, pattern: str) -> bool:
    return says(text, pattern) if pattern.strip() else not text.strip()
