"""Every switch point, against a fine grid that knows nothing of how switch points are found."""

from __future__ import annotations

import numpy as np
import pytest

from optimizer.comparison.parameters import Shape, parameter_named, parameters_of
from optimizer.comparison.study import MIXED, Best, cost_at
from optimizer.comparison.switch_points import BRACKET, Jump, Kind, SwitchPointSearch, switch_points
from optimizer.engine.curve import Search
from tests.unit import builders

from .jobs import grid, small_house, winner_by_search, winner_by_switch_points

pytestmark = pytest.mark.slow


def house_for(hours):
    """Beside the supply's steps and a generator for the longer autonomy, alone for the shorter."""
    alone = {"contracts": (), "peaks": (), "generator": None} if hours < 10 else {}
    return small_house(hours, **alone)


KEYS = [(hours, one.key) for hours in (6, 14) for one in parameters_of(house_for(hours))]


def along(job, key, hours=None):
    (found,) = switch_points(job, hours, keys=[key])
    return found


@pytest.mark.parametrize(("hours", "key"), KEYS)
def test_a_fine_grid_finds_the_same_switch_points(hours, key):
    job = house_for(hours)
    found = along(job, key)
    parameter = found.parameter
    assert found.proven == (parameter.shape is not Shape.ANY)
    for value in grid(parameter, 29):
        winner = winner_by_search(job, parameter, value, hours)
        assert winner == winner_by_switch_points(found, value), value


@pytest.mark.parametrize("key", ["rate", "price:lithium", "depth:lithium", "float-life:lead"])
def test_switch_points_stand_between_two_neighbours(key):
    job = small_house(10)
    found = along(job, key)
    parameter = found.parameter
    floor = 1e-3 * (parameter.high - parameter.low)
    for point in found.points:
        width = point.above.value - point.below.value
        assert 0 < width <= BRACKET * max(abs(point.value), floor)
        for there in (point.below, point.above):
            assert winner_by_search(job, parameter, there.value, 10) == there.winner
            assert set(there.costs) >= set(job.catalog.families)
            changed = parameter.at(job, there.value)
            for family, design in Best(changed, 10).by_side.items():
                assert design.banks[0].battery.family == family
                least = Search(changed, family).least(10)
                assert there.costs[family] == pytest.approx(least, abs=1e-4)


def test_each_whole_value_is_worked_out_once():
    found = along(small_house(4), "study-period")
    assert found.values_tried == found.parameter.high - found.parameter.low + 1


def test_costs_meet_at_a_crossing_and_break_off_at_a_jump():
    kinds = set()
    for key in ("price:lithium", "depth:lithium", "depth:lead", "float-life:lithium"):
        for point in along(small_house(14), key).points:
            kinds.add(point.kind)
            steps = {
                side: point.above.costs[side] - cost for side, cost in point.below.costs.items()
            }
            jumps = {Jump(side, upward=step > 0) for side, step in steps.items() if abs(step) > 1}
            assert set(point.jumps) == jumps
            assert (point.kind is Kind.JUMP) == bool(jumps)
    assert kinds == {Kind.CROSSING, Kind.JUMP}


@pytest.mark.parametrize("key", ["price:lead", "price:lithium", "residual-share", "tariff"])
def test_along_a_concave_parameter_a_design_is_bounded_by_its_line(key):
    """The least cost lies on no chord's far side, and no design costs less than it."""
    job = small_house(10)
    parameter = parameter_named(job, key)
    search = SwitchPointSearch(job, parameter, 10)
    dice = np.random.default_rng(20)
    for _ in range(5):
        a, b = np.sort(dice.uniform(parameter.low, parameter.high, 2)).tolist()
        for share in (0.1, 0.5, 0.8):
            value = (1 - share) * a + share * b
            chord = (1 - share) * search.at(a).cost + share * search.at(b).cost
            assert search.at(value).cost >= chord - 1e-6
            for end in (a, b):
                elsewhere = cost_at(parameter.at(job, value), search.at(end).design)
                assert elsewhere >= search.at(value).cost - 1e-6


def two_lives(**changes):
    """Lead of 5 years and lithium of 10, without anything else between them."""
    site = {"yearly": (), "min_service_share": 0.0, "end": 0.99} | changes
    end = site.pop("end")
    lead = builders.make_battery("Slate", float_life_years=5.0, end_of_life_soh=end)
    lithium = builders.make_battery(
        "Beech", family="lithium", chemistry="lfp", float_life_years=10.0, price=180.0,
        end_of_life_soh=end,
    )  # fmt: skip
    return builders.make_job(batteries=[lead, lithium], **site)


def test_a_study_period_is_whole_and_turns_where_the_second_bank_is_due():
    found = along(two_lives(target_hours=2), "study-period")
    # 100 a lead bank every five years against 180 a lithium bank every ten; no residual
    cost = {years: (100 * -(-years // 5), 180 * -(-years // 10)) for years in range(1, 26)}
    expected = [
        year
        for year in range(2, 26)
        if (cost[year][0] <= cost[year][1]) != (cost[year - 1][0] <= cost[year - 1][1])
    ]
    pure = [one for one in found.points if MIXED not in {one.below.winner, one.above.winner}]
    assert {one.value for one in pure} <= set(expected)
    assert {one.kind for one in found.points} == {Kind.WHOLE}
    assert found.proven


def test_none_in_this_range():
    job = builders.make_job(batteries=[builders.make_battery("Slate")])
    found = along(job, "tariff", 4)
    assert (found.points, found.winner, found.proven) == ((), "lead", True)


def test_where_nothing_fits_there_is_no_winner():
    found = along(builders.make_job(max_bank_kg=1.0), "rate", 4)
    assert (found.points, found.winner) == ((), None)


def test_a_budget_that_a_price_outgrows_is_a_jump():
    job = builders.make_job(budget=800.0, target_hours=4)
    found = along(job, "price:lead", 4)
    (point,) = found.points
    assert (point.below.winner, point.above.winner) == ("lead", None)
    assert point.jumps == (Jump("lead", upward=True),)
    assert np.isinf(point.above.costs["lead"])
    assert not found.proven
