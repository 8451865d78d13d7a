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


@dataclass(frozen=True, slots=True, kw_only=True)
class OutageBatch:
    """Outages to follow at once, each with a bank of its own.

    Parameters
    ----------
    rows : numpy.ndarray
        Row of each bank in the tables: its year and the season at the outage's start.
    clock_h, hours : numpy.ndarray
        Time of day at the start, real-valued, and duration [h].
    before : Depletion
        The banks at the start.
    """

    rows: Rows
    clock_h: Floats
    hours: Floats
    before: Depletion

    @classmethod
    def of_every_start(
        cls, store: Store, hours: float, before: Depletion | None = None
    ) -> OutageBatch:
        """Return outages from each whole hour of the day; banks by row, full if not given."""
        rows = np.repeat(store.rows.ravel(), 24)
        bank = Depletion.full(store.usable.size) if before is None else before
        return cls(
            rows=rows,
            clock_h=np.tile(np.arange(24.0), store.usable.size),
            hours=np.full(rows.size, hours),
            before=Depletion(bank.depth[rows], bank.drawn_ah[rows]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """One outage for several banks: hours carried [h], energy asked and not served [Wh]."""

    hours_carried: Floats
    asked_wh: Floats
    unserved_wh: Floats
    after: Depletion


def recharge(store: Store, rows: Rows, before: Depletion, hours: Floats) -> Depletion:
    """Return the banks after a time on the grid [h]; depth comes back in step with the charge."""
    left = np.maximum(0.0, before.drawn_ah - store.refill_a[rows] * hours)
    left[left <= _FULL * before.drawn_ah] = 0.0
    drawn = np.where(before.drawn_ah > 0, before.drawn_ah, 1.0)
    return Depletion(before.depth * (left / drawn), left)


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
