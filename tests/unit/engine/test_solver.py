"""Statuses of both solvers, and what they leave behind."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pulp
import pytest

from optimizer.engine import solver
from optimizer.engine.solver import Status, solve

SOLVERS = ("highs", "cbc")
ROOT = Path(__file__).parents[3]


def knapsack(items=40, seed=7, rows=6):
    """A multi-dimensional knapsack: slow enough to be stopped on its way when it is large."""
    draw = seed
    problem = pulp.LpProblem("knapsack", pulp.LpMinimize)
    taken = [problem.add_variable(f"x_{i}", 0, 1, cat=pulp.LpBinary) for i in range(items)]

    def numbers():
        nonlocal draw
        found = []
        for _ in taken:
            draw = (draw * 1103515245 + 12345) % 2**31
            found.append(20 + draw // 65536 % 80)
        return found

    problem.setObjective(
        pulp.LpAffineExpression([(x, -n) for x, n in zip(taken, numbers(), strict=True)])
    )
    for row in range(rows):
        weights = numbers()
        left = pulp.LpAffineExpression(list(zip(taken, weights, strict=True)))
        problem.addConstraint(left <= sum(weights) / 2, f"weight__{row}")
    return problem


def choice(least):
    """Pick one of two at 3 or 5, of which at least ``least`` must be picked."""
    problem = pulp.LpProblem("choice", pulp.LpMinimize)
    x, y = (problem.add_variable(name, 0, 1, cat=pulp.LpBinary) for name in "xy")
    problem.setObjective(pulp.LpAffineExpression([(x, 3.0), (y, 5.0)]))
    problem.addConstraint(pulp.LpAffineExpression([(x, 1.0), (y, 1.0)]) >= least, "enough__0")
    return problem


@pytest.mark.parametrize("name", SOLVERS)
def test_proven(name):
    outcome = solve(choice(1), name)
    assert outcome.status is Status.PROVEN
    assert outcome.objective == pytest.approx(3)
    assert outcome.values == pytest.approx({"x": 1, "y": 0})
    assert outcome.seconds > 0


@pytest.mark.parametrize("name", SOLVERS)
def test_none(name):
    outcome = solve(choice(3), name)
    assert outcome.status is Status.NONE
    assert math.isnan(outcome.objective)
    assert outcome.values == {}


@pytest.mark.slow
@pytest.mark.parametrize("name", SOLVERS)
def test_a_time_limit_is_never_a_proof(name):
    outcome = solve(knapsack(items=300, rows=10), name, limit_seconds=0.3)
    assert outcome.status in {Status.FOUND, Status.UNKNOWN}
    if outcome.status is Status.UNKNOWN:
        assert outcome.values == {}


@pytest.mark.parametrize("name", SOLVERS)
def test_a_limit_that_is_not_reached_changes_nothing(name):
    assert solve(choice(1), name, limit_seconds=60).status is Status.PROVEN
    assert solve(choice(3), name, limit_seconds=60).status is Status.NONE


@pytest.mark.parametrize(
    ("status", "sol_status", "own"),
    [
        (pulp.LpStatusOptimal, pulp.LpSolutionOptimal, Status.PROVEN),
        (pulp.LpStatusOptimal, pulp.LpSolutionIntegerFeasible, Status.FOUND),
        (pulp.LpStatusNotSolved, pulp.LpSolutionIntegerFeasible, Status.FOUND),
        (pulp.LpStatusNotSolved, pulp.LpSolutionNoSolutionFound, Status.UNKNOWN),
        (pulp.LpStatusInfeasible, pulp.LpSolutionInfeasible, Status.NONE),
        (pulp.LpStatusInfeasible, pulp.LpSolutionNoSolutionFound, Status.UNKNOWN),
        (pulp.LpStatusUndefined, pulp.LpSolutionNoSolutionFound, Status.UNKNOWN),
        (pulp.LpStatusUnbounded, pulp.LpSolutionUnbounded, Status.UNKNOWN),
    ],
)
def test_every_pair_of_foreign_words(monkeypatch, status, sol_status, own):
    """The solver's words are set by hand: the table alone is under test."""

    class Said(pulp.LpProblem):
        def solve(self, engine):
            self.status, self.sol_status = status, sol_status
            for variable in self.variables():
                variable.varValue = 1.0

    problem = choice(1)
    problem.__class__ = Said
    monkeypatch.setattr(solver, "_open_highs", lambda: None)
    assert solve(problem).status is own


def test_infeasible_at_the_time_limit_is_unknown(monkeypatch):
    clock = iter([0.0, 2.5])
    monkeypatch.setattr(solver.time, "perf_counter", lambda: next(clock))

    class Said(pulp.LpProblem):
        def solve(self, engine):
            self.status, self.sol_status = pulp.LpStatusInfeasible, pulp.LpSolutionInfeasible

    problem = choice(3)
    problem.__class__ = Said
    assert solve(problem, limit_seconds=2.5).status is Status.UNKNOWN


def test_cbc_leaves_no_files_behind(tmp_path, monkeypatch):
    for name in ("TMPDIR", "TMP", "TEMP"):
        monkeypatch.setenv(name, str(tmp_path))
    monkeypatch.setattr(tempfile, "tempdir", None)
    monkeypatch.chdir(tmp_path)
    assert Path(tempfile.gettempdir()) == tmp_path
    assert solve(knapsack(items=12), "cbc").status is Status.PROVEN
    assert solve(choice(3), "cbc").status is Status.NONE
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_the_banner_reaches_no_file_descriptor():
    """Whatever a process that solves writes itself is all that its standard output holds."""
    script = (
        "from optimizer.engine.solver import solve\n"
        "import pulp\n"
        "problem = pulp.LpProblem('p', pulp.LpMinimize)\n"
        "x = problem.add_variable('x', 0, 1, cat=pulp.LpBinary)\n"
        "problem.setObjective(pulp.LpAffineExpression([(x, 1.0)]))\n"
        "problem.addConstraint(pulp.LpAffineExpression([(x, 1.0)]) >= 1, 'r')\n"
        "print('before')\n"
        "print(solve(problem).status, solve(problem, 'cbc').status)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert run.stdout == "before\nproven proven\n"
    assert run.stderr == ""


@pytest.mark.slow
def test_json_of_a_command_is_nothing_but_json():
    run = subprocess.run(
        [sys.executable, "-m", "optimizer", "frontier", "house", "--max-hours", "6", "--json"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONUTF8": "1"},
    )
    assert json.loads(run.stdout)["points"]
    assert run.stderr == ""
