"""The break-even line: one line, each of its points a switch point of its own."""

from __future__ import annotations

import pytest

from optimizer.comparison.break_even_line import find_break_even_line
from optimizer.comparison.parameters import parameter_named
from optimizer.comparison.switch_points import find_switch_points
from tests.unit import builders

from .jobs import FAMILIES, small_house, winner_by_search


def test_points_of_the_break_even_line_are_switch_points_of_the_price():
    job = small_house(14)
    break_even_line = find_break_even_line(job, 14, FAMILIES)
    assert (break_even_line.across.key, break_even_line.priced, break_even_line.other) == (
        "outages",
        "lithium",
        "lead",
    )
    picked = [
        break_even_line.points[0],
        break_even_line.points[len(break_even_line.points) // 2],
        break_even_line.points[-1],
    ]
    for point in picked:
        there = break_even_line.across.at(job, point.value)
        found = find_switch_points(
            there, parameter_named(there, "price:lithium"), 14, FAMILIES, prove=False
        )
        assert [switch_point.value for switch_point in found.switch_points] == pytest.approx(
            [point.factor], rel=1e-6
        )


def test_cheaper_batteries_win_below_the_line():
    job = small_house(14)
    break_even_line = find_break_even_line(job, 14, FAMILIES)
    point = next(
        point for point in break_even_line.points if point.value == break_even_line.across.base
    )
    price = parameter_named(job, "price:lithium")
    assert winner_by_search(job, price, point.factor * 0.999, 14) == "lithium"
    assert winner_by_search(job, price, point.factor * 1.001, 14) == "lead"


def test_another_number_may_lie_across():
    job = small_house(14)
    break_even_line = find_break_even_line(
        job, 14, FAMILIES, across=parameter_named(job, "horizon"), priced="lead"
    )
    assert [point.value for point in break_even_line.points] == list(range(1, 26))
    assert break_even_line.priced == "lead"


def test_a_break_even_line_needs_two_families():
    assert find_break_even_line(builders.make_job(), 4, ["lead"]) is None
