"""Columns along a parameter: exact at one value, and bounds that hold between two.

Between two values of a parameter every column that decides whether a bank may serve (energy,
health, whole years of life, charger amperes, price at the start) rises or falls steadily, so that
its better end bounds it from one side. Money is bounded by straight lines: see `Bend`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from optimizer.engine.banks import bank_money, build_banks
from optimizer.engine.bounds import Bounds, Option
from optimizer.engine.candidates import Candidates
from optimizer.engine.inverter_sets import build_sets
from optimizer.engine.works import gross, works_price
from optimizer.formulas.ageing import health
from optimizer.formulas.rate import fixed_time_share, uneven_load_factors
from optimizer.formulas.tolerance import at_least

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.engine.banks import Banks
    from optimizer.engine.inverter_sets import InverterSets
    from optimizer.model.demand import Demand
    from optimizer.model.job import Job

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

#: A life so long that it rules nothing out [a].
_ENDLESS_YEARS = 10**6
#: Of the second differences that bound a bend; rounding is far below it.
_SLACK = 1e-6


@dataclass(frozen=True)
class Columns:
    """One family's columns at one value; ``cost`` does not yet know how long a bank may serve."""

    candidates: Candidates
    cost: Floats

    @property
    def sets(self) -> InverterSets:
        """The inverter sets."""
        return self.candidates.sets

    @property
    def banks(self) -> Banks:
        """The banks."""
        return self.candidates.banks


@dataclass(frozen=True)
class Bend:
    """How strongly money may bend along a parameter, at most: second derivatives, none negative.

    ``up`` bounds the convex part of a cost, ``down`` the concave part. Over a width h a cost
    c = convex + concave lies above the line through c at one end and c − up · h²/2 at the other
    (the convex part above its tangent, the concave above its chord), and below the line through
    c at one end and c + down · h²/2 at the other. Zero where money runs straight.
    """

    up: Floats | float = 0.0
    down: Floats | float = 0.0
    set_up: Floats | float = 0.0
    set_down: Floats | float = 0.0


class Shares:
    """The share of a bank's energy that is there at given hours, or at the best longer hours.

    Depends on the loads and on the models only, so one serves a whole study.
    """

    def __init__(self, demand: Demand, max_hours: int) -> None:
        self._demand, self._max_hours = demand, max_hours
        self._known: dict[tuple[float, float], Floats] = {}

    def factors(self, banks: Banks) -> dict[int, Floats]:
        """Return usable energy by hours [Wh]; under −hours the most at these hours or longer."""
        models = sorted(set(zip(banks.rate_h.tolist(), banks.peukert.tolist(), strict=True)))
        exponents = sorted({k for rate, k in models if (rate, k) not in self._known})
        if exponents:
            hours = range(1, self._max_hours + 1)
            uneven = np.array(
                [
                    uneven_load_factors(self._demand.profiles, hour, np.array(exponents))
                    for hour in hours
                ]
            )
            lengths = np.array(hours, dtype=float)
            for rate_h, k in models:
                if (rate_h, k) not in self._known:
                    there = fixed_time_share(lengths, rate_h, k) / uneven[:, exponents.index(k)]
                    self._known[rate_h, k] = np.asarray(there)
        if not models:
            return {}
        which = [
            models.index(pair)
            for pair in zip(banks.rate_h.tolist(), banks.peukert.tolist(), strict=True)
        ]
        table = np.array([self._known[pair] for pair in models])[which]  # (banks, hours)
        best = np.maximum.accumulate(table[:, ::-1], axis=1)[:, ::-1]
        found = {hour: banks.usable_wh * table[:, hour - 1] for hour in self._hours}
        return found | {-hour: banks.usable_wh * best[:, hour - 1] for hour in self._hours}

    @property
    def _hours(self) -> range:
        return range(1, self._max_hours + 1)


def columns_at(
    job: Job, family: str | None, demand: Demand, shares: Shares, sets: InverterSets | None = None
) -> Columns:
    """Return the columns of a job, money and length of service kept apart."""
    banks = build_banks(job, demand, family, frozenset())
    starts, ends = np.triu_indices(job.site.horizon_years + 1, 1)
    cost, upfront = bank_money(job, _endless(banks), starts, ends)
    ages = (ends - starts).astype(float)
    left = health(ages[None, :], banks.service_life_years[:, None], banks.end_of_life_soh[:, None])
    if sets is None:
        sets = build_sets(job, demand, frozenset())
    candidates = Candidates(
        job=job,
        demand=demand,
        sets=sets,
        banks=banks,
        arc_start=starts,
        arc_end=ends,
        arc_cost=_served(cost, banks, starts, ends),
        arc_health=np.asarray(left),
        bank_upfront=upfront,
        vented_works=works_price(job, "vented_bank", first=True) * gross(job),
        _factors=shares.factors(banks),
    )
    return Columns(candidates, cost)


def _endless(banks: Banks) -> Banks:
    endless = np.full(len(banks), _ENDLESS_YEARS)
    return replace(banks, whole_life_years=endless, least_years=np.zeros(len(banks)))


def _served(cost: Floats, banks: Banks, starts: Ints, ends: Ints) -> Floats:
    """Return costs of spans, infinite where a bank would serve too long or too short."""
    ages = ends - starts
    too_old = ages[None, :] > banks.whole_life_years[:, None]
    too_young = ~np.asarray(at_least(ages[None, :].astype(float), banks.least_years[:, None]))
    at_horizon = ends == ends.max(initial=0)
    return np.where(too_old | (too_young & ~at_horizon[None, :]), np.inf, cost)


def hopeful(
    a: Columns, b: Columns, bend: Bend, width: float, *, exact_at_a: bool, steady: bool
) -> tuple[Candidates, Candidates]:
    """Return columns for both ends that together undercut every design anywhere between.

    Whether a span may serve is taken from its better end. Any chain's cost between the ends lies
    above the line through its costs in the two; the least cost over chains is then concave
    along the parameter, so what no chain undercuts at the ends none undercuts between.
    """
    ca, cb = a.candidates, b.candidates
    banks = replace(
        a.banks,
        whole_life_years=np.maximum(a.banks.whole_life_years, b.banks.whole_life_years),
        least_years=np.minimum(a.banks.least_years, b.banks.least_years),
        charge_a=np.minimum(a.banks.charge_a, b.banks.charge_a),
    )
    # only heat takes sets away, and heat does not touch their money
    more = a.sets if len(a.sets) >= len(b.sets) else b.sets
    usable = {hours: np.maximum(ca._factors[hours], cb._factors[hours]) for hours in ca._factors}
    arc_health = np.maximum(ca.arc_health, cb.arc_health)
    bank_upfront = np.minimum(ca.bank_upfront, cb.bank_upfront)
    drop = width**2 / 2
    ends = []
    for end, exact in ((a, exact_at_a), (b, not exact_at_a)):
        own = end.sets if len(end.sets) == len(more) else more
        other = (b if end is a else a).sets
        upfront = (
            np.minimum(own.upfront_cost, other.upfront_cost)
            if len(own) == len(other)
            else own.upfront_cost
        )
        dip = 0.0 if exact else drop
        cost = np.minimum(a.cost, b.cost) if steady else end.cost - dip * bend.up
        sets = replace(
            own, life_cycle_cost=own.life_cycle_cost - dip * bend.set_up, upfront_cost=upfront
        )
        ends.append(
            replace(
                end.candidates,
                sets=sets,
                banks=banks,
                arc_cost=_served(cost, banks, ca.arc_start, ca.arc_end),
                arc_health=arc_health,
                bank_upfront=bank_upfront,
                _factors=usable,
            )
        )
    return ends[0], ends[1]


def bend_of_falling(paid: tuple[Columns, ...], back: tuple[Columns, ...], step: float) -> Bend:
    """Return the bend where what is paid and what comes back are sums of (1 + rate)^−t.

    Three equally spaced columns below the range: the second derivative of such a sum falls as the
    rate rises, so the second difference below the range is more than it anywhere inside.
    """
    up, set_up = _second_difference(paid, step)
    down, set_down = _second_difference(back, step)
    return Bend(np.abs(up), np.abs(down), np.abs(set_up), np.abs(set_down))


def bend_of_rising(above: tuple[Columns, ...], step: float) -> Bend:
    """Return the bend of money whose second derivative grows along the range, from above it."""
    second, _ = _second_difference(above, step)
    return Bend(np.maximum(second, 0.0), np.maximum(-second, 0.0))


def _second_difference(three: tuple[Columns, ...], step: float) -> tuple[Floats, Floats]:
    low, middle, high = three
    banks = (low.cost - 2 * middle.cost + high.cost) / step**2
    costs = [one.sets.life_cycle_cost for one in three]
    sets = (costs[0] - 2 * costs[1] + costs[2]) / step**2
    return banks * (1 + _SLACK), sets * (1 + _SLACK)


class Reach(Bounds):
    """Bounds that stop looking at longer hours once none of them can be cheaper."""

    def best(self, hours: int, limit: float = np.inf) -> Option | None:
        """Return the cheapest option carrying ``hours`` for no more than ``limit``, if any."""
        best: Option | None = None
        most = self.candidates.job.site.max_hours
        for longer in range(hours, most + 1):
            for option in self.options(longer, limit):
                if best is None or option.cost < best.cost:
                    best = option
            if best is not None:
                limit = min(limit, best.cost)
            if longer < most and not self._may_undercut(longer + 1, limit):
                break
        return best

    def _may_undercut(self, hours: int, limit: float) -> bool:
        """Tell whether anything at these hours or longer might cost less than a limit.

        Needs never fall with hours; energies are taken at the best of all longer hours.
        """
        sets = self.candidates.sets
        for group in self._groups:
            needed = self._needed_wh(hours)[group.sets].min(axis=0)
            room = self.budget - float(sets.upfront_cost[group.sets].min())
            own = float(sets.life_cycle_cost[group.sets].min())
            rows = np.flatnonzero(group.least_through <= limit - own)
            if rows.size and own + self._chain(group, rows, -hours, needed, room) < limit:
                return True
        return False
