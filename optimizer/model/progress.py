"""How long work tells how far it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

T = TypeVar("T")

#: Called with the steps done and all steps.
Progress = Callable[[int, int], None]


def one_by_one(items: Sequence[T], progress: Progress | None) -> Iterator[T]:
    """Yield items, telling before each how many are done."""
    for done, item in enumerate(items):
        if progress is not None:
            progress(done, len(items))
        yield item


def part(progress: Progress | None, number: int, parts: int) -> Progress | None:
    """Return what tells of one of several parts, from 0, that take equally many steps."""
    if progress is None:
        return None
    return lambda done, whole: progress(number * whole + done, parts * whole)
