"""Hours and money in one question, and what ends the hours."""

from __future__ import annotations

import pytest

from optimizer import budget_table, choose, frontier, load
from optimizer.answers.stops import Stop
from optimizer.engine.cashflow import later_sums
from optimizer.engine.curve import Search
from optimizer.model.diagnosis import GoalKind
from optimizer.report.grids.budgets import budgets
from optimizer.report.grids.curve import points
from optimizer.report.words.design import stopped
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def clinic():
    return load("clinic")


def test_a_budget_is_looked_up_beyond_the_end_of_the_curve(clinic):
    """What it buys up to the end it buys in any case; then more money is worth more hours."""
    money = choose(clinic, budget=6000.0)
    assert (money.stopped_by, money.design.hours) == (
        Stop.MONEY,
        frontier(clinic.with_site(budget=6000.0)).points[-1].hours,
    )
    assert choose(clinic, budget=1e9).design.hours == clinic.site.max_hours
    rich = choose(clinic, budget=1e9, beyond=True)
    assert rich.stopped_by is Stop.OFFER
    assert rich.design.hours > clinic.site.max_hours
    assert Search(rich.job).cheapest(rich.design.hours + 1) is None


def test_a_site_may_forbid_looking_beyond_and_says_where_it_ended(clinic):
    held = clinic.with_site(beyond_max_hours=False)
    rich = choose(held, budget=1e9, beyond=True)
    assert (rich.design.hours, rich.stopped_by) == (clinic.site.max_hours, Stop.LOOKED)
    table = budget_table(held, [1e9], beyond=True)
    assert (table[0].design.hours, table.stopped_by) == (clinic.site.max_hours, Stop.LOOKED)
    assert (
        stopped(Writer("EUR"), Stop.LOOKED, clinic.site.max_hours)
        in budgets(Writer("EUR"), table).notes
    )


def test_budgets_of_a_table_buy_what_each_buys_alone_beyond_the_curve_too(clinic):
    money = [3000.0, 1e9]
    table = budget_table(clinic, money, beyond=True)
    alone = [choose(clinic, budget=one, beyond=True) for one in money]
    assert [row.design.hours for row in table] == [one.design.hours for one in alone]
    assert table.stopped_by is alone[-1].stopped_by is Stop.OFFER


def test_a_curve_under_a_budget_says_that_the_budget_ends_it(clinic):
    curve = frontier(clinic.with_site(budget=6000.0))
    write = Writer("EUR")
    assert curve.stopped_by is Stop.MONEY
    assert stopped(write, Stop.MONEY, curve.points[-1].hours) in points(write, curve).notes
    assert frontier(clinic).stopped_by is None


def test_hours_and_every_limit_in_one_question(clinic):
    free = choose(clinic, hours=6)
    later = max(later_sums(free.design.payments).values())
    held = choose(clinic, hours=6, budget=free.design.upfront_cost + 3000, later_limit=later / 2)
    assert held.goal.kind is GoalKind.HOURS
    assert held.design.hours >= 6
    assert max(later_sums(held.design.payments).values(), default=0.0) <= later / 2
    assert held.design.life_cycle_cost >= free.design.life_cycle_cost


def test_two_sums_without_hours_buy_the_longest_within_both(clinic):
    both = choose(clinic, budget=6000.0, lifetime_budget=14_000.0)
    alone = choose(clinic, budget=6000.0)
    assert both.design.upfront_cost <= 6000
    assert both.design.life_cycle_cost <= 14_000
    assert both.design.hours <= alone.design.hours
