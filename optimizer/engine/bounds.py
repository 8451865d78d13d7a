"""What cannot be in an optimum, found before a solver is asked; each cut with its proof.

A chain of banks is a path through the years: node y is "a bank is bought at the start of year y",
a span (bank, start, end) is an arc, and the horizon is the end. For one inverter set at one
autonomy the shortest path is the least cost of any chain, so it bounds every design with that
set from below. From that follow the exact cuts:

1. *A set that another beats in every respect* (voltage, cost, upfront cost, efficiency, idle
   draw, charger): every chain that works behind the one works behind the other for no more.
2. *A bank that is not the cheapest for its set and years*: exchanging the bank of one span
   changes no other span, so a design that holds it gets no dearer by the exchange. Vented and
   other banks are kept apart because the first vented one brings works of its own, and where
   money is limited at the start, spans from year 0 are compared within what each can spend.
3. *A set at an autonomy whose shortest path costs more than a design already known* that carries
   as long or longer: no design with it is an optimum.
4. *A span through which even the cheapest path costs more than the least*: a design that holds
   it is a path through it. What is left are the optimum and its equals.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from optimizer.engine.later_purchases import bank_sums, swap_sums
from optimizer.engine.replacement import cheapest_chain
from optimizer.formulas.tolerance import COST_TOLERANCE, RELATIVE_TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.engine.candidates import Candidates

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

#: Required energies are lowered by this factor: comparisons stand in favour of the design.
_LENIENT = 1 - RELATIVE_TOLERANCE

#: Above every cost there is: a chain that does not exist costs infinity.
_FINITE = 1e300


@dataclass(frozen=True, slots=True)
class Option:
    """An inverter set at an autonomy [h], with the least life-cycle cost of any chain behind it."""

    hours: int
    set_index: int
    cost: float


@dataclass(frozen=True, slots=True)
class Span:
    """A bank in service over some years behind an option's set: one column of the program."""

    bank_index: int
    start: int
    end: int
    cost: float
    upfront: float
    units: int
    vented: bool


@dataclass(frozen=True, slots=True)
class _Group:
    """The banks of one voltage, those without gas works first, and the sets of that voltage."""

    sets: Ints
    banks: Ints
    cost: Floats
    health: Floats
    first_health: Floats
    upfront: Floats
    vented: NDArray[np.bool_]
    least_through: Floats
    rows_of_set: tuple[Ints, ...]


class Bounds:
    """Least costs of inverter sets, by shortest paths.

    Parameters
    ----------
    candidates : Candidates
        The columns of a job.
    budget : float, optional
        Limit on the upfront cost [currency].
    every_set : bool
        Keep the sets that cut 1 removes; for proving that cut and for second opinions.
    """

    def __init__(
        self, candidates: Candidates, budget: float | None = None, *, every_set: bool = False
    ) -> None:
        self.candidates = candidates
        self.budget = math.inf if budget is None else budget * (1 + RELATIVE_TOLERANCE)
        site = candidates.job.site
        self._years = site.horizon_years
        self._shrinking = site.load_growth < 0
        self._needed: dict[int, Floats] = {}
        self._later: Floats | None = None
        self._spare: Floats | None = None
        if site.later_limit is not None:
            self._later = bank_sums(candidates)
            self._spare = site.later_limit * (1 + RELATIVE_TOLERANCE) - swap_sums(candidates)
        kept = (
            np.arange(len(candidates.sets))
            if every_set
            else _undominated_sets(candidates, self._spare)
        )
        if self._spare is not None:  # a set whose own swap is beyond the limit serves nobody
            kept = kept[(self._spare[kept] >= 0).all(axis=1)]
        self._groups = tuple(self._make_groups(kept))

    def _make_groups(self, kept: Ints) -> Iterator[_Group]:
        c = self.candidates
        serves = np.isfinite(c.arc_cost).any(axis=1)
        for voltage_v in np.unique(c.sets.voltage_v[kept]):
            sets = kept[c.sets.voltage_v[kept] == voltage_v]
            wired = c.compatible[sets] & serves
            banks = np.flatnonzero(wired.any(axis=0))
            banks = banks[np.argsort(c.banks.vented[banks], kind="stable")]
            if not banks.size:
                continue
            cost = c.arc_cost[banks]
            yield _Group(
                sets=sets,
                banks=banks,
                cost=cost,
                health=c.arc_health[banks],
                first_health=c.arc_health[banks, 0],
                upfront=c.bank_upfront[banks],
                vented=c.banks.vented[banks],
                least_through=self._through(cost).min(axis=1),  # whatever energy is needed
                rows_of_set=tuple(np.flatnonzero(row[banks]) for row in wired),
            )

    def _through(self, cost: Floats) -> Floats:
        """Return for each bank and span the cost of the cheapest chain that holds them."""
        c, years = self.candidates, self._years
        ahead, behind = np.full(years + 1, np.inf), np.full(years + 1, np.inf)
        ahead[years] = behind[0] = 0.0
        cheapest = cost.min(axis=0)
        for year in range(years):
            bought = c.arc_start == year
            ends = c.arc_end[bought]
            behind[ends] = np.minimum(behind[ends], behind[year] + cheapest[bought])
        for year in range(years - 1, -1, -1):
            bought = c.arc_start == year
            ahead[year] = (cheapest[bought] + ahead[c.arc_end[bought]]).min()
        return np.asarray(behind[c.arc_start] + cost + ahead[c.arc_end])

    def options(self, hours: int, limit: float) -> list[Option]:
        """Return the sets that carry ``hours`` at the least cost, if that is within ``limit``.

        Equal costs count as least. Sets are taken in the order of a lower bound: their own cost
        and the cheapest chain that would serve the least demanding set of their voltage. Once
        a bound exceeds what is known, no later set is worked out, and no bank is looked at
        through which even the cheapest chain costs more: both exact.
        """
        c = self.candidates
        ceiling = min(limit + COST_TOLERANCE, _FINITE)
        bounded: list[tuple[float, int, int]] = []
        for number, group in enumerate(self._groups):
            own = c.sets.life_cycle_cost[group.sets]
            needed = self._needed_wh(hours)[group.sets].min(axis=0)
            room = self.budget - float(c.sets.upfront_cost[group.sets].min())
            rows = np.flatnonzero(group.least_through <= ceiling - own.min())
            spare = None if self._spare is None else self._spare[group.sets].max(axis=0)
            relaxed = self._chain(group, rows, hours, needed, room, spare=spare)
            bounded += [(float(cost) + relaxed, number, index) for index, cost in enumerate(own)]
        found = []
        for bound, number, index in sorted(bounded):
            if bound > ceiling:
                break
            group = self._groups[number]
            set_index = int(group.sets[index])
            own_cost = float(c.sets.life_cycle_cost[set_index])
            rows = group.rows_of_set[index]
            rows = rows[group.least_through[rows] <= ceiling - own_cost]
            needed = self._needed_wh(hours)[set_index]
            room = self.budget - float(c.sets.upfront_cost[set_index])
            spare = None if self._spare is None else self._spare[set_index]
            cost = own_cost + self._chain(group, rows, hours, needed, room, spare=spare)
            if cost <= ceiling:
                found.append(Option(hours, set_index, cost))
                ceiling = min(ceiling, cost + COST_TOLERANCE)
        return [option for option in found if option.cost <= ceiling]

    def spans(
        self, option: Option, *, limit: float = math.inf, every_bank: bool = False
    ) -> list[Span]:
        """Return the columns of the program for an option.

        Parameters
        ----------
        option : Option
            A set at an autonomy.
        limit : float
            Leave out spans through which even the cheapest chain costs more, the set's own cost
            counted (cut 4) [currency].
        every_bank : bool
            Keep also the banks that cut 2 removes; for proving that cut.
        """
        c = self.candidates
        for group in self._groups:
            if option.set_index in group.sets:
                break
        else:
            return []
        rows = group.rows_of_set[int(np.flatnonzero(group.sets == option.set_index)[0])]
        needed = self._needed_wh(option.hours)[option.set_index]
        spare = None if self._spare is None else self._spare[option.set_index]
        rows, cost = self._serving(group, rows, option.hours, needed, spare)
        room = self.budget - float(c.sets.upfront_cost[option.set_index])
        vented = group.vented[rows]
        within = group.upfront[rows] <= room
        within_with_works = group.upfront[rows] <= room - c.vented_works
        # year 0 has two purses: with the works of a vented bank still to pay, and without
        cost[~(within & (within_with_works | ~vented)), : self._years] = np.inf
        keep = np.isfinite(cost)
        if not every_bank:
            cheapest = np.zeros_like(keep)
            for members in (~vented, vented, ~vented & within_with_works):
                cheapest |= self._cheapest(cost, group.banks[rows], members)
            keep &= cheapest
        if limit < math.inf:
            rest = limit - float(c.sets.life_cycle_cost[option.set_index])
            dry = np.where((within & ~vented)[:, None] | (c.arc_start > 0), cost, np.inf)
            dry[vented] = np.inf
            wet = np.where(within_with_works[:, None] | (c.arc_start > 0), cost, np.inf)
            keep &= (self._through(dry) <= rest) | (self._through(wet) <= rest - c.vented_works)
        picked = zip(*(index.tolist() for index in np.nonzero(keep)), strict=True)
        units = c.banks.units
        return [
            Span(
                bank_index=int(group.banks[rows[row]]),
                start=int(c.arc_start[arc]),
                end=int(c.arc_end[arc]),
                cost=float(cost[row, arc]),
                upfront=float(group.upfront[rows[row]]) if c.arc_start[arc] == 0 else 0.0,
                units=int(units[group.banks[rows[row]]]),
                vented=bool(vented[row]),
            )
            for row, arc in picked
        ]

    def _cheapest(self, cost: Floats, banks: Ints, members: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Mark the cheapest of ``members`` for each span; of equals the one with fewer units."""
        marked = np.zeros(cost.shape, dtype=bool)
        if members.any():
            within = np.where(members[:, None], cost, np.inf)
            least = within.min(axis=0)
            # a whole chain of equals must stay within the tolerance, not each span of it
            tied = within <= least + COST_TOLERANCE / self._years
            units = np.where(tied, self.candidates.banks.units[banks][:, None], np.inf)
            order = np.argsort(banks)
            first = order[units[order].argmin(axis=0)]
            marked[first, np.arange(cost.shape[1])] = np.isfinite(least)
        return marked

    def _needed_wh(self, hours: int) -> Floats:
        if hours not in self._needed:
            self._needed[hours] = self.candidates.needed_wh(hours) * _LENIENT
        return self._needed[hours]

    def _serving(
        self, group: _Group, rows: Ints, hours: int, needed: Floats, spare: Floats | None = None
    ) -> tuple[Ints, Floats]:
        """Return the rows that serve some year, and the cost of their spans, infinite if not met.

        A bank's energy falls in a straight line with age and the load grows or shrinks by a
        constant factor, a convex curve: where the line stands above the curve in the first and
        in the last year of a span it does so in every year between. A growing load makes the
        last year enough.

        ``spare`` is what a bank bought in each year may cost, where later years are limited:
        the limit less the set's own swap. Which pairs of set and span keep to it is settled
        here, so that it needs no row in the program (see `optimizer.engine.later_purchases`).
        """
        c = self.candidates
        usable = c.usable_wh(hours)[group.banks[rows]]
        enough = usable * group.first_health[rows] >= needed.min()
        rows, usable = rows[enough], usable[enough]
        met = usable[:, None] * group.health[rows] >= needed[c.arc_end - 1]
        if self._shrinking:
            first = usable * group.first_health[rows]
            met &= first[:, None] >= needed[c.arc_start]
        if self._later is not None and spare is not None:
            due = self._later[group.banks[rows]][:, c.arc_start]
            met &= (due <= spare[c.arc_start]) | (c.arc_start == 0)
        return rows, np.where(met, group.cost[rows], np.inf)

    def _chain(
        self,
        group: _Group,
        rows: Ints,
        hours: int,
        needed: Floats,
        room: float,
        *,
        spare: Floats | None = None,
    ) -> float:
        """Return the cost of the cheapest chain, vented works included, infinite if there is none.

        Either no bank is vented, or the works are paid and any bank may be: the lesser of two
        shortest paths.
        """
        rows, cost = self._serving(group, rows, hours, needed, spare)
        if not rows.size:
            return math.inf
        vented_from = int(np.searchsorted(group.vented[rows], True))
        upfront = group.upfront[rows]
        works = self.candidates.vented_works
        limited = bool(upfront.max() + works > room)
        with_works = math.inf
        if vented_from < len(rows):
            allowed = cost
            if limited:
                allowed = cost.copy()
                allowed[upfront > room - works, : self._years] = np.inf
            with_works = works + cheapest_chain(allowed.min(axis=0).tolist(), self._years)
        if vented_from == 0:
            return with_works
        dry = cost[:vented_from]
        if limited:
            dry[upfront[:vented_from] > room, : self._years] = np.inf
        return min(with_works, cheapest_chain(dry.min(axis=0).tolist(), self._years))


def _undominated_sets(candidates: Candidates, spare: Floats | None = None) -> Ints:
    """Return the sets that no other beats in every respect (cut 1), in order.

    Of equals the first stays; one that wins on anything but cost alone does not push out an
    earlier one of equal cost, since ties go by the price list's order. Where later years are
    limited, what a set's swaps leave of each year (``spare``) is a merit too.
    """
    sets = candidates.sets
    kept: list[int] = []
    merits = (
        np.stack(
            [
                -sets.life_cycle_cost,
                -sets.upfront_cost,
                sets.efficiency,
                -sets.no_load_w,
                -sets.peak_current_a,
                sets.charger_a,
            ],
            axis=1,
        )
        if len(sets)
        else np.zeros((0, 6))
    )
    if spare is not None:
        merits = np.hstack([merits, spare])
    for index in range(len(sets)):
        rivals = (sets.voltage_v == sets.voltage_v[index]) & (merits >= merits[index]).all(axis=1)
        cheaper = sets.life_cycle_cost < sets.life_cycle_cost[index] - COST_TOLERANCE
        earlier = np.arange(len(sets)) < index
        if not (rivals & (cheaper | earlier)).any():
            kept.append(index)
    return np.array(kept, dtype=np.int64)
