"""Whether a file writes decimals with a comma: decided once for the whole file, never per cell."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from optimizer.errors import Fault
from optimizer.inputs.cells import CellError, number
from optimizer.inputs.faults import shown
from optimizer.inputs.tables import Table
from optimizer.model.phrase import Phrase

#: A number, and a unit behind it.
_NUMBER: Final = re.compile(
    r"([+\-−]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?)(?:\s*[^\d\s.,\-/].*)?"
)
_COMMA: Final = re.compile(r"[+\-−]?[0-9]+,[0-9]+")
_POINT: Final = re.compile(r"[+\-−]?[0-9]*\.[0-9]+([eE][+-]?[0-9]+)?")
_THOUSANDS: Final = re.compile(r"[+\-−]?[1-9][0-9]{0,2},[0-9]{3}")


def bare_number(text: str) -> float | None:
    """Return a number without a unit, by whichever mark it writes decimals; None for other text.

    >>> bare_number("12,5"), bare_number("12.5"), bare_number("on request")
    (12.5, 12.5, None)
    """
    plain = text.strip()
    try:
        return number(plain, comma="," in plain and "." not in plain)
    except CellError:
        return None


def with_mark(text: str, *, comma: bool) -> str:
    """Return a number's text, which has a point, as a file writes decimals."""
    return text.replace(".", ",") if comma else text


def either_number(text: str, mark: str) -> Phrase:
    """Return the two numbers that one with a mark before three digits may mean, each written out.

    >>> either_number("1,200", ",")
    '1200 if thousands are meant, 1,2 if decimals are'
    """
    head, tail = text.split(mark)
    return Phrase(
        "{thousands} if thousands are meant, {decimals} if decimals are",
        thousands=head + tail,
        decimals=f"{head}{mark}{tail.rstrip('0') or '0'}",
    )


def has_commas(rows: Iterable[Sequence[str]]) -> bool:
    """Return whether any cell writes its decimals with a comma."""
    return any(_COMMA.fullmatch(cell) for row in rows for cell in row)


def decimal_comma(table: Table, columns: Iterable[str], faults: list[Fault]) -> bool:
    """Return whether the file's decimals are written with a comma.

    The majority decides; the cells of a mixture that are written the other way are then no numbers.
    A fault are cells that can only be guessed at: ``1,200`` in a file that shows nowhere else
    whether its comma parts decimals or thousands.
    """
    cells = list(_numbers(table, columns))
    commas = [cell for cell in cells if _COMMA.fullmatch(cell[2])]
    points = [cell for cell in cells if _POINT.fullmatch(cell[2])]
    if commas and not points and all(_THOUSANDS.fullmatch(cell[2]) for cell in commas):
        row, name, text = commas[0]
        faults.append(table.fault(row, name, shown(text), either_number(text, ",")))
    return len(commas) > len(points)


def _numbers(table: Table, columns: Iterable[str]) -> Iterator[tuple[int, str, str]]:
    for name in columns:
        for row, text in table.column(name):
            if "," in text or "." in text:
                for piece in re.split("[;:]", text):
                    found = _NUMBER.fullmatch(piece.strip())
                    yield row, name, found[1] if found else piece.strip()
