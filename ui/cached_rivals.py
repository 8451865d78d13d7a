"""Comparisons of the library, kept for the session under the job they were asked of."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, TypeVar

from optimizer import switch_points
from optimizer.comparison.parameters import families_of
from ui import cached

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.comparison.switch_points import SwitchPoints
    from ui.state import State

T = TypeVar("T")
_KIND: Final = "comparisons"


def key_of(state: State, what: str, *details: object) -> str:
    """Return what an answer is kept under: the question, its details, and all of the job."""
    return f"{what} {details} {cached.fingerprint(state.good)}"


def is_kept(state: State, key: str) -> bool:
    """Tell whether an answer stands ready."""
    return key in cached.kept(state, _KIND)


def remembered(state: State, key: str, make: Callable[[], T]) -> T:
    """Return a kept answer, or make and keep it."""
    return cached.remembered(state, key, make, _KIND)


def price_switch_points(state: State, hours: int) -> tuple[SwitchPoints, ...]:
    """Return the switch points along each family's battery price: quick, and asked first."""
    keys = [f"price:{family}" for family in families_of(state.job)]
    return remembered(
        state,
        key_of(state, "price switch points", hours),
        lambda: switch_points(state.job, hours, keys=keys, processes=1).rows,
    )
