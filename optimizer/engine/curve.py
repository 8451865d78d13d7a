"""The curve of cost against hours of autonomy, point by point, each proven."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial

from optimizer.engine.bounds import GENEROUS, Bounds
from optimizer.engine.candidates import Candidates, Shared, build_candidates
from optimizer.engine.demand import demand_of
from optimizer.engine.money_scale import cost_tolerance
from optimizer.engine.options import Choice, Option, Period
from optimizer.engine.program import Program, build_program
from optimizer.engine.solver import Outcome, SolverName, Status, solve
from optimizer.engine.trade import TradePoint, nondominated
from optimizer.engine.variants import VARIANT_REQUIREMENTS, Variant, variants
from optimizer.engine.verify import verify
from optimizer.errors import InternalError, NotProvenError
from optimizer.model.demand import Demand
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job
from optimizer.model.limits import is_limited
from optimizer.model.progress import Progress
from optimizer.model.requirement import Requirement

#: Solver and shortest path may differ by rounding: this many times what makes costs equal.
_AGREEMENT = 1e3
#: Into how many pieces hours are taken that no bound on all of them rules out; so few are looked at
#: singly at once.
_PIECES, _FEW = 8, 2


@dataclass(frozen=True)
class Search:
    """A job made ready for questions: its columns, its bounds, and the solver to prove with.

    The banks are of one chemistry ``family`` where it is given. With requirements ``lifted`` it is
    for bounds only: no design is made of it. The site's own limits hold: ``budget`` on the upfront
    cost, ``lifetime_budget`` on the life-cycle cost, ``later_limit`` on any later year. There is
    one element of ``bounds`` for each variant (contract step and generator or none).
    """

    job: Job
    family: str | None = None
    solver: SolverName = "highs"
    lifted: frozenset[Requirement] = frozenset()
    # not taken along by `replace`: another job has other columns
    _shared: Shared = field(default_factory=Shared, init=False, repr=False, compare=False)

    def otherwise(
        self, *, family: str | None = None, lifted: Requirement | None = None
    ) -> "Search":
        """Return the search of one family or without a requirement; it shares what it can."""
        without = frozenset() if lifted is None else frozenset({lifted})
        return self._sharing(
            Search(self.job, family or self.family, solver=self.solver, lifted=without)
        )

    def within(self, budget: float | None) -> "Search":
        """Return the search under another upfront budget [currency]; no column depends on it."""
        return self._sharing(replace(self, job=self.job.with_site(budget=budget)))

    def at_peaks_of(self, job: Job) -> "Search":
        """Return the search of a job that differs in loads' starts and peaks, or in inverters."""
        return self._sharing(replace(self, job=job), self._shared.at_other_peaks())

    def with_banks_of(self, job: Job) -> "Search":
        """Return the search of a job that differs in what its banks are and bear alone."""
        return self._sharing(replace(self, job=job), self._shared.with_other_banks())

    def _sharing(self, other: "Search", shared: Shared | None = None) -> "Search":
        vars(other)["_shared"] = shared or self._shared
        return other

    @cached_property
    def demand(self) -> Demand:
        """What the site asks of any equipment."""
        return demand_of(self.job)

    @cached_property
    def bounds(self) -> tuple[Bounds, ...]:
        """What each variant's columns cannot be cheaper than; the same where these are the same."""
        budget, once = self.job.site.budget, self._shared.once
        beside = self.lifted & VARIANT_REQUIREMENTS
        offered = once(("variants", beside), lambda: variants(self.job, self.demand, beside))
        every = (build_candidates(one, self.family, self.lifted, self._shared) for one in offered)
        return tuple(
            once(("bounds", one, budget, number), partial(Bounds, one, budget, variant=number))
            for number, one in enumerate(every)
        )

    @property
    def candidates(self) -> Candidates:
        """The columns of the first variant, the only one where the site offers no choice."""
        return self.bounds[0].candidates

    def variant_of(self, design: Design) -> Variant:
        """Return the variant that one of this search's designs stands in."""
        beside = design.contract, design.generator
        every = (bounds.candidates.variant for bounds in self.bounds)
        return next(one for one in every if (one.contract, one.generator) == beside)

    @property
    def limit(self) -> float:
        """The site's limit on the life-cycle cost [currency], infinite where there is none."""
        limit = self.job.site.lifetime_budget
        return math.inf if limit is None else limit + abs(limit) * (GENEROUS - 1)

    def options(
        self, hours: int, known: float = math.inf, among: Sequence[Bounds] | None = None
    ) -> list[Option]:
        """Return the sets of any variant that carry ``hours`` at the least cost.

        ``known`` is the cost of a design that carries as long: nothing dearer is sought.
        ``among`` are the variants to look at, all where not given.
        """
        found: list[Option] = []
        for bounds in self.bounds if among is None else among:
            one = bounds.options(hours, self.limit, known)
            known = min([known, *(option.cost for option in one)])
            found += one
        return [option for option in found if option.cost <= known + self.tolerance]

    @cached_property
    def tolerance(self) -> float:
        """Costs closer than this are equal [currency]."""
        return cost_tolerance(self.job)

    def staircase(
        self,
        hours: range | None = None,
        known: float = math.inf,
        progress: Progress | None = None,
    ) -> list[Option]:
        """Return every option that may be an optimum, the longest hours first.

        From the longest hours down, an hour only counts where a set carries it for less than
        anything found at longer hours (cut 3): all else is dominated by a known design.
        ``hours`` are all where not given; ``known`` is the cost of a design that carries longer.
        """
        hours_down = (range(1, self.job.site.max_hours + 1) if hours is None else hours)[::-1]
        return list(self._along(hours_down, known, progress=progress))

    def _along(
        self,
        hours: range,
        known: float = math.inf,
        among: Sequence[Bounds] | None = None,
        progress: Progress | None = None,
    ) -> Iterator[Option]:
        """Yield the options at hours one after another that cost no more than any before.

        What a bound on many hours rules out together is not looked at singly: hours are taken
        in pieces, and a piece is taken to pieces only with the sets that are left in it.
        """
        limited = is_limited(self.job)
        ahead = [(hours, tuple(self.bounds if among is None else among))] if hours else []
        while ahead:
            span, among = ahead.pop()
            if len(span) == 1:
                if progress is not None:
                    progress(hours.index(span[0]), len(hours))
                for option in self.options(span[0], known, among):
                    known = min(known, option.cost)
                    yield option
                continue
            if len(span) > _FEW and (limited or known < math.inf):
                left = (one.narrowed(span, self.limit, known) for one in among)
                among = tuple(one for one in left if one is not None)
            if among:
                length = math.ceil(len(span) / _PIECES)
                starts = range(0, len(span), length)[::-1]
                ahead += [(span[start : start + length], among) for start in starts]

    def best_of(self, options: Sequence[Option]) -> Design:
        """Return the proven optimum over options; of equal costs the longest, then the rule.

        NotProvenError where the solver stopped before the proof; InternalError where its answer is
        not the shortest path's, or fails the plain checks.
        """
        least = min(option.cost for option in options)
        tied = [option for option in options if option.cost <= least + self.tolerance]
        longest = max(option.hours for option in tied)
        choices = [
            self.bounds[option.variant].choice(option, limit=option.cost + self.tolerance)
            for option in tied
            if option.hours == longest
        ]
        choice = choices[0]
        # beside a generator hours may differ in fuel alone: a constant in the same program
        program = (choice.option.variant, choice.option.set_index, tuple(choice.periods))
        if len(choices) == 1 and self.job.site.budget is None:
            if program not in self._proven:
                self._proven[program] = self._chosen(choices, least)[1]
            periods = self._proven[program]
        else:
            choice, periods = self._chosen(choices, least)
        design = design_of(choice, periods)
        verify(self.job, design, choice.candidates.variant)
        return design

    @cached_property
    def _proven(self) -> dict[tuple[int, int, tuple[Period, ...]], tuple[Period, ...]]:
        """What was chosen of the periods behind a set of a variant, money at the start apart."""
        return {}

    def _chosen(self, choices: Sequence[Choice], least: float) -> tuple[Choice, tuple[Period, ...]]:
        program, outcome = self._solve(choices)
        cost = outcome.objective * program.money_unit
        if abs(cost - least) > _AGREEMENT * self.tolerance:
            raise InternalError(f"the program costs {cost}, the shortest path {least}")
        choice, periods = program.chosen(outcome.values)
        if len(program.columns) > len(periods):
            program, outcome = self._solve(choices, by_order=True)
            choice, periods = program.chosen(outcome.values)
        return choice, periods

    def _solve(
        self, choices: Sequence[Choice], *, by_order: bool = False
    ) -> tuple[Program, Outcome]:
        program = build_program(choices, budget=self.job.site.budget, by_order=by_order)
        outcome = solve(program.problem, self.solver)
        if outcome.status is Status.NONE:
            raise InternalError("the solver finds no design where the shortest path has one")
        if outcome.status is not Status.PROVEN:
            raise NotProvenError(f"the solver {self.solver} stopped: {outcome.status}")
        return program, outcome

    def points(
        self, progress: Progress | None = None, known: Sequence[Design] = ()
    ) -> Iterator[Design]:
        """Yield the non-dominated designs up to the site's longest hours, both rising.

        ``known`` are those over all families, hours rising: what is the best of all and of this
        family alone is the best of the family too, and is not proven twice.
        """
        stairs: dict[int, list[Option]] = {}

        def cheapest(limit: float) -> TradePoint[Design] | None:
            longer = [one for one in known if -one.hours <= limit]
            if known and not longer:  # no family carries what all together do not
                return None
            design = next((one for one in longer if self.allows(one)), None)
            if design is None or design is not longer[0]:
                # what is known is the family's best from its hours on: is less carried for less?
                top = self.job.site.max_hours + 1 if design is None else design.hours
                most = math.inf if design is None else design.life_cycle_cost - self.tolerance
                if top not in stairs:
                    stairs[top] = self.staircase(range(int(-limit), top), most, progress)
                within = [one for one in stairs[top] if -one.hours <= limit and one.cost < most]
                design = self.best_of(within) if within else design
            if design is None:
                return None
            return TradePoint(design.life_cycle_cost, float(-design.hours), design)

        for point in nondominated(cheapest, ceiling=-1.0, step=1.0):
            yield point.solution

    def allows(self, design: Design) -> bool:
        """Tell whether all banks of a design are of the family that is searched."""
        return all(bank.battery.family == self.family for bank in design.banks)

    def carrying(
        self, hours: int, among: Sequence[Bounds] | None = None, *, known: float = math.inf
    ) -> list[Option]:
        """Return options that carry ``hours``, the cheapest among them.

        From the hours asked up: longer ones rarely cost less. ``among`` are the variants to look
        at, all where not given; ``known`` is as in `options`.
        """
        found = self.options(hours, known, among)
        known = min([known, *(option.cost for option in found)])
        longer = range(hours + 1, self.job.site.max_hours + 1)
        return [*found, *self._along(longer, known, among)]

    def least(
        self, hours: int, among: Sequence[Bounds] | None = None, *, known: float = math.inf
    ) -> float:
        """Return the least life-cycle cost of carrying ``hours``, infinite where nothing does.

        Nothing dearer than ``known`` is sought: infinite too where all that carries is dearer.
        """
        found = self.carrying(hours, among, known=known)
        return min((option.cost for option in found), default=math.inf)

    def cheapest(self, hours: int) -> Design | None:
        """Return the cheapest design that carries ``hours``, or None."""
        options = self.carrying(hours)
        return self.best_of(options) if options else None

    def longest(self) -> Design | None:
        """Return the longest autonomy within the limits, then the cheapest design at it."""
        first = next(self._along(range(self.job.site.max_hours, 0, -1)), None)
        return None if first is None else self.best_of(self.options(first.hours))

    def exists(self, hours: int) -> bool:
        """Tell whether any design carries ``hours``."""
        longer = range(hours, self.job.site.max_hours + 1)
        return next(self._along(longer), None) is not None


def design_of(choice: Choice, periods: Sequence[Period]) -> Design:
    """Return the design that an option and its periods stand for."""
    c, option = choice.candidates, choice.option
    sets, banks, index = c.sets, c.banks, option.set_index
    works = c.vented_works if any(period.vented for period in periods) else 0.0
    cost, upfront = c.beside_banks(option.hours)
    return Design(
        hours=option.hours,
        life_cycle_cost=float(cost[index]) + sum(one.cost for one in periods) + works,
        upfront_cost=float(upfront[index]) + sum(one.upfront for one in periods) + works,
        voltage_v=int(sets.voltage_v[index]),
        inverter=sets.inverters[index],
        inverter_units=int(sets.units[index]),
        wiring=sets.wiring[index],
        banks=tuple(
            BankPeriod(
                battery=banks.battery(period.bank_index),
                series=int(banks.series[period.bank_index]),
                strings=int(banks.strings[period.bank_index]),
                start=period.start,
                end=period.end,
                service_life_years=float(c.service.life_years[period.bank_index]),
                bought=period.bought,
            )
            for period in periods
        ),
        contract=c.variant.contract,
        generator=c.variant.generator,
        fuel_l=float(c.litres(option.hours)[index]),
    )
