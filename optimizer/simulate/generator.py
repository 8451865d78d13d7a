"""An outage beside a generator, step by step: the bank carries the quiet hours, it the rest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from optimizer.simulate.cycle import AC_WATT_HOURS, AMPERE_HOURS, SHARE
from optimizer.simulate.depletion import Depletion, OutageBatch, Passage
from optimizer.simulate.plant import MOMENT_H, Plant

if TYPE_CHECKING:
    from optimizer.simulate.store import Store

Floats = NDArray[np.float64]

#: Stored fuel counts this much in the design's favour; less than this share left is none.
_FUEL_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class GeneratorRun:
    """Outages beside a generator.

    Parameters
    ----------
    passage : Passage
        What becomes of the loads and the bank.
    fuel_l, running_h : numpy.ndarray
        Fuel used [l] and hours of running [h].
    evening_depth : numpy.ndarray
        The greatest depth at the start of a quiet window ahead of which the generator could run
        for as many hours as the day leaves it; 0 where there is no such window.
    steps : list of tuple
        Of the first outage: hours since its start [h], depth, and whether the generator runs from
        then on, at the start of each step and at the end.
    """

    passage: Passage
    fuel_l: Floats
    running_h: Floats
    evening_depth: Floats
    steps: list[tuple[float, float, bool]]


def run_generator(store: Store, plant: Plant, batch: OutageBatch) -> GeneratorRun:
    """Follow outages beside a generator that runs whenever it may.

    Parameters
    ----------
    store : Store
        The tables, nothing let go.
    plant : Plant
        The generator; each outage begins with all its fuel.
    batch : OutageBatch
        The outages.

    Returns
    -------
    GeneratorRun
        A bank that runs out stays off until the grid is back.

    Notes
    -----
    Running, the generator carries the loads and charges with what they leave of its power, no
    more than the chargers take. Fuel an hour is a straight line in the power given.
    """
    state = _State(store, plant, batch)
    steps, on = [], np.flatnonzero(batch.hours > 0)
    while on.size:
        before, first = (float(state.time_h[0]), float(state.depth[0])), on[0] == 0
        runs, going = state.advance(on)
        if first:
            steps.append((*before, bool(runs[0])))
        on = on[going]
    steps.append((float(state.time_h[0]), float(state.depth[0]), False))
    asked_wh = store.taken(batch.rows, batch.clock_h, batch.hours)[:, AC_WATT_HOURS]
    lost_wh = np.where(state.carried_h < batch.hours, asked_wh - state.served_wh, 0.0)
    return GeneratorRun(
        passage=Passage(
            hours_carried=state.carried_h,
            asked_wh=asked_wh,
            unserved_wh=np.maximum(0.0, lost_wh),
            after=Depletion(state.depth, state.drawn_ah),
        ),
        fuel_l=state.stored_l - state.fuel_l,
        running_h=state.running_h,
        evening_depth=state.evening_depth,
        steps=steps,
    )


class _State:
    """Where each outage stands."""

    def __init__(self, store: Store, plant: Plant, batch: OutageBatch) -> None:
        self.store, self.plant, self.batch = store, plant, batch
        model, count = plant.generator, batch.hours.size
        self.per_hour = np.diff(store.cycle.cumulative, axis=1) * (store.cycle.steps / 24)
        self.litres_per_wh = (model.litres_h_full - model.litres_h_idle) / model.power_w
        self.stored_l = plant.fuel_l * (1 + _FUEL_TOLERANCE)
        self.fuel_l = np.full(count, self.stored_l)
        self.time_h, self.allowed_h, self.running_h = np.zeros((3, count))
        self.served_wh, self.evening_depth = np.zeros((2, count))
        self.carried_h = batch.hours.copy()
        self.depth, self.drawn_ah = batch.before.depth.copy(), batch.before.drawn_ah.copy()

    def advance(self, on: NDArray[np.intp]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """Go to the next change of loads or of the generator; return who runs and who goes on."""
        rules, steps = self.plant.rules, self.store.cycle.steps
        time_h, hours = self.time_h[on], self.batch.hours[on]
        clock_h = self.batch.clock_h[on] + time_h
        step = np.floor(clock_h * steps / 24 + MOMENT_H)
        take = self.per_hour[self.batch.rows[on], step.astype(np.intp) % steps]
        quiet = self.plant.quiet_at(clock_h)
        waits = time_h < rules.start_after_h - MOMENT_H
        rested = quiet & (self.allowed_h[on] >= 24 - rules.quiet_hours - MOMENT_H)
        evening = np.where(rested, self.depth[on], 0.0)
        self.evening_depth[on] = np.maximum(self.evening_depth[on], evening)
        lasts = np.minimum((step + 1) * 24 / steps - clock_h, hours - time_h)
        lasts = np.where(waits, np.minimum(lasts, rules.start_after_h - time_h), lasts)
        may = ~quiet & ~waits
        runs = may & (self.fuel_l[on] > _FUEL_TOLERANCE * self.stored_l)
        going = np.ones(on.size, dtype=bool)
        lasts[runs] = self._charge(on[runs], take[runs], lasts[runs])
        lasts[~runs], going[~runs] = self._discharge(on[~runs], take[~runs], lasts[~runs])
        self.allowed_h[on] = np.where(may, self.allowed_h[on] + lasts, 0.0)
        self.served_wh[on] += take[:, AC_WATT_HOURS] * lasts
        self.time_h[on] += lasts
        return runs, going & (self.time_h[on] < hours - MOMENT_H)

    def _discharge(
        self, on: NDArray[np.intp], take: Floats, lasts: Floats
    ) -> tuple[Floats, NDArray[np.bool_]]:
        """Take from the bank; return how long that lasts, and whether to the end of the step."""
        room = np.maximum(0.0, self.store.usable[self.batch.rows[on]] - self.depth[on])
        empty = take[:, SHARE] * lasts > room
        lasts = np.where(empty, room / np.where(empty, take[:, SHARE], 1.0), lasts)
        stopped_h = np.minimum(self.time_h[on] + lasts, np.nextafter(self.batch.hours[on], 0.0))
        self.carried_h[on] = np.where(empty, stopped_h, self.carried_h[on])
        self.depth[on] += take[:, SHARE] * lasts
        self.drawn_ah[on] += take[:, AMPERE_HOURS] * lasts
        return lasts, ~empty

    def _charge(self, on: NDArray[np.intp], take: Floats, lasts: Floats) -> Floats:
        """Run the generator; return how long, at most until the fuel is used up."""
        rows, ac_w, drawn_ah = self.batch.rows[on], take[:, AC_WATT_HOURS], self.drawn_ah[on]
        charger_w = self.store.charger_w[rows]
        charge_w = np.clip(self.plant.generator.power_w - ac_w, 0.0, charger_w)
        charge_w = np.where(drawn_ah > 0, charge_w, 0.0)
        back_a = self.store.refill_a[rows] * charge_w / np.maximum(charger_w, MOMENT_H)
        full_in_h = np.full(on.size, np.inf)
        np.divide(drawn_ah, back_a, out=full_in_h, where=back_a > 0)
        idle_l = self.plant.generator.litres_h_idle
        burns_l = idle_l + self.litres_per_wh * (ac_w + charge_w)
        lasts = np.minimum(lasts, self.fuel_l[on] / np.maximum(burns_l, MOMENT_H))
        charges_h = np.minimum(lasts, full_in_h)
        left_ah = np.where(full_in_h <= lasts, 0.0, drawn_ah - back_a * charges_h)
        self.depth[on] *= left_ah / np.where(drawn_ah > 0, drawn_ah, 1.0)
        self.drawn_ah[on] = left_ah
        used_l = (idle_l + self.litres_per_wh * ac_w) * lasts
        used_l += self.litres_per_wh * charge_w * charges_h
        self.fuel_l[on] = np.maximum(0.0, self.fuel_l[on] - used_l)
        self.running_h[on] += lasts
        return lasts
