"""What is bought today, and what it costs when it is continued in the cheapest way.

This is the one place of the comparison that looks into the engine's columns.
"""

from dataclasses import dataclass, replace

import numpy as np

from optimizer.engine.bounds import Bounds
from optimizer.engine.curve import Search
from optimizer.model.design import Design


@dataclass(frozen=True, slots=True)
class FirstPurchase:
    """What is bought today: an inverter set, a bank, and a generator or none."""

    inverter: str
    inverter_units: int
    battery: str
    family: str
    chemistry: str
    series: int
    strings: int
    voltage_v: int
    generator: str | None


def first_purchase(design: Design) -> FirstPurchase:
    """Return what a design buys today."""
    bank = design.banks[0]
    return FirstPurchase(
        inverter=design.inverter.inverter,
        inverter_units=design.inverter_units,
        battery=bank.battery.battery,
        family=bank.battery.family,
        chemistry=bank.battery.chemistry,
        series=bank.series,
        strings=bank.strings,
        voltage_v=design.voltage_v,
        generator=None if design.generator is None else design.generator.generator,
    )


def continued(search: Search, first: FirstPurchase, hours: int) -> float:
    """Return the least life-cycle cost that begins with a purchase, infinite if it cannot be."""
    every = []
    for bounds in search.bounds:
        generator = bounds.candidates.variant.generator
        if first.generator == (None if generator is None else generator.generator):
            every.append(_beginning_with(bounds, first))
    return search.least(hours, every)


def _beginning_with(bounds: Bounds, first: FirstPurchase) -> Bounds:
    candidates = bounds.candidates
    sets, banks = candidates.sets, candidates.banks
    own_sets = np.array([one.inverter == first.inverter for one in sets.inverters], dtype=bool)
    own_models = np.array([one.battery == first.battery for one in banks.models], dtype=bool)
    own_banks = own_models[banks.model]
    own_banks &= (banks.strings == first.strings) & (banks.voltage_v == first.voltage_v)
    barred = ~own_banks[:, None] & (candidates.period_start == 0)[None, :]
    rows = np.flatnonzero(own_sets & (sets.units == first.inverter_units))
    return Bounds(
        replace(
            candidates,
            sets=sets.take(rows),
            compatible=candidates.compatible[rows],
            period_cost=np.where(barred, np.inf, candidates.period_cost),
        ),
        variant=bounds.variant,
    )
