"""Complete frontiers of published problems, by the same enumerator that makes the cost curve."""

from __future__ import annotations

from itertools import combinations, permutations, product

import numpy as np
import pulp
import pytest

from optimizer.engine.solver import Status, solve
from optimizer.engine.trade import TradePoint, nondominated

EHRGOTT = "M. Ehrgott, Multicriteria Optimization, 2005"


class Problem:
    """A 0/1 program with two objectives, both to be small, and its two-stage oracle."""

    def __init__(self, first: list[float], second: list[float]) -> None:
        self.first, self.second = first, second
        self.rows: list[tuple[dict[int, float], str, float]] = []

    def row(self, terms: dict[int, float], sense: str, limit: float) -> None:
        self.rows.append((terms, sense, limit))

    def _least(self, cost: list[float], limits: list[tuple[list[float], float]]):
        problem = pulp.LpProblem("published", pulp.LpMinimize)
        chosen = [
            problem.add_variable(f"x_{index:03d}", 0, 1, pulp.LpBinary)
            for index in range(len(cost))
        ]
        problem.setObjective(pulp.LpAffineExpression(list(zip(chosen, cost, strict=True))))
        rows = [
            *self.rows,
            *((dict(enumerate(weights)), "<=", limit) for weights, limit in limits),
        ]
        for terms, sense, limit in rows:
            pairs = [(chosen[index], value) for index, value in terms.items()]
            kind = pulp.LpConstraintEQ if sense == "=" else pulp.LpConstraintLE
            problem.addConstraint(
                pulp.LpConstraint(pulp.LpAffineExpression(pairs), kind, rhs=limit)
            )
        outcome = solve(problem, "highs")
        if outcome.status is Status.NONE:
            return None
        assert outcome.status is Status.PROVEN
        return tuple(round(outcome.values[variable.name]) for variable in chosen)

    def best(self, limit: float) -> TradePoint | None:
        """Least first objective within the limit, then least second at that first."""
        found = self._least(self.first, [(self.second, limit)])
        if found is None:
            return None
        least = float(np.dot(self.first, found))
        found = self._least(self.second, [(self.first, least)])
        return TradePoint(least, float(np.dot(self.second, found)), found)

    def points(self) -> list[TradePoint]:
        ceiling = float(sum(abs(value) for value in self.second))
        return list(nondominated(self.best, ceiling=ceiling, step=1))

    def weighted_scan(self, steps: int = 24) -> set[tuple[float, float]]:
        found = set()
        for step in range(1, steps):
            mixed = [
                step * a + (steps - step) * b for a, b in zip(self.first, self.second, strict=True)
            ]
            answer = self._least(mixed, [])
            found.add((float(np.dot(self.first, answer)), float(np.dot(self.second, answer))))
        return found


def assignment() -> Problem:
    first = [5, 1, 4, 7, 6, 2, 2, 6, 2, 8, 4, 4, 3, 5, 7, 1]
    second = [3, 6, 4, 2, 1, 3, 8, 3, 5, 2, 2, 3, 4, 2, 3, 5]
    problem = Problem(first, second)
    for line in range(4):
        problem.row({4 * line + place: 1 for place in range(4)}, "=", 1)
        problem.row({4 * place + line: 1 for place in range(4)}, "=", 1)
    return problem


ARCS = {
    (1, 2): (4, 3), (1, 3): (5, 1), (2, 3): (2, 1), (2, 4): (1, 4), (2, 5): (2, 2), (2, 6): (7, 2),
    (3, 4): (5, 1), (3, 5): (2, 7), (4, 3): (5, 1), (4, 6): (3, 2), (5, 6): (4, 2),
}  # fmt: skip


def path() -> Problem:
    problem = Problem(*(list(costs) for costs in zip(*ARCS.values(), strict=True)))
    for node in range(1, 7):
        terms = {}
        for index, (tail, head) in enumerate(ARCS):
            if node in {tail, head}:
                terms[index] = 1 if tail == node else -1
        problem.row(terms, "=", {1: 1, 6: -1}.get(node, 0))
    return problem


PROFIT = [77, 94, 71, 63, 96, 82, 85, 75, 72, 91, 99, 63, 84, 87, 79, 94, 90]
SECOND = [65, 90, 90, 77, 95, 84, 70, 94, 66, 92, 74, 97, 60, 60, 65, 97, 93]
WEIGHT = [80, 87, 68, 72, 66, 77, 99, 85, 70, 93, 98, 72, 100, 89, 67, 86, 91]


def knapsack() -> Problem:
    problem = Problem([-value for value in PROFIT], [-value for value in SECOND])
    problem.row(dict(enumerate(WEIGHT)), "<=", 900)
    return problem


ASSIGNMENT = [(6, 24), (9, 17), (12, 13), (16, 11), (19, 10), (22, 7)]
PATH = [(8, 9), (10, 7), (11, 5), (13, 4)]
KNAPSACK = [
    (955, 906), (949, 915), (948, 939), (943, 940), (936, 942), (935, 947), (934, 971), (927, 972),
    (918, 983),
]  # fmt: skip


def unsupported(points: list[tuple[float, float]]) -> set[tuple[float, float]]:
    """Return the points above a straight line between two others: the least of no weighted sum."""
    return {
        (x, y)
        for x, y in points
        for (x0, y0), (x1, y1) in combinations(sorted(points), 2)
        if x0 < x < x1 and (y - y0) * (x1 - x0) > (y1 - y0) * (x - x0)
    }


@pytest.mark.slow
@pytest.mark.parametrize(
    ("make", "expected", "sign"),
    [
        pytest.param(assignment, ASSIGNMENT, 1, id=f"{EHRGOTT}, ex. 9.38 (published)"),
        pytest.param(path, PATH, 1, id=f"{EHRGOTT}, ex. 9.5 (published)"),
        pytest.param(knapsack, KNAPSACK, -1, id="open optimisation tutorial (published)"),
    ],
)
def test_complete_frontier_and_what_weights_miss(make, expected, sign):
    problem = make()
    points = problem.points()
    found = [(sign * point.first, sign * point.second) for point in points]
    assert found == expected  # whole numbers: exact
    scanned = {(sign * first, sign * second) for first, second in problem.weighted_scan()}
    assert scanned <= set(expected)
    missed = unsupported([(point.first, point.second) for point in points])
    assert missed
    assert not {(sign * first, sign * second) for first, second in missed} & scanned


def test_unsupported_points_of_the_assignment():
    # (16, 11) and (19, 10) are the minimum of no weighted sum (published)
    assert unsupported(ASSIGNMENT) == {(16, 11), (19, 10)}
    assert set(ASSIGNMENT) - assignment().weighted_scan() == {(16, 11), (19, 10)}


def test_by_enumeration_and_a_library_for_dominance():
    from paretoset import paretoset  # takes a second to import

    problem = assignment()
    costs = np.array([problem.first, problem.second]).reshape(2, 4, 4)
    everything = np.array(
        [costs[:, range(4), order].sum(axis=1) for order in permutations(range(4))]
    )
    distinct = np.unique(everything, axis=0)
    kept = distinct[paretoset(distinct, sense=["min", "min"], use_numba=False)]
    assert sorted(map(tuple, kept.tolist())) == ASSIGNMENT


TEAMS = [[0, 45, 70, 90, 105, 120], [0, 20, 45, 75, 110, 150], [0, 50, 70, 80, 100, 130]]
TEAM_CURVE = [0, 50, 95, 120, 140, 170, 205, 245, 270, 290, 310, 325, 350, 370, 385, 400]


def teams() -> Problem:
    gains = [gain for country in TEAMS for gain in country]
    problem = Problem([-gain for gain in gains], [index % 6 for index in range(18)])
    for country in range(3):
        problem.row({6 * country + sent: 1 for sent in range(6)}, "=", 1)
    return problem


def test_one_option_a_site_over_every_budget():
    # Hillier & Lieberman, Introduction to Operations Research, medical teams: data from memory,
    # curve by arithmetic
    points = teams().points()
    curve = {int(point.second): -point.first for point in points}
    assert curve == dict(enumerate(TEAM_CURVE))
    assert [
        max(
            sum(TEAMS[country][sent] for country, sent in enumerate(split))
            for split in product(range(6), repeat=3)
            if sum(split) <= budget
        )
        for budget in range(16)
    ] == TEAM_CURVE
    five = next(point for point in points if point.second == 5)
    sent = [index % 6 for index, taken in enumerate(five.solution) if taken]
    assert (-five.first, sent) == (170, [1, 3, 1])


def test_single_objective_knapsack_to_the_unit():
    # P01 of the knapsack data sets at FSU (published); the default gap of a solver is not enough
    weights = [23, 31, 29, 44, 53, 38, 63, 85, 89, 82]
    profits = [92, 57, 49, 68, 60, 43, 67, 84, 87, 72]
    problem = Problem([-profit for profit in profits], weights)
    best = next(nondominated(problem.best, ceiling=165, step=1))
    assert (-best.first, best.second) == (309, 165)
