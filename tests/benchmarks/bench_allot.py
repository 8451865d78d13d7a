"""How long it takes to choose what each of many sites gets of one budget.

Run: ``python -m tests.benchmarks.bench_allot [--sites 60]``. Prints times and their ratios to what
they were meant to stay below, then how the choice grows from 10 to 10,000 sites, and what the
curves of so many sites would take a cluster of N workers on paper.
"""

from __future__ import annotations

import argparse
import resource
import time

import numpy as np

from optimizer.inputs.programme import read_programme
from optimizer.model.programme import PlannedSite
from optimizer.model.scaled import with_loads
from optimizer.programme.allotment import allotted
from optimizer.programme.answers import allot_answer
from optimizer.programme.curves import Service, SiteCurve, SitePoint
from optimizer.programme.survey import Candidate, Programme, site_curves
from optimizer.programme.terms import Goal, Terms

#: 60 sites end to end on two cores; 1,000 sites' choice, curves given, to a thousandth [s].
SITES_LIMIT_S, CHOICE_LIMIT_S = 30.0, 10.0
_GAP, _POINTS = 1e-3, 20
_SIZES = (10, 100, 1_000, 10_000)
#: Programmes of more sites are not asked for a gap of 0: it takes minutes.
_EXACT = 1_000
_WORKERS = (1, 2, 8, 32, 128)


def timed(name, run, limit_s=None):
    started = time.perf_counter()
    result = run()
    seconds = time.perf_counter() - started
    ratio = "" if limit_s is None else f"   {seconds / limit_s:6.3f} of {limit_s:g} s"
    print(f"{name:<60}{seconds:8.3f} s{ratio}")
    return result, seconds


def processor_s():
    """Time that this process and its ended children spent on a processor [s]."""
    whole = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in whole)


def distinct(count):
    """Sites of the bundled programme, each with loads of its own: no two share a curve."""
    planned = read_programme("island")
    sites = []
    for number in range(count):
        one = planned[number % len(planned)]
        job = with_loads(one.job, 1 + number / 1000)
        sites.append(
            PlannedSite(
                name=f"{number} {one.name}",
                group=one.group,
                people=one.people,
                min_hours=one.min_hours,
                job=job,
            )
        )
    return sites


def drawn(count, seed=1):
    """Sites with curves of 20 points that rise and bend as real ones do, people and groups."""
    dice = np.random.default_rng(seed)
    candidates = []
    for number in range(count):
        hours = np.sort(dice.choice(np.arange(1, 49), _POINTS, replace=False))
        money = 1500 + np.cumsum(np.round(dice.uniform(50, 900, _POINTS), 2))
        size = float(dice.lognormal(0.0, 0.5))
        kwh = float(dice.uniform(5, 60)) * size
        points = tuple(
            SitePoint(
                hours=int(hour),
                upfront_cost=round(float(cost) * size, 2),
                life_cycle_cost=2 * float(cost),
                service=Service(
                    share_carried=1 - float(np.exp(-hour / 6)),
                    kwh_unserved=kwh * float(np.exp(-hour / 5)),
                ),
            )
            for hour, cost in zip(hours, money, strict=True)
        )
        nothing = SitePoint(
            hours=0,
            upfront_cost=0.0,
            life_cycle_cost=0.0,
            service=Service(share_carried=0.0, kwh_unserved=kwh),
        )
        site = PlannedSite(
            name=str(number), group="xyz"[number % 3], people=float(dice.integers(1, 400))
        )
        candidates.append(Candidate(site=site, curve=SiteCurve(nothing=nothing, points=points)))
    return Programme(currency="EUR", candidates=tuple(candidates))


def end_to_end(count):
    """Curves of as many sites, and all that one budget's answer holds."""
    sites = distinct(count)
    before = processor_s()

    def run():
        programme = site_curves(sites)
        return allot_answer(programme, Terms(), [2000.0 * count])

    answer, seconds = timed(f"{count} sites, all different, end to end", run, SITES_LIMIT_S)
    spent = processor_s() - before
    one = answer.answers[0].allotment
    print(
        f"  {one.equipped} equipped, {one.mean():.1%} ridden through, gap {one.gap:.2g}; "
        f"{len(answer.curve.points):,} points on the budget curve, complete: "
        f"{answer.curve.is_complete}"
    )
    print(f"  on processors: {spent:.1f} s, {spent / count:.2f} s a site\n")
    return spent / count, seconds


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--sites", type=int, default=60)
    each_s, _ = end_to_end(options.parse_args().sites)
    print("The choice, curves given (20 points each)")
    for count in _SIZES:
        programme = drawn(count)
        for goal in Goal:
            for gap in (_GAP, 0.0)[: 2 if count <= _EXACT else 1]:
                terms = Terms(goal=goal, budget=2500.0 * count, gap=gap)
                limit = CHOICE_LIMIT_S if (count, gap) == (1_000, _GAP) else None
                name = f"  {count:>6,} sites, {goal}, gap {gap:g} asked"
                found, _ = timed(name, lambda t=terms, p=programme: allotted(p, t), limit)
                print(f"{'':<62}gap {found.gap:.2g}, {found.status}")
                assert found.gap <= _GAP, found.gap
        terms = Terms(goal=Goal.HOURS, budget=2500.0 * count, group_share=0.32, gap=_GAP)
        name = f"  {count:>6,} sites, hours, each group 32 %, gap {_GAP:g} asked"
        found, _ = timed(name, lambda t=terms, p=programme: allotted(p, t))
        print(f"{'':<62}gap {found.gap:.2g}, {found.status}")
    print(f"\nCurves on a cluster, on paper: {each_s:.2f} s a site shared evenly [s]")
    print("   sites" + "".join(f"{workers:>10} workers" for workers in _WORKERS))
    for count in _SIZES:
        row = [count * each_s / min(workers, count) for workers in _WORKERS]
        print(f"{count:>8,}" + "".join(f"{seconds:>18,.1f}" for seconds in row))


if __name__ == "__main__":
    main()
