"""Pay now or pay later: the exact trade of upfront against life-cycle cost at some hours."""

from dataclasses import dataclass, field
from typing import ClassVar

from optimizer.answers.curve import Point, point_of
from optimizer.answers.questions import asked_hours, nothing_carries, search_for
from optimizer.engine.solver import SolverName
from optimizer.engine.upfront import now_or_later
from optimizer.model.job import Job
from optimizer.model.progress import Progress
from optimizer.model.result import Result
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True, repr=False)
class TradeOff(Result):
    """All designs for some hours that none beats at the start and over the study period.

    ``points``: the upfront cost falls and the life-cycle cost rises from each to the next.
    """

    also: ClassVar[tuple[str, ...]] = ("site", "currency")

    job: Job = field(metadata=shown(hide=True))
    family: str | None
    hours: int
    points: tuple[Point, ...]


def trade_off(
    job: Job,
    hours: int | None = None,
    *,
    family: str | None = None,
    solver: SolverName = "highs",
    progress: Progress | None = None,
) -> TradeOff:
    """Return the exact trade of upfront cost against life-cycle cost for the same hours.

    Parameters
    ----------
    job : Job
        From `load`. Its limits hold.
    hours : int, optional
        Autonomy that each design carries [h]; the site's target where left out.
    family : str, optional
        Only chemistries of this family.
    solver : {"highs", "cbc"}
        Which solver proves the points.
    progress : callable, optional
        Called while looking for what would help, where nothing fits.

    Raises
    ------
    NoDesignError
        Nothing carries these hours.

    Examples
    --------
    >>> from optimizer import load
    >>> first, *_, last = trade_off(load("clinic")).points
    >>> first.life_cycle_cost < last.life_cycle_cost, first.upfront_cost > last.upfront_cost
    (True, True)
    """
    hours = asked_hours(job, hours)
    search = search_for(job, family, None, solver)
    points = tuple(point_of(search.job, design) for design in now_or_later(search, hours))
    if not points:
        raise nothing_carries(job, hours, progress)
    return TradeOff(job, family, hours, points)
