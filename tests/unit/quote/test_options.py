from __future__ import annotations

import json
from dataclasses import replace
from itertools import combinations

import pytest

from optimizer.answers.curve import Curve
from optimizer.answers.installed import existing_of
from optimizer.errors import InputError
from optimizer.model.existing import Existing
from optimizer.model.job import Generator
from optimizer.quote import build_quote
from optimizer.quote.options import APART, Pick, Why, apart, select
from optimizer.report.quote import quote_bytes
from optimizer.report.words import quote as words
from optimizer.report.words.writer import Writer
from optimizer.simulate import Shortfall
from tests.unit.builders import make_battery, make_design, make_job, make_period, with_site
from tests.unit.quote.made import DAY, curve


def point(hours: int, cost: float, upfront: float | None = None):
    """A point with equipment of its own."""
    paid = cost if upfront is None else upfront
    battery = make_battery(f"Slate {hours}")
    return make_design(make_period(battery), hours=hours, life_cycle_cost=cost, upfront_cost=paid)


def made(*points, **site) -> Curve:
    limits = {"target_hours": 10, "max_hours": 48} | site
    return Curve(with_site(make_job(), **limits), None, tuple(points))


RISING = (point(2, 100), point(6, 160), point(10, 260), point(11, 261), point(20, 400),
          point(40, 520), point(48, 900))  # fmt: skip


def test_three_by_rule():
    """Asked for 10 h (260); 6 h is the longest a tenth cheaper; beyond, 40 h adds an hour for
    260 / 30 = 8.7, 20 h for 14; 48 h costs more than twice."""
    found = select(made(*RISING)).options
    assert [(one.design.hours, one.why, one.hours) for one in found] == [
        (6, Why.CHEAPER, 10), (10, Why.REQUIRED, 10), (40, Why.LONGER, 10),
    ]  # fmt: skip


def test_a_budget_is_the_limit_of_the_longer_one():
    """With one, everything on the curve is within it: 48 h for 640 / 38 = 16.8 loses still."""
    assert select(made(*RISING, budget=1000.0)).options[-1].design.hours == 40


def test_two_on_one_side_where_the_other_has_none():
    points = RISING[:3]
    assert [one.design.hours for one in select(made(*points)).options] == [2, 6, 10]
    points = (RISING[0], *RISING[4:6])
    found = select(made(*points, target_hours=2, budget=1000.0)).options
    assert [one.design.hours for one in found] == [2, 20, 40]


def test_what_is_near_in_either_money_is_no_option():
    """A tenth fewer hours for the same upfront cost is no choice to put before anybody."""
    near = point(6, 160, 259)
    found = select(made(near, *RISING[2:3]))
    assert [one.design.hours for one in found.options] == [10]


def test_hours_that_cost_little_more_are_told():
    points = (point(10, 260), point(14, 262), point(30, 280), point(40, 290))
    found = select(made(*points))
    assert [one.design.hours for one in found.options] == [10, 40]
    assert found.for_little_more.hours == 30


def test_a_target_beyond_the_curve_offers_the_longest():
    found = select(made(*RISING, target_hours=60)).options
    assert (found[-1].design.hours, found[-1].why, found[-1].hours) == (
        48, Why.LONGEST_ON_OFFER, 60,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("hours", "cost", "upfront", "told"),
    [
        (22, 1100, 1100, True),
        (21, 1100, 1100, False),
        (22, 1099, 1100, False),
        (22, 1100, 1099, False),
        (22, 1100, 900, False),
    ],
)
def test_apart_by_a_tenth_in_all_three(hours, cost, upfront, told):
    one, other = point(20, 1000), point(hours, cost, upfront)
    assert apart(one, other) is apart(other, one) is told


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_the_demos_options_differ_by_a_tenth_and_hold(site):
    found = select(curve(site)).options
    assert len(found) == 3
    assert all(one.verdict.holds for one in found)
    for short, long in combinations([one.design for one in found], 2):
        assert long.hours >= (1 + APART) * short.hours
        assert long.upfront_cost >= (1 + APART) * short.upfront_cost
        assert long.life_cycle_cost >= (1 + APART) * short.life_cycle_cost
        assert short.equipment != long.equipment


def test_by_hand_each_with_the_hours_asked_for():
    found = select(made(*RISING), [3, 15])
    assert [one.design.hours for one in found.options] == [6, 20]
    assert [(one.why, one.hours) for one in found.options] == [
        (Why.PICKED_HOURS, 3), (Why.PICKED_HOURS, 15),
    ]  # fmt: skip
    assert select(made(*RISING), [15, 16]).twins == (16,)


def test_hours_that_are_not_on_offer():
    with pytest.raises(InputError) as caught:
        select(made(*RISING), [4, 49, 0])
    assert [fault.found for fault in caught.value.faults] == ["49", "0"]
    assert "from 1 to 48" in caught.value.faults[0].wanted
    with pytest.raises(InputError):
        select(made(*RISING), [])


@pytest.mark.slow
def test_by_family_budget_and_design_file():
    """Both families at equal hours, what money buys, and a bank twice as large as the curve's."""
    found = curve()
    base = found.at(10)
    own = existing_of(replace(base, banks=(replace(base.banks[0], strings=2), *base.banks[1:])))
    picks = [
        Pick(family="lead", hours=10), Pick(family="lithium", hours=10), Pick(budget=2500.0),
        Pick(existing=own),
    ]  # fmt: skip
    options = {one.why: one for one in select(found, picks[:1] + picks[2:]).options}
    lithium = select(found, picks[1:2]).options[0]
    assert options[Why.PICKED_FAMILY].design.banks[0].battery.family == "lead"
    assert {bank.battery.family for bank in lithium.design.banks} == {"lithium"}
    assert lithium.design.hours >= 10
    budget = options[Why.PICKED_BUDGET]
    assert budget.design.upfront_cost <= 2500 == budget.money
    hand = options[Why.PICKED_DESIGN].design
    assert hand.hours > base.hours
    assert hand.banks[0].strings == 2
    assert hand.upfront_cost > base.upfront_cost


@pytest.mark.slow
def test_a_design_by_hand_that_falls_short_is_offered_and_says_why():
    """The clinic's grid goes by a plan: four strings on one small charger are not full in time."""
    job = curve("clinic").job
    battery = next(one for one in job.catalog.batteries if one.battery == "Tidewrack Limpet")
    inverter = next(one for one in job.catalog.inverters if one.inverter == "Bosunwick Cuddy")
    by_hand = Existing(inverter=inverter, units=1, battery=battery, strings=4, voltage_v=12)
    found = build_quote(curve("clinic"), options=[Pick(existing=by_hand)], day=DAY)
    write, short = Writer("EUR"), found.options[0].verdict
    assert short.shortfalls == (Shortfall.CUTS,)
    assert short.hours >= short.claimed_hours
    assert words.simulation_short(write, short) == "falls short: not full again before the next cut"
    assert words.simulation(write, short) == (
        "Falls short: a scheduled cut begins before the bank is full again."
    )
    (told,) = json.loads(quote_bytes(found, ".json"))["options"]
    assert told["verdict"]["shortfalls"] == ["scheduled_cuts"]
    assert told["design"]["simulated"] == told["verdict"]


def test_picks_that_nothing_meets_are_told_together():
    with pytest.raises(InputError) as caught:
        select(curve(), [Pick(budget=10.0), Pick(family="lithium", hours=200)])
    assert [one.found for one in caught.value.faults] == ["budget:10", "lithium:200"]


def test_names_and_reasons_say_what_it_does_and_never_grade_it():
    write = Writer("EUR")
    assert words.option_name(write, point(1, 1)) == "1 hour, lead-acid"
    assert words.option_name(write, point(24, 1)) == "24 hours, lead-acid"
    option = select(made(*RISING)).options[0]
    told = [words.why(write, replace(option, why=why)) for why in Why]
    assert len(set(told)) == len(Why)
    assert not any(word in text for text in told for word in ("good", "best", "better"))


def test_more_fuel_for_the_same_equipment_is_told_as_that():
    """Asked for 10 h beside a generator; 40 h take more fuel and nothing else."""
    machine = Generator(
        generator="Puffer",
        power_w=2000.0,
        power_va=2000.0,
        surge_w=2000.0,
        litres_h_full=1.0,
        litres_h_idle=0.3,
        price=500.0,
        life_years=10.0,
    )
    few = replace(point(10, 200), generator=machine, fuel_l=3.0)
    many = replace(few, hours=40, life_cycle_cost=210.0, fuel_l=9.0)
    found = build_quote(made(few, many), day=DAY)
    assert [one.design.hours for one in found.options] == [10]
    (told,) = words.beside(Writer("EUR"), found)
    assert "40 hours with 9.0 l of fuel stored instead of 3.0 l" in told
