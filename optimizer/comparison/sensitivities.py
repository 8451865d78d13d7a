"""One at a time: how cost and hours sensitivity when one number is otherwise."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from optimizer.comparison.parameters import Parameter, sensitivity_parameters_of
from optimizer.comparison.side_by_side import families_of
from optimizer.engine.curve import Search
from optimizer.model.job import Job

if TYPE_CHECKING:
    from collections.abc import Callable


@dataclass(frozen=True, slots=True)
class Setting:
    """The answer at one value of a number.

    ``cost`` is the least for the hours asked, infinite where nothing carries them; ``winner``
    whose it is; ``hours`` the longest that the upfront budget buys, 0 where it buys nothing.
    """

    value: float
    cost: float
    winner: str | None
    hours: int


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """A number at its low, base and high value."""

    parameter: Parameter
    low: Setting
    base: Setting
    high: Setting

    @property
    def cost_span(self) -> float:
        """The largest less the smallest of the three costs; infinite where one carries nothing."""
        costs = [one.cost for one in (self.low, self.base, self.high)]
        return max(costs) - min(costs) if math.isfinite(min(costs)) else math.inf

    @property
    def hours_span(self) -> int:
        """The longest less the shortest of the three autonomies [h]."""
        hours = [one.hours for one in (self.low, self.base, self.high)]
        return max(hours) - min(hours)

    @property
    def changes_winner(self) -> bool:
        """Whether another family wins at one of the ends."""
        return not self.low.winner == self.base.winner == self.high.winner


@dataclass(frozen=True)
class Sensitivities:
    """All sensitivities, the widest in cost first; ``budget`` is what the hours are bought with."""

    job: Job
    hours: int
    budget: float
    sensitivities: tuple[Sensitivity, ...]


def find_sensitivities(
    job: Job,
    hours: int,
    *,
    budget: float | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Sensitivities | None:
    """Return how cost and hours move with each number alone, low and high as `parameters` states.

    Parameters
    ----------
    job : Job
        The site and its price list.
    hours : int
        Autonomy to carry [h].
    budget : float, optional
        Upfront money whose hours are followed [currency]; the site's budget, else what the
        cheapest design for the hours costs at the start.
    progress : callable, optional
        Called with numbers done and all numbers.

    Returns
    -------
    Sensitivities or None
        None where nothing carries the hours today.

    Notes
    -----
    The site's limits of money are lifted while the cost is sought: a limit would hide it.
    """
    free = replace(job, site=replace(job.site, budget=None, lifetime_budget=None))
    families = families_of(free)
    cheapest = Search(free).cheapest(hours)
    if cheapest is None:
        return None
    if budget is None:
        budget = job.site.budget if job.site.budget is not None else cheapest.upfront_cost

    def setting(parameter: Parameter, value: float) -> Setting:
        changed = parameter.at(free, value)
        best, winner = math.inf, None
        for family in families:
            cost = Search(changed, family).least(hours)
            if cost < best:
                best, winner = cost, family
        limited = replace(changed, site=replace(changed.site, budget=budget))
        return Setting(value, best, winner, _longest(Search(limited)))

    parameters = sensitivity_parameters_of(free)
    base = setting(parameters[0], parameters[0].base)
    found = []
    for done, parameter in enumerate(parameters):
        if progress is not None:
            progress(done, len(parameters))
        low, high = (setting(parameter, value) for value in parameter.doubt)
        found.append(Sensitivity(parameter, low, replace(base, value=parameter.base), high))
    found.sort(key=lambda sensitivity: -sensitivity.cost_span)
    return Sensitivities(job, hours, budget, tuple(found))


def _longest(search: Search) -> int:
    """Return the longest hours within the limits [h]; 0 where there are none."""
    down = range(search.job.site.max_hours, 0, -1)
    return next((hours for hours in down if search.bounds.options(hours, search.limit)), 0)
