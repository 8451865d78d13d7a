"""Searching a job: ties, limits of money, and what the search refuses to believe."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from optimizer import InternalError, NotProvenError, frontier
from optimizer.engine import curve
from optimizer.engine.curve import Search
from optimizer.engine.solver import Outcome, Status
from tests.unit.builders import make_battery, make_inverter, make_job, with_site

RARE = ((1.0, 1.0),)  # outages that hardly wear anything


def tie_job(*batteries, **changes):
    """One inverter; batteries that live for the whole horizon, so that one bank is the chain."""
    return make_job(
        batteries=[replace(one, float_life_years=20.0) for one in batteries],
        inverters=changes.pop("inverters", [make_inverter(max_units=1)]),
        voltages=(12,),
        yearly=RARE,
        **changes,
    )


def chosen(design):
    return [(bank.battery.battery, bank.series, bank.strings) for bank in design.banks]


# --- designs of equal cost ----------------------------------------------------------------------


def test_of_equal_costs_the_longest():
    """A 100 Ah and a 130 Ah battery at one price: 4 h and 5 h from one bank for the same money."""
    small = make_battery("Small", capacity_ah=100.0)
    large = make_battery("Large", capacity_ah=130.0)
    search = Search(tie_job(small, large, max_parallel=1))
    assert search.least(4) == search.least(5)
    design = search.cheapest(4)
    assert design.hours == 5
    assert chosen(design) == [("Large", 1, 1)]
    assert [point.hours for point in search.points()] == [5]


def test_then_fewer_battery_units_whatever_the_lists_order():
    pair = make_battery("Pair", voltage_v=6.0, class_v=6, price=50.0)
    single = make_battery("Single", price=100.0)
    for batteries in ((pair, single), (single, pair)):
        design = Search(tie_job(*batteries, max_parallel=1)).cheapest(4)
        assert chosen(design) == [("Single", 1, 1)]


def test_then_the_inverters_place_in_the_list_before_the_batterys():
    alder, beech = make_battery("Alder"), make_battery("Beech")
    first, second = make_inverter("First", max_units=1), make_inverter("Second", max_units=1)
    for batteries in ((alder, beech), (beech, alder)):
        for inverters in ((first, second), (second, first)):
            design = Search(tie_job(*batteries, inverters=inverters)).cheapest(4)
            assert design.inverter is inverters[0]
            assert design.banks[0].battery.battery == batteries[0].battery


def test_the_choice_among_equals_is_both_solvers():
    batteries = [make_battery(name) for name in ("Alder", "Beech", "Cedar")]
    job = tie_job(*batteries)
    assert Search(job).cheapest(4) == Search(job, solver="cbc").cheapest(4)


# --- the least cost of hours ----------------------------------------------------------------------


def test_an_hour_is_carried_by_the_cheapest_of_all_longer_hours():
    job = tie_job(make_battery())
    search = Search(job)
    for hours in range(1, 9):
        at_least = [option.cost for h in range(hours, 25) for option in search.options(h)]
        assert search.least(hours) == min(at_least)
        assert search.cheapest(hours).life_cycle_cost == pytest.approx(search.least(hours))


def test_the_curve_is_read_at_any_hour():
    found = frontier(tie_job(make_battery()))
    assert found.at(1) == found.points[0]
    for point in found.points:
        assert found.at(point.hours) == point
    assert found.at(found.points[-1].hours + 1) is None


def test_money_and_hours_rise_together():
    points = frontier(tie_job(make_battery())).points
    assert len(points) == 4  # one to four strings
    for before, after in pairwise(points):
        assert before.hours < after.hours
        assert before.life_cycle_cost < after.life_cycle_cost


def told(job):
    steps = []
    list(Search(job).points(lambda done, whole: steps.append((done, whole))))
    return steps


def test_progress_counts_every_hour_once():
    assert told(tie_job(make_battery())) == [(hour, 24) for hour in range(24)]


def test_progress_passes_over_hours_that_a_bound_rules_out_together():
    steps = told(with_site(tie_job(make_battery()), budget=760.0))
    assert 1 < len(steps) < 24
    assert steps == sorted(set(steps))
    assert {whole for _, whole in steps} == {24}


# --- limits of money --------------------------------------------------------------------------


def test_a_budget_met_exactly_and_a_cent_less():
    """Set, cable and fuse 560, one string 100: 660; two strings 760."""
    job = tie_job(make_battery())
    assert Search(with_site(job, budget=760.0)).longest().banks[0].strings == 2
    assert Search(with_site(job, budget=759.99)).longest().banks[0].strings == 1
    assert Search(with_site(job, budget=659.99)).longest() is None


def test_a_lifetime_budget_met_exactly_and_a_cent_less():
    job = tie_job(make_battery())
    free = Search(job)
    two = next(point for point in free.points() if point.banks[0].strings == 2)
    exact = Search(with_site(job, lifetime_budget=two.life_cycle_cost))
    assert exact.longest().hours == two.hours
    less = Search(with_site(job, lifetime_budget=two.life_cycle_cost - 0.01))
    assert less.longest().hours < two.hours
    assert not less.exists(two.hours)
    assert less.cheapest(two.hours) is None
    assert less.least(two.hours) == math.inf


def test_the_longest_within_a_budget_is_then_the_cheapest_at_it():
    """Money for two strings buys 9 h; the dearer battery reaches them too and is not taken."""
    dear = make_battery("Dear", price=105.0)
    design = Search(tie_job(dear, make_battery(), budget=770.0)).longest()
    assert chosen(design) == [("Slate", 1, 2)]


def test_limits_hold_for_every_point():
    job = tie_job(make_battery(), budget=770.0)
    points = list(Search(job).points())
    assert [point.banks[0].strings for point in points] == [1, 2]


def test_no_design_is_no_point():
    search = Search(tie_job(make_battery(capacity_ah=1.0)))
    assert list(search.points()) == []
    assert search.cheapest(1) is None
    assert not search.exists(1)


# --- what is not believed -------------------------------------------------------------------------


def said(status, objective=0.0):
    return lambda *_args, **_options: Outcome(status, objective, {}, 0.0)


def test_a_solver_that_finds_nothing_is_a_bug(monkeypatch):
    monkeypatch.setattr(curve, "solve", said(Status.NONE))
    with pytest.raises(InternalError, match="the shortest path has one"):
        Search(tie_job(make_battery())).cheapest(4)


@pytest.mark.parametrize("status", [Status.FOUND, Status.UNKNOWN])
def test_a_solver_that_stops_has_proven_nothing(monkeypatch, status):
    monkeypatch.setattr(curve, "solve", said(status))
    with pytest.raises(NotProvenError, match=str(status)):
        Search(tie_job(make_battery())).cheapest(4)


def test_a_solver_with_another_optimum_is_a_bug(monkeypatch):
    monkeypatch.setattr(curve, "solve", said(Status.PROVEN, 0.123))
    with pytest.raises(InternalError, match=r"the program costs 123\.0, the shortest path"):
        Search(tie_job(make_battery())).cheapest(4)
