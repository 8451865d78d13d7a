"""Every switch point, against a fine grid that knows nothing of how switch points are found."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from optimizer.comparison.alternatives import ParametricOptimum, Study
from optimizer.comparison.parameters import parameter_named, parameters_of
from optimizer.comparison.switch_points import BRACKET, find_switch_points
from optimizer.engine.curve import Search
from tests.unit import builders

from .jobs import FAMILIES, grid, small_house, winner_by_search, winner_by_switch_points

KEYS = [parameter.key for parameter in parameters_of(small_house())]


@pytest.mark.parametrize("hours", [6, 14])
@pytest.mark.parametrize("key", KEYS)
def test_a_fine_grid_finds_the_same_switch_points(key, hours):
    job = small_house(hours)
    parameter = parameter_named(job, key)
    found = find_switch_points(job, parameter, hours, FAMILIES, prove=False)
    assert not found.unproven
    for value in grid(parameter, 37):
        assert winner_by_search(job, parameter, value, hours) == winner_by_switch_points(
            found, value
        ), value


@pytest.mark.parametrize("key", ["rate", "price:lithium", "depth:lithium", "warmth", "outages"])
def test_switch_points_stand_between_two_neighbours_that_are_solved_again(key):
    job = small_house(10)
    parameter = parameter_named(job, key)
    for switch_point in find_switch_points(job, parameter, 10, FAMILIES).switch_points:
        floor = 1e-3 * (parameter.high - parameter.low)
        assert (
            0
            < switch_point.above.value - switch_point.below.value
            <= BRACKET * max(abs(switch_point.value), floor)
        )
        for side in (switch_point.below, switch_point.above):
            assert winner_by_search(job, parameter, side.value, 10) == side.winner
            for family, design in side.designs.items():
                assert design.banks[0].battery.family == family
                assert design.life_cycle_cost == pytest.approx(side.costs[family], abs=1e-4)


def test_somewhere_among_these_jobs_there_are_crossings_jumps_and_none():
    kinds = set()
    for hours in (6, 10, 14):
        job = small_house(hours)
        for key in ("price:lithium", "depth:lithium", "depth:lead", "tariff"):
            found = find_switch_points(job, parameter_named(job, key), hours, FAMILIES, prove=False)
            kinds |= {switch_point.kind for switch_point in found.switch_points} or {"none"}
    assert kinds == {"crossing", "jump", "none"}


def test_costs_meet_at_a_crossing_and_break_off_at_a_jump():
    job = small_house(14)
    for key in ("price:lithium", "depth:lithium", "depth:lead"):
        for switch_point in find_switch_points(
            job, parameter_named(job, key), 14, FAMILIES, prove=False
        ).switch_points:
            step = max(
                abs(switch_point.above.costs[family] - switch_point.below.costs[family])
                for family in FAMILIES
            )
            assert (switch_point.kind == "jump") == (step > 1), (key, step)
            assert bool(switch_point.cause) == (switch_point.kind == "jump")


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


def test_a_horizon_is_whole_and_switch_points_where_the_second_bank_is_due():
    job = two_lives(target_hours=2)
    found = find_switch_points(job, parameter_named(job, "horizon"), 2, FAMILIES)
    # 100 a lead bank every five years against 180 a lithium bank every ten; no residual
    cost = {years: (100 * -(-years // 5), 180 * -(-years // 10)) for years in range(1, 26)}
    expected = [
        year
        for year in range(2, 26)
        if (cost[year][0] <= cost[year][1]) != (cost[year - 1][0] <= cost[year - 1][1])
    ]
    assert [switch_point.value for switch_point in found.switch_points] == expected
    assert {switch_point.kind for switch_point in found.switch_points} == {"whole"}


def test_a_whole_year_of_life_lost_is_told_as_a_jump():
    job = two_lives(target_hours=2, mean_degc=15.0, max_degc=45.0, min_degc=10.0)
    # lead just reaches 5 years below 20 °C: warmer, it is bought a third time
    dear = replace(job.catalog.batteries[1], price=250.0, halving_degc=50.0, float_life_years=20.0)
    job = replace(job, catalog=replace(job.catalog, batteries=(job.catalog.batteries[0], dear)))
    found = find_switch_points(job, parameter_named(job, "warmth"), 2, FAMILIES)
    (switch_point,) = found.switch_points
    assert switch_point.value == pytest.approx(20.0, abs=1e-4)
    assert switch_point.kind == "jump"
    assert switch_point.cause == "above, Slate loses a whole year of service life"
    assert (switch_point.below.winner, switch_point.above.winner) == ("lead", "lithium")


def test_none_in_this_range():
    job = builders.make_job(batteries=[builders.make_battery("Slate")])
    found = find_switch_points(job, parameter_named(job, "tariff"), 4, ["lead"])
    assert (found.switch_points, found.unproven, found.winner) == ((), (), "lead")


def test_where_nothing_fits_there_is_no_winner():
    job = builders.make_job(max_bank_kg=1.0)
    found = find_switch_points(job, parameter_named(job, "rate"), 4, ["lead"])
    assert (found.switch_points, found.winner) == ((), None)


def test_a_budget_that_a_price_outgrows_is_a_jump():
    job = builders.make_job(budget=800.0, target_hours=4)
    found = find_switch_points(job, parameter_named(job, "price:lead"), 4, ["lead"])
    (switch_point,) = found.switch_points
    assert (switch_point.below.winner, switch_point.above.winner) == ("lead", None)
    assert "budget" in switch_point.cause
    assert np.isinf(switch_point.above.costs["lead"])


@pytest.mark.parametrize("key", ["outages", "rate", "price:lead", "drift", "depth:lead", "tariff"])
@pytest.mark.parametrize("family", FAMILIES)
def test_nothing_between_two_values_undercuts_the_line_below_it(key, family):
    job = small_house(10)
    parameter = parameter_named(job, key)
    optimum = ParametricOptimum(Study(job, parameter, 10), family)
    dice = np.random.default_rng(20)
    for _ in range(4):
        a, b = np.sort(dice.uniform(parameter.low, parameter.high, 2)).tolist()
        low_a, low_b = 0.0, 0.0
        # the highest level line that the bound proves: raised until something may undercut it
        high = max(optimum.plan(a).cost, optimum.plan(b).cost)
        while high - low_a > 1:
            middle = (low_a + high) / 2
            if optimum.undercuts(a, b, (middle, middle), exact_at_a=True):
                high = middle
            else:
                low_a = low_b = middle
        for share in (0.1, 0.35, 0.5, 0.8):
            value = a + share * (b - a)
            assert Search(parameter.at(job, value), family).least(10) >= low_b - 1e-6
