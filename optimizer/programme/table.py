"""A programme as arrays: all options of all sites, and the rows that its terms make of them."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from optimizer.engine.price_bound import Limit
from optimizer.engine.selection import Selection, select
from optimizer.formulas.rounding import minor_units
from optimizer.model.arrays import Bools, Floats, Ints
from optimizer.programme.curves import SitePoint, World
from optimizer.programme.survey import Programme
from optimizer.programme.terms import Goal, Terms

#: Rows are met within this share of the smallest unit of money, which buys nothing.
_LENIENT_UNITS = 0.4
#: Figures required are met within this share.
_LENIENT = 1e-9
#: Outages as the sites have them.
_AS_NOW = World()


@dataclass(frozen=True)
class OptionTable:
    """All points that may be chosen under some terms, site by site, none below the least hours."""

    programme: Programme
    terms: Terms

    @cached_property
    def points(self) -> tuple[SitePoint, ...]:
        """The points, those of the first site first."""
        return tuple(point for _, point in self._options)

    @cached_property
    def owner(self) -> Ints:
        """The site of each point, by its place."""
        return np.array([number for number, _ in self._options], np.int64)

    @cached_property
    def _options(self) -> list[tuple[int, SitePoint]]:
        return [
            (number, point)
            for number, one in enumerate(self.programme.candidates)
            for point in one.curve.points
            if point.hours >= self._least[number]
        ]

    @cached_property
    def _least(self) -> list[int]:
        sites = self.programme.candidates
        return [max(one.site.min_hours, self.terms.floor_hours) for one in sites]

    @cached_property
    def must(self) -> Bools:
        """Which sites must get something."""
        return np.array([hours > 0 for hours in self._least])

    @cached_property
    def people(self) -> Floats:
        """Of each site."""
        return np.array([one.site.people for one in self.programme.candidates])

    @cached_property
    def money(self) -> Floats:
        """The upfront cost of each point [currency]."""
        return np.array([point.upfront_cost for point in self.points])

    @property
    def slack(self) -> float:
        """What rows of money are met within [currency]."""
        return _LENIENT_UNITS * 10.0 ** -minor_units(self.programme.currency)

    def gain(self, goal: Goal, world: World = _AS_NOW) -> Floats:
        """Return by how much each point betters a goal's sum over people against nothing."""
        holds = [world.at(one.site.group) for one in self.programme.candidates]
        own = np.array([goal.of(point, holds[number]) for number, point in self._options])
        nothing = self._nothing(goal, world)[self.owner]
        gained: Floats = goal.sign * (own - nothing) * self.people[self.owner]
        return gained

    def _nothing(self, goal: Goal, world: World) -> Floats:
        """Return a goal's figure of each site where nothing is bought."""
        sites = self.programme.candidates
        return np.array([goal.of(one.curve.nothing, world.at(one.site.group)) for one in sites])

    def base(self, goal: Goal, world: World = _AS_NOW) -> float:
        """Return a goal's sum over people where nothing is bought."""
        return math.fsum(self._nothing(goal, world) * self.people)

    def mean(self, goal: Goal, gained: float, world: World = _AS_NOW) -> float:
        """Return a goal's mean over people where a sum of gains is reached."""
        whole = float(self.people.sum())
        return (self.base(goal, world) + goal.sign * gained) / whole if whole else 0.0

    def limits(self, budget: float | None) -> list[Limit]:
        """Return the rows of the terms, money first where there is a budget."""
        found = [] if budget is None else [Limit(self.money, budget + self.slack)]
        for goal, figure in self.terms.required.items():
            found.append(self.at_least(goal, figure))
        found += self._shares()
        found += self._later()
        return found

    def best(self, worth: Floats, limits: Sequence[Limit], *, gap: float = 0.0) -> Selection:
        """Choose the points of the largest worth within some limits, in the time of the terms."""
        seconds = self.terms.limit_seconds
        return select(self.owner, worth, self.must, limits, gap=gap, limit_seconds=seconds)

    def least_money(self) -> Selection:
        """Choose what meets the terms for the least money at the start, whatever the budget."""
        return self.best(-self.money, self.limits(None))

    def at_least(self, goal: Goal, figure: float) -> Limit:
        """Return the row of a figure that must be reached in the mean over people."""
        needed = goal.sign * (figure * float(self.people.sum()) - self.base(goal))
        return Limit(-self.gain(goal), -needed + abs(needed) * _LENIENT)

    def _shares(self) -> Iterator[Limit]:
        """Yield what each group gets at least of the money that is spent."""
        of_site = [one.site.group for one in self.programme.candidates]
        for group in dict.fromkeys(of_site):
            share = self.terms.share_of(group)
            if share > 0:
                own = np.array([of_site[number] == group for number in self.owner])
                yield Limit(self.money * (share - own), 0.0)

    def _later(self) -> Iterator[Limit]:
        years = {year for point in self.points for year, _ in point.bought_later}
        for year in sorted(years):
            most = self.terms.later_in(year)
            if math.isfinite(most):
                bought = [dict(point.bought_later).get(year, 0.0) for point in self.points]
                yield Limit(np.array(bought), most + self.slack)
