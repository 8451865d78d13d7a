from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer.answers.curve import Curve
from optimizer.errors import InputError
from optimizer.model.job import Contract, Generator
from optimizer.quote.options import Why, alike, farthest_below, longest_within, select
from optimizer.report.words import quote as words
from optimizer.report.words.writer import Writer
from tests.unit.builders import make_battery, make_design, make_job, make_period, with_site
from tests.unit.quote.made import curve


def point(hours: int, cost: float, units: int | None = None):
    """A point with equipment of its own, unless told that it shares some."""
    battery = make_battery(f"Slate {units or hours}")
    return make_design(make_period(battery), hours=hours, life_cycle_cost=cost, upfront_cost=cost)


def made(*points, **site) -> Curve:
    limits = {"target_hours": 4, "max_hours": 48} | site
    return Curve(with_site(make_job(), **limits), None, tuple(points))


BENT = (point(2, 100), point(4, 200), point(10, 260), point(20, 600), point(40, 1500))


def test_three_by_rule():
    """Asked for 4 h (200); the bend at 20 h; the longest for at most 400 is 10 h."""
    found = select(made(*BENT)).options
    assert [option.design.hours for option in found] == [4, 10, 20]
    assert [(option.why, option.hours) for option in found] == [
        (Why.REQUIRED, 4), (Why.LONGEST_FOR_TWICE, 4), (Why.BEND, 20),
    ]  # fmt: skip


def test_the_next_point_stands_in_for_a_twin():
    """10 h is both what is asked for and the longest for twice its cost: 20 h is taken, so 40."""
    found = select(made(*BENT, target_hours=10))
    assert [option.design.hours for option in found.options] == [10, 20, 40]
    (left_out,) = found.left_out
    assert (left_out.design.hours, left_out.same_as.hours, left_out.instead.hours) == (10, 10, 40)
    assert "40 hours, lead-acid takes its place" in words.left_out(Writer("EUR"), left_out)


def test_the_next_shorter_where_nothing_longer_is_left():
    points = (point(2, 100), point(4, 110), point(10, 120))
    found = select(made(*points, target_hours=10)).options
    assert [option.design.hours for option in found] == [2, 4, 10]


def test_one_point_is_one_option():
    found = select(made(point(4, 200)))
    assert [option.design.hours for option in found.options] == [4]
    assert found.left_out
    assert all(one.instead is None for one in found.left_out)


def test_a_budget_names_the_longest():
    found = select(made(*BENT, budget=2000.0)).options
    assert [option.design.hours for option in found] == [4, 20, 40]
    assert found[2].why is Why.LONGEST_OF_BUDGET


def test_by_hand_each_with_the_hours_asked_for():
    found = select(made(*BENT), [3, 15]).options
    assert [option.design.hours for option in found] == [4, 20]
    assert [(option.why, option.hours) for option in found] == [(Why.PICKED, 3), (Why.PICKED, 15)]


def test_hours_that_are_not_on_offer():
    with pytest.raises(InputError) as caught:
        select(made(*BENT), [4, 41, 0])
    assert [fault.found for fault in caught.value.faults] == ["41", "0"]
    assert "from 1 to 40" in caught.value.faults[0].wanted
    with pytest.raises(InputError):
        select(made(*BENT), [])


def test_a_target_beyond_the_curve_offers_the_longest():
    found = select(made(*BENT, target_hours=44)).options
    assert found[-1].design.hours == 40
    assert (found[-1].why, found[-1].hours) == (Why.LONGEST_ON_OFFER, 44)


@pytest.mark.parametrize(
    ("hours", "cost", "same"),
    [(21, 1049, True), (22, 1049, False), (21, 1050, False), (20, 1049, True)],
)
def test_alike_by_hours_and_money(hours, cost, same):
    """Under 10 % in hours and under 5 % in money: 20 h for 1,000 against others."""
    assert alike(point(20, 1000), point(hours, cost)) is same


def test_alike_by_equipment_whatever_the_cost():
    assert alike(point(2, 100, units=1), point(30, 900, units=1))
    two = replace(point(30, 900, units=1), inverter_units=2)
    assert not alike(point(2, 100, units=1), two)


def test_farthest_below_by_hand():
    """Line from (2, 100) to (40, 1500): at 10 h 394.7, the point 134.7 below; at 20 h 163.2."""
    assert farthest_below(BENT).hours == 20
    assert farthest_below(BENT[:1]).hours == 2


def test_longest_within():
    assert longest_within(BENT, 599).hours == 10
    assert longest_within(BENT, 99) is None


def test_names_and_reasons_say_what_it_does_and_never_grade_it():
    write = Writer("EUR")
    assert words.option_name(write, point(1, 1)) == "1 hour, lead-acid"
    assert words.option_name(write, point(24, 1)) == "24 hours, lead-acid"
    option = select(made(*BENT)).options[0]
    told = [words.why(write, replace(option, why=why)) for why in Why]
    assert len(set(told)) == len(Why)
    assert not any(word in text for text in told for word in ("good", "best", "better"))


def test_each_option_of_the_demo_has_its_second_opinion():
    found = select(curve()).options
    assert len(found) == 3
    assert all(option.verdict.holds for option in found)


def with_generator(design, fuel_l=5.0, name="Puffer"):
    machine = Generator(
        generator=name,
        power_w=2000.0,
        power_va=2000.0,
        surge_w=2000.0,
        litres_h_full=1.0,
        litres_h_idle=0.3,
        price=500.0,
        life_years=10.0,
    )
    return replace(design, generator=machine, fuel_l=fuel_l)


def test_a_generator_or_another_contract_stands_apart():
    plain = point(4, 200, units=1)
    beside = with_generator(replace(plain, hours=40, life_cycle_cost=900.0))
    assert not alike(plain, beside)
    assert alike(beside, with_generator(replace(beside, hours=20), fuel_l=2.0))
    step = replace(plain, hours=40, contract=Contract(4000.0, 100.0))
    assert not alike(plain, step)


def test_more_fuel_for_the_same_equipment_is_told_as_that():
    """Asked for 10 h beside a generator; the longest for twice the cost differs in fuel alone."""
    few = with_generator(point(10, 200, units=1), fuel_l=3.0)
    many = with_generator(replace(point(40, 210, units=1)), fuel_l=9.0)
    found = select(made(few, many, target_hours=10))
    assert [option.design.hours for option in found.options] == [10]
    told = [words.left_out(Writer("EUR"), one) for one in found.left_out if one.differs_in_fuel]
    assert told
    assert all("9.0 l of fuel stored instead of 3.0 l" in one for one in told)
