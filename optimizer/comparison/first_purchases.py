"""What is bought today, and what it costs when it is continued in the cheapest way.

This is the one place of the comparison that looks into the engine's columns.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from optimizer.engine.bounds import Bounds
from optimizer.engine.candidates import Candidates
from optimizer.model.design import Design


@dataclass(frozen=True, slots=True)
class FirstPurchase:
    """What is bought today: an inverter set and a bank."""

    inverter: str
    inverter_units: int
    battery: str
    family: str
    chemistry: str
    series: int
    strings: int
    voltage_v: int


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
    )


def continued(candidates: Candidates, first: FirstPurchase, hours: int) -> float:
    """Return the least life-cycle cost that begins with a purchase, infinite if it cannot be."""
    sets, banks = candidates.sets, candidates.banks
    own_sets = np.array([one.inverter == first.inverter for one in sets.inverters], dtype=bool)
    own_banks = np.array([one.battery == first.battery for one in banks.batteries], dtype=bool)
    own_banks &= (banks.strings == first.strings) & (banks.voltage_v == first.voltage_v)
    barred = ~own_banks[:, None] & (candidates.arc_start == 0)[None, :]
    bounds = Bounds(
        replace(
            candidates,
            sets=sets.take(np.flatnonzero(own_sets & (sets.units == first.inverter_units))),
            arc_cost=np.where(barred, np.inf, candidates.arc_cost),
        )
    )
    least = math.inf
    for longer in range(hours, candidates.job.site.max_hours + 1):
        least = min([least, *(one.cost for one in bounds.options(longer, least))])
    return least
