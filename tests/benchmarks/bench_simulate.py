"""Times of the second opinion: ``python -m tests.benchmarks.bench_simulate`` or the file itself.

The site and the bank are made here: two seasons, ten years, twelve loads, a bank replaced once.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "unit")]

import numpy as np  # noqa: E402
from simulate.scalar import ride_hours  # noqa: E402
from simulate.sites import HALVES, make_bank, make_design, make_job, make_load  # noqa: E402

from optimizer import simulate  # noqa: E402
from optimizer.model.outages import LoggedOutage, Outages  # noqa: E402
from optimizer.simulate.profile import hourly  # noqa: E402

SEED = 77
YEARS = 10_000
RIDE_LIMIT_S, DRAW_LIMIT_S = 0.020, 2.0


def best_of(runs, call):
    """Least time of several runs [s], and the last result."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        result = call()
        times.append(time.perf_counter() - began)
    return min(times), result


def example():
    """A house with an outage log of three years."""
    rng = np.random.default_rng(SEED)
    loads = [
        make_load(
            f"load {i}",
            float(rng.integers(5, 250)),
            windows=((float(start), float(start + rng.integers(2, 24))),),
            duty=float(rng.choice([0.1, 0.5, 1.0])),
            season_multipliers={"summer": 0.7},
        )
        for i, start in enumerate(rng.integers(0, 24, size=12))
    ]
    starts = sorted(rng.integers(0, 3 * 8760, size=20))
    log = tuple(
        LoggedOutage(begin, begin + timedelta(hours=float(hours)))
        for begin, hours in zip(
            [datetime(2021, 1, 1) + timedelta(hours=int(h)) for h in starts],
            rng.exponential(4.0, size=20),
            strict=True,
        )
    )
    outages = Outages("log", log=log, log_years=3.0)
    job = make_job(*loads, seasons=HALVES, outages=outages, load_growth=0.01, max_hours=240)
    kind = {"capacity_ah": 200.0, "peukert": 1.15, "max_dod": 0.8, "charge_factor": 1.15}
    banks = (make_bank(4, 2, 0, 6, 6.8, **kind), make_bank(4, 2, 6, 10, 6.8, **kind))
    return job, make_design(*banks, voltage_v=48, efficiency=0.93, no_load_w=12.0)


def plain_table(job, design):
    """The ride-through table by the loop over hours, the watts of each hour worked out once."""
    profile = hourly(job)
    return [
        ride_hours(job, design, year, season, start, watts=profile.total_w[s])
        for year in range(10)
        for s, season in enumerate(profile.seasons)
        for start in range(24)
    ]


def main() -> int:
    job, design = example()
    ride_s, ride = best_of(20, lambda: simulate.ride_through(job, design))
    plain_s, plain = best_of(1, lambda: plain_table(job, design))
    assert np.allclose(ride.hours.ravel(), np.minimum(plain, ride.horizon_hours), rtol=1e-9)
    print(f"ride-through, {ride.hours.size} starts     {1000 * ride_s:8.2f} ms", end="")
    print(f"   limit 20 ms: {RIDE_LIMIT_S / ride_s:5.1f} times within")
    print(
        f"  the same as a plain loop      {1000 * plain_s:8.2f} ms   {plain_s / ride_s:.0f} times"
    )
    bursts_s, _ = best_of(5, lambda: simulate.ride_through(job, design, in_bursts=True))
    print(
        f"  in minutes                    {1000 * bursts_s:8.2f} ms   {bursts_s / ride_s:.1f} times"
    )
    verdict_s, _ = best_of(20, lambda: simulate.verdict(job, design))
    print(f"verdict                         {1000 * verdict_s:8.2f} ms")
    replay_s, _ = best_of(5, lambda: simulate.replay_log(job, design))
    print(f"log of {len(job.outages.log)} outages replayed      {1000 * replay_s:8.2f} ms")
    log_s, drawn = best_of(3, lambda: simulate.simulate_years(job, design, years=YEARS, seed=SEED))
    print(f"{YEARS} years, {drawn.outages_a_year:5.1f} a year, the log {log_s:9.3f} s", end="")
    print(f"   limit 2 s: {DRAW_LIMIT_S / log_s:5.1f} times within")
    law = simulate.Exponential(2.0)
    for times in (50.0, 200.0, 730.0):
        draw = partial(
            simulate.simulate_years,
            job,
            design,
            years=YEARS,
            seed=SEED,
            durations=law,
            times_a_year=times,
        )
        draw_s, _ = best_of(1, draw)
        # Beyond what the limit is about: how the time grows with outages.
        print(f"  {times:5.0f} outages a year           {draw_s:8.3f} s", end="")
        print(f"   {1e9 * draw_s / times / YEARS:.0f} ns an outage")
    cuts = ((6.0, 9.0), (17.0, 22.0))
    daily = Outages("daily", daily=cuts, days_per_year=300.0)
    on_schedule = replace(job, outages=daily)
    draw_s, _ = best_of(
        1, lambda: simulate.simulate_years(on_schedule, design, years=YEARS, seed=SEED)
    )
    print(f"  two cuts on 300 days         {draw_s:8.3f} s")
    return int(ride_s > RIDE_LIMIT_S or log_s > DRAW_LIMIT_S)


if __name__ == "__main__":
    sys.exit(main())
