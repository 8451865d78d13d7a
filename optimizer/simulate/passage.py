"""What becomes of an outage: on the bank alone, or beside a generator."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from optimizer.simulate.bank import Stage, stages_by_year
from optimizer.simulate.cycle import AC_WATT_HOURS, AMPERE_HOURS, SHARE
from optimizer.simulate.depletion import Depletion, OutageBatch, Passage
from optimizer.simulate.generator import run_generator
from optimizer.simulate.plant import plant_of
from optimizer.simulate.profile import Profile, hourly
from optimizer.simulate.store import Store, store

if TYPE_CHECKING:
    from optimizer.model.design import Design
    from optimizer.model.job import Job


def tables_of(
    job: Job,
    design: Design,
    *,
    profile: Profile | None = None,
    stages: tuple[Stage, ...] | None = None,
    load_factor: float = 1.0,
) -> Store:
    """Return the tables for outages of a design; beside a generator no tier is let go."""
    loads = hourly(job) if profile is None else profile
    if design.generator is not None:
        loads = loads.throughout()
    lines = stages_by_year(design) if stages is None else stages
    plant = plant_of(job, design)
    return store(job, design, loads, lines, load_factor=load_factor, plant=plant)


def endure(store: Store, batch: OutageBatch) -> Passage:
    """Return what becomes of outages and of the banks in them.

    A bank that runs out stays off until the grid is back.
    """
    if store.plant is not None:
        return run_generator(store, store.plant, batch).passage
    rows, clock_h, hours, before = batch.rows, batch.clock_h, batch.hours, batch.before
    asked = store.taken(rows, clock_h, hours)
    left = np.maximum(0.0, store.usable[rows] - before.depth)
    carried, taken = hours, asked
    # Most outages end before the bank does: only the others are searched for where they stop.
    short = np.flatnonzero(asked[:, SHARE] > left)
    if short.size:
        lasts = store.lasts(rows[short], clock_h[short], left[short])
        stop = np.clip(lasts, 0.0, hours[short])
        carried, taken = hours.copy(), asked.copy()
        # Not carried is never told as carried, however little is missing.
        carried[short] = np.minimum(stop, np.nextafter(hours[short], 0.0))
        taken[short] = store.taken(rows[short], clock_h[short], stop)
    return Passage(
        hours_carried=carried,
        asked_wh=asked[:, AC_WATT_HOURS],
        unserved_wh=asked[:, AC_WATT_HOURS] - taken[:, AC_WATT_HOURS],
        after=Depletion(before.depth + taken[:, SHARE], before.drawn_ah + taken[:, AMPERE_HOURS]),
    )
