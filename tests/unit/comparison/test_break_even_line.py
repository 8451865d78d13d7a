"""The border: one line, each of its points a flip of its own."""

from __future__ import annotations

import pytest

from optimizer.comparison.break_even_line import find_border
from optimizer.comparison.parameters import lever_named
from optimizer.comparison.switch_points import find_flips
from tests.unit import builders

from .jobs import FAMILIES, small_house, winner_by_search


def test_points_of_the_border_are_flips_of_the_price():
    job = small_house(14)
    border = find_border(job, 14, FAMILIES)
    assert (border.across.key, border.priced, border.other) == ("outages", "lithium", "lead")
    picked = [border.points[0], border.points[len(border.points) // 2], border.points[-1]]
    for point in picked:
        there = border.across.at(job, point.value)
        found = find_flips(there, lever_named(there, "price:lithium"), 14, FAMILIES, prove=False)
        assert [flip.value for flip in found.flips] == pytest.approx([point.factor], rel=1e-6)


def test_cheaper_batteries_win_below_the_line():
    job = small_house(14)
    border = find_border(job, 14, FAMILIES)
    point = next(point for point in border.points if point.value == border.across.base)
    price = lever_named(job, "price:lithium")
    assert winner_by_search(job, price, point.factor * 0.999, 14) == "lithium"
    assert winner_by_search(job, price, point.factor * 1.001, 14) == "lead"


def test_another_number_may_lie_across():
    job = small_house(14)
    border = find_border(job, 14, FAMILIES, across=lever_named(job, "horizon"), priced="lead")
    assert [point.value for point in border.points] == list(range(1, 26))
    assert border.priced == "lead"


def test_a_border_needs_two_families():
    assert find_border(builders.make_job(), 4, ["lead"]) is None
