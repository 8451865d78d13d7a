"""The program written out plainly, nothing cut: what the bounds and the benchmark stand against.

For a job without contract steps and generators. One binary for every inverter set and one for
every bank and the years it serves, linked by rows for each year. No cut, no shortest path, no
column left out but those the site itself rules out and those whose service life does not allow
the years. The rows are the model's requirements; only
the columns' coefficients are shared with the project.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np
import pulp

from optimizer.engine.candidates import build_candidates
from optimizer.engine.demand import demand_of
from optimizer.engine.variants import variant_of
from optimizer.formulas.renewals import banks_in_turn

#: Coefficients near 1: thousands of currency units, kWh, hundreds of ampere.
MONEY, ENERGY, CURRENT = 1e3, 1e3, 1e2


@dataclass
class PlainProgram:
    """The columns of a job, and the program at any hours."""

    job: object
    family: str | None = None
    candidates: object = field(init=False)

    def __post_init__(self):
        variant = variant_of(self.job, demand_of(self.job))
        self.candidates = build_candidates(variant, self.family)
        self.gross = (1 + self.job.site.markup) * (1 + self.job.site.tax_rate)
        self.swaps = defaultdict(float)
        for work in self.job.catalog.works:
            if work.applies in {"swap", "both"}:
                self.swaps[work.basis] += work.price

    def build(self, hours):
        """Return the program of the cheapest design under the conditions at ``hours``."""
        c, site = self.candidates, self.job.site
        problem = pulp.LpProblem("plain", pulp.LpMinimize)
        works = problem.add_variable("works", 0, 1, cat=pulp.LpBinary)
        rows = defaultdict(list)
        rows["cost", 0].append((works, c.vented_works / MONEY))
        rows["upfront", 0].append((works, c.vented_works / MONEY))
        for year in range(site.horizon_years):
            rows["gas", year].append((works, -1.0))
        self._add_sets(problem, rows, c.needed_wh(hours) / ENERGY)
        self._add_banks(problem, rows, c.usable_wh(hours) / ENERGY)
        problem.setObjective(pulp.LpAffineExpression(rows.pop(("cost", 0))))
        upfront = rows.pop(("upfront", 0))
        for year in range(1, site.horizon_years):
            later = rows.pop(("later", year), [])
            if site.later_limit is not None and later:
                limit = site.later_limit / MONEY
                problem.addConstraint(pulp.LpAffineExpression(later) <= limit, f"later_{year}")
        if site.budget is not None:
            problem.addConstraint(pulp.LpAffineExpression(upfront) <= site.budget / MONEY, "budget")
        for (kind, *place), terms in rows.items():
            left = pulp.LpAffineExpression(terms)
            row = {
                "one_set": lambda left: left == 1,
                "volts": lambda left: left == 0,
                "gas": lambda left: left <= 0,
            }.get(kind, lambda left: left >= 0)(left)
            problem.addConstraint(row, "_".join(map(str, (kind, *place))))
        return problem

    def _add_sets(self, problem, rows, needed):
        sets, swaps = self.candidates.sets, self.swaps
        for index in range(len(sets)):
            chosen = problem.add_variable(f"set{index}", 0, 1, cat=pulp.LpBinary)
            rows["one_set", 0].append((chosen, 1.0))
            rows["cost", 0].append((chosen, float(sets.life_cycle_cost[index]) / MONEY))
            rows["upfront", 0].append((chosen, float(sets.upfront_cost[index]) / MONEY))
            life = int(sets.inverters[index].life_years)
            swap = int(sets.units[index]) * (sets.inverters[index].price + swaps["inverter_unit"])
            for year in range(life, self.job.site.horizon_years, life):
                rows["later", year].append((chosen, swap * self.gross / MONEY))
            for year, kwh in enumerate(needed[index].tolist()):
                rows["energy", year].append((chosen, -kwh))
                rows["amps", year].append((chosen, -float(sets.peak_current_a[index]) / CURRENT))
                rows["start", year].append((chosen, -float(sets.start_current_a[index]) / CURRENT))
                rows["refill", year].append((chosen, float(sets.charger_a[index]) / CURRENT))
                rows["volts", year, int(sets.voltage_v[index])].append((chosen, -1.0))

    def _add_banks(self, problem, rows, usable):
        c = self.candidates
        banks, site = c.banks, self.job.site
        for bank, place in zip(*np.nonzero(np.isfinite(c.period_cost)), strict=True):
            model = banks.battery(bank)
            capacity_ah = float(banks.capacity_ah[bank])
            rate = max(
                model.charge_rate_min, model.charge_factor * model.max_dod / site.recharge_hours
            )
            if model.charge_rate_max < rate * (1 - 1e-9):
                continue  # takes too little, whatever the charger
            start, end = int(c.period_start[place]), int(c.period_end[place])
            serves = problem.add_variable(f"bank{bank}_{place}", 0, 1, cat=pulp.LpBinary)
            rows["cost", 0].append((serves, float(c.period_cost[bank, place]) / MONEY))
            if start == 0:
                rows["upfront", 0].append((serves, float(c.bank_upfront[bank]) / MONEY))
            for year, paid in self._paid_later(bank, start, end).items():
                rows["later", year].append((serves, paid * self.gross / MONEY))
            for year in range(start, end):
                kwh = float(usable[bank] * c.health[bank, year - start])
                rows["energy", year].append((serves, kwh))
                rows["amps", year].append((serves, float(banks.discharge_a[bank]) / CURRENT))
                rows["start", year].append((serves, float(banks.start_a[bank]) / CURRENT))
                rows["refill", year].append((serves, -rate * capacity_ah / CURRENT))
                rows["volts", year, int(banks.voltage_v[bank])].append((serves, 1.0))
                if banks.vented[bank]:
                    rows["gas", year].append((serves, 1.0))

    def _paid_later(self, bank, start, end):
        """Return what is bought in each year after the first, before markup and tax."""
        c, banks = self.candidates, self.candidates.banks
        model, units = banks.battery(bank), int(banks.units[bank])
        works = units * (self.swaps["battery_unit"] + self.swaps["kg"] * model.mass_kg)
        works += int(banks.strings[bank]) * self.swaps["string"]
        life, found = float(c.service.life_years[bank]), defaultdict(float)
        for number in range(int(banks_in_turn(end - start, life))):
            time = start + number * life
            found[math.floor(time * (1 + 1e-9))] += works + (
                units * model.price * (1 + model.price_drift) ** time
            )
        found.pop(0, None)
        return found

    def least(self, hours, solver="cbc"):
        """Return the least life-cycle cost under the conditions at ``hours``, infinite if none."""
        problem = self.build(hours)
        if solver == "cbc":
            wheels_own = pulp.PULP_CBC_CMD.pulp_cbc_path
            problem.solve(pulp.COIN_CMD(path=wheels_own, msg=False, gapRel=0.0))
        else:
            problem.solve(pulp.HiGHS(msg=False, gapRel=0.0, threads=1))
        if problem.sol_status == pulp.LpSolutionInfeasible:
            return math.inf
        assert problem.sol_status == pulp.LpSolutionOptimal, pulp.LpStatus[problem.status]
        return pulp.value(problem.objective) * MONEY
