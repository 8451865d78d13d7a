"""One question about two jobs: each side is the answer it has alone."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import InputError, NoDesignError, against, budget_table, choose, compare, frontier
from optimizer.report.grids.grid import raw
from optimizer.report.grids.two_runs import side_by_side
from optimizer.report.words.two_runs import runs
from optimizer.report.words.writer import Writer
from tests.unit import builders

from .jobs import small_house

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def job():
    return small_house()


@pytest.fixture(scope="module")
def dearer(job):
    return job.what_if(price_lead="+40%")


def test_a_choice_of_each_and_the_difference(job, dearer):
    (pair,) = against(dearer, job, hours=4).pairs
    first, second = choose(dearer, hours=4).design, choose(job, hours=4).design
    assert (pair.first, pair.second) == (first, second)
    assert pair.more_over_the_years == first.life_cycle_cost - second.life_cycle_cost != 0
    assert pair.more_upfront == first.upfront_cost - second.upfront_cost
    assert pair.more_hours == first.hours - second.hours


def test_two_curves_at_every_hour_where_either_steps(job, dearer):
    found = against(dearer, job, frontier)
    curves = frontier(dearer), frontier(job)
    hours = sorted({one.hours for curve in curves for one in curve.points})
    assert [pair.at for pair in found.pairs] == hours
    for pair in found.pairs:
        assert (pair.first, pair.second) == tuple(curve.at(pair.at) for curve in curves)
    grid = side_by_side(Writer("EUR"), found)
    assert len(grid.rows) == len(found.stretches) <= len(hours)


def test_sides_and_budgets(job, dearer):
    sides = against(dearer, job, compare, hours=4)
    assert {pair.at for pair in sides.pairs} == {one.name for one in compare(job, 4).alternatives}
    budgets = [0.0, 2600.0, 3400.0]
    bought = against(dearer, job, budget_table, budgets=budgets)
    assert [pair.at for pair in bought.pairs] == budgets
    assert [pair.second for pair in bought.pairs] == [
        row.design for row in budget_table(job, budgets)
    ]
    assert bought.pairs[0].more_hours is None


def test_where_one_run_finds_nothing_the_other_still_stands():
    job = builders.make_job()
    hopeless = job.with_site(budget=1.0)
    found = against(hopeless, job, hours=4)
    (pair,) = found.pairs
    assert pair.first is None
    assert pair.second == choose(job, hours=4).design
    assert raw(side_by_side(Writer("EUR"), found).rows[0][2]) == "none"
    with pytest.raises(NoDesignError):
        against(hopeless, hopeless, hours=4)


def test_each_run_says_what_is_supposed_of_it(job, dearer):
    found = against(dearer, job, hours=4)
    first, second = runs(Writer("EUR"), found)
    assert "price of lead-acid batteries 40% dearer" in first
    assert "as its files say" in second
    assert [one.name for one in found.first.supposed] == ["price:lead"]
    assert found.second.supposed == ()


def test_two_currencies_are_not_set_side_by_side(job):
    other = replace(job, site=replace(job.site, currency="USD"))
    with pytest.raises(InputError, match="found USD; wanted a site whose money is in"):
        against(job, other)
