"""One design explained: savings against solving again, purchases and materials by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from optimizer import choose, compare, load, trade_off
from optimizer.answers.choice import Explained, explain
from optimizer.answers.purchases import materials, purchases
from optimizer.engine import cashflow
from optimizer.engine.cashflow import Kind
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.curve import Search
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import Fuse
from optimizer.model.requirement import Requirement
from optimizer.quote.build import make_quote
from tests.unit.builders import (
    every_work,
    make_battery,
    make_design,
    make_inverter,
    make_job,
    make_load,
    make_period,
    with_site,
)

pytestmark = pytest.mark.slow


@cache
def house(hours=None):
    return choose(load("house"), hours=hours)


def saving(choice, kind):
    (found,) = {one.saving for one in choice.explained if one.check.kind is kind}
    return found


@pytest.mark.slow
def test_each_saving_is_what_solving_again_without_the_requirement_saves():
    choice = house()
    job, cost = choice.job, choice.design.life_cycle_cost
    hours = job.site.target_hours
    seen = 0
    for one in choice.explained:
        requirement = one.check.requirement
        if requirement is None:
            continue
        again = Search(job, lifted=frozenset({requirement})).least(hours)
        assert one.saving == pytest.approx(max(0.0, cost - again), abs=1e-6)
        seen += 1
    assert seen > 8


def test_the_energy_is_priced_by_an_hour_less():
    choice = house()
    job, cost = choice.job, choice.design.life_cycle_cost
    less = choose(job, hours=job.site.target_hours - 1).design
    assert saving(choice, CheckKind.ENERGY) == pytest.approx(max(0.0, cost - less.life_cycle_cost))


def test_the_energy_where_an_hour_less_needs_one_string_less():
    """One string carries 4 h, two carry 5 h and more; a string costs 100 and nothing else."""
    battery = make_battery(float_life_years=20.0)
    job = make_job(batteries=[battery], voltages=(12,), yearly=((1.0, 0.001),))
    choice = choose(job, hours=5)
    assert choice.design.banks[0].strings == 2
    assert saving(choice, CheckKind.ENERGY) == pytest.approx(100)
    assert any(one.check.kind is CheckKind.ENERGY for one in choice.binding)


def test_an_hour_less_than_one_is_not_asked_for():
    assert saving(house(1), CheckKind.ENERGY) == 0


@pytest.mark.slow
def test_money_at_the_start_is_priced_without_a_budget():
    free = house().design
    job = with_site(load("house"), budget=free.upfront_cost - 1)
    choice = choose(job)
    wanted = choice.design.life_cycle_cost - free.life_cycle_cost
    assert wanted > 1  # the budget does stand in the way
    assert saving(choice, CheckKind.UPFRONT_COST) == pytest.approx(wanted)
    assert any(one.check.kind is CheckKind.UPFRONT_COST for one in choice.binding)


def test_a_requirement_that_can_be_bought_off():
    """A motor of 1100 W at the start needs the 2000 W set; without it the 600 W one would do."""
    small = make_inverter(
        "Small", power_w=600, power_w_40c=600, power_va=600, surge_w=900, price=200.0
    )
    large = make_inverter("Large")
    job = make_job(
        make_load("Pump", 100.0, starting_w=1100.0, duty=0.2),
        inverters=[replace(small, max_units=1), replace(large, max_units=1)],
        batteries=[make_battery(surge_rate_max=3.0)],
        fuses=[
            Fuse(rating_a=80.0, price=20.0),
            Fuse(rating_a=160.0, price=20.0),
        ],  # of one price: the sets alone differ
    )
    choice = choose(job, hours=4)
    assert choice.design.inverter.inverter == "Large"
    assert saving(choice, CheckKind.SURGE) == pytest.approx(300.0)
    (binding,) = choice.binding
    assert binding.check.requirement is Requirement.SURGE
    assert binding.binds


def test_the_dearest_binds_first_else_the_quantity_with_least_to_spare():
    choice = house()
    savings = [one.saving for one in choice.binding]
    assert savings == sorted(savings, reverse=True)
    roomy = Explained(Check(CheckKind.POWER, required=100, provided=200), 0.0)
    tight = Explained(Check(CheckKind.RECHARGE, required=100, provided=101), 0.0)
    count = Explained(Check(CheckKind.STRINGS, required=4, provided=4), 0.0)
    none_binds = replace(choice, explained=(roomy, count, tight))
    assert none_binds.binding == (tight,)


@pytest.mark.slow
def test_a_saving_is_never_negative_nor_infinite():
    for hours in (1, 18, 48):
        for one in house(hours).explained:
            assert 0 <= one.saving < math.inf


def test_hours_beyond_the_curves_end_are_answered_as_a_quote_answers_them():
    """How far the curve is drawn rules out no hours that are asked for by number."""
    short, far = make_job(max_hours=4), make_job(max_hours=6)
    found = choose(short, hours=6)
    assert found.design == choose(far, hours=6).design
    assert found.design.hours >= 6
    assert trade_off(short, 6).points == trade_off(far, 6).points
    assert compare(short, 6).winner.design == found.design
    (option,) = make_quote(short, options=[6]).options
    assert option.design == found.design


def test_purchases_by_year():
    wet = make_battery("Wet")
    job = make_job(works=every_work())
    design = make_design(
        make_period(series=2, strings=1, end=5),
        make_period(wet, series=2, strings=1, start=5, end=10),
        inverter=make_inverter(life_years=5.0, standby_w=5.0),
    )
    choice = choose(make_job(), hours=4)
    flow = cashflow.payments(job, design)
    first, second = purchases(flow)
    assert (first.year, second.year) == (0, 5)
    assert first.amount == pytest.approx(cashflow.upfront_cost(flow))
    assert set(first.items) == {"Gable", "Slate"}
    assert set(second.items) == {"Gable", "Wet"}
    works = 30 + 7 + 2 * (9 + 2) + 14 + 60 * 0.8
    assert second.amount == pytest.approx(500 + 200 + works)
    later = replace(choice, design=replace(choice.design, payments=flow))
    assert later.next_purchase == second
    assert later.design.purchases == (first, second)


def test_nothing_more_to_buy():
    choice = choose(
        make_job(batteries=[make_battery(float_life_years=20.0)], yearly=((1.0, 1.0),)), hours=2
    )
    assert choice.next_purchase is None
    assert len(choice.design.purchases) == 1
    assert choice.design.purchases[0].amount == pytest.approx(choice.design.upfront_cost)


def test_materials_by_hand():
    job = make_job(works=every_work(), battery_cable_m=3.0)
    wet = make_battery("Wet", gas="vented", mass_kg=20.0)
    design = make_design(make_period(wet, series=2, strings=3), inverter_units=2)
    lines = {
        line.item: (line.quantity, line.unit, line.price_each) for line in materials(job, design)
    }
    assert lines == {
        "Gable": (2, "", 500),
        "Wet": (6, "", 100),
        "50 mm²": (12, "m", 10),  # each inverter has its own
        "160 A": (2, "", 20),
        "Survey": (1, "", 200),
        "Mount": (2, "", 50),
        "Connect set": (2, "", 7),
        "Place": (6, "", 5),
        "Connect unit": (6, "", 2),
        "Link": (3, "", 40),
        "Label": (3, "", 3),
        "Freight": (120, "kg", 0.5),
        "Haul": (120, "kg", 0.1),
        "Locker": (1, "", 180),
    }
    dry = materials(job, make_design())
    assert "Locker" not in {line.item for line in dry}


def test_materials_add_up_to_the_upfront_cost():
    for name in ("house", "clinic", "hall"):
        choice = choose(load(name))
        net = sum(line.amount for line in choice.materials)
        site = choice.job.site
        gross = net * (1 + site.tax_rate) * (1 + site.markup)
        fuel = [one for one in choice.design.payments if one.kind is Kind.FUEL and one.year == 0]
        stored = sum(one.amount for one in fuel)  # as it stands, no markup or tax
        assert gross + stored == pytest.approx(choice.design.upfront_cost)


def test_a_choice_holds_the_question_and_its_limits():
    job = load("house")
    choice = choose(job, budget=4000.0)
    assert choice.job.site.budget == 4000
    assert (choice.goal.kind, choice.goal.amount) == (GoalKind.UPFRONT_BUDGET, 4000.0)
    life = choose(job, lifetime_budget=9000.0)
    assert life.job.site.lifetime_budget == 9000
    assert (life.goal.kind, life.goal.amount) == (GoalKind.LIFETIME_BUDGET, 9000.0)
    assert (house().goal.kind, house().goal.hours) == (GoalKind.HOURS, 18)


def test_a_design_is_explained_for_the_hours_that_were_asked():
    """Asked for 1 h the design carries more; the price of its energy is of the hour asked for."""
    search = Search(make_job(voltages=(12,), yearly=((1.0, 1.0),)))
    design = search.cheapest(2)
    assert design.hours > 2
    goal = Goal(GoalKind.HOURS, currency="EUR", hours=2)
    found = explain(search, goal, design)
    less = design.life_cycle_cost - search.least(1)
    assert saving(found, CheckKind.ENERGY) == pytest.approx(less)
    assert found.goal is goal
