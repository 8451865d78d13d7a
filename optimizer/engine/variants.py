"""Variants: the job under one step of the supply contract, and with one generator or none."""

import math
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import cached_property

from optimizer.engine.events import Events, Excess, events_of
from optimizer.formulas.tolerance import at_least
from optimizer.formulas.windows import Stretches, nights, windows
from optimizer.model.demand import Demand
from optimizer.model.design import Design
from optimizer.model.job import Contract, Generator, GeneratorRules, Job
from optimizer.model.requirement import Requirement

#: What rules variants out.
VARIANT_REQUIREMENTS = frozenset({Requirement.CONTRACT, Requirement.GENERATOR})
_MINUTES_H = 60
_MONTHS = 12


@dataclass(frozen=True, eq=False)
class Variant:
    """A job under the choices beside battery and inverter.

    ``excess`` are the peaks beyond the contract.
    """

    job: Job
    demand: Demand
    contract: Contract | None
    generator: Generator | None
    excess: tuple[Excess, ...]

    @property
    def largest_excess_w(self) -> float:
        """What the set must add to the supply [W]."""
        return max((one.power_w for one in self.excess), default=0.0)

    @property
    def rules(self) -> GeneratorRules | None:
        """The site's rules for the generator, None where none stands beside the bank."""
        return None if self.generator is None else self.job.site.generator

    @cached_property
    def events(self) -> Events:
        """What wears the bank."""
        return events_of(self.job, self.demand, self.excess, self.rules)

    def carried_hours(self, hours: int) -> int:
        """Return the hours that the bank itself carries [h]: a night beside a generator."""
        return hours if self.rules is None else self.rules.night_hours

    def stretches(self, hours: int) -> Stretches:
        """Return what the bank carries at an autonomy: windows, or nights beside a generator."""
        rules = self.rules
        if rules is None:
            return self._known(hours, lambda: windows(self.demand.layers, hours))
        quiet_from_h = 0 if rules.quiet is None else round(rules.quiet[0])
        night = rules.start_after_h, quiet_from_h, rules.quiet_hours
        return self._known(night, lambda: nights(self.demand.profiles, *night))

    def whole_outage(self, hours: int) -> Stretches:
        """Return the windows of an outage as the loads see it, nothing let go."""
        whole = [(math.inf, self.demand.profiles)]
        return self._known((hours, "whole"), lambda: windows(whole, hours))

    def _known(self, key: Hashable, work_out: Callable[[], Stretches]) -> Stretches:
        known: dict[Hashable, Stretches] = self.demand.known_stretches
        if key not in known:
            known[key] = work_out()
        return known[key]


def variant_of(
    job: Job,
    demand: Demand,
    contract: Contract | None = None,
    generator: Generator | None = None,
) -> Variant:
    """Return the variant of a step and a generator."""
    excess: tuple[Excess, ...] = ()
    if contract is not None:
        excess = tuple(
            Excess(
                peak.minutes / _MINUTES_H,
                peak.power_w - contract.power_w,
                _MONTHS * peak.times_a_month,
            )
            for peak in job.site.peaks
            if not at_least(contract.power_w, peak.power_w)
        )
    return Variant(job, demand, contract, generator, excess)


def variant_of_design(job: Job, design: Design, demand: Demand) -> Variant:
    """Return the variant that a design stands in."""
    return variant_of(job, demand, design.contract, design.generator)


def covering_step(job: Job) -> Contract | None:
    """Return the cheapest step that covers every peak alone, None where none does."""
    largest_w = max((peak.power_w for peak in job.site.peaks), default=0.0)
    covering = (one for one in job.site.contracts if at_least(one.power_w, largest_w))
    return min(covering, key=lambda one: one.cost_year, default=None)


def variants(
    job: Job, demand: Demand, lifted: frozenset[Requirement] = frozenset()
) -> tuple[Variant, ...]:
    """Return every variant that can hold an optimum; one where the site offers no choice.

    Left out are generators that do not carry the loads, which the site rules out, and steps
    dearer than the smallest that covers all peaks alone: without an excess a step changes no
    event and no requirement, so the dearer one costs more with the same equipment (a cut).
    """
    covering = covering_step(job)
    steps: tuple[Contract | None, ...] = tuple(
        one
        for one in job.site.contracts
        if covering is None or one == covering or one.cost_year < covering.cost_year
    ) or (None,)
    if Requirement.CONTRACT in lifted:
        steps = steps[:1]
    offered = job.catalog.generators if job.site.generator is not None else ()
    carrying = tuple(
        one
        for one in offered
        if Requirement.GENERATOR in lifted
        or (
            at_least(one.power_w, demand.peak_w)
            and at_least(one.power_va, demand.peak_va)
            and at_least(one.surge_w, demand.surge_w)
        )
    )
    return tuple(
        variant_of(job, demand, step, generator)
        for step in steps
        for generator in (None, *carrying)
    )
