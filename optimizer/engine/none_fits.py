"""A second way to "no design": the solvers are asked too before a person is told."""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

from optimizer.engine.bounds import Bounds, Option
from optimizer.engine.program import MONEY_SCALE, build_program
from optimizer.engine.solver import Status, solve
from optimizer.errors import InternalError, NotProvenError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from optimizer.engine.bounds import Span
    from optimizer.engine.curve import Search

    Choices = list[tuple[Option, list[Span]]]


def confirm_none(
    search: Search, hours: int, progress: Callable[[int, int], None] | None = None
) -> None:
    """Check with the solver that nothing carries ``hours`` or longer.

    Programs over every set and every bank that serves a year, nothing cut but what the site
    itself rules out and banks that a cheaper one replaces. First one program for all hours at
    once, in which a bank may serve where it does at any of them: whatever carries some hour is a
    solution of it, so that its "infeasible", or a least cost beyond the limit, settles every
    hour. Only where it has a solution is each hour asked by itself. A verdict of "infeasible"
    from the solver is the second way; where it finds a design instead, the shortest paths were
    wrong.

    Parameters
    ----------
    search : Search
        What found nothing.
    hours : int
        The autonomy asked for [h].
    progress : callable, optional
        Called with hours done and all hours.

    Raises
    ------
    InternalError
        The solver has a design within the limits.
    NotProvenError
        The solver stopped without a verdict.
    """
    bounds = Bounds(search.candidates, search.job.site.budget, every_set=True)
    every = range(hours, search.job.site.max_hours + 1)
    by_hour: dict[int, Choices] = {}
    for done, longer in enumerate(every):
        if progress is not None:
            progress(done, len(every))
        by_hour[longer] = [
            (option, bounds.spans(option))
            for option in (
                Option(longer, set_index, math.nan)
                for set_index in range(len(bounds.candidates.sets))
            )
        ]
    if _within(search, _all_at_once(by_hour.values())) is None:
        return
    for longer, choices in by_hour.items():
        least = _within(search, choices)
        if least is not None:
            raise InternalError(
                f"the solver carries {longer} h for {least:.2f}, the shortest path finds nothing"
            )


def _all_at_once(hourly: Iterable[Choices]) -> Choices:
    """Return for each set what serves at any hour, the cheapest of each span.

    A first bank is kept beside cheaper ones: what it costs at the start counts too.
    """
    merged: defaultdict[int, dict[tuple[object, ...], Span]] = defaultdict(dict)
    options: dict[int, Option] = {}
    for choices in hourly:
        for option, spans in choices:
            kept = merged[option.set_index]
            options.setdefault(option.set_index, option)
            for span in spans:
                first = span.bank_index if span.start == 0 else None
                key = (span.start, span.end, span.vented, first)
                if key not in kept or span.cost < kept[key].cost:
                    kept[key] = span
    return [(options[index], list(kept.values())) for index, kept in merged.items()]


def _within(search: Search, choices: Choices) -> float | None:
    """Return the least cost the solver finds [currency], None where none is within the limits."""
    horizon = search.job.site.horizon_years
    whole = [
        (option, spans)
        for option, spans in choices
        if any(span.start == 0 for span in spans) and any(span.end == horizon for span in spans)
    ]
    if not whole:
        return None  # no bank can be bought first, or none lasts to the end: plain to see
    program = build_program(search.candidates, whole, budget=search.job.site.budget)
    outcome = solve(program.problem, search.solver)
    if outcome.status is Status.NONE:
        return None
    if outcome.status is not Status.PROVEN:
        raise NotProvenError(f"the solver {search.solver} could not tell whether any fits")
    least = outcome.objective * MONEY_SCALE
    return least if least <= search.limit else None
