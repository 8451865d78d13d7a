"""When to replace: the cheapest chain of holding periods over a horizon, as a shortest path.

Knows nothing of batteries. Node y is "something is bought at the start of year y", the arc from
one node to a later one is "bought there, kept until here", and a chain from year 0 to the horizon
pays every arc on its way.
"""

from __future__ import annotations

from operator import add
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


def arcs(cost: Callable[[int, int], float], years: int) -> list[float]:
    """Return the costs of all arcs in the order that the chains below read.

    Parameters
    ----------
    cost : callable
        Takes the years of purchase and of retirement; infinite where that cannot be.
    years : int
        Length of the horizon [a], ≥ 1.

    Returns
    -------
    list of float
        By start, then by end: (0, 1), (0, 2), …, (0, years), (1, 2), …

    Examples
    --------
    >>> arcs(lambda start, end: 10 * start + end, 3)
    [1, 2, 3, 12, 13, 23]
    """
    return [cost(start, end) for start in range(years) for end in range(start + 1, years + 1)]


def cheapest_chain(arc_costs: Sequence[float], years: int) -> float:
    """Return the least sum of costs over all chains from year 0 to the horizon.

    Parameters
    ----------
    arc_costs : sequence of float
        As `arcs` orders them [currency].
    years : int
        Length of the horizon [a], ≥ 1.

    Returns
    -------
    float
        [currency]; infinite where there is no chain.

    Notes
    -----
    R. Bellman, Dynamic Programming (1957): the least cost from year y to the horizon is the least
    over arcs of the arc and the least cost from where it ends.

    Examples
    --------
    >>> cheapest_chain(arcs(lambda start, end: {1: 260, 2: 540, 3: 760}[end - start], 3), 3)
    760.0
    """
    least = [0.0]  # from year y to the horizon, y falling: the list grows at its front
    stop = len(arc_costs)
    for length in range(1, years + 1):
        least.insert(0, min(map(add, arc_costs[stop - length : stop], least)))
        stop -= length
    return float(least[0])


def cheapest_periods(arc_costs: Sequence[float], years: int) -> tuple[tuple[int, int], ...]:
    """Return the holding periods (bought, retired) of a cheapest chain; empty if there is none.

    Of equals the one that keeps the first purchases shortest.

    Examples
    --------
    >>> cheapest_periods(arcs(lambda start, end: [0, 5, 7, 13][end - start], 3), 3)
    ((0, 1), (1, 3))
    """
    least, kept_to = [0.0], [years]
    stop = len(arc_costs)
    for length in range(1, years + 1):
        through = list(map(add, arc_costs[stop - length : stop], least))
        best = min(through)
        kept_to.insert(0, years - length + 1 + through.index(best))
        least.insert(0, best)
        stop -= length
    if least[0] == float("inf"):
        return ()
    periods: list[tuple[int, int]] = []
    while not periods or periods[-1][1] < years:
        bought = periods[-1][1] if periods else 0
        periods.append((bought, kept_to[bought]))
    return tuple(periods)
