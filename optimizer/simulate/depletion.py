"""How far banks are drawn down, before and after an outage, and how they come back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from optimizer.simulate.bank import bank_voltage_v, capacity_ah

if TYPE_CHECKING:
    from optimizer.model.design import Design
    from optimizer.model.job import Job
    from optimizer.simulate.store import Store

Floats = NDArray[np.float64]
Rows = NDArray[np.intp]

#: A bank lacking less than this share of what was drawn is full.
_FULL = 1e-8


@dataclass(frozen=True, slots=True)
class Depletion:
    """How far banks are drawn down: share used (Peukert's law included) and charge drawn [Ah]."""

    depth: Floats
    drawn_ah: Floats

    @classmethod
    def full(cls, count: int) -> Depletion:
        """Return full banks."""
        return cls(np.zeros(count), np.zeros(count))

    def less(self, charged_ah: Floats) -> Depletion:
        """Return the banks when so much is made good [Ah]; depth comes back in step with it."""
        left_ah = np.maximum(0.0, self.drawn_ah - charged_ah)
        left_ah[left_ah <= _FULL * self.drawn_ah] = 0.0
        share = left_ah / np.where(self.drawn_ah > 0, self.drawn_ah, 1.0)
        return Depletion(self.depth * share, left_ah)


def after_peak(job: Job, design: Design, store: Store) -> Depletion:
    """Return the banks after the worst peak on the supply that they help to cover, by row.

    An outage may follow the peak before the bank is full again. Full banks where the contract
    covers every peak, or the site names none.
    """
    depth, drawn_ah = np.zeros(len(store.stages)), np.zeros(len(store.stages))
    supplied_w = np.inf if design.contract is None else design.contract.power_w
    for peak in job.site.peaks:
        excess_w = max(0.0, peak.power_w - supplied_w)
        for line, stage in enumerate(store.stages):
            battery, capacity = stage.period.battery, capacity_ah(job, stage)
            amps = excess_w / design.inverter.efficiency / bank_voltage_v(stage.period)
            taken_ah = amps * peak.minutes / 60
            rate = max(1.0, (amps * battery.rate_h / capacity) ** (battery.peukert - 1))
            if taken_ah / capacity * rate > depth[line]:
                depth[line], drawn_ah[line] = taken_ah / capacity * rate, taken_ah
    return Depletion(np.repeat(depth, store.seasons), np.repeat(drawn_ah, store.seasons))
