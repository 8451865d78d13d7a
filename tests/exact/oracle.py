"""The least-cost design found by trying everything, without a linear program.

Shares nothing with the product: ``case`` reads the files itself. Every variant, inverter set, bank
and span of whole years is priced; the cheapest chain of banks follows backwards over the years.
Slow on purpose and to be read beside the model's definition; arrays only so that all hours are
answered at once. Costs within 1e-6 currency units are equal.
"""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

import numpy as np

from .banks import Bank, Spans, cold_factor
from .candidate import Answer, Candidate, Limits, fits
from .demand import TOLERANCE, Demand, Setting, Variant, at_least
from .sets import Fuel, InverterSet

if TYPE_CHECKING:
    from types import SimpleNamespace as Row

    from .case import Case
    from .demand import Event

EQUAL_COST = 1e-6


class Search:
    """Every variant, inverter set and bank of a case that any autonomy could use."""

    def __init__(self, case: Case) -> None:
        self.case, site = case, case.site
        self.limits = Limits(site.budget, site.lifetime_budget, site.later_limit)
        self.demand = Demand(case)
        self.hours = range(1, site.max_hours + 1)
        self.sets = [
            one
            for inverter in case.inverters
            if inverter.inverter not in site.exclude and inverter.system_v in site.voltages
            for units in range(1, int(inverter.max_units) + 1)
            if (one := InverterSet(case, self.demand, inverter, units)).carries_the_loads()
        ]
        self._banks: dict[tuple[tuple[Event, ...], int], list[tuple[Bank, Spans]]] = {}
        self.candidates = [
            candidate
            for contract in site.contracts or [None]
            for generator in [None, *case.generators]
            for candidate in self._candidates(Setting(self.demand, Variant(contract, generator)))
        ]

    def _candidates(self, setting: Setting) -> list[Candidate]:
        found = []
        for one in self.sets:
            fuel = Fuel(setting, one) if setting.variant.generator else None
            if not one.helps_the_supply(setting) or (fuel and not fuel.carries_the_loads()):
                continue
            volts = int(one.inverter.system_v)
            banks = [
                (bank, spans)
                for bank, spans in self.banks(setting.events, volts)
                if fits(setting, one, fuel, bank)
            ]
            if banks and setting.offered.any():
                found.append(Candidate(setting, one, fuel, banks))
        return found

    def banks(self, events: tuple[Event, ...], volts: int) -> list[tuple[Bank, Spans]]:
        """Every bank of a voltage, worn by these events, with its spans."""
        if (events, volts) not in self._banks:
            self._banks[events, volts] = [
                (bank, Spans(bank))
                for battery in self.case.batteries
                for bank in self._of(battery, events, volts)
            ]
        return self._banks[events, volts]

    def _of(self, battery: Row, events: tuple[Event, ...], volts: int) -> list[Bank]:
        site = self.case.site
        series, rest = divmod(volts, battery.class_v)
        cold = cold_factor(battery, site.min_degc)
        if (
            rest
            or not 1 <= series <= battery.max_series
            or {battery.battery, battery.chemistry} & set(site.exclude)
            or (battery.gas == "vented" and not site.vented_allowed)
            or not at_least(site.min_degc, battery.min_charge_degc)
            or cold is None
        ):
            return []
        banks = [
            Bank(
                self.case,
                events,
                battery,
                max_dod=max_dod,
                system_v=volts,
                strings=strings,
                cold=cold,
            )
            for max_dod in battery.max_dods
            for strings in range(1, int(min(battery.max_parallel, site.max_parallel)) + 1)
        ]
        heaviest = inf if site.max_bank_kg is None else site.max_bank_kg
        return [bank for bank in banks if bank.mass_kg <= heaviest * (1 + 1e-9)]

    # --- answers ------------------------------------------------------------------------

    def optima(self, family: str | None = None, limits: Limits | None = None) -> dict[int, Answer]:
        """Least-cost design under the conditions at each whole hour; hours without are absent.

        With a family, every bank of the chain is of it. ``limits`` stand in place of the site's.
        """
        limits = self.limits if limits is None else limits
        best = np.full(len(self.hours), inf)
        who: list[tuple[Candidate, bool, list[np.ndarray]] | None] = [None] * len(self.hours)
        for candidate in self.candidates:
            # Two cases are exhaustive: no vented bank in the chain and no works for one, or
            # any bank and the works. A chain of sealed banks that pays them all the same is
            # the first case's at no less money.
            for gas in (False, True) if candidate.any_vented else (False,):
                cost, taken = candidate.chains(limits, family, gas=gas)
                for at in np.nonzero(cost < best)[0]:
                    best[at], who[at] = cost[at], (candidate, gas, taken)
        if limits.lifetime_budget is not None:
            best[best > limits.lifetime_budget + TOLERANCE * abs(limits.lifetime_budget)] = inf
        return {
            hours: who[at][0].answer(hours, float(best[at]), gas=who[at][1], taken=who[at][2])
            for at, hours in enumerate(self.hours)
            if best[at] < inf
        }

    def candidate_of(self, design: Answer) -> Candidate | None:
        """The variant and set of a design."""
        return next((one for one in self.candidates if one.is_of(design)), None)

    def priced(self, design: Answer) -> Answer | None:
        """A design, named by its choices, with its costs as found here; None if it fails."""
        candidate = self.candidate_of(design)
        return candidate and candidate.priced(design, self.limits)


# --- questions ------------------------------------------------------------------------------


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


def non_dominated(optima: dict[int, Answer]) -> list[Answer]:
    """The points that no longer autonomy offers at no more cost, by ascending hours."""
    points: list[Answer] = []
    for hours in sorted(optima, reverse=True):
        if not points or (optima[hours].life_cycle_cost < points[-1].life_cycle_cost - EQUAL_COST):
            points.append(optima[hours])
    return points[::-1]


def longest(optima: dict[int, Answer]) -> Answer | None:
    """The longest autonomy within the limits, and the least-cost design at it."""
    return optima[max(optima)] if optima else None
