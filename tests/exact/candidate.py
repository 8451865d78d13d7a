"""One variant and inverter set with the banks that fit it: every chain of banks, at all hours."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import inf
from typing import TYPE_CHECKING

import numpy as np

from .demand import Setting, at_least
from .money import gross, present_value, works_price

if TYPE_CHECKING:
    from .banks import Bank, Spans
    from .sets import Fuel, InverterSet


@dataclass(frozen=True)
class Period:
    """Banks in service from the start of year ``start`` to the start of year ``end``."""

    battery: str
    strings: int
    max_dod: float
    start: int
    end: int
    service_life: float
    bought: int


@dataclass(frozen=True)
class Answer:
    hours: int
    life_cycle_cost: float
    upfront_cost: float
    voltage: int
    inverter: str
    units: int
    contract_w: float | None
    generator: str | None
    banks: tuple[Period, ...]


@dataclass(frozen=True)
class Limits:
    budget: float | None = None
    lifetime_budget: float | None = None
    later_limit: float | None = None


def fits(setting: Setting, one: InverterSet, fuel: Fuel | None, bank: Bank) -> bool:
    """What a bank must meet beside a set whatever its age and the hours asked for."""
    battery, site = bank.battery, bank.case.site
    if battery.built_into != (one.inverter.inverter if one.boxed else None):
        return False
    if one.boxed and bank.strings != one.units:
        return False
    charge_a = bank.charge_a(one.units * one.inverter.charger_a)
    slowest = battery.charge_factor * bank.max_dod / site.recharge_hours
    return bool(
        at_least(battery.discharge_rate_max * bank.capacity_ah, one.peak_a(setting))
        and at_least(battery.surge_rate_max * bank.capacity_ah, one.start_a)
        and at_least(charge_a, max(battery.charge_rate_min, slowest) * bank.capacity_ah)
        and refilled_before_the_next(one, bank)
        and (fuel is None or fuel.refills(bank))
    )


def refilled_before_the_next(one: InverterSet, bank: Bank) -> bool:
    """Scheduled cuts: each charge is put back before the next cut begins, days repeating."""
    return all(
        at_least(offered_ah, needed_ah) for _, _, needed_ah, offered_ah in refills(one, bank)
    )


def refills(one: InverterSet, bank: Bank) -> list[tuple[str, float, float, float]]:
    """(season, start of the cut, Ah to put back, Ah offered until the next cut) of each cut."""
    demand, daily = one.demand, bank.case.daily
    charge_a = bank.charge_a(one.units * one.inverter.charger_a)
    found = []
    for season in demand.watts:
        for number, (start_h, end_h) in enumerate(daily):
            next_h = daily[number + 1][0] if number + 1 < len(daily) else daily[0][0] + 24
            ac_wh = demand.clock_wh(season, start_h, end_h - start_h) * demand.largest
            needed_ah = bank.charge_to_put_back_ah(one.drawn_wh(ac_wh, end_h - start_h))
            found.append((season, start_h, needed_ah, charge_a * (next_h - end_h)))
    return found


class Candidate:
    """One variant and inverter set with the banks that fit it: every chain, at all hours."""

    def __init__(
        self,
        setting: Setting,
        one: InverterSet,
        fuel: Fuel | None,
        banks: list[tuple[Bank, Spans]],
    ) -> None:
        self.setting, self.one, self.fuel, self.case = setting, one, fuel, one.case
        self.banks = banks
        self.any_vented = any(bank.vented for bank, _ in banks)
        site = self.case.site
        self.horizon = site.horizon_years
        self.cost = np.array([spans.cost for _, spans in banks])
        self.allowed = np.array([spans.allowed for _, spans in banks])
        self.paid_in = np.array([spans.paid_in for _, spans in banks])
        self.health = np.array([spans.health for _, spans in banks])
        self.first_paid = np.array([spans.upfront for _, spans in banks])
        self.vented = np.array([bank.vented for bank, _ in banks])
        variant, ones = setting.variant, np.ones(len(setting.hours))
        self.offered = setting.offered.copy()
        #: [hour]: all costs but the banks' and the gas works; what of it is paid at the start
        self.fixed, self.upfront = one.cost() * ones, one.upfront() * ones
        #: [hour, year]: purchases of everything but banks
        self.other_paid = np.zeros((len(ones), self.horizon))
        for year, paid in one.swaps().items():
            self.other_paid[:, year] += paid
        if variant.contract:
            self.fixed += present_value(self.case, variant.contract[1])
        if fuel:
            litres = fuel.litres()
            self.offered &= at_least(site.max_stored_l, litres)
            self.fixed += fuel.machine_cost() + fuel.fuel_cost(litres)
            paid_in = fuel.paid_in(litres)
            self.other_paid += paid_in
            self.upfront += paid_in[:, 0]
        self.gas_works = gross(self.case) * works_price(self.case, "vented_bank", "first")

    def needed_wh(self, bank_hours: int) -> np.ndarray:
        """E_dc of each year."""
        ac_wh = self.setting.windows(bank_hours).sum(axis=1).max()
        growth = 1 + self.case.site.load_growth
        return np.array(
            [self.one.drawn_wh(ac_wh * growth**year, bank_hours) for year in range(self.horizon)]
        )

    @cached_property
    def held(self) -> np.ndarray:
        """Whether a bank carries every year of a span: [hour, bank, y0, d - 1]."""
        efficiency = self.one.inverter.efficiency
        kept = np.array(
            [
                1 - bank.peak_depth(self.setting, efficiency, health) / bank.max_dod
                for (bank, _), health in zip(self.banks, self.health, strict=True)
            ]
        )
        several, which = np.unique(self.setting.bank_hours, return_inverse=True)
        held = np.ones((len(several), len(self.banks), self.horizon, self.horizon), dtype=bool)
        for at, bank_hours in enumerate(int(hours) for hours in several):
            usable_wh = np.array(
                [bank.usable_wh(self.setting, bank_hours) for bank, _ in self.banks]
            )
            left_wh = usable_wh[:, None] * self.health * kept
            needed_wh = self.needed_wh(bank_hours)
            for start in range(self.horizon):
                years = self.horizon - start
                held[at, :, start, :years] = at_least(left_wh[:, :years], needed_wh[start:])
        return (np.logical_and.accumulate(held, axis=3) & self.allowed)[which]

    def chains(
        self, limits: Limits, family: str | None, *, gas: bool
    ) -> tuple[np.ndarray, list[np.ndarray]]:
        """Cheapest chain at each hour, and for each y0 the (bank, span) taken there.

        What a chain costs from year y0 on depends on y0 alone, not on what served before.
        """
        open_ = self.held.copy()
        if family is not None:
            open_[:, [bank.battery.family != family for bank, _ in self.banks]] = False
        if not gas:
            open_[:, self.vented] = False
        upfront = self.upfront + (self.gas_works if gas else 0.0)
        if limits.budget is not None:
            paid = upfront[:, None] + self.first_paid
            open_[:, :, 0] &= at_least(limits.budget, paid)[:, :, None]
        if limits.later_limit is not None:
            open_ &= self.within_later(limits.later_limit)
        cost = np.where(open_, self.cost, inf)
        hours, horizon = len(self.setting.hours), self.horizon
        rest = np.full((hours, horizon + 1), inf)
        rest[:, horizon] = 0.0
        taken = [np.empty(0)] * horizon
        for start in reversed(range(horizon)):
            total = cost[:, :, start, : horizon - start] + rest[:, None, start + 1 :]
            flat = total.reshape(hours, -1)
            taken[start] = flat.argmin(axis=1)
            rest[:, start] = flat.min(axis=1)
        whole = self.fixed + (self.gas_works if gas else 0.0) + rest[:, 0]
        return np.where(self.offered, whole, inf), taken

    def within_later(self, later_limit: float) -> np.ndarray:
        """Whether no later year of a span costs too much: [hour, bank, y0, d - 1]."""
        shape = len(self.setting.hours), len(self.banks), self.horizon, self.horizon
        within = np.ones(shape, dtype=bool)
        for start in range(self.horizon):
            years = self.horizon - start
            paid = self.paid_in[None, :, start, :years] + self.other_paid[:, None, start:]
            within[:, :, start, :years] = at_least(later_limit, paid)
        within[:, :, 0, 0] = True  # what year 0 costs is the budget's to limit
        return np.logical_and.accumulate(within, axis=3)

    def later_sums(self, design: Answer) -> list[float]:
        """What a design buys in each year after the first, undiscounted."""
        sums = self.other_paid[design.hours - 1].copy()
        for period in design.banks:
            years = period.end - period.start
            sums[period.start : period.end] += self.paid_in[
                self.place(period), period.start, :years
            ]
        return [float(paid) for paid in sums[1:]]

    def place(self, period: Period) -> int | None:
        """The bank of a period among this set's."""
        wanted = period.battery, period.strings, period.max_dod
        for which, (bank, _) in enumerate(self.banks):
            if wanted == (bank.battery.battery, bank.strings, bank.max_dod):
                return which
        return None

    def answer(self, hours: int, cost: float, *, gas: bool, taken: list[np.ndarray]) -> Answer:
        at, year, chain = hours - 1, 0, []
        while year < self.horizon:
            which, length = divmod(int(taken[year][at]), self.horizon - year)
            chain.append((which, year, year + length + 1))
            year += length + 1
        upfront = self.upfront[at] + self.first_paid[chain[0][0]]
        upfront += self.gas_works if gas else 0.0
        return self.told(hours, cost, float(upfront), [self.period(*link) for link in chain])

    def told(self, hours: int, cost: float, upfront: float, chain: list[Period]) -> Answer:
        inverter, units, contract_w, generator = self.names()
        return Answer(
            hours=hours,
            life_cycle_cost=cost,
            upfront_cost=upfront,
            voltage=int(self.one.inverter.system_v),
            inverter=inverter,
            units=units,
            contract_w=contract_w,
            generator=generator,
            banks=tuple(chain),
        )

    def period(self, which: int, start: int, end: int) -> Period:
        bank, spans = self.banks[which]
        return Period(
            bank.battery.battery,
            bank.strings,
            bank.max_dod,
            start,
            end,
            bank.life,
            int(spans.bought[0, end - start - 1]),
        )

    def is_of(self, design: Answer) -> bool:
        """Whether a design is of this variant and set."""
        return self.names() == (design.inverter, design.units, design.contract_w, design.generator)

    def names(self) -> tuple[str, int, float | None, str | None]:
        variant = self.setting.variant
        return (
            self.one.inverter.inverter,
            self.one.units,
            variant.contract[0] if variant.contract else None,
            variant.generator.generator if variant.generator else None,
        )

    def priced(self, design: Answer, limits: Limits) -> Answer | None:
        """A design of this variant and set with its costs, if it meets everything."""
        at = design.hours - 1
        year, cost, first, gas, chain = 0, self.fixed[at], 0.0, False, []
        for period in design.banks:
            which = self.place(period)
            if which is None or period.start != year or not self.offered[at]:
                return None
            span = at, which, year, period.end - year - 1
            if not self.held[span]:
                return None
            if limits.later_limit is not None and not self.within_later(limits.later_limit)[span]:
                return None
            cost += self.cost[which, year, period.end - year - 1]
            first += self.first_paid[which] if year == 0 else 0.0
            gas |= bool(self.vented[which])
            chain.append(self.period(which, year, period.end))
            year = period.end
        works = self.gas_works if gas else 0.0
        upfront = float(self.upfront[at] + first + works)
        if year != self.horizon:
            return None
        if limits.budget is not None and not at_least(limits.budget, upfront):
            return None
        return self.told(design.hours, float(cost + works), upfront, chain)
