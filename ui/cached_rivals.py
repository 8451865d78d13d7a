"""Comparisons of the library, kept for the session under the job they were asked of.

They live with the session's other answers but are counted by themselves: looking further must not
push the curve out.
"""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING, Final, TypeVar

from optimizer import NoDesignError, compare, switch_points
from optimizer.comparison.parameters import families_of
from ui.cached import fingerprint

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.comparison.side_by_side import Comparison
    from optimizer.comparison.switch_points import SwitchPoints
    from ui.state import State

T = TypeVar("T")

#: So many comparisons are kept.
_MOST: Final = 20
_PLACE: Final = "rivals"


def kept(state: State) -> OrderedDict[str, object]:
    """Return the session's comparisons by what was asked."""
    found: OrderedDict[str, object] = state.remembered.setdefault(_PLACE, OrderedDict())
    state.remembered.move_to_end(_PLACE)  # the oldest answer is dropped, never all of these
    return found


def key_of(state: State, what: str, *details: object) -> str:
    """Return what an answer is kept under: the question, its details, and all of the job."""
    return f"{what} {details} {fingerprint(state.good)}"


def remembered(state: State, key: str, make: Callable[[], T]) -> T:
    """Return a kept answer, or make and keep it; the oldest goes."""
    answers = kept(state)
    if key not in answers:
        answers[key] = make()
        while len(answers) > _MOST:
            answers.popitem(last=False)
    answers.move_to_end(key)
    found: T = answers[key]  # type: ignore[assignment] # the key names the kind
    return found


def comparison(state: State, hours: int) -> Comparison | None:
    """Return the families side by side, None where none carries the hours."""

    def make() -> Comparison | None:
        try:
            return compare(state.job, hours)
        except NoDesignError:
            return None

    return remembered(state, key_of(state, "compare", hours), make)


def price_switch_points(state: State, hours: int) -> tuple[SwitchPoints, ...]:
    """Return the switch points along each family's battery price: quick, and asked first."""
    keys = [f"price:{family}" for family in families_of(state.job)]
    return remembered(
        state,
        key_of(state, "price switch points", hours),
        lambda: switch_points(state.job, hours, keys=keys),
    )
