"""The highest "no site below" that a budget carries, and what the next one takes."""

import math
from bisect import bisect_right
from dataclasses import dataclass, replace
from functools import cached_property

from optimizer.engine.solver import Status
from optimizer.errors import NotProvenError
from optimizer.model.shown import Unbounded
from optimizer.programme.survey import Programme
from optimizer.programme.table import OptionTable
from optimizer.programme.terms import Terms


@dataclass(frozen=True, slots=True, kw_only=True)
class HighestFloor:
    """What every site can get for some money.

    Parameters
    ----------
    hours : int
        Autonomy that every site gets or more; 0 where the money does not reach all [h].
    upfront_cost : float
        The least money for that [currency].
    next_hours : int or None
        The next floor that costs more, None where some site holds no longer [h].
    next_upfront_cost : float or None
        The least money for that; null where no money reaches it under the other terms.
    """

    hours: int
    upfront_cost: float
    next_hours: int | None
    next_upfront_cost: Unbounded | None


def highest_floor(
    programme: Programme,
    budget: float,
    terms: Terms | None = None,
    *,
    limit_seconds: float | None = None,
) -> HighestFloor:
    """Return the highest autonomy below which no site need be, for a budget.

    Parameters
    ----------
    programme : Programme
        From `site_curves`.
    budget : float
        Of all sites together at the start [currency].
    terms : Terms, optional
        What else holds; its own floor is left aside.
    limit_seconds : float, optional
        Time for each proof [s].

    Raises
    ------
    NotProvenError
        The time limit came before a proof.

    Notes
    -----
    The least money of a floor rises with it, so the floors at which any site's curve steps are
    searched by halving; each is the same program that allots, its proof included.
    """
    return Floors(programme, replace(terms or Terms(), limit_seconds=limit_seconds)).highest(budget)


@dataclass(frozen=True)
class Floors:
    """The least money of every floor, each worked out once whatever the budgets; see above."""

    programme: Programme
    terms: Terms

    def highest(self, budget: float) -> HighestFloor:
        """Return what `highest_floor` does."""
        slack = OptionTable(self.programme, self.terms).slack
        steps = self._steps
        place = bisect_right(steps, budget + slack, key=self._least)
        held = steps[place - 1] if place else 0
        longer = steps[place] if place < len(steps) else None
        return HighestFloor(
            hours=held,
            upfront_cost=self._least(held) if held else 0.0,
            next_hours=longer,
            next_upfront_cost=None if longer is None else self._least(longer),
        )

    @cached_property
    def _steps(self) -> list[int]:
        """The hours at which any site's curve steps, up to what each site reaches."""
        curves = [one.curve.points for one in self.programme.candidates]
        reach = min(max((one.hours for one in points), default=0) for points in curves)
        return sorted({one.hours for points in curves for one in points if one.hours <= reach})

    @cached_property
    def _known(self) -> dict[int, float]:
        return {}

    def _least(self, floor: int) -> float:
        """Return the least money at which no site is below a floor, infinite where none does."""
        if floor not in self._known:
            asked = replace(self.terms, floor_hours=floor, budget=None)
            found = OptionTable(self.programme, asked).least_money()
            if found.status not in {Status.PROVEN, Status.NONE}:
                raise NotProvenError("the time limit came before the highest floor was proven")
            self._known[floor] = math.inf if found.status is Status.NONE else -found.worth
        return self._known[floor]
