"""Who gets what: one point at most of each site's curve, proven best under the terms."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from optimizer.engine.price_bound import Limit
from optimizer.engine.selection import Selection
from optimizer.engine.solver import Status
from optimizer.errors import InternalError, NoAllotmentError, NotProvenError
from optimizer.model.arrays import Floats
from optimizer.model.job import Job
from optimizer.model.programme import PlannedSite
from optimizer.model.refusal import Eased, Refusal
from optimizer.model.result import Result
from optimizer.model.shown import Unbounded, shown
from optimizer.programme.curves import SitePoint
from optimizer.programme.survey import Programme, site_curves
from optimizer.programme.table import OptionTable
from optimizer.programme.terms import USUAL_LIMIT_S, Goal, Terms

#: Sums of many sites are known to this share of themselves.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """What one site gets; ``point`` is that of a site without equipment where it gets nothing."""

    site: PlannedSite = field(metadata=shown(inline=True))
    point: SitePoint = field(metadata=shown(inline=True))

    @property
    def gets_something(self) -> bool:
        """Whether anything is bought for it."""
        return self.point.hours > 0


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Allotment(Result):
    """Who gets what.

    Parameters
    ----------
    terms : Terms
        What was asked.
    programme : Programme
        Of which sites.
    lines : tuple of Line
        Every site, in the programme's order.
    status : Status
        PROVEN where nothing better is possible, by more than the gap asked for; FOUND where a
        time limit came before.
    gap : float
        How much better any allotment may be, as a share of what is gained, or of the money.
    bound : float
        The goal's figure, or the money, that no allotment betters.
    marginal : float or None
        By how much the goal's mean over people betters with one more unit of money, at the
        margin; None where limits beside the budget stand.
    seconds : float
        Of the solver [s].
    places : tuple of int
        Of what is bought among the options that the terms leave.
    """

    terms: Terms
    programme: Programme = field(metadata=shown(hide=True))
    lines: tuple[Line, ...]
    status: Status
    gap: Unbounded
    bound: Unbounded
    marginal: float | None
    seconds: float = field(metadata=shown(hide=True))
    places: tuple[int, ...] = field(metadata=shown(hide=True))

    @property
    def site(self) -> str:
        """How many sites it is about."""
        return self.programme.site

    @property
    def currency(self) -> str:
        """Of all money, a code of ISO 4217."""
        return self.programme.currency

    @property
    def supposed(self) -> tuple[str, ...]:
        """What is supposed of every site that has such a number, as it was told."""
        return self.programme.supposed

    @property
    def upfront_cost(self) -> float:
        """What all sites cost at the start [currency]."""
        return round(math.fsum(line.point.upfront_cost for line in self.lines), 6)

    @property
    def budget(self) -> float:
        """What may be spent at the start; what is spent where the least money was sought."""
        return self.upfront_cost if self.terms.budget is None else self.terms.budget

    @property
    def equipped(self) -> int:
        """How many sites get something."""
        return sum(line.gets_something for line in self.lines)

    @property
    def people(self) -> float:
        """Served by all sites together."""
        return math.fsum(line.site.people for line in self.lines)

    def job_of(self, line: Line) -> Job:
        """Return a site's job under limits that lead from its hours back to the design it gets."""
        job, later = line.site.job, line.point.bought_later
        assert job is not None  # read from its files
        if self.terms.limits_later:
            job = job.with_site(later_limit=max((amount for _, amount in later), default=0.0))
        return job.with_site(budget=line.point.upfront_cost)

    def mean(self, goal: Goal | None = None) -> float:
        """Return a goal's mean over the people served; the terms' own goal where none is given."""
        return mean(self.lines, goal or self.terms.goal)


def mean(lines: Sequence[Line], goal: Goal) -> float:
    """Return a goal's mean over the people served at some sites."""
    people = math.fsum(line.site.people for line in lines)
    own = math.fsum(goal.of(line.point) * line.site.people for line in lines)
    return own / people if people else 0.0


def allot(
    sites: Programme | str | Path,
    budget: float | None = None,
    *,
    goal: Goal | str = Goal.SHARE,
    required: Mapping[Goal, float] | None = None,
    floor_hours: int = 0,
    group_share: float = 0.0,
    group_shares: Mapping[str, float] | None = None,
    later_limit: float | None = None,
    later_limits: Mapping[int, float] | None = None,
    gap: float = 0.0,
    limit_seconds: float = USUAL_LIMIT_S,
) -> Allotment:
    """Choose what each of many sites gets.

    Parameters
    ----------
    sites : Programme, str or Path
        From `site_curves`, or what it takes.
    budget : float, optional
        Most that all sites together cost at the start [currency]; without one the least money is
        sought that reaches what is required.
    goal : {"share", "hours", "unserved"}
        What is to be best in the mean over the people served: the share of outages ridden
        through, hours of autonomy, or the energy missed in a year.
    required, floor_hours, group_share, group_shares, later_limit, later_limits, gap, limit_seconds
        As `Terms` says.

    Returns
    -------
    Allotment
        Of equals the one that costs least at the start, as far as the time limit proves it.

    Raises
    ------
    InputError
        A number out of range.
    NoAllotmentError
        What must be reached cannot be; it carries the least money that would do, if any does.
    NotProvenError
        The time limit came before any allotment was found.

    Examples
    --------
    >>> from optimizer import load
    >>> home = load("house").with_site(max_hours=4, generator=None)
    >>> sites = [PlannedSite(name=name, people=n, job=home) for name, n in (("a", 2), ("b", 5))]
    >>> answer = allot(site_curves(sites, processes=1), budget=4000)
    >>> [(line.site.name, line.point.hours) for line in answer.lines]
    [('a', 2), ('b', 3)]
    """
    terms = Terms(
        goal=Goal(goal),
        budget=budget,
        required=dict(required or {}),
        floor_hours=floor_hours,
        group_share=group_share,
        group_shares=dict(group_shares or {}),
        later_limit=later_limit,
        later_limits=dict(later_limits or {}),
        gap=gap,
        limit_seconds=limit_seconds,
    )
    if isinstance(sites, str | Path):
        sites = site_curves(sites, later=terms.limits_later)
    return allotted(sites, terms)


def allotted(programme: Programme, terms: Terms) -> Allotment:
    """Choose what each site gets under some terms; `allot` says the rest."""
    found = best_allotment(programme, terms)
    if found is None:
        raise NoAllotmentError(programme.currency, _refusal(OptionTable(programme, terms)))
    return found


def best_allotment(programme: Programme, terms: Terms) -> Allotment | None:
    """Return what each site gets under some terms, None where nothing meets them."""
    terms.check(tuple(dict.fromkeys(one.site.group for one in programme.candidates)))
    table = OptionTable(programme, terms)
    limits = table.limits(terms.budget)
    gain = table.gain(terms.goal)
    found = table.best(-table.money if terms.seeks_least_money else gain, limits, gap=terms.gap)
    if found.status is Status.NONE:
        return None
    if found.status is Status.UNKNOWN:
        raise NotProvenError("the time limit came before any allotment was found")
    if not terms.seeks_least_money and found.status is Status.PROVEN and terms.gap == 0:
        found = _cheapest(table, found, gain, limits)
    _verify(table, found, limits)
    per_person = 0.0 if found.price is None else found.price / float(table.people.sum() or 1)
    bound = -found.bound if terms.seeks_least_money else table.mean(terms.goal, found.bound)
    taken = zip(programme.candidates, found.chosen.tolist(), strict=True)
    return Allotment(
        terms=terms,
        programme=programme,
        lines=tuple(
            Line(site=one.site, point=one.curve.nothing if place < 0 else table.points[place])
            for one, place in taken
        ),
        status=found.status,
        gap=found.gap,
        bound=bound,
        marginal=None if found.price is None or terms.seeks_least_money else per_person,
        seconds=found.seconds,
        places=tuple(found.chosen[found.chosen >= 0].tolist()),
    )


def _cheapest(table: OptionTable, best: Selection, gain: Floats, limits: list[Limit]) -> Selection:
    """Return the cheapest of what is as good as the best, if that is proven in time."""
    reached = Limit(-gain, -(best.worth - abs(best.worth) * _ROUNDING))
    again = table.best(-table.money, [reached, *limits])
    if again.status is not Status.PROVEN:
        return best
    return replace(best, chosen=again.chosen, seconds=best.seconds + again.seconds)


def _verify(table: OptionTable, found: Selection, limits: list[Limit]) -> None:
    """Add up every row again by plain arithmetic; solvers meet rows within a tolerance only."""
    places = found.chosen[found.chosen >= 0]
    if (found.chosen[table.must] < 0).any():
        raise InternalError("a site that must get something gets nothing")
    for limit in limits:
        used = math.fsum(limit.weights[places].tolist())
        size = float(np.abs(limit.weights[places]).sum())
        if used > limit.most + _ROUNDING * max(size, abs(limit.most)):
            raise InternalError(f"a limit of {limit.most} is passed: {used}")


def _refusal(table: OptionTable) -> Refusal:
    """Return why nothing meets the terms: which sites, or how much money, and what makes it so."""
    programme, terms = table.programme, table.terms
    names = [one.site.name for one in programme.candidates]
    must = np.flatnonzero(table.must).tolist()
    told = Refusal(
        budget=terms.budget,
        must=tuple(names[number] for number in must),
        sites=tuple(names[number] for number in must if not (table.owner == number).any()),
    )
    if told.sites:
        return told
    # without a budget the least money was sought, and there is none
    least = None if terms.budget is None else _least_money(table)
    most = math.inf if least is None else least - table.slack
    eased = [(term, _least_money(OptionTable(programme, other))) for term, other in terms.eased()]
    # where nothing at all must be reached any more, that says nothing
    less = tuple(
        Eased(term, money) for term, money in eased if money is not None and 0 < money < most
    )
    return replace(told, least=least, eased=less)


def _least_money(table: OptionTable) -> float | None:
    """Return the least money at the start that meets the terms, None where none is proven to."""
    found = table.least_money()
    return round(-found.worth, 6) if found.status is Status.PROVEN else None
