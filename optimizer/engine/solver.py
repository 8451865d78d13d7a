"""Running a program: two solvers, and their many words turned into four."""

import ctypes
import os
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from enum import StrEnum
from functools import cache
from typing import Literal, NamedTuple

import pulp

SolverName = Literal["highs", "cbc"]


class Status(StrEnum):
    """What is known after a solve."""

    PROVEN = "proven"  # an optimum, gap 0
    FOUND = "found"  # a solution, not proven to be the best
    NONE = "none"  # proven to have no solution
    UNKNOWN = "unknown"  # stopped with nothing


#: (PuLP's status, PuLP's solution status) → own. "Optimal" alone proves nothing: PuLP says it
#: of the best solution at a time limit too.
_STATUS = {
    (pulp.LpStatusOptimal, pulp.LpSolutionOptimal): Status.PROVEN,
    (pulp.LpStatusOptimal, pulp.LpSolutionIntegerFeasible): Status.FOUND,
    (pulp.LpStatusNotSolved, pulp.LpSolutionIntegerFeasible): Status.FOUND,
    (pulp.LpStatusInfeasible, pulp.LpSolutionInfeasible): Status.NONE,
}


class Outcome(NamedTuple):
    """The end of a solve: status, objective in the program's own scale, values by name.

    ``bound`` is what no solution is below, None where the solver does not say.
    """

    status: Status
    objective: float
    values: Mapping[str, float]
    seconds: float
    bound: float | None = None


def solve(
    problem: pulp.LpProblem,
    solver: SolverName = "highs",
    *,
    gap: float = 0.0,
    limit_seconds: float | None = None,
) -> Outcome:
    """Solve a program to a relative gap, 0 where none is given.

    Every variable must be bounded, so that "infeasible" cannot hide "unbounded". HiGHS runs in
    memory; CBC is a process of its own with its files in a folder of its own. At a time limit an
    "infeasible" is UNKNOWN: solvers say it of work not finished.
    """
    started = time.perf_counter()
    if solver == "highs":
        _open_highs()
        # one thread, always: the option must not change within a process, and programs are small
        engine = pulp.HiGHS(msg=False, gapRel=gap, gapAbs=0.0, threads=1, timeLimit=limit_seconds)
        problem.solve(engine)
    else:
        with tempfile.TemporaryDirectory(prefix="keeplit-") as folder:
            engine = pulp.COIN_CMD(
                path=pulp.PULP_CBC_CMD.pulp_cbc_path,  # the one in PuLP's wheel
                msg=False,
                gapRel=gap,
                gapAbs=0.0,
                timeLimit=limit_seconds,
            )
            engine.tmpDir = folder
            problem.solve(engine)
    seconds = time.perf_counter() - started
    status = _STATUS.get((problem.status, problem.sol_status), Status.UNKNOWN)
    if status is Status.NONE and limit_seconds is not None and seconds >= limit_seconds:
        status = Status.UNKNOWN
    if status not in {Status.PROVEN, Status.FOUND}:
        return Outcome(status, float("nan"), {}, seconds)
    values = {variable.name: variable.varValue or 0.0 for variable in problem.variables()}
    objective = float(pulp.value(problem.objective))
    own = problem.solverModel if solver == "highs" else None
    bound = None if own is None else float(own.getInfo().mip_dual_bound)
    return Outcome(status, objective, values, seconds, bound)


@cache
def _open_highs() -> None:
    """Make HiGHS print its banner once, into nothing.

    The library writes two lines to file descriptor 1 at first use even when told to be silent;
    a command that prints JSON must not carry them.
    """
    import highspy  # noqa: PLC0415 - only where a program is solved

    with _standard_output_to_nothing():
        highspy.Highs()  # type: ignore[no-untyped-call] # the stubs leave the maker untyped


@contextmanager
def _standard_output_to_nothing() -> Iterator[None]:
    """Point file descriptor 1 at nothing; C buffers are flushed before and after."""
    sys.stdout.flush()
    flush = ctypes.CDLL(None).fflush if os.name == "posix" else None
    kept = os.dup(1)
    nothing = os.open(os.devnull, os.O_WRONLY)
    try:
        if flush is not None:
            flush(None)
        os.dup2(nothing, 1)
        yield
        if flush is not None:
            flush(None)
    finally:
        os.dup2(kept, 1)
        os.close(nothing)
        os.close(kept)
