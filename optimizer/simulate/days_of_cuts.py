"""Days of scheduled cuts, followed for drawing."""

from dataclasses import dataclass

import numpy as np

from optimizer.model.arrays import Floats
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.outages import Window
from optimizer.simulate.bank import stages_by_year
from optimizer.simulate.daily import daily_balance
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.outage import OutageBatch, endure
from optimizer.simulate.store import Store, store

#: So many days show whether each evening ends like the one before.
DAYS = 3
#: Steps in which a cut and what follows it are drawn.
_STEPS = 17


@dataclass(frozen=True, slots=True, kw_only=True)
class CutDays:
    """Days of scheduled cuts that follow one another, from a full bank.

    ``hours`` are times since the first midnight [h], ``state_of_charge`` the share of the bank's
    capacity of that year left at these, ``cuts`` start and end of each [h]; the bank may go to
    ``lowest_state_of_charge``, 1 − max_dod. ``year`` and ``season`` are the hardest for the
    charger; ``carried`` tells whether every cut is.
    """

    hours: Floats
    state_of_charge: Floats
    cuts: tuple[Window, ...]
    lowest_state_of_charge: float
    year: int
    season: str
    carried: bool


def cut_days(job: Job, design: Design) -> CutDays:
    """Follow some days of scheduled cuts in the year and season that are hardest to recharge.

    InputError where the site has no scheduled cuts.
    """
    balance = daily_balance(job, design)
    stage = next(one for one in stages_by_year(design) if one.year == balance.year)
    tables = store(job, design, stages=(stage,), alone=True)
    row = [one.name for one in job.site.seasons].index(balance.season)
    daily = sorted(job.outages.daily)
    cuts = tuple((24.0 * day + a, 24.0 * day + b) for day in range(DAYS) for a, b in daily)
    ends_h = [start for start, _ in cuts[1:]] + [24.0 * DAYS]
    times, depths = [np.zeros(1)], [np.zeros(1)]
    state, carried = tables.rested.of(np.array([row])), True
    for (start, end), next_h in zip(cuts, ends_h, strict=True):
        off_h = np.linspace(0.0, end - start, _STEPS)
        passed, kept = _cut(tables, row, start, off_h, state)
        carried = carried and kept
        state = Depletion(passed.depth[-1:], passed.drawn_ah[-1:])
        on_h = np.linspace(0.0, max(0.0, next_h - end), _STEPS)
        back = Depletion(*(np.repeat(one, _STEPS) for one in (state.depth, state.drawn_ah)))
        back = tables.recharged(np.full(_STEPS, row), back, on_h)
        state = Depletion(back.depth[-1:], back.drawn_ah[-1:])
        times += [start + off_h, end + on_h]
        depths += [passed.depth, back.depth]
    return CutDays(
        hours=np.concatenate(times),
        state_of_charge=1 - np.concatenate(depths),
        cuts=cuts,
        lowest_state_of_charge=1 - stage.period.battery.max_dod,
        year=balance.year,
        season=balance.season,
        carried=carried,
    )


def _cut(
    tables: Store, row: int, start: float, hours: Floats, state: Depletion
) -> tuple[Depletion, bool]:
    """Take the bank into a cut for each of so many hours; return it, and whether it carried all."""
    same = np.ones(hours.size)
    before = Depletion(state.depth * same, state.drawn_ah * same)
    rows, clock_h = np.full(hours.size, row), start % 24 * same
    passed = endure(tables, OutageBatch(rows=rows, clock_h=clock_h, hours=hours, before=before))
    return passed.after, bool(passed.hours_carried[-1] >= hours[-1])
