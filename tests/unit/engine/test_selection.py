"""The choice of one option of each group, where the solver stops early or there is nothing."""

from __future__ import annotations

import numpy as np
import pytest

from optimizer.engine import selection
from optimizer.engine.price_bound import Limit, PriceBound
from optimizer.engine.selection import select
from optimizer.engine.solver import Outcome, Status

GROUP = np.array([0, 0, 1, 1, 2])
WORTH = np.array([5.0, 8.0, 4.0, 9.0, 2.0])
MONEY = Limit(np.array([2.0, 3.0, 2.0, 6.0, 1.0]), most=7.0)
FREE = np.zeros(3, bool)


@pytest.mark.parametrize("solver", ["highs", "cbc"])
def test_both_solvers_choose_the_same(solver):
    # a second limit that rules the priced selection out, so that a solver is asked
    second = Limit(np.array([0.0, 1.0, 0.0, 0.0, 1.0]), most=1.0)
    found = select(GROUP, WORTH, FREE, [MONEY, second], solver=solver)
    assert found.chosen.tolist() == [1, 2, -1]
    assert (found.status, found.worth, found.gap, found.price) == (Status.PROVEN, 12.0, 0.0, None)


def test_at_a_time_limit_what_is_known_is_returned_with_its_gap(monkeypatch):
    stopped = Outcome(Status.UNKNOWN, float("nan"), {}, 1.0)
    monkeypatch.setattr(selection, "solve", lambda *_, **__: stopped)
    money = Limit(MONEY.weights, most=8.0)
    found = select(GROUP, WORTH, FREE, [money], limit_seconds=1.0)
    best = max(14.0, 13.0)  # 8 and 4 and 2, or 8 and 5's place taken by none: by hand
    assert found.status is Status.FOUND
    assert found.worth <= best <= found.bound
    assert 0 < found.gap < 1


def test_where_nothing_is_known_in_time_that_is_said(monkeypatch):
    stopped = Outcome(Status.UNKNOWN, float("nan"), {}, 1.0)
    monkeypatch.setattr(selection, "solve", lambda *_, **__: stopped)
    second = Limit(-WORTH, most=-12.0)
    found = select(GROUP, np.full(5, -1.0), FREE, [MONEY, second], limit_seconds=1.0)
    assert (found.status, found.chosen.tolist()) == (Status.UNKNOWN, [-1, -1, -1])


@pytest.mark.parametrize(("must", "status"), [([True], Status.NONE), ([False], Status.PROVEN)])
def test_no_options_at_all(must, status):
    nothing = np.zeros(0)
    found = select(np.zeros(0, np.int64), nothing, np.array(must), [Limit(nothing, 1.0)])
    assert (found.status, found.chosen.tolist()) == (status, [-1])


def test_no_price_meets_what_cannot_be_met():
    must = np.array([True, True, True])
    assert PriceBound(GROUP, WORTH, must, Limit(MONEY.weights, most=4.0)).price is None
    assert select(GROUP, WORTH, must, [Limit(MONEY.weights, most=4.0)]).status is Status.NONE


@pytest.mark.parametrize("seed", range(30))
def test_no_option_of_an_optimum_is_cut(seed):
    dice = np.random.default_rng(seed)
    group = np.repeat(np.arange(4), 3)
    worth, takes = dice.integers(1, 30, 12).astype(float), dice.integers(1, 20, 12).astype(float)
    limit = Limit(takes, most=float(dice.integers(5, 50)))
    bound = PriceBound(group, worth, np.zeros(4, bool), limit)
    kept = set(bound.worth_a_look(0.0).tolist())
    best, every = 0.0, [[-1, *range(3 * n, 3 * n + 3)] for n in range(4)]
    optima = []
    for chosen in np.array(np.meshgrid(*every)).T.reshape(-1, 4):
        own = chosen[chosen >= 0]
        if takes[own].sum() <= limit.most:
            optima.append((worth[own].sum(), own))
            best = max(best, worth[own].sum())
    assert best <= bound.bound + 1e-9
    assert all(set(own.tolist()) <= kept for value, own in optima if value == best)
