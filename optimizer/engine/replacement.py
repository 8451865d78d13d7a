"""When to replace: the cheapest chain of holding periods over a horizon, as a shortest path.

Knows nothing of batteries. Node y is "something is bought at the start of year y", the arc from
one node to a later one is "bought there, kept until here", and a chain from year 0 to the horizon
pays every arc on its way.
"""

from collections.abc import Sequence
from operator import add


def cheapest_chain(arc_costs: Sequence[float], years: int) -> float:
    """Return the least sum of costs over all chains from year 0 to the horizon.

    Parameters
    ----------
    arc_costs : sequence of float
        By start, then by end: (0, 1), (0, 2), …, (0, years), (1, 2), … [currency]; infinite where
        that cannot be.
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
    >>> cheapest_chain([260, 540, 760, 260, 540, 260], 3)
    760.0
    """
    least = [0.0]  # from year y to the horizon, y falling: the list grows at its front
    stop = len(arc_costs)
    for length in range(1, years + 1):
        least.insert(0, min(map(add, arc_costs[stop - length : stop], least)))
        stop -= length
    return float(least[0])
