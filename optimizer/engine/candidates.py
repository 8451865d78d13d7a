"""A variant as columns: every inverter set and bank that is offered, with its money.

The non-linear physics (rate, cold, ageing, wear, wiring) is worked out here, once; what follows
is linear in the choices. What is left out here is left out because the site rules it out, never
because it is dear.
"""

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field, fields
from functools import cached_property, partial
from itertools import pairwise
from typing import Any, TypeVar

import numpy as np

from optimizer.engine.banks import BANK_REQUIREMENTS, Banks, build_banks
from optimizer.engine.generators import fuel_factor, generator_money, litres_stored
from optimizer.engine.inverter_sets import SET_REQUIREMENTS, InverterSets, build_sets
from optimizer.engine.refills import PAIR_REQUIREMENTS, compatible, refilled_by_day
from optimizer.engine.service import Service, period_money, service_of
from optimizer.engine.variants import Variant
from optimizer.engine.works import gross, works_price
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.money import yearly_costs_factor
from optimizer.formulas.rate import depth_taken
from optimizer.formulas.renewals import yearly_health
from optimizer.formulas.tolerance import at_least
from optimizer.model.arrays import Bools, Floats, Ints
from optimizer.model.job import Job
from optimizer.model.requirement import Requirement

Result = TypeVar("Result")

#: By the first word of its key: what depends on the banks and their discharges alone, and on the
#: inverter sets alone.
_OF_BANKS = frozenset({"banks", "service", "usable", "health"})
_OF_SETS = frozenset({"wired", "sets", "undominated"})


class Shared:
    """What questions about one job have in common, each worked out once.

    The variants of a job, its families and the requirements lifted from it touch few of the
    columns: what stands under the same key is the same.
    """

    def __init__(self) -> None:
        self._of_banks: dict[tuple[Hashable, ...], Any] = {}
        self._of_sets: dict[tuple[Hashable, ...], Any] = {}
        self._known: dict[tuple[Hashable, ...], Any] = {}

    def at_other_peaks(self) -> "Shared":
        """Return what a job shares whose sets alone are others: banks, and how long they serve."""
        other = Shared()
        other._of_banks = self._of_banks
        return other

    def with_other_banks(self) -> "Shared":
        """Return what a job shares whose banks alone are others: the sets."""
        other = Shared()
        other._of_sets = self._of_sets
        return other

    def once(self, key: tuple[Hashable, ...], work_out: Callable[[], Result]) -> Result:
        """Return what stands under a key, worked out at the first call."""
        known = self._known
        if key[0] in _OF_BANKS:
            known = self._of_banks
        elif key[0] in _OF_SETS:
            known = self._of_sets
        if key not in known:
            known[key] = work_out()
        found: Result = known[key]
        return found

    def columns(
        self,
        of: tuple[Hashable, ...],
        lifted: frozenset[Requirement],
        work_out: Callable[[frozenset[Requirement]], Result],
    ) -> tuple[tuple[Hashable, ...], Result]:
        """Return columns and their key; those without anything lifted where lifting adds nothing.

        So what follows from them is worked out once too.
        """
        nothing: frozenset[Requirement] = frozenset()
        plain = self.once((*of, nothing), lambda: work_out(nothing))
        if not lifted:
            return (*of, nothing), plain

        def or_plain() -> Result:
            found = work_out(lifted)
            return plain if _same(found, plain) else found

        found = self.once((*of, lifted), or_plain)
        return (*of, nothing if found is plain else lifted), found


def _same(one: object, other: object) -> bool:
    """Tell whether two tables of columns, or two arrays, hold the same."""
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other)  # type: ignore[arg-type] # both of one kind
    if isinstance(one, Banks | InverterSets):
        names = (field.name for field in fields(one))
        return all(_same(getattr(one, name), getattr(other, name)) for name in names)
    return one == other


@dataclass(frozen=True, eq=False)
class Candidates:
    """All columns of a job under one variant.

    ``period_start`` and ``period_end`` list the periods of years [a] a bank can serve, by start
    then end; ``period_cost`` has one row a bank and one column a period: the present value of
    buying then, renewing, keeping and giving up the bank, infinite where it may not serve so.
    ``health`` has one column for each year since the first of the banks was bought.
    ``compatible`` tells which banks each set can be wired to and charges in time, shape (sets,
    banks).
    """

    variant: Variant
    sets: InverterSets
    banks: Banks
    service: Service
    period_start: Ints
    period_end: Ints
    period_cost: Floats
    health: Floats
    bank_upfront: Floats
    compatible: Bools
    vented_works: float
    contract_cost: float
    generator_cost: float
    generator_upfront: float
    unlimited_fuel: bool
    # what other variants with the same banks have worked out of them, under their key
    same_banks: tuple[Shared, object] = field(default_factory=lambda: (Shared(), None), repr=False)

    @property
    def job(self) -> Job:
        """The job."""
        return self.variant.job

    @cached_property
    def bought_in(self) -> tuple[slice, ...]:
        """The periods that start in each year, the shortest first."""
        years = np.arange(self.job.site.horizon_years + 1)
        edges = np.searchsorted(self.period_start, years).tolist()
        return tuple(slice(*pair) for pair in pairwise(edges))

    def usable_wh(self, hours: int) -> Floats:
        """Return the usable energy of every bank when new, peaks of the supply apart [Wh]."""
        carried, (shared, banks) = self.variant.carried_hours(hours), self.same_banks
        return shared.once(
            ("usable", banks, carried),
            lambda: self.banks.usable_wh(self.variant.stretches(hours), carried),
        )

    @cached_property
    def _year_of_service(self) -> Ints:
        """The last year of each period, counted from its start."""
        return self.period_end - self.period_start - 1

    def kept_health(self, efficiency: float) -> Floats:
        """Return health in each period's last year, less what the worst peak of the supply takes.

        The bank keeps what a peak takes, since an outage may follow it. ``efficiency`` is that
        of the set: a better one draws less. Shape (banks, periods).
        """

        def work_out() -> Floats:
            banks, health = self.banks, self.health
            deepest = np.zeros_like(health)
            whole_wh = (banks.stored_wh * banks.cold)[:, None] * health
            names = "rate_h", "peukert", "max_dod"
            rate_h, peukert, max_dod = (banks.column(name)[:, None] for name in names)
            for one in self.variant.excess:
                share = one.power_w / efficiency * one.hours / whole_wh
                depth = depth_taken(share, one.hours, rate_h, peukert)
                deepest = np.maximum(deepest, depth)
            kept: Floats = health * (1 - deepest / max_dod)
            return kept[:, self._year_of_service]

        shared, banks = self.same_banks
        return shared.once(("health", banks, efficiency if self.variant.excess else None), work_out)

    def needed_wh(self, hours: int) -> Floats:
        """Return what each set draws in each year [Wh], shape (sets, years)."""
        site = self.job.site
        growth = (1 + site.load_growth) ** np.arange(site.horizon_years, dtype=float)
        return drawn_wh(
            self.variant.stretches(hours).largest_wh * growth[None, :],
            self.variant.carried_hours(hours),
            self.sets.efficiency[:, None],
            self.sets.no_load_w[:, None],
            site.design_margin,
        )

    def litres(self, hours: int) -> Floats:
        """Return the fuel that each set needs stored, infinite beyond the limit [l]."""
        rules, sets = self.variant.rules, self.sets
        if rules is not None and hours <= rules.night_hours:
            return np.full(len(sets), np.inf)
        stored_l = litres_stored(self.variant, hours, sets.efficiency, sets.no_load_w)
        if rules is None or self.unlimited_fuel:
            return np.asarray(stored_l)
        return np.where(at_least(rules.max_stored_l, stored_l), stored_l, np.inf)

    def beside_banks(self, hours: int) -> tuple[Floats, Floats]:
        """Return life-cycle and upfront cost of each set with contract, generator and fuel.

        The first is infinite where the variant does not serve these hours.
        """
        sets, rules = self.sets, self.variant.rules
        cost, upfront = sets.life_cycle_cost + self.contract_cost, sets.upfront_cost
        if rules is None:
            return cost, upfront
        stored_l = self.litres(hours)
        serves = np.isfinite(stored_l)
        fuel_l = np.where(serves, stored_l, 0.0)
        cost = cost + self.generator_cost + fuel_l * fuel_factor(self.job, rules)
        upfront = upfront + self.generator_upfront + fuel_l * rules.fuel_price
        return np.where(serves, cost, np.inf), upfront


def build_candidates(
    variant: Variant,
    family: str | None = None,
    lifted: frozenset[Requirement] = frozenset(),
    shared: Shared | None = None,
) -> Candidates:
    """Work out every column of a job under a variant, possibly without any set or bank.

    Only banks of a ``family``, where one is named; ``lifted`` requirements are left out, for
    telling what they cost or stand in the way of; ``shared`` is what other questions about the
    same job have worked out.
    """
    shared = shared or Shared()
    job, step, generator = variant.job, variant.contract, variant.generator
    of_banks, banks = shared.columns(
        ("banks", family), lifted & BANK_REQUIREMENTS, partial(build_banks, job, family)
    )
    of_sets, sets = shared.columns(
        ("sets", step),
        lifted & SET_REQUIREMENTS,
        partial(build_sets, variant, wired=shared.once(("wired",), dict)),
    )
    of_pairs, fits = shared.columns(
        ("pairs", of_banks, of_sets),
        lifted & PAIR_REQUIREMENTS,
        partial(compatible, variant, sets, banks),
    )
    any_day = generator is None or Requirement.GENERATOR in lifted
    # which generator it is does not matter to the banks
    of_service = "service", of_banks, step, generator is not None

    def whole() -> Candidates:
        site = job.site
        starts, ends = np.triu_indices(site.horizon_years + 1, 1)
        service, cost, upfront, health = shared.once(
            of_service, lambda: _in_service(variant, banks)
        )
        years = yearly_costs_factor(site.discount_rate, 0, site.horizon_years)
        bought = (0.0, 0.0) if generator is None else generator_money(job, generator)
        return Candidates(
            variant=variant,
            sets=sets,
            banks=banks,
            service=service,
            period_start=starts,
            period_end=ends,
            period_cost=cost,
            health=health,
            bank_upfront=upfront,
            compatible=fits if any_day else fits & refilled_by_day(variant, sets, banks),
            vented_works=works_price(job, "vented_bank", first=True) * gross(job),
            contract_cost=0.0 if step is None else step.cost_year * years,
            generator_cost=bought[0],
            generator_upfront=bought[1],
            unlimited_fuel=any_day,
            same_banks=(shared, of_service),
        )

    return shared.once(("candidates", of_pairs, generator, any_day), whole)


def _in_service(variant: Variant, banks: Banks) -> tuple[Service, Floats, Floats, Floats]:
    """Return service, period costs, upfront costs and yearly health of the banks."""
    job, years = variant.job, variant.job.site.horizon_years
    service = service_of(job, banks, variant.events)
    health = yearly_health(service.life_years, banks.column("end_of_life_soh"), years)
    return service, *period_money(job, banks, service), health
