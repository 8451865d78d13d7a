"""Allotments against an exhaustive search that shares no code with them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from optimizer.engine.solver import Status
from optimizer.errors import InputError, NoAllotmentError
from optimizer.model.refusal import Eased, Term
from optimizer.programme.allotment import allot, allotted
from optimizer.programme.budget_curve import budget_curve
from optimizer.programme.changes import at_other_budget
from optimizer.programme.spending import spending
from optimizer.programme.terms import Goal, Terms

from .programmes import GOALS, by_hours, candidate, point, programme, searched

TEAMS = by_hours({"A": [45, 70, 90], "B": [20, 45, 75], "C": [50, 70, 80]})


def drawn(dice):
    """A small programme of sites in two groups, in cents, curves that need not be concave."""
    sites = []
    for number in range(int(dice.integers(2, 6))):
        count = int(dice.integers(1, 4))
        money = np.sort(dice.integers(100, 5000, count)) / 100
        hours = np.sort(dice.integers(1, 20, count))
        later = dice.integers(0, 900, count) / 100
        points = [
            point(
                float(cost),
                int(hour),
                share=float(dice.random()),
                kwh=float(dice.random()),
                later=[(3, float(due))] if due else (),
            )
            for cost, hour, due in zip(money, hours, later, strict=True)
        ]
        sites.append(
            candidate(
                str(number),
                points,
                kwh=2.0,
                group="xy"[int(dice.integers(2))],
                people=float(dice.integers(1, 9)),
                min_hours=int(hours[-1] * dice.random()) * int(dice.random() < 0.2),
            )
        )
    return programme(*sites)


def asked(dice):
    """Terms that often bind: budget, floor, shares, a later limit, a figure required."""
    goal = GOALS[int(dice.integers(3))]
    terms = {"goal": goal, "budget": float(dice.integers(500, 12_000)) / 100}
    if dice.random() < 0.3:
        terms["floor_hours"] = int(dice.integers(1, 6))
    if dice.random() < 0.4:
        terms["group_share"] = float(dice.choice([0.2, 0.4]))
    if dice.random() < 0.4:
        terms["later_limit"] = float(dice.integers(100, 1500)) / 100
    if dice.random() < 0.4:
        other = GOALS[int(dice.integers(3))]
        terms["required"] = {other: float(dice.random() * (6 if other is Goal.HOURS else 0.9))}
        if dice.random() < 0.5:
            terms["budget"] = None
    return Terms(**terms)


@pytest.mark.parametrize("seed", range(120))
def test_nothing_better_is_found_by_trying_everything(seed):
    dice = np.random.default_rng(seed)
    sites, terms = drawn(dice), asked(dice)
    best = searched(sites, terms)
    if best is None:
        with pytest.raises(NoAllotmentError) as told:
            allotted(sites, terms)
        _is_why(sites, terms, told.value.refusal)
        return
    found = allotted(sites, terms)
    assert found.status is Status.PROVEN
    own = found.upfront_cost if terms.seeks_least_money else found.mean()
    assert own == pytest.approx(best, rel=1e-9, abs=1e-9)
    assert found.gap == 0


def _is_why(sites, terms, refused):
    """Hold what makes it so against trying everything under the terms without each of them."""
    if refused.sites:
        return
    least = searched(sites, replace(terms, budget=None))
    assert refused.least == (None if terms.budget is None else pytest.approx(least))
    lifted = {
        Term.FLOOR: {"floor_hours": 0},
        Term.REQUIRED: {"required": {}},
        Term.GROUP_SHARES: {"group_share": 0.0},
        Term.LATER_LIMITS: {"later_limit": None},
    }
    without = {
        term: searched(sites, replace(terms, budget=None, **change))
        for term, change in lifted.items()
    }
    most = np.inf if least is None else least - 0.005
    less = {term: money for term, money in without.items() if money and money < most}
    assert {one.term: one.least for one in refused.eased} == pytest.approx(less)


def test_a_limit_that_raises_the_need_is_told():
    sites = programme(candidate("a", [point(4, 5, later=[(3, 9.0)]), point(7, 5)]))
    terms = Terms(budget=5.0, floor_hours=1, later_limit=3.0)
    with pytest.raises(NoAllotmentError, match="Without the limit on later purchases") as told:
        allotted(sites, terms)
    assert told.value.refusal.least == 7
    assert told.value.refusal.eased == (Eased(Term.LATER_LIMITS, 4.0),)  # no floor: nothing is due


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("goal", GOALS)
def test_the_whole_budget_curve_is_what_trying_everything_finds(seed, goal):
    sites = drawn(np.random.default_rng(1000 + seed))
    curve = budget_curve(sites, Terms(goal=goal, budget=0.0))
    assert curve.is_complete
    for one in curve.points:
        at = Terms(goal=goal, budget=one.budget)
        assert one.figure == pytest.approx(searched(sites, at), rel=1e-9, abs=1e-9)
        below = searched(sites, Terms(goal=goal, budget=one.budget - 0.01))
        assert below is None or abs(below - one.figure) > 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_a_sampled_curve_keeps_its_bound(seed):
    sites = drawn(np.random.default_rng(2000 + seed))
    terms = Terms(goal=Goal.HOURS, budget=0.0, group_share=0.2)
    curve = budget_curve(sites, terms)
    assert not curve.is_complete
    for one in curve.points:
        best = searched(sites, Terms(goal=Goal.HOURS, budget=one.budget, group_share=0.2))
        assert one.figure <= best + 1e-9
        assert best <= one.bound + 1e-9


def test_of_equals_the_cheapest_is_taken():
    sites = programme(candidate("a", [point(3, 5), point(9, 5)]), candidate("b", [point(4, 2)]))
    found = allot(sites, 20, goal="hours")
    assert (found.mean(), found.upfront_cost) == (3.5, 7)


def test_the_budget_is_never_passed_by_a_cent():
    sites = programme(*(candidate(str(n), [point(0.1, 1), point(0.3, 2)]) for n in range(3)))
    assert allot(sites, 0.3, goal="hours").upfront_cost <= 0.3
    assert allot(sites, 0.3, goal="hours").mean() * 3 == 3
    assert allot(sites, 0.29, goal="hours").mean() * 3 == 2


def test_more_money_and_who_gets_it():
    found = allot(TEAMS, 2, goal="hours")
    other = at_other_budget(found, 3)
    assert [(one.after.site.name, one.after.point.hours) for one in other.changes] == [("A", 70)]
    assert other.figure * 3 == 120
    assert at_other_budget(allot(TEAMS, None, floor_hours=20), 1).figure is None


def test_what_must_be_costs_more_than_there_is():
    with pytest.raises(NoAllotmentError) as told:
        allot(TEAMS, 2, goal="hours", floor_hours=45)
    assert told.value.refusal.least == 4
    assert "€4.00 at the least" in str(told.value)


def test_hours_that_no_curve_reaches_are_told_with_the_site():
    with pytest.raises(NoAllotmentError, match="hours asked of B and C"):
        allot(TEAMS, 9, floor_hours=81)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"budget": -1}, "--budget"),
        ({"budget": float("nan")}, "--budget"),
        ({"budget": 5, "floor_hours": 999}, "--floor"),
        ({"budget": 5, "group_shares": {"nowhere": 0.1}}, "a group of the table of sites"),
        ({"budget": 5, "group_share": 1.5}, "100% at most together"),
        ({}, "--require or --floor"),
    ],
)
def test_wrong_terms_are_told(wrong, told):
    with pytest.raises(InputError, match=told):
        allot(TEAMS, **wrong)


def test_spending_adds_up():
    sites = programme(candidate("a", [point(10, 5, later=[(4, 7.0)])]), candidate("b", []))
    years = spending(allot(sites, 10, goal="hours"))
    assert [year.bought for year in years] == [10, 0, 0, 0, 7]
