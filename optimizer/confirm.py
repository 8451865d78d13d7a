"""A second way to "no design": the solvers are asked too before a person is told."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.bounds import Bounds, Option
from optimizer.errors import InternalError, NotProvenError
from optimizer.program import build_program
from optimizer.solver import Status, solve

if TYPE_CHECKING:
    from optimizer.curve import Search


def confirm_none(search: Search, hours: int) -> None:
    """Check with the solver that nothing carries ``hours``, hour by hour.

    For each hour one program over every set and every bank that serves a year, nothing cut but
    what the site itself rules out. A verdict of "infeasible" from HiGHS is the second way; where
    it finds a design instead, the shortest paths were wrong.

    Raises
    ------
    InternalError
        The solver has a design within the limits.
    NotProvenError
        The solver stopped without a verdict.
    """
    bounds = Bounds(search.candidates, search.job.site.budget, every_set=True)
    for longer in range(hours, search.job.site.max_hours + 1):
        choices = []
        for set_index in range(len(search.candidates.sets)):
            option = Option(longer, set_index, math.nan)
            spans = bounds.spans(option)
            starts = {span.start for span in spans}
            ends = {span.end for span in spans}
            if 0 in starts and search.job.site.horizon_years in ends:
                choices.append((option, spans))
        if not choices:
            continue  # no bank can be bought first, or none lasts to the end: plain to see
        program = build_program(search.candidates, choices, budget=search.job.site.budget)
        outcome = solve(program.problem, search.solver)
        if outcome.status is Status.UNKNOWN:
            raise NotProvenError(f"the solver {search.solver} could not tell whether any fits")
        if outcome.status is not Status.NONE and outcome.objective * 1000 <= search.limit:
            raise InternalError(
                f"the solver carries {longer} h for {outcome.objective * 1000:.2f}, "
                "the shortest path finds nothing"
            )
