"""How long it takes to answer "lead or lithium?", and to follow purchases through drawn scenarios.

Run: ``python -m tests.benchmarks.bench_compare [--site house] [--scenarios 200]``. Prints times
and their ratios to what they were meant to stay below; a ratio above 1 is too slow.
"""

from __future__ import annotations

import argparse
import math
import time

import numpy as np

from optimizer import (
    break_even_line,
    budget_table,
    compare,
    load,
    regret,
    sensitivities,
    staircase,
    switch_points,
    tiers,
)
from optimizer.comparison.parameters import parameters_of
from optimizer.engine.curve import Search

#: Whole comparison with all switch points, and regret on two cores [s].
SWITCH_POINTS_LIMIT_S, REGRET_LIMIT_S = 5.0, 10.0
#: Values on which a scan would try each number to find a switch point to a part in a million.
_SCAN = 1_000_000


def timed(name, run, limit_s=None):
    started = time.perf_counter()
    result = run()
    seconds = time.perf_counter() - started
    ratio = "" if limit_s is None else f"   {seconds / limit_s:6.3f} of {limit_s:g} s"
    print(f"{name:<52}{seconds:8.3f} s{ratio}")
    return result, seconds


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--site", default="house")
    options.add_argument("--scenarios", type=int, default=200)
    asked = options.parse_args()
    job = load(asked.site)
    hours = job.site.target_hours
    numbers = parameters_of(job)
    print(f"{job.site.name}: {hours} h, {len(job.catalog.batteries)} batteries\n")

    def whole():
        return compare(job), switch_points(job)

    (comparison, found), seconds = timed(
        f"side by side and switch points along {len(numbers)} numbers", whole, SWITCH_POINTS_LIMIT_S
    )
    tried = sum(one.values_tried for one in found)
    turned = sum(len(one.points) for one in found)
    print(f"  {turned} switch points, {tried} values tried, {comparison.winner.name} wins")

    def plain():
        for family in ("lead", "lithium"):
            Search(job, family).least(hours)

    _, one_value = timed("one value, both families, searched whole", plain)
    scan_s = one_value * _SCAN * len(numbers)
    print(f"  a scan to a part in a million: {scan_s / 3600:,.0f} h, {scan_s / seconds:,.0f} ×\n")

    name = f"regret over {asked.scenarios} scenarios"
    alone, one = timed(
        f"{name}, one process", lambda: regret(job, scenarios=asked.scenarios, processes=1)
    )
    both, two = timed(
        f"{name}, two processes",
        lambda: regret(job, scenarios=asked.scenarios, processes=2),
        REGRET_LIMIT_S,
    )
    same = np.allclose(
        [record.mean_regret for record in alone.records if math.isfinite(record.mean_regret)],
        [record.mean_regret for record in both.records if math.isfinite(record.mean_regret)],
    )
    print(f"  two processes are {one / two:.2f} × as fast, {'same' if same else 'OTHER'} answer\n")

    timed("break-even line, outages against battery price", lambda: break_even_line(job))
    timed("sensitivities", lambda: sensitivities(job))
    timed("staircase of a budget, steps explained", lambda: staircase(job))
    timed("table of 100 budgets", lambda: budget_table(job, range(0, 10000, 100)))
    timed("tier by tier", lambda: tiers(job))


if __name__ == "__main__":
    main()
