"""Regret over outages against trying every allotment."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from optimizer.programme.allotment import allot
from optimizer.programme.curves import Scenario, Service, World
from optimizer.programme.regrets import programme_regret
from optimizer.programme.terms import Goal

from .programmes import candidate, point, programme


def drawn(seed):
    """Four sites in two groups whose points do otherwise under other outages."""
    dice = np.random.default_rng(seed)

    def service():
        return Service(share_carried=float(dice.random()), kwh_unserved=float(dice.random()))

    def under_all(one):
        return replace(one, scenarios=tuple((each, service()) for each in Scenario))

    sites = []
    for number in range(4):
        points = [
            under_all(point(float(cost), hours + 1, float(dice.random()), float(dice.random())))
            for hours, cost in enumerate(np.sort(dice.integers(1, 40, 2)))
        ]
        one = candidate(str(number), points, kwh=2.0, group="xy"[number % 2], people=number + 1.0)
        nothing = under_all(one.curve.nothing)
        sites.append(replace(one, curve=replace(one.curve, nothing=nothing)))
    return programme(*sites)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("goal", [Goal.SHARE, Goal.UNSERVED])
def test_regret_is_what_trying_everything_finds(seed, goal):
    sites, budget = drawn(seed), 45.0
    found = programme_regret(allot(sites, budget, goal=goal))
    assert found.is_proven
    whole = sum(one.site.people for one in sites.candidates)
    sign = -1 if goal.is_loss else 1

    def figure(chosen, world):
        total = 0.0
        for one, got in zip(sites.candidates, chosen, strict=True):
            is_there = world.group in {None, one.site.group}
            total += goal.of(got, world.scenario if is_there else None) * one.site.people
        return total / whole

    every = [
        chosen
        for chosen in product(*((one.curve.nothing, *one.curve.points) for one in sites.candidates))
        if sum(got.upfront_cost for got in chosen) <= budget
    ]
    best = {
        one.world: max((figure(chosen, one.world) for chosen in every), key=lambda x: sign * x)
        for one in found.worlds
    }
    assert len(best) == 3 + 2 * 2
    for one in found.worlds:
        assert one.best == pytest.approx(best[one.world])
        assert one.regret == pytest.approx(sign * (one.best - one.figure))
        assert one.regret >= -1e-9
    least = min(
        max(sign * (best[world] - figure(chosen, world)) for world in best) for chosen in every
    )
    assert found.least_largest == pytest.approx(least, abs=1e-6)
    assert found.largest.regret >= found.least_largest - 1e-6


def test_hours_are_regretted_in_energy():
    found = programme_regret(allot(drawn(1), 45, goal="hours"))
    assert found.goal is Goal.UNSERVED
    assert found.worlds[0].world == World()
