"""Words that every fault of a file shares: what was found, and which known name comes nearest."""

from collections.abc import Iterable
from datetime import date, time
from reprlib import Repr
from typing import Final

from optimizer.errors import SHOWN_FAULTS, FaultKind, nearest
from optimizer.model.phrase import Phrase

#: Longest piece of a user's text that a message repeats [characters].
SHOWN_CHARACTERS: Final = 60
#: As many names are listed where none comes near.
SHOWN_NAMES: Final = 20


class _Repr(Repr):
    """Shows the beginning of what may be very long or deep, as the files write it."""

    def repr_date(self, value: date | time, level: int) -> str:
        del level
        return value.isoformat()

    repr_datetime = repr_time = repr_date

    def repr_bool(self, value: bool, level: int) -> str:
        del level
        return str(value).lower()


_reprs: Final = _Repr()
_reprs.maxstring = _reprs.maxother = _reprs.maxlong = 4 * SHOWN_CHARACTERS
_reprs.maxlist = _reprs.maxtuple = _reprs.maxdict = SHOWN_NAMES

MISSING, UNKNOWN, TWICE = FaultKind.MISSING, FaultKind.UNKNOWN, FaultKind.TWICE
CONFLICT, FILE, VALUE = FaultKind.CONFLICT, FaultKind.FILE, FaultKind.VALUE

NO_KEY: Final = Phrase("no such key")
NO_COLUMN: Final = Phrase("no such column")
UNKNOWN_KEY: Final = Phrase("an unknown key")
NO_ROW: Final = Phrase("no row below the names")
ONE_ROW: Final = Phrase("at least one row")
NO_TEXT: Final = Phrase("bytes that are no text")


def shown(value: object) -> str:
    """Return a value as messages show it: quoted, and cut where it is long.

    >>> shown("40"), shown(date(2026, 11, 2)), shown([True])
    ("'40'", '2026-11-02', '[true]')
    """
    try:
        return cut(_reprs.repr(value))
    except ValueError:  # Python writes no whole number of so many digits
        return Phrase("a number of thousands of digits")


def cut(text: str, most: int = SHOWN_CHARACTERS) -> str:
    """Return a text as messages show it where it is long."""
    return text if len(text) <= most else text[: most - 1] + "…"


def one_of(what: str, word: str, known: Iterable[str], *, so_far: int = 0) -> Phrase:
    """Return what a name should be, and the known one nearest; all of them where none comes near.

    With more faults ``so_far`` than are shown, the search is spared.

    >>> one_of("a column", "capacity", ["capacity_ah", "price"])
    'a column; nearest known: capacity_ah'
    >>> one_of("a column", "zzz", ["capacity_ah", "price"])
    'a column; known: capacity_ah, price'
    """
    kind = what if isinstance(what, Phrase) else Phrase(what)
    if so_far >= SHOWN_FAULTS:
        return kind
    names = list(known)
    guess = nearest(word, names)
    if guess is not None:
        return Phrase("{what}; nearest known: {guess}", what=kind, guess=cut(guess))
    if names:
        told = [*map(cut, names[:SHOWN_NAMES]), *(["…"] if len(names) > SHOWN_NAMES else [])]
        return Phrase("{what}; known: {names}", what=kind, names=", ".join(told))
    return Phrase("{what}; none is known", what=kind)


def hinted(wanted: Phrase, hint: str | None) -> Phrase:
    """Return what is wanted, and what to do about it where that is known."""
    return Phrase("{wanted}; {hint}", wanted=wanted, hint=hint) if hint else wanted


def at_least(other: str, value: float, unit: str) -> Phrase:
    """Return that a value lies below that of another column."""
    return Phrase("at least {other} ({value} {unit})", other=other, value=f"{value:g}", unit=unit)


def at_most(other: str, value: float, unit: str) -> Phrase:
    """Return that a value lies above that of another column."""
    return Phrase("at most {other} ({value} {unit})", other=other, value=f"{value:g}", unit=unit)
