"""What peaks on the supply take of the banks that help to cover them."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.simulate.bank import bank_voltage_v, capacity_ah
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.store import Store

_MONTHS = 12


class PeakTaken(NamedTuple):
    """What a peak on the supply takes of the banks, by row, and how often it comes a year."""

    times_a_year: float
    taken: Depletion


def peaks_taken(job: Job, design: Design, store: Store) -> Iterator[PeakTaken]:
    """Yield what each peak beyond the supply contract takes of the banks."""
    supplied_w = np.inf if design.contract is None else design.contract.power_w
    for peak in job.site.peaks:
        if peak.power_w <= supplied_w:
            continue
        depth, drawn_ah = np.zeros(len(store.stages)), np.zeros(len(store.stages))
        for line, stage in enumerate(store.stages):
            battery, capacity = stage.period.battery, capacity_ah(job, stage)
            volts = bank_voltage_v(stage.period)
            amps = (peak.power_w - supplied_w) / design.inverter.efficiency / volts
            drawn_ah[line] = amps * peak.minutes / 60
            rate = max(1.0, (amps * battery.rate_h / capacity) ** (battery.peukert - 1))
            depth[line] = drawn_ah[line] / capacity * rate
        taken = Depletion(np.repeat(depth, store.seasons), np.repeat(drawn_ah, store.seasons))
        yield PeakTaken(_MONTHS * peak.times_a_month, taken)


def worst_peak(job: Job, design: Design, store: Store) -> Depletion:
    """Return what the worst peak on the supply takes of the banks that help to cover it, by row.

    An outage may follow the peak before the bank is charged again.
    """
    worst = store.rested.times(np.zeros(store.usable.size))
    for peak in peaks_taken(job, design, store):
        worse = peak.taken.depth > worst.depth
        worst = Depletion(
            np.where(worse, peak.taken.depth, worst.depth),
            np.where(worse, peak.taken.drawn_ah, worst.drawn_ah),
        )
    return worst
