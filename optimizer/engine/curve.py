"""The curve of cost against hours of autonomy, point by point, each proven."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from optimizer.engine.bounds import Bounds, Option, Span
from optimizer.engine.candidates import Candidates, build_candidates
from optimizer.engine.program import MONEY_SCALE, Program, build_program
from optimizer.engine.solver import Outcome, SolverName, Status, solve
from optimizer.engine.trade import TradePoint, nondominated
from optimizer.engine.verify import verify
from optimizer.errors import InternalError, NotProvenError
from optimizer.formulas.tolerance import COST_TOLERANCE, RELATIVE_TOLERANCE
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence


#: Two solvers, or solver and shortest path, may differ by rounding only [currency units].
_AGREEMENT = 1e-3


@dataclass(frozen=True)
class Search:
    """A job made ready for questions: its columns, its bounds, and the solver to prove with.

    Parameters
    ----------
    job : Job
        The site and its price list.
    family : str, optional
        Only banks of this chemistry family.
    solver : {"highs", "cbc"}
        Which solver proves the points.
    lifted : frozenset of Requirement
        Requirements left out: for bounds only, no design is made of it.

    Notes
    -----
    The site's own limits hold: ``budget`` on the upfront cost, ``lifetime_budget`` on the
    life-cycle cost.
    """

    job: Job
    family: str | None = None
    solver: SolverName = "highs"
    lifted: frozenset[Requirement] = frozenset()
    candidates: Candidates = field(init=False, repr=False)
    bounds: Bounds = field(init=False, repr=False)

    def __post_init__(self) -> None:
        candidates = build_candidates(self.job, self.family, self.lifted)
        object.__setattr__(self, "candidates", candidates)
        object.__setattr__(self, "bounds", Bounds(candidates, self.job.site.budget))

    @property
    def limit(self) -> float:
        """The site's limit on the life-cycle cost [currency], infinite where there is none."""
        limit = self.job.site.lifetime_budget
        return math.inf if limit is None else limit * (1 + RELATIVE_TOLERANCE)

    def staircase(self, progress: Callable[[int, int], None] | None = None) -> list[Option]:
        """Return every option that may be an optimum, the longest hours first.

        From the longest hours down, an hour only counts where a set carries it for less than
        anything found at longer hours (cut 3): all else is dominated by a known design.
        """
        found: list[Option] = []
        limit = self.limit
        hours_down = range(self.job.site.max_hours, 0, -1)
        for done, hours in enumerate(hours_down):
            if progress is not None:
                progress(done, len(hours_down))
            options = self.bounds.options(hours, limit)
            limit = min([limit, *(option.cost for option in options)])
            found += [option for option in options if option.cost <= limit + COST_TOLERANCE]
        return found

    def best_of(self, options: Sequence[Option]) -> Design:
        """Return the proven optimum over options; of equal costs the longest, then the rule.

        Raises
        ------
        NotProvenError
            The solver stopped before the proof.
        InternalError
            The solver's answer is not the shortest path's, or fails the plain checks.
        """
        least = min(option.cost for option in options)
        tied = [option for option in options if option.cost <= least + COST_TOLERANCE]
        longest = max(option.hours for option in tied)
        tied = [option for option in tied if option.hours == longest]
        choices = [
            (option, self.bounds.spans(option, limit=option.cost + COST_TOLERANCE))
            for option in tied
        ]
        program, outcome = self._solve(choices)
        cost = outcome.objective * MONEY_SCALE
        if abs(cost - least) > _AGREEMENT:
            raise InternalError(f"the program costs {cost}, the shortest path {least}")
        option, spans = program.chosen(outcome.values)
        if sum(len(found) for _, found in choices) > len(spans):
            program, outcome = self._solve(choices, by_order=True)
            option, spans = program.chosen(outcome.values)
        design = self.design(option, spans)
        verify(self.job, design, self.candidates.demand)
        return design

    def _solve(
        self, choices: Sequence[tuple[Option, Sequence[Span]]], *, by_order: bool = False
    ) -> tuple[Program, Outcome]:
        program = build_program(
            self.candidates, choices, budget=self.job.site.budget, by_order=by_order
        )
        outcome = solve(program.problem, self.solver)
        if outcome.status is Status.NONE:
            raise InternalError("the solver finds no design where the shortest path has one")
        if outcome.status is not Status.PROVEN:
            raise NotProvenError(f"the solver {self.solver} stopped: {outcome.status}")
        return program, outcome

    def design(self, option: Option, spans: Sequence[Span]) -> Design:
        """Return the design that an option and its spans stand for."""
        sets, banks = self.candidates.sets, self.candidates.banks
        index = option.set_index
        works = self.candidates.vented_works if any(span.vented for span in spans) else 0.0
        return Design(
            hours=option.hours,
            life_cycle_cost=float(sets.life_cycle_cost[index])
            + sum(span.cost for span in spans)
            + works,
            upfront_cost=float(sets.upfront_cost[index])
            + sum(span.upfront for span in spans)
            + works,
            voltage_v=int(sets.voltage_v[index]),
            inverter=sets.inverters[index],
            inverter_units=int(sets.units[index]),
            wiring=sets.wiring[index],
            banks=tuple(
                BankPeriod(
                    battery=banks.batteries[span.bank_index],
                    series=int(banks.series[span.bank_index]),
                    strings=int(banks.strings[span.bank_index]),
                    start=span.start,
                    end=span.end,
                    service_life_years=float(banks.service_life_years[span.bank_index]),
                )
                for span in spans
            ),
        )

    def points(self, progress: Callable[[int, int], None] | None = None) -> Iterator[Design]:
        """Yield the non-dominated designs up to the site's longest hours, both rising."""
        options = self.staircase(progress)

        def cheapest(limit: float) -> TradePoint[Design] | None:
            within = [option for option in options if -option.hours <= limit]
            if not within:
                return None
            design = self.best_of(within)
            return TradePoint(design.life_cycle_cost, float(-design.hours), design)

        for point in nondominated(cheapest, ceiling=-1.0, step=1.0):
            yield point.solution

    def carrying(self, hours: int) -> list[Option]:
        """Return options that carry ``hours``, the cheapest among them."""
        found: list[Option] = []
        limit = self.limit
        for longer in range(hours, self.job.site.max_hours + 1):
            options = self.bounds.options(longer, limit)
            found += options
            limit = min([limit, *(option.cost for option in options)])
        return found

    def least(self, hours: int) -> float:
        """Return the least life-cycle cost of carrying ``hours``, infinite where nothing does."""
        return min((option.cost for option in self.carrying(hours)), default=math.inf)

    def cheapest(self, hours: int) -> Design | None:
        """Return the cheapest design that carries ``hours``, or None."""
        options = self.carrying(hours)
        return self.best_of(options) if options else None

    def longest(self) -> Design | None:
        """Return the longest autonomy within the limits, then the cheapest design at it."""
        for hours in range(self.job.site.max_hours, 0, -1):
            options = self.bounds.options(hours, self.limit)
            if options:
                return self.best_of(options)
        return None

    def exists(self, hours: int) -> bool:
        """Tell whether any design carries ``hours``."""
        return any(
            self.bounds.options(longer, self.limit)
            for longer in range(hours, self.job.site.max_hours + 1)
        )
