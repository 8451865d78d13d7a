"""The cheapest design of each side at any value of a parameter.

A side is a family of the price list, or `MIXED`: a chain of banks of several families, where it
is cheaper than each family alone. All questions are put to the engine as anybody may put them: a
job with the number replaced, searched whole. So nothing here has to know how costs come about.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from optimizer.engine import cashflow
from optimizer.engine.curve import Search
from optimizer.model.design import Design
from optimizer.model.job import Job

#: The side of chains that hold banks of several families.
MIXED = "mixed"


def side_of(design: Design) -> str:
    """Return the side that a design is on: the family of all its banks, or `MIXED`."""
    families = {bank.battery.family for bank in design.banks}
    return MIXED if len(families) > 1 else families.pop()


class Best:
    """The cheapest designs for some hours: over all chains at once, and by side when asked."""

    def __init__(self, job: Job, hours: int) -> None:
        self.job, self.hours = job, hours
        self._search = Search(job)
        self.design = self._search.cheapest(hours)
        self._costs: dict[str, float] = {}

    @property
    def cost(self) -> float:
        """Life-cycle cost of the cheapest of all, infinite where nothing fits [currency]."""
        return math.inf if self.design is None else self.design.life_cycle_cost

    @property
    def winner(self) -> str | None:
        """The cheapest side, None where nothing fits."""
        return None if self.design is None else side_of(self.design)

    @property
    def sides(self) -> tuple[str, ...]:
        """The families, and `MIXED` where it is the winner."""
        families = self.job.catalog.families
        return (*families, MIXED) if self.winner == MIXED else families

    @cached_property
    def by_side(self) -> dict[str, Design]:
        """The cheapest design of each side that has one; `MIXED` only where it is the winner."""
        found: dict[str, Design] = {}
        if self.design is None:
            return found
        for family in self.job.catalog.families:
            if family == self.winner:
                found[family] = self.design
            elif design := self._search.otherwise(family=family).cheapest(self.hours):
                found[family] = design
        if self.winner == MIXED:
            found[MIXED] = self.design
        return found

    def cost_of(self, side: str) -> float:
        """Return the least life-cycle cost of a side, infinite where it has no design [currency].

        `MIXED` where it is not the winner costs no less than the winner: taken as the same.
        """
        if self.design is None or side in {self.winner, MIXED}:
            return self.cost
        if side not in self._costs:
            self._costs[side] = self._search.otherwise(family=side).least(self.hours)
        return self._costs[side]


def offering(job: Job, designs: Sequence[Design]) -> Job:
    """Return the job with nothing on offer but the equipment that some designs are made of."""
    catalog, site = job.catalog, job.site
    batteries = {bank.battery.battery for one in designs for bank in one.banks}
    inverters = {one.inverter.inverter for one in designs}
    generators = {one.generator.generator for one in designs if one.generator}
    steps_w = {one.contract.power_w for one in designs if one.contract}
    return replace(
        job.with_site(contracts=tuple(one for one in site.contracts if one.power_w in steps_w)),
        catalog=replace(
            catalog,
            batteries=tuple(one for one in catalog.batteries if one.battery in batteries),
            inverters=tuple(one for one in catalog.inverters if one.inverter in inverters),
            generators=tuple(one for one in catalog.generators if one.generator in generators),
        ),
    )


def cost_at(job: Job, design: Design) -> float:
    """Return what a design costs at a job's prices that changes nothing else [currency]."""
    offered = {one.battery: one for one in job.catalog.batteries}
    steps = {one.power_w: one for one in job.site.contracts}
    banks = tuple(
        replace(bank, battery=replace(offered[bank.battery.battery], max_dod=bank.battery.max_dod))
        for bank in design.banks
    )
    contract = None if design.contract is None else steps[design.contract.power_w]
    there = replace(design, banks=banks, contract=contract)
    return cashflow.life_cycle_cost(job, cashflow.payments(job, there))
