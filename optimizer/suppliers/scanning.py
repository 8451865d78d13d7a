"""A cell of a supplier's list → its numbers, and the words that stand beside them."""

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Final, Literal

from optimizer.inputs.cells import CellError
from optimizer.model.phrase import Phrase

_SPACES: Final = " \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}'’"
#: A number with its thousands marks, not one that belongs to a word such as C20 or mm2.
NUMBER: Final = (
    rf"(?<![^\W_])[-+−]?[0-9]{{1,3}}(?:[{_SPACES}][0-9]{{3}})+(?![0-9])(?:[.,][0-9]+)?"
    r"|(?<![^\W_])[-+−]?[0-9][0-9.,]*"
)
_TOKEN: Final = re.compile(
    rf"""(?P<rate>(?<![^\W_])C[ ]?/?[ ]?[0-9]{{1,3}}(?![0-9.,]*[^\W\d]|[0-9]))
    |(?P<number>{NUMBER})
    |(?P<word>[^\W\d_]{{0,3}}[$¢-¥฿₠-⃀]
        |°[CFK]
        |[^\W\d_][\w²³]*
        |\S)""",
    re.VERBOSE,
)
#: Marks that say nothing by themselves. A star is none of them: it points to a footnote.
_SILENT: Final = frozenset("()[]{},;:/|.-–—=_'’")
#: What parts the numbers of one measure: 330 x 172 x 218 mm.
_TIMES: Final = frozenset({"x", "×"})
_COMMA_SURE: Final = re.compile(r"[0-9],[0-9]{1,2}$|\.[0-9]{3},")
_POINT_SURE: Final = re.compile(r"[0-9]\.[0-9]{1,2}$|,[0-9]{3}\.")
_EITHER: Final = re.compile(r"^[-+−]?[0-9]{1,3}[.,][0-9]{3}$")
_GROUP: Final = 3
#: A longer cell is a text and holds no number [characters].
LONGEST: Final = 1000


@dataclass(frozen=True, slots=True)
class Scan:
    """What stands in a cell: numbers as written, hours after a C, and words.

    ``words`` are all of them in order; ``after`` holds for each number the words up to the next.
    """

    numbers: tuple[str, ...]
    rates: tuple[str, ...]
    words: tuple[str, ...]
    after: tuple[tuple[str, ...], ...]


@lru_cache(maxsize=4096)  # a cell is looked at for its rate, its unit, its words; headings by row
def scan(text: str) -> Scan:
    """Return what stands in a cell.

    >>> found = scan("ab 1.899,00 € / Paar")
    >>> found.numbers, found.words, found.after
    (('1.899,00',), ('ab', '€', 'Paar'), (('€', 'Paar'),))
    >>> scan("70 Ah (C20)").rates, scan("330 x 172 x 218 mm").after[0]
    (('20',), ('mm',))
    """
    if len(text) > LONGEST:
        return Scan((), (), (), ())
    numbers: list[str] = []
    rates: list[str] = []
    words: list[str] = []
    after: list[list[str]] = []
    for found in _TOKEN.finditer(text):
        piece = found[0]
        if found["number"]:
            numbers.append(piece)
            after.append([])
        elif found["rate"]:
            rates.append(piece.lstrip("C /"))
        elif piece not in _SILENT:
            if after:
                after[-1].append(piece)
            words.append(piece)
    measure = [set(one) <= _TIMES and bool(one) for one in after[:-1]]
    if measure and all(measure):  # the unit behind the last is the unit of all
        after = [after[-1] for _ in after]
        words = [word for word in words if word not in _TIMES]
    return Scan(tuple(numbers), tuple(rates), tuple(words), tuple(map(tuple, after)))


def decimals_of(number: str) -> Literal["comma", "point", "either", ""]:
    """Return by which mark a number shows its decimals, if it does.

    >>> decimals_of("12,5"), decimals_of("1,234.5"), decimals_of("1.234"), decimals_of("1234")
    ('comma', 'point', 'either', '')
    """
    plain = _packed(number).rstrip(".,")
    if _COMMA_SURE.search(plain):
        return "comma"
    if _POINT_SURE.search(plain):
        return "point"
    return "either" if _EITHER.search(plain) else ""


def _packed(text: str) -> str:
    return text.translate(str.maketrans("", "", _SPACES)).replace("−", "-")


def value_of(text: str, comma: bool) -> Decimal:
    """Return a number as written, thousands marks left aside.

    >>> value_of("1'234.50", comma=False), value_of("12,", comma=True)
    (Decimal('1234.50'), Decimal('12.0'))
    """
    token = _packed(text).rstrip(".,")
    thousands, mark = (".", ",") if comma else (",", ".")
    whole, _, rest = token.partition(mark)
    groups = whole.lstrip("+-").split(thousands)
    fits = len(groups) == 1 or (
        1 <= len(groups[0]) <= _GROUP and all(len(group) == _GROUP for group in groups[1:])
    )
    if not fits or not all(group.isdigit() for group in groups) or (rest and not rest.isdigit()):
        if _POINT_SURE.search(token) if comma else _COMMA_SURE.search(token):
            raise CellError(
                Phrase('decimals with a comma, as in the rest of the list, or decimals = "mixed"')
                if comma
                else Phrase(
                    'decimals with a point, as in the rest of the list, or decimals = "mixed"'
                )
            )
        raise CellError
    sign = "-" if whole.startswith("-") else ""
    return Decimal(f"{sign}{''.join(groups)}.{rest or 0}")
