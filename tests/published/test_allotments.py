"""Published knapsacks and their like, through the allotment that programmes of sites use."""

from __future__ import annotations

import pytest

from optimizer.engine.trade import TradePoint, nondominated
from optimizer.programme.allotment import allot
from optimizer.programme.budget_curve import budget_curve
from optimizer.programme.terms import Goal, Terms
from tests.unit.programme.programmes import by_hours, candidate, point, programme

#: F. S. Hillier and G. J. Lieberman, Introduction to Operations Research: medical teams for
#: three countries, thousands of person-years of life by teams (data from memory).
TEAMS = by_hours(
    {
        "A": [45, 70, 90, 105, 120],
        "B": [20, 45, 75, 110, 150],
        "C": [50, 70, 80, 100, 130],
    }
)
#: What each number of teams reaches: five are the book's answer, the others plain arithmetic.
REACHED = [0, 50, 95, 120, 140, 170, 205, 245, 270, 290, 310, 325, 350, 370, 385, 400]


@pytest.mark.parametrize(("teams", "reached"), list(enumerate(REACHED)))
def test_medical_teams(teams, reached):
    assert allot(TEAMS, teams, goal="hours").mean() * 3 == pytest.approx(reached)


def test_five_medical_teams_go_where_the_book_sends_them():
    lines = allot(TEAMS, 5, goal="hours").lines
    assert [line.point.upfront_cost for line in lines] == [1, 3, 1]


def test_the_whole_curve_of_medical_teams():
    curve = budget_curve(TEAMS, Terms(goal=Goal.HOURS, budget=0))
    assert curve.is_complete
    assert [(one.budget, round(one.figure * 3)) for one in curve.points] == list(enumerate(REACHED))


def items(weights, profits, seconds=None):
    return programme(
        *(
            candidate(str(number), [point(weight, profit, share=second / 100)])
            for number, (weight, profit, second) in enumerate(
                zip(weights, profits, seconds or [0] * len(weights), strict=True)
            )
        )
    )


def test_knapsack_p01():
    """Florida State University, data sets of the knapsack problem, P01: 309 at capacity 165."""
    weights = [23, 31, 29, 44, 53, 38, 63, 85, 89, 82]
    profits = [92, 57, 49, 68, 60, 43, 67, 84, 87, 72]
    found = allot(items(weights, profits), 165, goal="hours")
    assert found.mean() * 10 == pytest.approx(309)
    assert found.upfront_cost == 165


@pytest.mark.slow
def test_knapsack_of_two_profits():
    """A public optimisation tutorial's knapsack of 17 items, capacity 900: all nine points."""
    first = [77, 94, 71, 63, 96, 82, 85, 75, 72, 91, 99, 63, 84, 87, 79, 94, 90]
    second = [65, 90, 90, 77, 95, 84, 70, 94, 66, 92, 74, 97, 60, 60, 65, 97, 93]
    weight = [80, 87, 68, 72, 66, 77, 99, 85, 70, 93, 98, 72, 100, 89, 67, 86, 91]
    sites, count = items(weight, first, second), len(first)

    def best(limit):
        required = {Goal.SHARE: -limit / 100 / count}
        most = allot(sites, 900, goal="hours", required=required)
        reached = {Goal.HOURS: most.mean(Goal.HOURS)}
        found = allot(sites, 900, goal="share", required=reached)
        profits = [
            round(found.mean(Goal.HOURS) * count),
            round(found.mean(Goal.SHARE) * count * 100),
        ]
        return TradePoint(-profits[0], -profits[1], None)

    # the last of them has the largest second profit there is: below it nothing is asked
    largest = round(allot(sites, 900, goal="share").mean() * count * 100)
    found = []
    for one in nondominated(best, ceiling=0, step=1):
        found.append((-one.first, -one.second))
        if found[-1][1] == largest:
            break
    assert found[::-1] == [
        (918, 983), (927, 972), (934, 971), (935, 947), (936, 942), (943, 940), (948, 939),
        (949, 915), (955, 906),
    ]  # fmt: skip
