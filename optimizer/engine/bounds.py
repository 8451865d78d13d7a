"""What cannot be in an optimum, found before a solver is asked; each cut with its proof.

A chain of banks is a path through the years: node y is "a bank is bought at the start of year y",
a period (bank, start, end) is an arc, and the horizon is the end. For one inverter set under one
variant at one autonomy the shortest path is the least cost of any chain, so it bounds every
design with that set from below. From that follow the exact cuts:

1. *A set that another beats in every respect* (voltage, cost, upfront cost, efficiency, idle
   draw, charger): every chain that works behind the one works behind the other for no more, and
   a generator burns no more. Sets in one box with their batteries go with those alone and are
   kept. Sets are compared within a variant: contract and generator cost both the same.
2. *A bank that is not the cheapest for its set and years*: exchanging the bank of one period
   changes no other period, so a design that holds it gets no dearer by the exchange. This holds
   among unvented banks where no vented works are paid, and among all banks where they are; so
   the cheapest of each are kept. Where money is limited at the start, periods from year 0 are
   compared within what is left to spend in either case.
3. *A set at an autonomy whose shortest path costs more than a design already known* that carries
   as long or longer, of whatever variant: no design with it is an optimum.
4. *A period through which even the cheapest path costs more than the least*: a design that holds
   it is a path through it. What is left are the optimum and its equals.
"""

import math
from collections import defaultdict
from collections.abc import Iterator
from copy import copy
from typing import NamedTuple

import numpy as np

from optimizer.engine.candidates import Candidates
from optimizer.engine.groups import Group, make_groups, through, undominated_sets
from optimizer.engine.later_purchases import bank_sums, fuel_sums, swap_sums
from optimizer.engine.money_scale import cost_tolerance
from optimizer.engine.options import Choice, Option, Period
from optimizer.engine.replacement import cheapest_chain
from optimizer.formulas.renewals import banks_in_turn
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.arrays import Bools, Floats, Ints

#: Required energies are lowered by this factor: comparisons stand in favour of the design.
_LENIENT = 1 - RELATIVE_TOLERANCE
#: Limits on money are raised by this one.
GENEROUS = 1 + RELATIVE_TOLERANCE
#: Above every cost there is: a chain that does not exist costs infinity.
_FINITE = 1e300


class _Ask(NamedTuple):
    """What is asked at an autonomy, by set: own cost, energy by year, own upfront cost.

    ``annual_headroom`` is what is left of each later year where these are limited.
    """

    cost: Floats
    needed_wh: Floats
    upfront: Floats
    annual_headroom: Floats | None


class Bounds:
    """Least costs of inverter sets under one variant, which has a number, by shortest paths.

    With ``every_set`` the sets that cut 1 removes are kept; for proving that cut and for second
    opinions.
    """

    def __init__(
        self,
        candidates: Candidates,
        budget: float | None = None,
        *,
        variant: int = 0,
        every_set: bool = False,
    ) -> None:
        self.candidates, self.variant = candidates, variant
        self.budget = math.inf if budget is None else budget * GENEROUS
        self.tolerance = cost_tolerance(candidates.job)
        site = candidates.job.site
        self._years = site.horizon_years
        self._annual_limit = site.later_limit
        self._later = None if site.later_limit is None else bank_sums(candidates)
        self._limited = budget is not None or site.later_limit is not None
        self._asked: dict[int, _Ask] = {}
        self._most: dict[range, Floats] = {}
        self._chains: dict[tuple[bytes, int, int], tuple[float, float]] = {}
        kept = np.arange(len(candidates.sets)) if every_set else self._undominated()
        self.groups = tuple(make_groups(candidates, kept))
        self._among = {number: group.sets for number, group in enumerate(self.groups)}

    def _undominated(self) -> Ints:
        """Return the sets that cut 1 leaves, worked out once for the variants that share them."""
        c = self.candidates
        key = "undominated", c.sets, None if self._later is None else c.variant.generator
        return c.same_banks[0].once(key, lambda: undominated_sets(c))

    def _ask(self, hours: int) -> _Ask:
        if hours not in self._asked:
            c, annual = self.candidates, None
            cost, upfront = c.beside_banks(hours)
            if self._annual_limit is not None:
                annual = self._annual_limit * GENEROUS - swap_sums(c) - fuel_sums(c, hours)
                annual[:, 0] = np.inf
                cost = np.where((annual >= 0).all(axis=1), cost, np.inf)
            needed = c.needed_wh(hours) * _LENIENT
            self._asked[hours] = _Ask(cost, needed, upfront, annual)
        return self._asked[hours]

    def options(self, hours: int, limit: float, known: float = math.inf) -> list[Option]:
        """Return the sets that carry ``hours`` at the least cost, if that is within the limits.

        ``limit`` is what may not be passed; ``known`` the cost of a design that carries as long,
        which equal costs may reach. Sets are taken in the order of a lower bound; once it exceeds
        what is known, no later set is worked out, and no bank is looked at through which even the
        cheapest chain costs more: both exact.
        """
        ceiling, now = self._ceiling(limit, known), range(hours, hours + 1)
        found = []
        for bound, number, set_index in sorted(self._bounded(now, ceiling)):
            if bound > ceiling:
                break
            cost = self._cost_alone(number, set_index, now, ceiling)
            if cost <= ceiling:
                found.append(Option(hours, self.variant, set_index, cost))
                ceiling = min(ceiling, cost + self.tolerance)
        return [option for option in found if option.cost <= ceiling]

    def narrowed(self, hours: range, limit: float, known: float = math.inf) -> "Bounds | None":
        """Return the bounds of the sets that may carry some of ``hours`` for what is known.

        None where no set is left. Each is bounded at the mildest of the hours; where these rise,
        each by itself: longer hours rarely cost less, so few are left then, else nearly all.
        """
        rules = self.candidates.variant.rules
        first, last = sorted((hours[0], hours[-1]))
        span = range(first if rules is None else max(first, rules.night_hours + 1), last + 1)
        if not span:
            return None
        ceiling = self._ceiling(limit, known)
        left: defaultdict[int, list[int]] = defaultdict(list)
        for bound, number, set_index in self._bounded(span, ceiling):
            if bound <= ceiling and (
                hours.step < 0 or self._cost_alone(number, set_index, span, ceiling) <= ceiling
            ):
                left[number].append(set_index)
        if not left:
            return None
        fewer = copy(self)
        fewer._among = {number: np.array(sets) for number, sets in left.items()}
        return fewer

    def _ceiling(self, limit: float, known: float) -> float:
        return min(limit, known + self.tolerance, _FINITE)

    def _bounded(self, hours: range, ceiling: float) -> Iterator[tuple[float, int, int]]:
        """Yield a bound on the cost of each set of a group, at the mildest of some hours.

        That is its own cost at the shortest, since what stands beside the banks never costs less
        at longer hours, and the cheapest chain that would serve the least demanding of the group.
        """
        own = self._ask(hours[0]).cost
        for number, sets in self._among.items():
            costs, group = own[sets], self.groups[number]
            rest = ceiling - float(costs.min())
            if rest >= group.least_through.min():
                chain = self._least_chain(group, hours, sets, rest)
                if chain <= rest:
                    for cost, set_index in zip(costs.tolist(), sets.tolist(), strict=True):
                        yield cost + chain, number, set_index

    def _cost_alone(self, number: int, set_index: int, hours: range, ceiling: float) -> float:
        """Return the cost of a set with the cheapest chain behind it, the mildest hours counted."""
        own = float(self._ask(hours[0]).cost[set_index])
        alone = np.array([set_index])
        return own + self._least_chain(self.groups[number], hours, alone, ceiling - own)

    def _least_chain(self, group: Group, hours: range, sets: Ints, rest: float) -> float:
        """Return the cost of the cheapest chain behind the mildest of ``sets`` and ``hours``.

        Exact up to ``rest``, above it any figure beyond. Beside a generator the bank carries the
        same night at every autonomy, so what was found stands unless money is limited.
        """
        first, last = (
            one if self._limited else self.candidates.variant.carried_hours(one)
            for one in (hours[0], hours[-1])
        )
        key = (sets.tobytes(), first, last)
        if key in self._chains:
            cost, exact_to = self._chains[key]
            if cost <= exact_to or rest <= exact_to:
                return cost
        rows = self._rows(group, sets)
        rows, served = self._serving(group, rows[group.least_through[rows] <= rest], sets, hours)
        headroom = math.inf
        if self.budget < math.inf:
            headroom = self.budget - min(self._ask(one).upfront[sets].min() for one in hours)
        cost = min(
            (
                works + cheapest_chain(within.min(axis=0).tolist(), self._years)
                for works, _, within in self._affordable(group, rows, served, headroom)
            ),
            default=math.inf,
        )
        self._chains[key] = cost, rest
        return cost

    def _rows(self, group: Group, sets: Ints) -> Ints:
        """Return the places of the banks that fit the only one of ``sets``, or any of several."""
        if len(sets) > 1:
            return np.arange(len(group.banks))
        return group.rows_of_set[int(np.flatnonzero(group.sets == sets[0])[0])]

    def _most_wh(self, hours: range) -> Floats:
        """Return the most that each bank gives when new at any of some hours [Wh]."""
        if hours not in self._most:
            self._most[hours] = np.max([self.candidates.usable_wh(one) for one in hours], axis=0)
        return self._most[hours]

    def _serving(self, group: Group, rows: Ints, sets: Ints, hours: range) -> tuple[Ints, Floats]:
        """Return the rows that hold enough in some year, and their periods' costs behind a set.

        The first year is the best of any, and every period has one. A cost is infinite where a
        requirement is not met. Of several sets or hours each is taken at its mildest by itself.

        A requirement holds in every year of a period: in its last year, and throughout the
        shorter periods from the same start. Where the load does not shrink and no bank is
        renewed, the last year is the hardest and speaks for all.
        """
        c = self.candidates
        needed = self._ask(hours[0]).needed_wh[sets].min(axis=0)  # never falls with the hours
        health = c.kept_health(float(c.sets.efficiency[sets].max()))
        banks = group.banks[rows]
        usable = self._most_wh(hours)[banks]
        strong = usable * health[banks, 0] >= needed.min()
        rows, banks, usable = rows[strong], banks[strong], usable[strong]
        met = usable[:, None] * health[banks] >= needed[c.period_end - 1]
        every_year = group.renewed[rows]
        if self._later is not None:
            asked = (self._ask(one).annual_headroom for one in hours)
            annual = np.max([one[sets].max(axis=0) for one in asked if one is not None], axis=0)
            met &= self._later[banks] <= annual[c.period_end - 1]
            every_year = np.ones(len(rows), dtype=bool)
        if every_year.any():
            whole = met[every_year]
            for bought in c.bought_in:
                np.logical_and.accumulate(whole[:, bought], axis=1, out=whole[:, bought])
            met[every_year] = whole
        return rows, np.where(met, group.cost[rows], np.inf)

    def _affordable(
        self, group: Group, rows: Ints, cost: Floats, headroom: float
    ) -> Iterator[tuple[float, Ints, Floats]]:
        """Yield the two ways to a chain: the works paid for, the places of ``rows``, their costs.

        Either no bank is vented, or the works for it are paid and any bank may be.
        """
        upfront, unvented = group.upfront[rows], np.flatnonzero(~group.vented[rows])
        ways = [(0.0, unvented)] if unvented.size else []
        if unvented.size < len(rows):
            ways.append((self.candidates.vented_works, np.arange(len(rows))))
        for works, places in ways:
            within = cost[places]
            beyond = upfront[places] > headroom - works
            if beyond.any():
                within[beyond, self.candidates.bought_in[0]] = np.inf
            yield works, places, within

    def choice(
        self,
        option: Option,
        *,
        limit: float = math.inf,
        every_bank: bool = False,
        sets: Ints | None = None,
        hours: range | None = None,
    ) -> Choice:
        """Return an option with the columns of the program behind it.

        Periods are left out through which even the cheapest chain costs more than ``limit``, what
        stands beside the banks counted (cut 4) [currency]. With ``every_bank`` those that cut 2
        removes are kept; for proving that cut. Of several ``sets`` or ``hours`` each requirement
        and each sum of money is taken at its least by itself: what has no solution then has none
        behind any of the sets at any of the hours.
        """
        group = next(one for one in self.groups if option.set_index in one.sets)
        sets = np.array([option.set_index]) if sets is None else sets
        hours = range(option.hours, option.hours + 1) if hours is None else hours
        c, asks = self.candidates, [self._ask(one) for one in hours]
        own = float(np.min([one.cost[sets].min() for one in asks]))
        upfront = float(np.min([one.upfront[sets].min() for one in asks]))
        rows = self._rows(group, sets)
        near = group.least_through[rows] <= limit - own
        rows, cost = self._serving(group, rows[near], sets, hours)
        keep = np.zeros(cost.shape, dtype=bool)
        for works, places, within in self._affordable(group, rows, cost, self.budget - upfront):
            kept = np.isfinite(within)
            if not every_bank:
                kept &= self._cheapest_of_each(within, group.banks[rows[places]])
            if limit < math.inf:
                kept &= through(c, within) <= limit - own - works
            keep[places] |= kept
        periods = tuple(
            self._period(group, int(rows[row]), int(place), float(cost[row, place]))
            for row, place in zip(*np.nonzero(keep), strict=True)
        )
        beside = c.contract_cost + c.generator_cost
        return Choice(c, option, periods, own - beside, upfront)

    def _period(self, group: Group, row: int, place: int, cost: float) -> Period:
        c, bank = self.candidates, int(group.banks[row])
        start, end = int(c.period_start[place]), int(c.period_end[place])
        bought = int(banks_in_turn(end - start, float(c.service.life_years[bank])))
        return Period(
            bank_index=bank,
            start=start,
            end=end,
            cost=cost,
            upfront=float(group.upfront[row]) if start == 0 else 0.0,
            bought=bought,
            units=bought * int(c.banks.units[bank]),
            vented=bool(group.vented[row]),
        )

    def _cheapest_of_each(self, cost: Floats, banks: Ints) -> Bools:
        """Mark the cheapest bank of each period; of equals the one with fewer units."""
        c = self.candidates
        least = cost.min(axis=0)
        # a whole chain of equals must stay within the tolerance, not each period of it
        tied = cost <= least + self.tolerance / self._years
        life = c.service.life_years[banks][:, None]
        bought = banks_in_turn((c.period_end - c.period_start).astype(float), life)
        units = np.where(tied, bought * c.banks.units[banks][:, None], np.inf)
        order = np.argsort(banks)
        first = order[units[order].argmin(axis=0)]
        marked = np.zeros(cost.shape, dtype=bool)
        marked[first, np.arange(cost.shape[1])] = np.isfinite(least)
        return marked
