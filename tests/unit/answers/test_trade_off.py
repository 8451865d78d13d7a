"""Pay now or pay later, and the curve of the upfront cost."""

from itertools import pairwise

import pytest

from optimizer import NoDesignError, choose, frontier, load, staircase, trade_off
from optimizer.answers.curve import by_family

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module", params=["clinic", "hall"])
def job(request):
    return load(request.param).with_site(budget=None, lifetime_budget=None)


def test_each_point_is_the_least_life_cycle_cost_under_its_limit(job):
    found = trade_off(job)
    hours = job.site.target_hours
    assert found.points[0].life_cycle_cost == choose(job).design.life_cycle_cost
    for here, there in pairwise(found.points):
        assert here.upfront_cost > there.upfront_cost
        assert here.life_cycle_cost < there.life_cycle_cost
        under = choose(job.with_site(budget=here.upfront_cost - 0.01), hours=hours).design
        assert under.life_cycle_cost == pytest.approx(there.life_cycle_cost)
        assert under.upfront_cost == pytest.approx(there.upfront_cost)
    last = found.points[-1].upfront_cost
    with pytest.raises(NoDesignError):
        choose(job.with_site(budget=last - 0.01), hours=hours)


def test_the_jobs_own_budget_holds(job):
    dearest, *others = trade_off(job).points
    held = trade_off(job.with_site(budget=dearest.upfront_cost - 0.01))
    assert [one.upfront_cost for one in held.points] == [one.upfront_cost for one in others]


def test_least_upfront_cost_of_every_hour_is_where_the_staircase_steps(job):
    curve = frontier(job, cost="upfront_cost")
    steps = staircase(job).steps
    assert [point.hours for point in curve.points] == [step.hours for step in steps]
    for point, step in zip(curve.points, steps, strict=True):
        assert point.upfront_cost == pytest.approx(step.budget, abs=0.01)
        assert point.life_cycle_cost == pytest.approx(step.design.life_cycle_cost)
    target = job.site.target_hours
    assert curve.at(target).upfront_cost == pytest.approx(trade_off(job).points[-1].upfront_cost)


@pytest.mark.parametrize("cost", ["life_cycle_cost", "upfront_cost"])
def test_families_curves_beside_that_of_all_are_each_familys_own(job, cost):
    overall, own = by_family(job, cost=cost)
    assert overall == frontier(job, cost=cost)
    for family, curve in own.items():
        alone = frontier(job, family=family, cost=cost)
        assert [point.hours for point in curve.points] == [point.hours for point in alone.points]
        for here, there in zip(curve.points, alone.points, strict=True):
            assert here.life_cycle_cost == pytest.approx(there.life_cycle_cost)
            assert here.upfront_cost == pytest.approx(there.upfront_cost)
