"""Budgets both ways, the limit on later years, and tiers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from optimizer import load
from optimizer.comparison.budgets import budget_table, staircase
from optimizer.comparison.tier_costs import tiers
from optimizer.engine.curve import Search
from optimizer.engine.later_purchases import bank_sums, swap_sums
from optimizer.formulas.tolerance import at_least
from optimizer.model.requirement import Requirement
from optimizer.report.grids.budgets import budgets, steps
from optimizer.report.json.serialise import to_data
from optimizer.report.words.budgets import bought
from optimizer.report.words.writer import Writer
from tests.unit import builders

from .jobs import small_house
from .test_side_by_side import falling_lithium

pytestmark = pytest.mark.slow


def longest_within(search, budget):
    design = search.within(budget).longest()
    return 0 if design is None else design.hours


def test_a_cent_below_a_step_buys_fewer_hours():
    job = small_house()
    stairs = staircase(job)
    assert [step.hours for step in stairs.steps] == sorted({step.hours for step in stairs.steps})
    reached, search = 0, Search(job)
    for step in stairs.steps:
        assert longest_within(search, step.budget) == step.hours
        assert longest_within(search, step.budget - 0.01) == reached
        assert step.design.upfront_cost <= step.budget + 1e-6
        assert step.price_of_hour * (step.hours - reached) == pytest.approx(step.step_up)
        reached = step.hours
    assert stairs.at(0.0) is None
    assert stairs.at(1e9) is stairs.steps[-1]


def test_between_steps_more_money_buys_no_hours():
    job = small_house()
    stairs = staircase(job)
    search = Search(job)
    for budget in np.linspace(0, stairs.steps[-1].budget * 1.1, 25).tolist():
        step = stairs.at(budget)
        assert longest_within(search, budget) == (0 if step is None else step.hours)


def test_lifetime_steps_are_the_curve():
    job = small_house()
    points = list(Search(job).points())
    steps = staircase(job, lifetime=True).steps
    assert [step.hours for step in steps] == [point.hours for point in points]
    for step, point in zip(steps, points, strict=True):
        assert point.life_cycle_cost - 1e-6 <= step.budget < point.life_cycle_cost + 0.01


def test_the_requirement_behind_a_step_is_named():
    # the second string needs more charger amperes than one inverter has
    job = builders.make_job(
        inverters=[builders.make_inverter(charger_a=3.0, max_units=4)],
        batteries=[builders.make_battery(capacity_ah=100.0, max_parallel=4)],
        recharge_hours=20.0,
    )
    steps = staircase(job).steps
    assert steps[0].cause.requirement is None
    assert {step.cause.requirement for step in steps[1:]} == {Requirement.REFILL}
    # one more inverter, 20 more for the larger fuse, 40 for a second run of cable
    assert steps[1].cause.lower_by == pytest.approx(560.0)


@pytest.mark.parametrize("lifetime", [False, True])
def test_a_table_is_one_search_a_row(lifetime):
    job = small_house()
    budgets = [0.0, 1500.0, 2600.0, 3400.0, 20000.0]
    rows = budget_table(job, budgets, lifetime=lifetime)
    key = "lifetime_budget" if lifetime else "budget"
    for row in rows:
        design = Search(replace(job, site=replace(job.site, **{key: row.budget}))).longest()
        if design is None:
            assert row.design is None
            continue
        assert row.design.hours == design.hours
        assert row.design.life_cycle_cost == pytest.approx(design.life_cycle_cost)
    assert rows[-1].next_budget is None
    assert rows[0].next_budget is not None


def chains(candidates, hours, limit):
    """Yield every chain of every set that meets the limit on later years, with its cost."""
    c = candidates
    horizon = c.job.site.horizon_years
    needed, usable = c.needed_wh(hours), c.usable_wh(hours)
    bank_due, set_due = bank_sums(c), swap_sums(c)
    for index in range(len(c.sets)):
        if set_due[index].max() > limit * (1 + 1e-9):
            continue
        periods = []
        for bank in np.flatnonzero(c.compatible[index]):
            stands = True
            for place, (start, end) in enumerate(zip(c.period_start, c.period_end, strict=True)):
                year = int(end) - 1  # each year of a period is the last one of a shorter period
                due = bank_due[bank, place] + set_due[index, year]
                left = usable[bank] * c.health[bank, year - start]
                stands = (stands or start == year) and bool(at_least(left, needed[index, year]))
                stands = stands and (year == 0 or due <= limit * (1 + 1e-9))
                if stands and np.isfinite(c.period_cost[bank, place]):
                    periods.append((int(start), int(end), float(c.period_cost[bank, place])))
        waiting = [(0, float(c.sets.life_cycle_cost[index]))]
        while waiting:
            year, cost = waiting.pop()
            if year == horizon:
                yield cost
            waiting += [(end, cost + more) for start, end, more in periods if start == year]


@pytest.mark.parametrize("limit", [0.0, 60.0, 110.0, 130.0, 560.0, 660.0, 5000.0])
def test_a_limit_on_later_years_is_exact(limit):
    job = builders.make_job(
        batteries=[
            builders.make_battery("Slate", float_life_years=3.0, end_of_life_soh=0.9),
            builders.make_battery(
                "Shale", float_life_years=5.0, price=150.0, price_drift=-0.1, end_of_life_soh=0.9
            ),
            builders.make_battery("Gneiss", float_life_years=9.0, price=400.0),
        ],
        inverters=[
            builders.make_inverter(life_years=4.0),
            builders.make_inverter("Eave", life_years=9.0, price=900.0, efficiency=0.88),
        ],
        works=builders.every_work(),
        horizon_years=6,
        max_hours=6,
        max_parallel=2,
        yearly=(),
        min_service_share=0.3,
    )  # fmt: skip
    limited = builders.with_site(job, later_limit=limit)
    search = Search(limited)
    for hours in (2, 5):
        expected = min(
            (
                cost
                for longer in range(hours, 7)
                for cost in chains(search.candidates, longer, limit)
            ),
            default=np.inf,
        )
        assert search.least(hours) == pytest.approx(expected, abs=1e-6)
        design = search.cheapest(hours)  # verified on the way, the limit included
        assert (design is None) == np.isinf(expected)


def test_a_tighter_limit_never_costs_less():
    job = small_house()
    costs = []
    for limit in (1e9, 3000.0, 1500.0, 500.0, 0.0):
        costs.append(Search(builders.with_site(job, later_limit=limit)).least(12))
    assert costs == sorted(costs)
    assert costs[0] == pytest.approx(Search(job).least(12))


def test_the_staircase_keeps_to_the_limit_on_later_years():
    job = small_house()
    for step in staircase(job, later_limit=900.0).steps:
        assert all(one.amount <= 900.0 + 1e-6 for one in step.later)


def test_tiers_cost_what_their_loads_cost():
    job = load_tiers()
    found = tiers(job)
    assert [one.tiers for one in found.curves] == [("needed",), ("needed", "nice")]
    first, second = found.at(4)
    alone = Search(builders.with_site(job, tiers=("needed",)))
    assert first.cost == pytest.approx(alone.least(4))
    both = Search(builders.with_site(job, tiers=("needed", "nice")))
    assert second.cost == pytest.approx(both.least(4))
    assert second.extra == pytest.approx(second.cost - first.cost)
    assert second.extra > 0


def load_tiers():
    return builders.make_job(
        builders.make_load(),
        builders.make_load("Kettle", running_w=300.0, tier="nice"),
        batteries=[builders.make_battery(max_parallel=12)],
        inverters=[builders.make_inverter(charger_a=200.0)],
    )


def test_where_a_tier_cannot_be_carried_there_is_no_cost():
    job = load_tiers()
    found = tiers(job).at(24)[1]
    assert (found.cost, found.extra, found.upfront) == (None, None, None)


@pytest.mark.parametrize("lifetime", [False, True])
def test_each_step_costs_what_can_be_paid_and_buys_what_it_says(lifetime):
    job = small_house()
    key = "lifetime_budget" if lifetime else "budget"
    for step in staircase(job, lifetime=lifetime).steps:
        assert step.budget * 100 == pytest.approx(round(step.budget * 100), abs=1e-6)
        assert Search(job.with_site(**{key: step.budget})).longest().hours == step.hours


def test_steps_of_fuel_alone_are_one_row_and_each_stays_a_step():
    job = load("house").with_site(max_hours=20, target_hours=18)
    stairs = staircase(job)
    run = stairs.runs[-1]
    assert len(run) > 1
    assert all(step.design.equipment == run[0].design.equipment for step in run)
    assert [step.cause.fuel for step in run] == [False, *[True] * (len(run) - 1)]
    assert sum(len(one) for one in stairs.runs) == len(stairs.steps)
    grid = steps(Writer("EUR"), stairs)
    assert len(grid.rows) == len(stairs.runs)
    last = grid.rows[-1]
    assert (last[0].value, last[0].last) == (run[0].budget, run[-1].budget)
    assert (last[1].value, last[1].last) == (run[0].hours, run[-1].hours)
    assert run[0].design.generator.generator in last[4]
    assert len(to_data(stairs)["steps"]) == len(stairs.steps)


def test_what_money_buys_names_a_mixed_chain_as_that():
    job, write = falling_lithium(), Writer("EUR")
    found = budget_table(job, [5000.0], lifetime=True)
    assert budgets(write, found).only("family").texts(write) == [["a mixed chain"]]
    assert "19 hours, a mixed chain." in bought(write, staircase(job, lifetime=True), 5000.0)
