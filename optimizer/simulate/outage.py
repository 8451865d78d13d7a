"""What becomes of an outage: on the bank alone, or beside a generator.

Beside a generator the bank carries the hours in which it may not run, and it the others. Each such
stretch is taken as a whole: what loads and charger take of it are running totals of the day.
"""

from dataclasses import dataclass

import numpy as np

from optimizer.model.arrays import Bools, Floats, Rows
from optimizer.simulate.cycle import AC_WATT_HOURS, AMPERE_HOURS, CHARGE_WATT_HOURS, SHARE
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.store import MOMENT_H, Plant, Store, burnt_l

#: Stored fuel counts this much in the design's favour; less than this share left is none.
_FUEL_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class OutageBatch:
    """Outages to follow at once: row of each bank, time of day [h], duration [h], and the bank.

    ``burnt_l`` is what is gone already of the fuel stored [l]; none where not given.
    """

    rows: Rows
    clock_h: Floats
    hours: Floats
    before: Depletion
    burnt_l: Floats | None = None

    @classmethod
    def of_every_start(
        cls, store: Store, hours: float, before: Depletion | None = None
    ) -> "OutageBatch":
        """Return outages from each whole hour of the day; banks by row, rested if not given."""
        rows = np.repeat(store.rows.ravel(), 24)
        bank = store.rested if before is None else before
        return cls(
            rows=rows,
            clock_h=np.tile(np.arange(24.0), store.usable.size),
            hours=np.full(rows.size, hours),
            before=bank.of(rows),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """What became of outages.

    A bank that runs out stays off until the grid is back. ``fuel_l`` is what is gone of the fuel
    stored [l], that of earlier outages included; ``running_h`` the generator's running [h];
    ``evening_depth`` is the greatest depth at the start of a quiet window ahead of which it could
    run for as long as a day leaves it.
    """

    hours_carried: Floats
    asked_wh: Floats
    unserved_wh: Floats
    after: Depletion
    fuel_l: Floats
    running_h: Floats
    evening_depth: Floats


def endure(store: Store, batch: OutageBatch) -> Passage:
    """Follow outages to their ends."""
    state = _State(store, batch)
    on = np.arange(batch.hours.size)
    if store.plant is None:
        state.on_the_bank(on, batch.hours)
    while store.plant is not None and on.size:
        on = state.until_it_may_run(on, store.plant)
        on = state.while_it_runs(on, store.plant)
    asked_wh = state.asked_wh
    if store.plant is not None:
        asked_wh = store.taken(batch.rows, batch.clock_h, batch.hours)[:, AC_WATT_HOURS]
    lost = state.carried_h < batch.hours
    return Passage(
        hours_carried=state.carried_h,
        asked_wh=asked_wh,
        unserved_wh=np.where(lost, np.maximum(0.0, asked_wh - state.served_wh), 0.0),
        after=Depletion(state.depth, state.drawn_ah),
        fuel_l=state.fuel_used_l,
        running_h=state.running_h,
        evening_depth=state.evening_depth,
    )


class _State:
    """Where each outage of a batch stands."""

    def __init__(self, store: Store, batch: OutageBatch) -> None:
        self.store, self.batch = store, batch
        self.time_h, self.served_wh, self.asked_wh = np.zeros((3, batch.hours.size))
        self.fuel_used_l, self.running_h, self.rested_h = np.zeros((3, batch.hours.size))
        self.evening_depth = np.zeros(batch.hours.size)
        if batch.burnt_l is not None:
            self.fuel_used_l = batch.burnt_l.copy()
        self.carried_h = batch.hours.copy()
        self.depth, self.drawn_ah = batch.before.depth.copy(), batch.before.drawn_ah.copy()

    def on_the_bank(self, on: Rows, hours: Floats) -> Bools:
        """Take so many hours from the banks; return which of them last."""
        rows, clock_h = self.batch.rows[on], self.batch.clock_h[on] + self.time_h[on]
        taken = self.store.taken(rows, clock_h, hours)
        left = np.maximum(0.0, self.store.usable[rows] - self.depth[on])
        self.asked_wh[on] += taken[:, AC_WATT_HOURS]
        lasts = taken[:, SHARE] <= left
        # Most outages end before the bank does: only the others are searched for where they stop.
        if not lasts.all():
            short, hours = np.flatnonzero(~lasts), hours.copy()
            found_h = self.store.lasts(rows[short], clock_h[short], left[short])
            hours[short] = np.clip(found_h, 0.0, hours[short])
            taken[short] = self.store.taken(rows[short], clock_h[short], hours[short])
            # Not carried is never told as carried, however little is missing.
            one = on[short]
            stop_h = self.time_h[one] + hours[short]
            self.carried_h[one] = np.minimum(stop_h, np.nextafter(self.batch.hours[one], 0.0))
        self.depth[on] += taken[:, SHARE]
        self.drawn_ah[on] += taken[:, AMPERE_HOURS]
        self.served_wh[on] += taken[:, AC_WATT_HOURS]
        self.time_h[on] += hours
        return lasts

    def until_it_may_run(self, on: Rows, plant: Plant) -> Rows:
        """Go on the bank to where the generator may run; return the outages still on."""
        time_h, clock_h, rules = self.time_h[on], self.batch.clock_h[on], plant.rules
        rested = self.rested_h[on] >= 24 - rules.quiet_hours - MOMENT_H
        rested &= plant.quiet_for_h(clock_h + time_h) > 0
        evening = np.where(rested, self.depth[on], 0.0)
        self.evening_depth[on] = np.maximum(self.evening_depth[on], evening)
        begin_h = np.maximum(time_h, rules.start_after_h)
        begin_h = begin_h + plant.quiet_for_h(clock_h + begin_h)
        dry = self.fuel_used_l[on] >= plant.fuel_l * (1 - _FUEL_TOLERANCE)
        end_h = np.where(dry, np.inf, begin_h)
        hours = np.minimum(end_h, self.batch.hours[on]) - time_h
        lasts = self.on_the_bank(on, hours)
        return self._still(on[lasts])

    def while_it_runs(self, on: Rows, plant: Plant) -> Rows:
        """Go beside the generator to where it must be silent; return the outages still on."""
        rows, clock_h = self.batch.rows[on], self.batch.clock_h[on] + self.time_h[on]
        wh_per_ah = self.store.charge_wh_ah[rows]
        wanted_wh = self.drawn_ah[on] * wh_per_ah
        left_l = plant.fuel_l * (1 + _FUEL_TOLERANCE) - self.fuel_used_l[on]

        def spent(hours: Floats) -> tuple[Floats, Floats, Floats]:
            taken = self.store.taken(rows, clock_h, hours)
            carried_wh = taken[:, AC_WATT_HOURS]
            charge_wh = np.minimum(taken[:, CHARGE_WATT_HOURS], wanted_wh)
            return carried_wh, charge_wh, burnt_l(plant.generator, hours, carried_wh + charge_wh)

        hours = np.minimum(plant.allowed_for_h(clock_h), self.batch.hours[on] - self.time_h[on])
        served_wh, charge_wh, fuel_l = spent(hours)
        dry = fuel_l > left_l
        if dry.any():
            lasts_h = plant.lasts_h(rows, clock_h, left_l, wanted_wh)
            hours = np.where(dry, np.minimum(hours, lasts_h), hours)
            served_wh, charge_wh, fuel_l = spent(hours)
        now = Depletion(self.depth[on], self.drawn_ah[on]).less(charge_wh / wh_per_ah)
        self.depth[on], self.drawn_ah[on] = now.depth, now.drawn_ah
        self.served_wh[on] += served_wh
        self.fuel_used_l[on] = np.where(dry, plant.fuel_l, self.fuel_used_l[on] + fuel_l)
        self.running_h[on] += hours
        self.rested_h[on] = hours
        self.time_h[on] += hours
        return self._still(on)

    def _still(self, on: Rows) -> Rows:
        return on[self.time_h[on] < self.batch.hours[on] - MOMENT_H]
