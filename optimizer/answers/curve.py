"""The curve of cost against hours, and the trade-off of one cost against the other."""

from dataclasses import dataclass, field, fields, replace
from functools import cached_property, partial
from itertools import groupby
from typing import Literal, TypeAlias

from optimizer.answers.purchases import Purchase, Replacement, purchases, replacements
from optimizer.answers.questions import asked_hours, nothing_carries, search_for
from optimizer.answers.stops import Stop, stop_at
from optimizer.engine import cashflow
from optimizer.engine.cashflow import Payment
from optimizer.engine.curve import Search
from optimizer.engine.solver import SolverName
from optimizer.engine.upfront import least_upfront, now_or_later
from optimizer.engine.variants import Variant
from optimizer.errors import InternalError
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.limits import is_limited
from optimizer.model.progress import Progress, part
from optimizer.model.result import Result
from optimizer.model.shown import shown
from optimizer.simulate import Verdict, verdict

#: What a curve has the least of.
Cost: TypeAlias = Literal["life_cycle_cost", "upfront_cost"]


@dataclass(frozen=True, kw_only=True)
class Point(Design):
    """A proven design with what was worked out about it.

    Parameters
    ----------
    job : Job
        Under which it was found.
    payments : tuple of Payment
        All money over the study period, in the order of time.
    """

    also = ("simulated", "purchases", "replacements")

    job: Job = field(repr=False, compare=False, metadata=shown(hide=True))
    payments: tuple[Payment, ...] = field(metadata=shown(hide=True))

    @cached_property
    def simulated(self) -> Verdict:
        """What the independent simulation finds."""
        return verdict(self.job, self)

    @property
    def verdict(self) -> Verdict:
        """The same of a design that is proven: it holds.

        Raises
        ------
        InternalError
            It finds fewer hours than the program claims.
        """
        found = self.simulated
        if not found.holds:
            raise InternalError(
                f"the program claims {self.hours} h, the simulation finds {found.hours:.4f} h in "
                f"year {found.year + 1}, {found.season}, from {found.start_hour}:00; not "
                "confirmed: " + ", ".join(found.shortfalls)
            )
        return found

    @property
    def purchases(self) -> tuple[Purchase, ...]:
        """Everything bought, by year; the first is the upfront cost."""
        return purchases(self.payments)

    @property
    def next_purchase(self) -> Purchase | None:
        """The first equipment after the start, or None within the study period."""
        return next((one for one in self.purchases if one.year > 0 and one.items), None)

    @property
    def replacements(self) -> tuple[Replacement, ...]:
        """The equipment that is bought again, with its times."""
        return replacements(self.payments)


@dataclass(frozen=True, repr=False)
class Curve(Result):
    """The exact curve of cost against hours of autonomy.

    Parameters
    ----------
    job : Job
        With the limits under which the points were found.
    family : str or None
        The chemistry family of all banks.
    points : tuple of Point
        All non-dominated designs, hours and cost rising; each is proven.
    cost : {"life_cycle_cost", "upfront_cost"}
        Which cost is the least.
    stopped_by : Stop or None
        Why it goes no further, where the site limits money.
    """

    job: Job
    family: str | None
    points: tuple[Point, ...]
    cost: Cost = "life_cycle_cost"
    stopped_by: Stop | None = None

    def at(self, hours: int) -> Point | None:
        """Return the cheapest point that carries ``hours``, or None.

        The curve holds it: no design is cheaper at these hours or longer.
        """
        return next((point for point in self.points if point.hours >= hours), None)

    @property
    def runs(self) -> tuple[tuple[Point, ...], ...]:
        """The points, neighbours together that differ in the fuel stored alone."""
        return tuple(tuple(run) for _, run in groupby(self.points, lambda one: one.equipment))


def frontier(
    job: Job,
    *,
    family: str | None = None,
    max_hours: int | None = None,
    cost: Cost = "life_cycle_cost",
    solver: SolverName = "highs",
    progress: Progress | None = None,
) -> Curve:
    """Return the whole curve of cost against hours.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money hold.
    family : str, optional
        Only chemistries of this family, such as "lead" or "lithium".
    max_hours : int, optional
        Longest autonomy [h], instead of the site's.
    cost : {"life_cycle_cost", "upfront_cost"}
        Which cost is the least for each hour. Of the upfront cost each point has the least
        life-cycle cost beside it, and a limit on the life-cycle cost is lifted.
    solver : {"highs", "cbc"}
        Which solver proves the points.
    progress : callable, optional
        Called with steps done and all steps.

    Returns
    -------
    Curve
        Without points where nothing fits at any hour.

    Raises
    ------
    InputError
        A family that is not in the price list, or hours out of range.

    Examples
    --------
    >>> from optimizer import load
    >>> curve = frontier(load("house"))
    >>> all(point.life_cycle_cost > 0 for point in curve.points)
    True
    """
    search = search_for(job, family, max_hours, solver)
    curve = curve_of(search, progress, cost=cost)
    if not curve.points or not is_limited(job):
        return curve
    return replace(curve, stopped_by=stop_at(search, curve.points[-1].hours))


def by_family(
    job: Job,
    *,
    cost: Cost = "life_cycle_cost",
    progress: Progress | None = None,
) -> tuple[Curve, dict[str, Curve]]:
    """Return the curve over all families and each family's own; `frontier` says the rest.

    The simulation confirms a point when its verdict is asked for, not before.
    """
    families, search = job.catalog.families, Search(job)
    curve, parts = partial(curve_of, cost=cost, simulate=False), len(families) + 1
    overall = curve(search, part(progress, 0, parts))
    return overall, {
        family: curve(
            search.otherwise(family=family), part(progress, number, parts), known=overall.points
        )
        for number, family in enumerate(families, start=1)
    }


def curve_of(
    search: Search,
    progress: Progress | None = None,
    *,
    cost: Cost = "life_cycle_cost",
    known: tuple[Point, ...] = (),
    simulate: bool = True,
) -> Curve:
    """Return the curve of a search; ``known`` are the points over all families.

    With ``simulate`` the simulation confirms each point now.
    """
    if cost == "life_cycle_cost":
        designs = search.points(progress, known)
    else:
        designs = least_upfront(search, progress, known)
    points = (
        design
        if isinstance(design, Point)
        else point_of(search.job, design, search.variant_of(design), simulate=simulate)
        for design in designs
    )
    return Curve(search.job, search.family, tuple(points), cost)


def point_of(
    job: Job, design: Design, variant: Variant | None = None, *, simulate: bool = True
) -> Point:
    """Return a design from the program with its verdict and its payments.

    ``variant`` is the one it stands in, where that is known; ``simulate`` as in `curve_of`.
    """
    own = {one.name: getattr(design, one.name) for one in fields(Design)}
    point = Point(**own, job=job, payments=cashflow.payments(job, design, variant))
    if simulate:
        _ = point.verdict  # worked out and kept
    return point


@dataclass(frozen=True, slots=True, repr=False)
class TradeOff(Result):
    """All designs for some hours that none beats at the start and over the study period.

    ``points``: the upfront cost falls and the life-cycle cost rises from each to the next.
    """

    also = ("site", "currency")

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
    job, hours = asked_hours(job, hours)
    search = search_for(job, family, None, solver)
    points = tuple(point_of(search.job, design) for design in now_or_later(search, hours))
    if not points:
        raise nothing_carries(job, hours, progress)
    return TradeOff(job, family, hours, points)
