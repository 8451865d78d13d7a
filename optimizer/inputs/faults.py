"""Words that every fault of a file shares: what was found, and which known name comes nearest."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.errors import nearest

if TYPE_CHECKING:
    from collections.abc import Iterable

#: Longest piece of a user's text that a message repeats [characters].
SHOWN_CHARACTERS = 60


def shown(value: object) -> str:
    """Return a value as messages show it: quoted, and cut where it is long.

    >>> shown("40")
    "'40'"
    """
    words = repr(value)
    return words if len(words) <= SHOWN_CHARACTERS else words[: SHOWN_CHARACTERS - 1] + "…"


def nearest_known(word: str, known: Iterable[str]) -> str:
    """Return "nearest known: …", or the whole list where nothing comes near.

    >>> nearest_known("capacity", ["capacity_ah", "price"])
    'nearest known: capacity_ah'
    >>> nearest_known("zzz", ["capacity_ah", "price"])
    'known: capacity_ah, price'
    """
    names = list(known)
    guess = nearest(word, names)
    if guess is not None:
        return f"nearest known: {guess}"
    return "known: " + ", ".join(names) if names else "none is known"
