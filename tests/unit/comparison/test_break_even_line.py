"""The break-even line: one line, each of its points a switch point of its own."""

from __future__ import annotations

import pytest

from optimizer.comparison.break_even_line import break_even_line
from optimizer.comparison.parameters import parameter_named
from optimizer.comparison.switch_points import switch_points
from tests.unit import builders

from .jobs import small_house, winner_by_search

pytestmark = pytest.mark.slow


def test_points_of_the_break_even_line_are_switch_points_of_the_price():
    job = small_house(14)
    line = break_even_line(job, 14)
    assert (line.across.key, line.priced, line.other) == ("outages", "lithium", "lead")
    for point in (line.points[0], line.points[len(line.points) // 2], line.points[-1]):
        (found,) = switch_points(line.across.at(job, point.value), 14, keys=["price:lithium"])
        assert [one.value for one in found.points] == pytest.approx([point.factor], rel=1e-6)


def test_cheaper_batteries_win_below_the_line():
    job = small_house(14)
    line = break_even_line(job, 14)
    point = next(point for point in line.points if point.value == line.across.base)
    price = parameter_named(job, "price:lithium")
    assert winner_by_search(job, price, point.factor * 0.999, 14) == "lithium"
    assert winner_by_search(job, price, point.factor * 1.001, 14) == "lead"


def test_another_number_may_lie_across():
    job = small_house(14)
    line = break_even_line(job, 14, across="study-period", priced="lead")
    assert [point.value for point in line.points] == list(range(1, 26))
    assert line.priced == "lead"


def test_a_break_even_line_needs_two_families():
    assert break_even_line(builders.make_job(), 4) is None
