"""One option at most of each group, under limits: the program of a multiple-choice knapsack.

Knows nothing of batteries: options with a worth, each of one group; rows that limit sums over the
options chosen. What is worth most is proven, or the gap to a proven bound is stated.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pulp

from optimizer.engine.price_bound import Limit, PriceBound
from optimizer.engine.solver import SolverName, Status, solve
from optimizer.model.arrays import Bools, Floats, Ints

#: The largest number of a row or of the objective, as the solver sees it: its tolerances are
#: absolute, a millionth.
_LARGEST = 1e3


@dataclass(frozen=True, slots=True)
class Selection:
    """What was chosen.

    ``status`` is PROVEN where nothing is worth more by more than the gap asked for; FOUND where a
    time limit came before; NONE where the limits leave nothing; UNKNOWN where nothing is known.
    ``chosen`` is the option of each group, −1 where none; ``worth`` their sum, less the worst,
    where rows share one. No selection is worth more than ``bound``, infinite where nothing is
    known. ``seconds`` are the solver's; ``price`` is what one more unit of the first limit is worth
    at the margin, None where there are others.
    """

    status: Status
    chosen: Ints
    worth: float
    bound: float
    seconds: float
    price: float | None = None

    @property
    def gap(self) -> float:
        """How much more any selection may be worth, as a share of the larger of the two."""
        return _gap(self.bound, self.worth)


def select(
    group: Ints,
    worth: Floats,
    must: Bools,
    limits: Sequence[Limit],
    *,
    gap: float = 0.0,
    limit_seconds: float | None = None,
    solver: SolverName = "highs",
) -> Selection:
    """Choose at most one option of each group, of some exactly one, worth most in all.

    ``group`` is that of each option, from 0, rising; of the groups in ``must`` one must be chosen;
    the first of ``limits`` is the one that is priced. A selection within ``gap`` of the bound, as a
    share, will do; the solver stops after ``limit_seconds``.

    Examples
    --------
    >>> from optimizer.engine.price_bound import Limit
    >>> group, worth = np.array([0, 0, 1]), np.array([5.0, 8.0, 4.0])
    >>> money = Limit(np.array([1.0, 3.0, 2.0]), most=3.0)
    >>> select(group, worth, np.array([False, False]), [money]).chosen
    array([0, 2])
    """
    is_empty = not worth.size and any(one.most < 0 for one in limits)
    if is_empty or not np.isin(np.flatnonzero(must), group).all():
        return _nothing(Status.NONE, must)
    if not worth.size or not limits:
        return _free(group, worth, must)
    kept, known, bound, price = np.arange(worth.size), None, np.inf, None
    if not any(one.shares_worst for one in limits):
        priced = PriceBound(group, worth, must, limits[0])
        bound, known = priced.bound, priced.known
        if known is not None and any(one.passed(known) > 0 for one in limits[1:]):
            known = None
        if known is not None:
            kept = priced.worth_a_look(gap)
        price = priced.price if len(limits) == 1 else None

    def found(status: Status, taken: Bools, bound: float, seconds: float = 0.0) -> Selection:
        chosen = np.full(must.size, -1)
        chosen[group[taken]] = np.flatnonzero(taken)
        own = float(worth[taken].sum())
        own -= max([0.0, *(one.passed(taken) for one in limits if one.shares_worst)])
        return Selection(status, chosen, own, max(own, bound), seconds, price)

    if known is not None and _gap(bound, float(worth[known].sum())) <= gap:
        return found(Status.PROVEN, known, bound)
    scale = _scale(worth)
    narrowed = [Limit(one.weights[kept], one.most, one.shares_worst) for one in limits]
    problem, variables = _program(group[kept], worth[kept] / scale, must, narrowed, scale)
    outcome = solve(problem, solver, gap=gap, limit_seconds=limit_seconds)
    if outcome.status not in {Status.PROVEN, Status.FOUND}:
        if known is None or outcome.status is Status.NONE:
            return _nothing(outcome.status, must, outcome.seconds)
        return found(Status.FOUND, known, bound, outcome.seconds)
    taken = np.zeros(worth.size, bool)
    taken[kept] = [(variable.varValue or 0.0) > 1 / 2 for variable in variables]
    if known is not None and worth[known].sum() > worth[taken].sum():
        taken = known  # within the gap the solver may stop at less
    if outcome.status is Status.PROVEN and gap == 0:
        bound = -np.inf
    elif outcome.bound is not None:
        # what was cut away is worth no more than what was known, by the gap asked for
        cut = -np.inf if known is None else float(worth[known].sum()) * (1 + gap)
        bound = min(bound, max(cut, -outcome.bound * scale))
    return found(outcome.status, taken, bound, outcome.seconds)


def _free(group: Ints, worth: Floats, must: Bools) -> Selection:
    """Return the best option of each group, each by itself where no row binds them together."""
    order = np.lexsort((worth, group))
    last = np.append(np.diff(group[order]), 1)[: worth.size]
    best = order[np.flatnonzero(last)]
    best = best[(worth[best] > 0) | must[group[best]]]
    chosen = np.full(must.size, -1)
    chosen[group[best]] = best
    own = float(worth[best].sum())
    return Selection(Status.PROVEN, chosen, own, own, 0.0)


def _nothing(status: Status, must: Bools, seconds: float = 0.0) -> Selection:
    return Selection(status, np.full(must.size, -1), -np.inf, np.inf, seconds)


def _program(
    group: Ints,
    worth: Floats,
    must: Bools,
    limits: Sequence[Limit],
    scale: float,
) -> tuple[pulp.LpProblem, list[pulp.LpVariable]]:
    problem = pulp.LpProblem("allotment", pulp.LpMinimize)
    options = [
        problem.add_variable(f"option_{number:07d}", 0, 1, cat=pulp.LpBinary)
        for number in range(worth.size)
    ]
    objective = list(zip(options, (-worth).tolist(), strict=True))
    if any(one.shares_worst for one in limits):
        worst = problem.add_variable("worst", 0, None)
        objective.append((worst, 1.0 / scale))
    problem.setObjective(pulp.LpAffineExpression(objective))
    by_group: list[list[tuple[pulp.LpVariable, float]]] = [[] for _ in must]
    for number, option in zip(group.tolist(), options, strict=True):
        by_group[number].append((option, 1.0))
    for number, terms in enumerate(by_group):
        if terms:
            left = pulp.LpAffineExpression(terms)
            problem.addConstraint(left == 1 if must[number] else left <= 1, f"one__{number}")
    for number, limit in enumerate(limits):
        unit = _scale(limit.weights)
        held = np.flatnonzero(limit.weights).tolist()
        row = [(options[place], float(limit.weights[place]) / unit) for place in held]
        if limit.shares_worst:
            row.append((worst, -1.0 / unit))
        problem.addConstraint(pulp.LpAffineExpression(row) <= limit.most / unit, f"limit__{number}")
    return problem, options


def _gap(bound: float, own: float) -> float:
    if not np.isfinite(bound):
        return np.inf
    return 0.0 if bound <= own else (bound - own) / max(abs(bound), abs(own))


def _scale(values: Floats) -> float:
    """Return by what numbers are divided so that the solver sees them at most ``_LARGEST``."""
    largest = float(np.abs(values).max(initial=0.0))
    return largest / _LARGEST if largest > 0 else 1.0
