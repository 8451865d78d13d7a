"""How fast the curve is: ``python -m tests.benchmarks.bench_frontier [--plain]``.

Prints each time beside its limit and their ratio, from one run on this machine, and how time
grows with what is on offer, the hours and the years. Leaves with status 1 where a limit is missed.
"""

from __future__ import annotations

import argparse
import math
import statistics
import subprocess
import sys
import time
from pathlib import Path

from optimizer.engine.curve import Search
from optimizer.engine.none_fits import confirm_none
from optimizer.inputs.load import load_job
from tests.plain_program import PlainProgram

from .generated import SEED, generated_job

ROOT = Path(__file__).resolve().parents[2]
WORKED = ROOT / "tests" / "cases" / "worked" / "site.toml"
VARIANTS = ROOT / "tests" / "cases" / "worked5" / "site.toml"
HOURS = 48

WORKED_LIMIT_S, VARIANTS_LIMIT_S, GENERATED_LIMIT_S = 0.060, 0.6, 0.6
NONE_FITS_LIMIT_S, COMMAND_LIMIT_S = 2.0, 0.8
LEAST_RATIO = 500
RUNS = 11
#: Hours at which the plain loop is measured where it is not run whole.
SAMPLED = (1, 7, 13, 19, 25, 31, 37, 43)
CENT = 0.01


def seconds(call, clock=time.process_time):
    """Return how long a call takes [s], and its result.

    Counted is this process's own time: what else runs on the machine does not make it slower.
    """
    began = clock()
    result = call()
    return clock() - began, result


def points(job):
    """The whole curve, each point proven."""
    return list(Search(job).points())


def line(name, taken, limit):
    """Print a time beside its limit, as a ratio of the two; tell whether it is kept."""
    kept = taken <= limit
    verdict = f"{limit / taken:4.1f} times within" if kept else f"{taken / limit:4.1f} times over"
    print(f"{name:<62}{1000 * taken:9.1f} ms   limit {1000 * limit:5.0f} ms: {verdict}")
    return kept


def worked_curve():
    """(a) The worked site from loaded inputs to proven points."""
    job = load_job(WORKED)
    points(job)  # the solver's first start is the process's, not the curve's
    runs = [seconds(lambda: points(job)) for _ in range(RUNS)]
    taken = statistics.median(time_s for time_s, _ in runs)
    curve = runs[-1][1]
    return line(
        f"worked site, hours 1 to {HOURS}, {len(curve)} points, median of {RUNS}",
        taken,
        WORKED_LIMIT_S,
    )


def variants_curve():
    """(b) Nine variants: three contract steps, two generators or none."""
    job = load_job(VARIANTS)
    runs = [seconds(lambda: points(job)) for _ in range(5)]
    taken, found = min(time_s for time_s, _ in runs), len(runs[-1][1])
    variants = len(Search(job).bounds)
    name = f"{variants} variants, hours 1 to {job.site.max_hours}, {found} points, best of 5"
    return line(name, taken, VARIANTS_LIMIT_S)


def generated_none_fits():
    """(d) The same list with money for almost, and far from, the cheapest: proven by the solver."""
    job = generated_job(depths=3)
    least = Search(job).least(job.site.target_hours)
    kept = True
    for share in (0.99, 0.5):
        limited = job.with_site(lifetime_budget=share * least)

        def proven(limited=limited):
            search, hours = Search(limited), limited.site.target_hours
            assert not search.exists(hours)
            confirm_none(search, hours)

        taken = min(seconds(proven)[0] for _ in range(3))
        name = f"nothing fits for {share:.0%} of the least cost, proven, best of 3"
        kept &= line(name, taken, NONE_FITS_LIMIT_S)
    return kept


def generated_curve():
    """(c) A large invented price list, three depths each: best of five runs."""
    job = generated_job(depths=3)
    runs = [seconds(lambda: points(job)) for _ in range(5)]
    taken = min(time_s for time_s, _ in runs)
    found = len(runs[-1][1])
    site, catalog = job.site, job.catalog
    return line(
        f"generated, {len(catalog.batteries)} batteries at 3 depths × {len(catalog.inverters)}, "
        f"{site.max_hours} h, {site.horizon_years} a, {found} points, best",
        taken,
        GENERATED_LIMIT_S,
    )


def plain_loop(*, whole):
    """(e) The program built and solved once per hour with CBC, nothing cut beforehand."""
    job, clock = load_job(WORKED), time.perf_counter  # the solver is a process of its own
    curve_s, curve = seconds(lambda: points(job), clock)
    hours_run = range(1, HOURS + 1) if whole else SAMPLED
    found, spent_s = {}, 0.0
    for hours in hours_run:
        taken, found[hours] = seconds(lambda hours=hours: PlainProgram(job).least(hours), clock)
        spent_s += taken
    loop_s = spent_s * HOURS / len(found)
    ratio = loop_s / curve_s
    how = "all run" if whole else f"{len(found)} hours run, the rest in proportion"
    print(f"{f'plain loop, one program an hour for {HOURS} h ({how})':<62}{1000 * loop_s:9.0f} ms")
    kept = ratio >= LEAST_RATIO
    verdict = "kept" if kept else "MISSED"
    print(f"  the curve is {ratio:,.0f} times faster; limit {LEAST_RATIO}: {verdict}")
    same = _same_answers(job, curve, found, whole=whole)
    print(f"  same answers: {'yes' if same else 'NO'}")
    return kept and same


def _same_answers(job, curve, found, *, whole):
    """Compare with the loop: at an hour the loop meets that hour's conditions alone.

    A point of the curve is the least of its own hour and of all longer ones, so a whole loop
    settles every hour, and a sample those where the curve has a point.
    """
    if whole:
        least = math.inf
        for hours in range(HOURS, 0, -1):
            least = min(least, found[hours])
            point = next((one for one in curve if one.hours >= hours), None)
            cost = math.inf if point is None else point.life_cycle_cost
            if not math.isclose(cost, least, abs_tol=CENT):
                return False
        return True
    search = Search(job)
    for hours, plain in found.items():
        options = search.options(hours)
        least = min((option.cost for option in options), default=math.inf)
        if not math.isclose(least, plain, abs_tol=CENT) or least < search.least(hours) - CENT:
            return False
    return True


def whole_command():
    """(f) ``keeplit choose house``, from the shell's call to the last line."""
    words = [sys.executable, "-m", "optimizer", "choose", "house"]
    times = [
        seconds(
            lambda: subprocess.run(words, cwd=ROOT, capture_output=True, check=True),
            time.perf_counter,
        )[0]
        for _ in range(5)
    ]
    return line("keeplit choose house, the whole command, best of 5", min(times), COMMAND_LIMIT_S)


#: What grows, and its steps; the last is the generated price list of (b).
GROWTH = {
    "batteries": (25, 50, 100, 200),
    "inverters": (8, 15, 30, 60),
    "max_hours": (9, 18, 36, 72),
    "horizon_years": (5, 10, 20, 40),
    "depths": (1, 2, 3, 4),
    "steps": (1, 2, 3, 4),
    "generators": (1, 2, 3, 4),
}


def growth():
    """(g) How time grows, all else as in (c) but one depth and a horizon of 10 years."""
    print(f"\ngrowth of time, generated price list of seed {SEED}:")
    for name, steps in GROWTH.items():
        times = []
        for step in steps:
            job = generated_job(**{"horizon_years": 10, name: step})
            times.append(min(seconds(lambda job=job: points(job))[0] for _ in range(3)))
        exponent = fitted_exponent(steps, times)
        shown = "".join(
            f"{step:>7}: {1000 * taken:6.0f} ms" for step, taken in zip(steps, times, strict=True)
        )
        print(f"  {name:<14}{shown}   time ~ {name}^{exponent:.2f}")


def fitted_exponent(steps, times):
    """Return the slope of the straight line through the logarithms (least squares)."""
    x, y = [math.log(step) for step in steps], [math.log(taken) for taken in times]
    mean_x, mean_y = statistics.fmean(x), statistics.fmean(y)
    over = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True))
    return over / sum((a - mean_x) ** 2 for a in x)


def main(arguments=None):
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "--plain", action="store_true", help=f"run the plain loop for all {HOURS} hours"
    )
    parser.add_argument("--no-growth", action="store_true", help="leave out how time grows")
    options = parser.parse_args(arguments)
    kept = worked_curve()
    kept &= variants_curve()
    kept &= generated_curve()
    kept &= generated_none_fits()
    kept &= plain_loop(whole=options.plain)
    kept &= whole_command()
    if not options.no_growth:
        growth()
    print("\nevery limit is kept" if kept else "\na limit is MISSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
