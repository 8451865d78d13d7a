"""The least-cost design found by trying everything, without a linear program.

Nothing here is shared with the product but the input records. Plain floats and loops over every
inverter set, every bank and every year; slow on purpose and short enough to be read beside the
model's definition. Costs within 1e-6
currency units are equal.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from .parts import (
    LOWEST_VOLTAGE_SHARE,
    Bank,
    Demand,
    InverterSet,
    at_least,
    cold_factor,
    gross_factor,
    wiring_price,
)

if TYPE_CHECKING:
    from optimizer.model.design import Design
    from optimizer.model.job import Battery, Inverter, Job

EQUAL_COST = 1e-6


@dataclass(frozen=True)
class Period:
    """A bank in service from the start of year ``start`` to the start of year ``end``."""

    battery: str
    strings: int
    start: int
    end: int
    service_life: float


@dataclass(frozen=True)
class Answer:
    hours: int
    life_cycle_cost: float
    upfront_cost: float
    voltage: int
    inverter: str
    units: int
    banks: tuple[Period, ...]


# --- the search -----------------------------------------------------------------------------


class Search:
    """Every inverter set and bank of a job that any autonomy could use."""

    def __init__(self, job: Job, family: str | None = None) -> None:
        self.job, self.family = job, family
        self.demand = Demand(job)
        self.sets = [one for inverter in job.catalog.inverters for one in self._sets(inverter)]
        self.banks = {
            voltage: [
                bank for battery in job.catalog.batteries for bank in self._of(battery, voltage)
            ]
            for voltage in {one.inverter.system_v for one in self.sets}
        }
        self.vented_works = gross_factor(job) * sum(
            work.price for work in job.catalog.works if work.basis == "vented_bank"
        )

    def _sets(self, inverter: Inverter) -> list[InverterSet]:
        job, site, demand = self.job, self.job.site, self.demand
        if inverter.inverter in site.exclude or inverter.system_v not in site.voltages:
            return []
        heat = min(1.0, max(0.0, (site.max_degc - 25) / 15))
        derate = 1 - heat * (1 - inverter.power_w_40c / inverter.power_w)
        volts = LOWEST_VOLTAGE_SHARE * inverter.system_v
        found = []
        for count in range(1, inverter.max_units + 1):
            if not (
                at_least(count * inverter.power_w * derate, demand.peak_w)
                and at_least(count * inverter.power_va * derate, demand.peak_va)
                and at_least(count * inverter.surge_w, demand.surge_w)
            ):
                continue
            cable_a = count * inverter.power_w / inverter.efficiency / volts
            price = wiring_price(job, cable_a, inverter.system_v)
            if price is not None:
                found.append(InverterSet(job, inverter, count, price))
        return found

    def _of(self, battery: Battery, voltage: int) -> list[Bank]:
        site = self.job.site
        series, rest = divmod(voltage, battery.class_v)
        cold = cold_factor(battery, site.min_degc)
        if (
            rest
            or not 1 <= series <= battery.max_series
            or {battery.battery, battery.chemistry} & set(site.exclude)
            or self.family not in (None, battery.family)
            or (battery.gas == "vented" and not site.vented_allowed)
            or not at_least(site.min_degc, battery.min_charge_degc)
            or cold is None
        ):
            return []
        found = []
        for strings in range(1, min(battery.max_parallel, site.max_parallel or 40) + 1):
            bank = Bank(self.job, self.demand, battery, series=series, strings=strings, cold=cold)
            light = site.max_bank_kg is None or at_least(site.max_bank_kg, bank.mass_kg)
            if light and bank.whole_life >= 1:
                found.append(bank)
        return found

    def fits(self, one: InverterSet, bank: Bank) -> bool:
        battery, inverter, recharge_h = bank.battery, one.inverter, self.job.site.recharge_hours
        volts = LOWEST_VOLTAGE_SHARE * inverter.system_v
        capacity_ah = bank.strings * battery.capacity_ah
        refill = max(battery.charge_rate_min, battery.charge_factor * battery.max_dod / recharge_h)
        return at_least(
            battery.discharge_rate_max * capacity_ah,
            self.demand.peak_w / inverter.efficiency / volts,
        ) and at_least(one.count * inverter.charger_a, refill * capacity_ah)

    def at(self, hours: int, budget: float | None, lifetime: float | None) -> Answer | None:
        """The least-cost design that meets the conditions at ``hours``."""
        best = None
        for one in self.sets:
            need_wh = one.need_wh(self.job, self.demand, hours)
            banks = [
                (bank, bank.usable_wh(self.demand, hours))
                for bank in self.banks[one.inverter.system_v]
                if self.fits(one, bank)
            ]
            # Two cases are exhaustive: without the vented works the chain has no vented bank;
            # with them every bank is open. A chain free of vented banks that pays the works
            # all the same is the first case's chain at no less money, now and over the years,
            # so it can neither win nor slip under a budget that the first case misses.
            sealed = [(bank, usable_wh) for bank, usable_wh in banks if not bank.vented]
            cases = [(sealed, 0.0)]
            if len(sealed) < len(banks):
                cases.append((banks, self.vented_works))
            for choice, works in cases:
                found = self._chain(one, choice, works, need_wh=need_wh, hours=hours, budget=budget)
                if found and (best is None or found.life_cycle_cost < best.life_cycle_cost):
                    best = found
        if best and lifetime is not None and not at_least(lifetime, best.life_cycle_cost):
            return None
        return best

    def _chain(
        self,
        one: InverterSet,
        banks: list[tuple[Bank, float]],
        works: float,
        *,
        need_wh: list[float],
        hours: int,
        budget: float | None,
    ) -> Answer | None:
        """Cheapest chain of banks, backwards over the years.

        What a chain costs from year y on depends on y alone, not on what served before, so the
        best rest is found once for each year. Only year 0 knows the upfront budget.
        """
        horizon = self.job.site.horizon_years
        rest: list[float] = [inf] * horizon + [0.0]
        taken: list[tuple[Bank, int] | None] = [None] * horizon
        for start in reversed(range(horizon)):
            for bank, usable_wh in banks:
                if start == 0 and budget is not None:
                    upfront = one.upfront + works + bank.paid[0]
                    if not at_least(budget, upfront):
                        continue
                for age in bank.ages_at_retirement(self.job, start, usable_wh, need_wh):
                    cost = bank.cost[start, age] + rest[start + age]
                    if cost < rest[start]:
                        rest[start], taken[start] = cost, (bank, age)
        if rest[0] == inf:
            return None
        year, periods, upfront = 0, [], one.upfront + works
        while year < horizon:
            bank, age = taken[year]
            if year == 0:
                upfront += bank.paid[0]
            periods.append(Period(bank.battery.battery, bank.strings, year, year + age, bank.life))
            year += age
        return Answer(
            hours,
            one.cost + works + rest[0],
            upfront,
            one.inverter.system_v,
            one.inverter.inverter,
            one.count,
            tuple(periods),
        )

    def priced(self, design: Design) -> Answer | None:
        """The given design with its costs as found here; None where a condition fails."""
        horizon = self.job.site.horizon_years
        sets = [
            one
            for one in self.sets
            if (one.inverter, one.count) == (design.inverter, design.inverter_units)
        ]
        if not sets:
            return None
        need_wh = sets[0].need_wh(self.job, self.demand, design.hours)
        year, cost, upfront, works, periods = 0, sets[0].cost, sets[0].upfront, 0.0, []
        for period in design.banks:
            banks = [
                bank
                for bank in self.banks[design.voltage_v]
                if (bank.battery, bank.series, bank.strings)
                == (period.battery, period.series, period.strings)
            ]
            if not banks or period.start != year or not self.fits(sets[0], banks[0]):
                return None
            bank, age = banks[0], period.end - period.start
            usable_wh = bank.usable_wh(self.demand, design.hours)
            if age not in bank.ages_at_retirement(self.job, year, usable_wh, need_wh):
                return None
            cost += bank.cost[year, age]
            upfront += bank.paid[0] if year == 0 else 0.0
            works = max(works, self.vented_works if bank.vented else 0.0)
            periods.append(Period(bank.battery.battery, bank.strings, year, period.end, bank.life))
            year = period.end
        if year != horizon:
            return None
        return Answer(
            design.hours,
            cost + works,
            upfront + works,
            design.voltage_v,
            design.inverter.inverter,
            design.inverter_units,
            tuple(periods),
        )


# --- questions ------------------------------------------------------------------------------


def _limits(
    job: Job, budget: float | None, lifetime_budget: float | None
) -> tuple[float | None, float | None]:
    """Limits given with the question replace those of the site."""
    upfront = job.site.budget if budget is None else budget
    lifetime = job.site.lifetime_budget if lifetime_budget is None else lifetime_budget
    return upfront, lifetime


def optimum_at(
    job: Job,
    family: str | None = None,
    budget: float | None = None,
    lifetime_budget: float | None = None,
) -> dict[int, Answer]:
    """Least-cost design meeting the conditions at each whole hour; hours without one are absent."""
    search = Search(job, family)
    limits = _limits(job, budget, lifetime_budget)
    found = {hours: search.at(hours, *limits) for hours in range(1, job.site.max_hours + 1)}
    return {hours: answer for hours, answer in found.items() if answer is not None}


def least(optima: dict[int, Answer], hours: int) -> Answer | None:
    """Least cost over the autonomies from ``hours`` on; among equals the longest."""
    best = None
    for at in sorted(optima, reverse=True):
        answer = optima[at]
        if at >= hours and (
            best is None or answer.life_cycle_cost < best.life_cycle_cost - EQUAL_COST
        ):
            best = answer
    return best


def least_cost(
    job: Job,
    hours: int,
    family: str | None = None,
    budget: float | None = None,
    lifetime_budget: float | None = None,
) -> Answer | None:
    """Design of least life-cycle cost that carries ``hours``."""
    return least(optimum_at(job, family, budget, lifetime_budget), hours)


def non_dominated(optima: dict[int, Answer]) -> list[Answer]:
    """The points that no longer autonomy offers at no more cost, by ascending hours."""
    points: list[Answer] = []
    for hours in sorted(optima, reverse=True):
        if not points or (optima[hours].life_cycle_cost < points[-1].life_cycle_cost - EQUAL_COST):
            points.append(optima[hours])
    return points[::-1]


def frontier(
    job: Job,
    family: str | None = None,
    budget: float | None = None,
    lifetime_budget: float | None = None,
) -> list[Answer]:
    """The whole curve of cost against autonomy."""
    return non_dominated(optimum_at(job, family, budget, lifetime_budget))


def longest(
    job: Job,
    budget: float | None = None,
    lifetime_budget: float | None = None,
    family: str | None = None,
) -> Answer | None:
    """The longest autonomy within the money, and the least-cost design at it."""
    optima = optimum_at(job, family, budget, lifetime_budget)
    return optima[max(optima)] if optima else None
