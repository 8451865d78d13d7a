"""The mixed-integer linear program: one inverter set, one chain of banks, least cost."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pulp

from optimizer.engine.bounds import Option, Span
from optimizer.errors import InternalError

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from optimizer.engine.candidates import Candidates

#: The solver sees thousands of currency units: coefficients near 1 keep its tolerances honest.
MONEY_SCALE = 1000.0


@dataclass(frozen=True, slots=True)
class Column:
    """A binary variable that puts a bank in service: its option's number and its span."""

    option_number: int
    span: Span


@dataclass(frozen=True, slots=True)
class Program:
    """A program and what its variables stand for; variables carry indices, never catalog text."""

    problem: pulp.LpProblem
    options: tuple[Option, ...]
    columns: tuple[Column, ...]

    def chosen(self, values: Mapping[str, float]) -> tuple[Option, tuple[Span, ...]]:
        """Return the option and the spans in order of years that a solution stands for."""
        number = next(
            number for number in range(len(self.options)) if values[f"set_{number:04d}"] > 1 / 2
        )
        spans = [
            column.span
            for index, column in enumerate(self.columns)
            if column.option_number == number and values[f"bank_{index:05d}"] > 1 / 2
        ]
        return self.options[number], tuple(sorted(spans, key=lambda span: span.start))


def build_program(
    candidates: Candidates,
    choices: Sequence[tuple[Option, Sequence[Span]]],
    *,
    budget: float | None = None,
    by_order: bool = False,
) -> Program:
    """Write the program of choosing among options and, for the chosen one, a chain of banks.

    Parameters
    ----------
    candidates : Candidates
        The columns of the job.
    choices : sequence of (Option, sequence of Span)
        What may be chosen. Spans that are beyond the budget by themselves must be left out.
    budget : float, optional
        Limit on the upfront cost [currency].
    by_order : bool
        Instead of cost minimise the number of battery units, then the places in the price list:
        the rule among designs of equal cost.

    Notes
    -----
    Rows: ``one_set`` (exactly one option); ``chain`` (for each option and year, banks retired
    equal banks bought: a path from year 0 to the horizon); ``vented`` (in no year is a vented
    bank in service without the works for it); ``purse`` (a first bank that leaves no money for
    these works excludes them). The last is the budget row, with all sums worked out beforehand,
    so that the solver's tolerance on sums of money cannot buy anything.
    """
    problem = pulp.LpProblem("keeplit", pulp.LpMinimize)
    site = candidates.job.site
    horizon = site.horizon_years
    works = problem.add_variable("vented_works", 0, 1, cat=pulp.LpBinary)
    objective: list[tuple[pulp.LpVariable, float]] = []
    one_set: list[tuple[pulp.LpVariable, float]] = []
    in_service: list[list[tuple[pulp.LpVariable, float]]] = [[] for _ in range(horizon)]
    purse: list[tuple[pulp.LpVariable, float]] = []
    columns: list[Column] = []
    limit = math.inf if budget is None else budget
    sets = candidates.sets
    for number, (option, spans) in enumerate(choices):
        chosen = problem.add_variable(f"set_{number:04d}", 0, 1, cat=pulp.LpBinary)
        one_set.append((chosen, 1.0))
        own = float(sets.life_cycle_cost[option.set_index])
        objective.append((chosen, _set_rank(candidates, option) if by_order else own))
        chain: list[list[tuple[pulp.LpVariable, float]]] = [[] for _ in range(horizon)]
        chain[0].append((chosen, -1.0))
        room = limit - float(sets.upfront_cost[option.set_index]) - candidates.vented_works
        for span in spans:
            serves = problem.add_variable(f"bank_{len(columns):05d}", 0, 1, cat=pulp.LpBinary)
            columns.append(Column(number, span))
            objective.append((serves, _bank_rank(candidates, span) if by_order else span.cost))
            chain[span.start].append((serves, 1.0))
            if span.end < horizon:
                chain[span.end].append((serves, -1.0))
            if span.vented:
                for year in range(span.start, span.end):
                    in_service[year].append((serves, 1.0))
            elif span.start == 0 and not _within(span.upfront, room):
                purse.append((serves, 1.0))
        for year, terms in enumerate(chain):
            if terms:
                _row(problem, f"chain__{number}_{year}", terms, "==", 0.0)
    objective.append((works, 0.0 if by_order else candidates.vented_works))
    scale = 1.0 if by_order else MONEY_SCALE
    problem.setObjective(_sum((variable, value / scale) for variable, value in objective))
    _row(problem, "one_set__0", one_set, "==", 1.0)
    for year, terms in enumerate(in_service):
        if terms:
            _row(problem, f"vented__{year}", [*terms, (works, -1.0)], "<=", 0.0)
    if purse:
        _row(problem, "purse__0", [*purse, (works, 1.0)], "<=", 1.0)
    return Program(problem, tuple(option for option, _ in choices), tuple(columns))


def _within(cost: float, room: float) -> bool:
    return cost <= room + abs(room) * 1e-9


def _set_rank(candidates: Candidates, option: Option) -> float:
    """Place of a set among all, below one half: less than one battery unit."""
    return 0.5 * option.set_index / max(1, len(candidates.sets))


def _bank_rank(candidates: Candidates, span: Span) -> float:
    """Units of a bank, and its place among all, weighed below the smallest step between sets."""
    banks, sets = len(candidates.banks), len(candidates.sets)
    places = max(1, banks * sets * candidates.job.site.horizon_years)
    return span.units + 0.25 * span.bank_index / places


def _sum(terms: Iterable[tuple[pulp.LpVariable, float]]) -> pulp.LpAffineExpression:
    """Return a linear expression; the fast form overwrites repeated variables and takes NaN."""
    pairs = list(terms)
    if len({id(variable) for variable, _ in pairs}) != len(pairs):
        raise InternalError("a variable stands twice in one row")
    if not all(math.isfinite(value) for _, value in pairs):
        raise InternalError("a coefficient is not finite")
    return pulp.LpAffineExpression(pairs)


def _row(
    problem: pulp.LpProblem,
    name: str,
    terms: list[tuple[pulp.LpVariable, float]],
    sense: str,
    right: float,
) -> None:
    """Add the row ``terms sense right`` under a name ``family__index``."""
    left = _sum(terms)
    problem.addConstraint(left == right if sense == "==" else left <= right, name)
