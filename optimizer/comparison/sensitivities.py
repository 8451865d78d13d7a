"""One at a time: how cost and hours move when one number is otherwise."""

import math
from dataclasses import dataclass, field, replace

from optimizer.answers.questions import asked_hours, not_negative, nothing_carries
from optimizer.answers.stops import longest
from optimizer.comparison.parameters import Parameter, sensitivity_parameters_of
from optimizer.comparison.study import side_of
from optimizer.engine.curve import Search
from optimizer.model.job import Job
from optimizer.model.limits import without_limits
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.result import Result
from optimizer.model.shown import Unbounded, shown


@dataclass(frozen=True, slots=True)
class Setting:
    """The answer at one value of a number.

    ``cost`` is the least for the hours asked, infinite where nothing carries them; ``winner``
    whose it is; ``hours`` the longest that the upfront budget buys, beyond the end of the site's
    curve too, 0 where it buys nothing.
    """

    value: float
    cost: Unbounded
    winner: str | None
    hours: int


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """A number at its low, base and high value."""

    also = ("changes_winner",)

    parameter: Parameter = field(metadata=shown(take=("key", "kind", "family", "unit")))
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


@dataclass(frozen=True, repr=False)
class Sensitivities(Result):
    """All sensitivities, the widest in cost first; ``budget`` is what the hours are bought with."""

    also = ("currency",)

    job: Job = field(metadata=shown(hide=True))
    hours: int
    budget: float
    sensitivities: tuple[Sensitivity, ...]


def sensitivities(
    job: Job,
    hours: int | None = None,
    *,
    budget: float | None = None,
    progress: Progress | None = None,
) -> Sensitivities:
    """Return how the cost of the hours and the hours of a budget move with each number alone.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted: a limit would hide the cost.
    hours : int, optional
        Autonomy to carry [h]; the site's target where left out.
    budget : float, optional
        Upfront money whose hours are followed [currency]; the site's budget, else what the
        cheapest design for the hours costs upfront.
    progress : callable, optional
        Called with numbers done and all numbers.

    Raises
    ------
    NoDesignError
        Nothing carries the hours.
    """
    job, hours = asked_hours(job, hours)
    not_negative("--budget", budget)
    free = without_limits(job)
    cheapest = Search(free).cheapest(hours)
    if cheapest is None:
        raise nothing_carries(free, hours, progress)
    if budget is None:
        budget = job.site.budget if job.site.budget is not None else cheapest.upfront_cost

    def setting(parameter: Parameter, value: float) -> Setting:
        changed = parameter.at(free, value)
        search = Search(changed)
        best, (_, bought) = search.cheapest(hours), longest(search.within(budget))
        return Setting(
            value,
            math.inf if best is None else best.life_cycle_cost,
            None if best is None else side_of(best),
            0 if bought is None else bought.hours,
        )

    parameters = sensitivity_parameters_of(free)
    base = setting(parameters[0], parameters[0].base)
    found = []
    for parameter in one_by_one(parameters, progress):
        low, high = (setting(parameter, value) for value in parameter.doubt)
        found.append(Sensitivity(parameter, low, replace(base, value=parameter.base), high))
    found.sort(key=lambda one: -one.cost_span)
    return Sensitivities(job, hours, budget, tuple(found))
