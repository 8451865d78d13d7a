"""One family along one parameter: its cheapest design at any value, and bounds between values."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from optimizer.comparison.columns import (
    Bend,
    Columns,
    Reach,
    Shares,
    bend_of_falling,
    bend_of_rising,
    columns_at,
    hopeful,
)
from optimizer.engine.demand import demand_of
from optimizer.engine.inverter_sets import build_sets
from optimizer.formulas.tolerance import COST_TOLERANCE, RELATIVE_TOLERANCE, at_least

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.comparison.parameters import Parameter
    from optimizer.engine.bounds import Span
    from optimizer.engine.inverter_sets import InverterSets
    from optimizer.model.demand import Demand
    from optimizer.model.job import Job

#: Steps by which bends are measured outside the range: of a rate or a drift, of a temperature.
_RATE_STEP, _DEGC_STEP = 0.005, 0.5


@dataclass(frozen=True, slots=True)
class Plan:
    """A family's cheapest design at one value: its place among the columns, and its cost."""

    cost: float
    hours: int
    set_key: tuple[str, int]
    spans: tuple[tuple[int, int, int], ...]  # bank, start, end
    vented: bool


NOTHING = Plan(math.inf, 0, ("", 0), (), False)


class Study:
    """What all optima of one study share: the demand, energy shares, inverter sets by value.

    ``like`` is a study of the same loads and models, whose demand and shares serve again.
    """

    def __init__(
        self, job: Job, parameter: Parameter, hours: int, like: Study | None = None
    ) -> None:
        # limits on later money are no part of a comparison of life-cycle costs
        site = replace(job.site, lifetime_budget=None, later_limit=None)
        self.job = replace(job, site=site)
        self.parameter, self.hours = parameter, hours
        self.demand: Demand = demand_of(job) if like is None else like.demand
        self.shares: Shares = (
            Shares(self.demand, job.site.max_hours) if like is None else like.shares
        )
        self._sets: dict[tuple[float, ...], InverterSets] = {}

    def sets_of(self, job: Job) -> InverterSets:
        """Return the inverter sets of a job; the same object where nothing of theirs changed."""
        site = job.site
        key = (
            site.discount_rate,
            site.tariff,
            site.horizon_years,
            site.max_degc,
            site.residual_share,
        )
        if key not in self._sets:
            self._sets[key] = build_sets(job, self.demand, frozenset())
        return self._sets[key]


class ParametricOptimum:
    """A family along a parameter.

    Parameters
    ----------
    study : Study
        The job, the parameter and the hours.
    family : str
        Whose banks may serve.
    """

    def __init__(self, study: Study, family: str) -> None:
        self.study, self.family = study, family
        self._columns: dict[float, Columns] = {}
        self._plans: dict[float, Plan] = {}
        self._bend: Bend | None = None

    def columns(self, value: float) -> Columns:
        """Return the columns at a value of the parameter."""
        if value not in self._columns:
            job = self.study.parameter.at(self.study.job, value)
            self._columns[value] = self._columns_of(job)
        return self._columns[value]

    def _columns_of(self, job: Job) -> Columns:
        study = self.study
        return columns_at(job, self.family, study.demand, study.shares, study.sets_of(job))

    def plan(self, value: float) -> Plan:
        """Return the cheapest design at a value, or `NOTHING`."""
        if value not in self._plans:
            candidates = self.columns(value).candidates
            reach = Reach(candidates, candidates.job.site.budget)
            best = reach.best(self.study.hours)
            if best is None:
                self._plans[value] = NOTHING
            else:
                sets = candidates.sets
                room = reach.budget - float(sets.upfront_cost[best.set_index])
                spans = cheapest_spans(
                    reach.spans(best),
                    candidates.job.site.horizon_years,
                    candidates.vented_works,
                    room,
                )
                self._plans[value] = Plan(
                    best.cost,
                    best.hours,
                    (sets.inverters[best.set_index].inverter, int(sets.units[best.set_index])),
                    tuple((span.bank_index, span.start, span.end) for span in spans),
                    any(span.vented for span in spans),
                )
        return self._plans[value]

    def money(self, plan: Plan, value: float) -> tuple[float, float]:
        """Return what a plan costs at a value, and by how much its cost may bend down there."""
        columns, bend = self.columns(value), self._bend_of_parameter()
        index = _set_index(columns.sets, plan.set_key)
        arcs = _arcs(columns, plan)
        banks = [bank for bank, _, _ in plan.spans]
        cost = float(columns.sets.life_cycle_cost[index] + columns.cost[banks, arcs].sum())
        cost += columns.candidates.vented_works if plan.vented else 0.0
        down = 0.0
        if isinstance(bend.down, np.ndarray):
            down += float(bend.down[banks, arcs].sum())
        if isinstance(bend.set_down, np.ndarray):
            down += float(bend.set_down[index])
        return cost, down

    def lasts(self, plan: Plan, values: tuple[float, ...]) -> bool:
        """Tell whether a plan is allowed at all of the values and at every one between.

        Each requirement is taken at its worst end.
        """
        return not self.hindrance(plan, values)

    def hindrance(self, plan: Plan, values: tuple[float, ...]) -> str:
        """Return the first thing that rules a plan out at the worst of the values, or nothing."""
        if plan is NOTHING:
            return "nothing fits"
        everywhere = [self.columns(value) for value in values]
        sets = [_set_index(columns.sets, plan.set_key) for columns in everywhere]
        if min(sets) < 0:
            return "the inverter set no longer carries the loads in the heat"
        return next(_hindrances(plan, everywhere, sets), "")

    def undercuts(
        self, a: float, b: float, limits: tuple[float, float], *, exact_at_a: bool
    ) -> bool:
        """Tell whether some design of this family might cost less than a line between two values.

        ``limits`` are the line's ends [currency]. False is a proof; true is only a doubt.
        """
        steady = self.study.parameter.shape == "steady"
        ends = hopeful(
            self.columns(a),
            self.columns(b),
            self._bend_of_parameter(),
            b - a,
            exact_at_a=exact_at_a,
            steady=steady,
        )
        order = (0, 1) if exact_at_a else (1, 0)  # the near end first: it decides soonest
        for end in order:
            candidates = ends[end]
            reach = Reach(candidates, candidates.job.site.budget)
            if reach.best(self.study.hours, limits[end] - 2 * COST_TOLERANCE) is not None:
                return True
        return False

    def _bend_of_parameter(self) -> Bend:
        if self._bend is None:
            self._bend = self._measure_bend()
        return self._bend

    def _measure_bend(self) -> Bend:
        study, parameter = self.study, self.study.parameter
        if parameter.shape == "falling":
            step = _RATE_STEP
            values = [parameter.low - 2 * step, parameter.low - step, parameter.low]
            whole = [self._columns_of(parameter.at(study.job, value)) for value in values]
            paid = [
                self._columns_of(_nothing_back(parameter.at(study.job, value))) for value in values
            ]
            back = [_less(one, other) for one, other in zip(paid, whole, strict=True)]
            return bend_of_falling(tuple(paid), tuple(back), step)
        if parameter.shape == "rising":
            step = _DEGC_STEP if parameter.unit == "°C" else _RATE_STEP
            values = [parameter.high, parameter.high + step, parameter.high + 2 * step]
            above = [self._columns_of(parameter.at(study.job, value)) for value in values]
            return bend_of_rising(tuple(above), step)
        return Bend()


def cheapest_spans(
    spans: list[Span], horizon: int, vented_works: float, room: float
) -> tuple[Span, ...]:
    """Return the spans of a cheapest chain, works for vented banks counted."""
    best: tuple[float, tuple[Span, ...]] = (math.inf, ())
    for extra in (0.0, vented_works):
        usable = [
            span
            for span in spans
            if (extra > 0 or vented_works == 0 or not span.vented)
            and at_least(room, span.upfront + extra)
        ]
        nowhere: tuple[float, tuple[Span, ...]] = (math.inf, ())
        ahead = [nowhere] * horizon
        ahead.append((0.0, ()))
        for span in sorted(usable, key=lambda span: -span.start):
            cost, rest = ahead[span.end]
            if span.cost + cost < ahead[span.start][0]:
                ahead[span.start] = (span.cost + cost, (span, *rest))
        cost, chain = ahead[0]
        works = vented_works if any(span.vented for span in chain) else 0.0
        if cost + works < best[0]:
            best = (cost + works, chain)
    return best[1]


def _hindrances(plan: Plan, everywhere: list[Columns], sets: list[int]) -> Iterator[str]:
    """Yield what rules a plan out, each requirement at the worst of some columns."""
    first = everywhere[0].candidates
    site, banks = first.job.site, [one.banks for one in everywhere]
    horizon = site.horizon_years
    needed = first.needed_wh(plan.hours)[sets[0]] * (1 - RELATIVE_TOLERANCE)
    chargers = zip(everywhere, sets, strict=True)
    charger_a = min(float(one.sets.charger_a[index]) for one, index in chargers)
    for bank, start, end in plan.spans:
        model = first.banks.batteries[bank].battery
        if end - start > min(int(one.whole_life_years[bank]) for one in banks):
            yield f"{model} loses a whole year of service life"
        least = max(float(one.least_years[bank]) for one in banks)
        if end < horizon and not at_least(float(end - start), least):
            yield f"{model} would be replaced too soon"
        usable = min(float(one.candidates.usable_wh(plan.hours)[bank]) for one in everywhere)
        left, new = (
            min(float(one.candidates.arc_health[bank, arc]) for one in everywhere)
            for arc in (_arc(horizon, start, end), _arc(horizon, start, start + 1))
        )
        if usable * left < needed[end - 1] or usable * new < needed[start]:
            yield f"{model} holds too little at the end of its service"
        if not at_least(charger_a, max(float(one.charge_a[bank]) for one in banks)):
            yield f"the charger no longer refills {model} in time"
    if site.budget is not None:
        bank = plan.spans[0][0]
        paid = max(
            float(one.sets.upfront_cost[index] + one.candidates.bank_upfront[bank])
            + (one.candidates.vented_works if plan.vented else 0.0)
            for one, index in zip(everywhere, sets, strict=True)
        )
        if not at_least(site.budget, paid):
            yield "it is beyond the budget at the start"


def _arc(horizon: int, start: int, end: int) -> int:
    """Return the place of a span among all, by start and then by end."""
    return start * horizon - start * (start - 1) // 2 + end - start - 1


def _arcs(columns: Columns, plan: Plan) -> list[int]:
    horizon = columns.candidates.job.site.horizon_years
    return [_arc(horizon, start, end) for _, start, end in plan.spans]


def _set_index(sets: InverterSets, key: tuple[str, int]) -> int:
    """Return the place of an inverter set, −1 where it is not offered."""
    for index, inverter in enumerate(sets.inverters):
        if inverter.inverter == key[0] and int(sets.units[index]) == key[1]:
            return index
    return -1


def _nothing_back(job: Job) -> Job:
    """Return a job in which nothing that is bought is worth anything later."""
    batteries = tuple(replace(one, scrap_value=0.0) for one in job.catalog.batteries)
    return replace(
        job,
        site=replace(job.site, residual_share=0.0),
        catalog=replace(job.catalog, batteries=batteries),
    )


def _less(paid: Columns, whole: Columns) -> Columns:
    """Return what comes back: what is paid less the whole cost."""
    sets = replace(
        paid.sets, life_cycle_cost=paid.sets.life_cycle_cost - whole.sets.life_cycle_cost
    )
    return Columns(replace(paid.candidates, sets=sets), paid.cost - whole.cost)
