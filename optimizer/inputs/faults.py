"""Words that every fault of a file shares: what was found, and which known name comes nearest."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.errors import FaultKind, nearest
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Iterable

#: Longest piece of a user's text that a message repeats [characters].
SHOWN_CHARACTERS: Final = 60

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

    >>> shown("40")
    "'40'"
    """
    words = repr(value)
    return words if len(words) <= SHOWN_CHARACTERS else words[: SHOWN_CHARACTERS - 1] + "…"


def one_of(what: str, word: str, known: Iterable[str]) -> Phrase:
    """Return what a name should be, and the known one nearest; all of them where none comes near.

    >>> one_of("a column", "capacity", ["capacity_ah", "price"])
    'a column; nearest known: capacity_ah'
    >>> one_of("a column", "zzz", ["capacity_ah", "price"])
    'a column; known: capacity_ah, price'
    """
    names = list(known)
    guess = nearest(word, names)
    kind = what if isinstance(what, Phrase) else Phrase(what)
    if guess is not None:
        return Phrase("{what}; nearest known: {guess}", what=kind, guess=guess)
    if names:
        return Phrase("{what}; known: {names}", what=kind, names=", ".join(names))
    return Phrase("{what}; none is known", what=kind)


def hinted(wanted: str, hint: str) -> str:
    """Return what is wanted, and what to do about it where that is known."""
    return Phrase("{wanted}; {hint}", wanted=wanted, hint=hint) if hint else wanted
