"""The program written out plainly, nothing cut: what the bounds and the benchmark stand against.

One binary for every inverter set and one for every bank and the years it serves, linked by rows
for each year. No cut, no shortest path, no column left out but those the site itself rules out
and those whose service life does not allow the years. The rows are the model's requirements, so
that this shares with the project only the columns' coefficients.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
import pulp

from optimizer.candidates import build_candidates


@dataclass
class PlainProgram:
    """The columns of a job, and the program at any hours."""

    job: object
    family: str | None = None
    candidates: object = field(init=False)

    def __post_init__(self):
        self.candidates = build_candidates(self.job, self.family)

    def build(self, hours):
        """Return the program of the cheapest design under the conditions at ``hours``."""
        c, site = self.candidates, self.job.site
        sets, banks, horizon = c.sets, c.banks, site.horizon_years
        needed, usable = c.needed_wh(hours) / 1000, c.usable_wh(hours) / 1000
        problem = pulp.LpProblem("plain", pulp.LpMinimize)
        chosen = [problem.add_variable(f"s{i}", 0, 1, cat=pulp.LpBinary) for i in range(len(sets))]
        works = problem.add_variable("w", 0, 1, cat=pulp.LpBinary)
        cost = [(v, x / 1000) for v, x in zip(chosen, sets.life_cycle_cost.tolist(), strict=True)]
        cost.append((works, c.vented_works / 1000))
        upfront = [(v, x / 1000) for v, x in zip(chosen, sets.upfront_cost.tolist(), strict=True)]
        upfront.append((works, c.vented_works / 1000))
        energy = [[(v, -x) for v, x in zip(chosen, needed[:, y].tolist(), strict=True)] for y in range(horizon)]
        discharge = [[(v, -x / 100) for v, x in zip(chosen, sets.peak_current_a.tolist(), strict=True)] for _ in range(horizon)]
        charger = [[(v, x / 100) for v, x in zip(chosen, sets.charger_a.tolist(), strict=True)] for _ in range(horizon)]
        voltages = sorted(set(sets.voltage_v.tolist()) | set(banks.voltage_v.tolist()))
        wired = {
            (volts, year): [(v, -1.0) for v, x in zip(chosen, sets.voltage_v.tolist(), strict=True) if x == volts]
            for volts in voltages
            for year in range(horizon)
        }
        gassing = [[(works, -1.0)] for _ in range(horizon)]
        for bank, arc in zip(*np.nonzero(np.isfinite(c.arc_cost)), strict=True):
            start, end = int(c.arc_start[arc]), int(c.arc_end[arc])
            serves = problem.add_variable(f"b{bank}_{arc}", 0, 1, cat=pulp.LpBinary)
            cost.append((serves, float(c.arc_cost[bank, arc]) / 1000))
            if start == 0:
                upfront.append((serves, float(c.bank_upfront[bank]) / 1000))
            life, soh = banks.service_life_years[bank], banks.end_of_life_soh[bank]
            for year in range(start, end):
                health = 1 - (1 - soh) * (year - start + 1) / life
                energy[year].append((serves, float(usable[bank] * health)))
                discharge[year].append((serves, float(banks.discharge_a[bank]) / 100))
                charger[year].append((serves, -float(banks.charge_a[bank]) / 100))
                wired[int(banks.voltage_v[bank]), year].append((serves, 1.0))
                if banks.vented[bank]:
                    gassing[year].append((serves, 1.0))
        problem.setObjective(pulp.LpAffineExpression(cost))
        rows = [(pulp.LpAffineExpression([(v, 1.0) for v in chosen]) == 1, "one_set")]
        rows += [(pulp.LpAffineExpression(row) >= 0, f"energy_{y}") for y, row in enumerate(energy)]
        rows += [(pulp.LpAffineExpression(row) >= 0, f"amps_{y}") for y, row in enumerate(discharge)]
        rows += [(pulp.LpAffineExpression(row) >= 0, f"refill_{y}") for y, row in enumerate(charger)]
        rows += [(pulp.LpAffineExpression(row) == 0, f"volts_{v}_{y}") for (v, y), row in wired.items() if row]
        rows += [(pulp.LpAffineExpression(row) <= 0, f"gas_{y}") for y, row in enumerate(gassing)]
        if site.budget is not None:
            rows.append((pulp.LpAffineExpression(upfront) <= site.budget / 1000, "budget"))
        for row, name in rows:
            problem.addConstraint(row, name)
        return problem

    def least(self, hours, solver="cbc"):
        """Return the least life-cycle cost under the conditions at ``hours``, infinite if none."""
        problem = self.build(hours)
        if solver == "cbc":
            problem.solve(pulp.PULP_CBC_CMD(msg=False, gapRel=0.0))
        else:
            problem.solve(pulp.HiGHS(msg=False, gapRel=0.0, threads=1))
        if problem.sol_status == pulp.LpSolutionInfeasible:
            return math.inf
        assert problem.sol_status == pulp.LpSolutionOptimal, pulp.LpStatus[problem.status]
        return pulp.value(problem.objective) * 1000
