"""The bank through a row of outages: drawn down in each, charged in between."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from optimizer.simulate.cycle import AC_WATT_HOURS, AMPERE_HOURS, SHARE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.simulate.bank import Store

    Floats = NDArray[np.float64]
    Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Depletion:
    """How far banks are drawn down: share used (Peukert's law included) and charge drawn [Ah]."""

    depth: Floats
    drawn_ah: Floats

    @classmethod
    def full(cls, count: int) -> Depletion:
        """Return full banks."""
        return cls(np.zeros(count), np.zeros(count))


@dataclass(frozen=True, slots=True)
class Passage:
    """One outage for several banks: hours carried [h], energy asked and not served [Wh]."""

    hours_carried: Floats
    asked_wh: Floats
    unserved_wh: Floats
    after: Depletion


def recharge(store: Store, rows: Rows, before: Depletion, hours: Floats) -> Depletion:
    """Return the banks after a time on the grid [h].

    The charge drawn, times the charge factor, comes back at the charge current; depth goes back in
    proportion to it.
    """
    left = np.maximum(0.0, before.drawn_ah - store.refill_a[rows] * hours)
    drawn = np.where(before.drawn_ah > 0, before.drawn_ah, 1.0)
    return Depletion(before.depth * (left / drawn), left)


def endure(
    store: Store, rows: Rows, clock_hours: Floats, hours: Floats, before: Depletion
) -> Passage:
    """Return what becomes of an outage and of the bank in it.

    Parameters
    ----------
    store : Store
        The tables.
    rows : numpy.ndarray
        Row of each bank in the tables: its year and the season at the outage's start.
    clock_hours : numpy.ndarray
        Time of day at the start [h], real-valued.
    hours : numpy.ndarray
        Duration [h].
    before : Depletion
        The banks at the start.

    Returns
    -------
    Passage
        A bank that runs out stays off until the grid is back.
    """
    cycle = store.cycle
    end = clock_hours + hours
    at_start, at_end = cycle.at(rows, clock_hours), cycle.at(rows, end)
    left = np.maximum(0.0, store.usable[rows] - before.depth)
    carried, at_stop = hours, at_end
    # Most outages end before the bank does: only the others are searched for where they stop.
    short = np.flatnonzero(at_end[:, SHARE] - at_start[:, SHARE] > left)
    if short.size:
        begin = clock_hours[short]
        runs_out = cycle.until(rows[short], at_start[short, SHARE] + left[short])
        # Where nothing is left, rounding may find a moment before the start.
        stop = np.maximum(begin, np.minimum(runs_out, end[short]))
        carried, at_stop = hours.copy(), at_end.copy()
        # Not carried is never told as carried, however little is missing.
        carried[short] = np.minimum(stop - begin, np.nextafter(hours[short], 0.0))
        at_stop[short] = cycle.at(rows[short], stop)
    taken = at_stop - at_start
    return Passage(
        carried,
        at_end[:, AC_WATT_HOURS] - at_start[:, AC_WATT_HOURS],
        at_end[:, AC_WATT_HOURS] - at_stop[:, AC_WATT_HOURS],
        Depletion(before.depth + taken[:, SHARE], before.drawn_ah + taken[:, AMPERE_HOURS]),
    )
