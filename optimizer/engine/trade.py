"""Exact enumeration of the non-dominated points of any two-way trade.

Knows nothing of batteries: it asks an oracle again and again, each time with a tighter limit on
the second objective, and so finds every non-dominated point, also those that no weighted sum of
the two objectives reaches.
"""

from collections.abc import Callable, Iterator
from typing import Generic, NamedTuple, TypeVar

from optimizer.errors import InternalError

Solution = TypeVar("Solution")


class TradePoint(NamedTuple, Generic[Solution]):
    """One non-dominated point: two objectives, both to be small, and what reaches them."""

    first: float
    second: float
    solution: Solution


def nondominated(
    best: Callable[[float], TradePoint[Solution] | None],
    *,
    ceiling: float,
    step: float,
) -> Iterator[TradePoint[Solution]]:
    """Yield every non-dominated point once, the first objective rising.

    Parameters
    ----------
    best : callable
        Takes a limit; returns the point with the least first objective among all solutions whose
        second objective is at most the limit, and of those the least second objective; or None
        where there is no solution. It must be exact (proven) for the enumeration to be.
    ceiling : float
        First limit: no solution of interest has a larger second objective.
    step : float
        Positive; two different values of the second objective differ by at least this. 1 where
        the second objective is whole.

    Yields
    ------
    TradePoint
        The first objective rises and the second falls strictly from point to point.

    Raises
    ------
    InternalError
        The oracle broke its contract: a point beyond the limit, or one cheaper than a point
        found under a looser limit.

    Notes
    -----
    The ε-constraint method with lexicographic minima (Y. Y. Haimes et al., IEEE Trans. SMC 1,
    1971; M. Ehrgott, Multicriteria Optimization, 2005, ch. 4): each answer is non-dominated, and
    every non-dominated point is the answer to the limit at its own second objective, which the
    next tighter limit cannot pass over. One call more than there are points.

    Examples
    --------
    >>> options = [(1.0, 9.0), (2.0, 5.0), (2.5, 6.0), (4.0, 1.0)]
    >>> def least(limit):
    ...     within = [option for option in options if option[1] <= limit]
    ...     return TradePoint(*min(within), None) if within else None
    >>> [(point.first, point.second) for point in nondominated(least, ceiling=9, step=1)]
    [(1.0, 9.0), (2.0, 5.0), (4.0, 1.0)]
    """
    limit, last = ceiling, float("-inf")
    while (point := best(limit)) is not None:
        if point.second > limit or point.first < last:
            raise InternalError(
                f"the oracle answered ({point.first}, {point.second}) to the limit {limit}, "
                f"after a first objective of {last}"
            )
        yield point
        limit, last = point.second - step, point.first
