"""Scheduled cuts: whether what they take in a day comes back in the hours between them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.simulate.bank import charger_current_a, stages_by_year, store
from optimizer.simulate.cycle import AMPERE_HOURS
from optimizer.simulate.passage import Depletion, endure, recharge
from optimizer.simulate.profile import hourly

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job, Window
    from optimizer.simulate.bank import Store

    Floats = NDArray[np.float64]

#: Charging voltage over the nominal class where the battery's row gives none: 14 V for a 12 V
#: unit (common practice).
_CHARGE_OVER_CLASS = 14 / 12

_TOLERANCE = 1e-9

_DAYS_FOLLOWED = 3


@dataclass(frozen=True, slots=True)
class DailyBalance:
    """The hardest day of scheduled cuts.

    Parameters
    ----------
    year, season : int, str
        Where the charger lacks most, or has least to spare.
    hours_off, hours_on : float
        Of the day [h].
    kwh_drawn, kwh_back : float
        From the bank in the cuts, and what has to go in between them at the bank's round-trip
        efficiency [kWh].
    watts_back : float
        The latter over the hours on [W].
    amps_needed, amps_charger, amps_missing : float
        Charge current that closes the day, the one there is, and the difference [A].
    charge_volts : float
        Voltage at which the current for the energy is taken [V].
    cuts_carried : bool
        Whether every cut is carried on days that follow each other, in every year and season.
    deepest : float
        The largest share of the bank used on such days, at most its depth limit.
    """

    year: int
    season: str
    hours_off: float
    hours_on: float
    kwh_drawn: float
    kwh_back: float
    watts_back: float
    amps_needed: float
    amps_charger: float
    amps_missing: float
    charge_volts: float
    cuts_carried: bool
    deepest: float

    @property
    def closes(self) -> bool:
        """Whether the day's charge comes back within the day."""
        return self.amps_missing <= 0


def daily_balance(job: Job, design: Design) -> DailyBalance:
    """Check that the charger puts back in a day what the scheduled cuts take.

    Parameters
    ----------
    job, design : Job, Design
        A site with scheduled cuts, and what stands there.

    Returns
    -------
    DailyBalance
        The hardest of all years and seasons.

    Raises
    ------
    InputError
        The site has no scheduled cuts.

    Notes
    -----
    Two needs are compared and the larger is taken: the charge drawn times the charge factor, and
    the energy drawn over the round-trip efficiency at the charging voltage; each over the hours
    on. The charge current is that of all units together, no more than the bank may take.
    """
    cuts = tuple(sorted(job.outages.daily))
    if not cuts:
        wanted = "scheduled cuts to balance"
        raise InputError([Fault("site", None, "outages.daily", "none", wanted)])
    stages = stages_by_year(design)
    tables = store(job, design, hourly(job), stages)
    off = sum(end - start for start, end in cuts)
    # With no hour on, nothing comes back: any need is then without bound.
    on = max(24 - off, 1e-9)
    drawn_ah = _drawn_ah(tables, cuts)
    kwh = drawn_ah * _by_stage(tables, lambda p: p.series * p.battery.voltage_v) / 1000
    back = kwh / _by_stage(tables, lambda p: p.battery.round_trip)
    volts = _by_stage(tables, _charge_volts)
    by_charge = drawn_ah * _by_stage(tables, lambda p: p.battery.charge_factor) / on
    needed = np.maximum(by_charge, back * 1000 / on / volts)
    charger = _by_stage(tables, lambda p: charger_current_a(design, p))
    # Equality counts for the design, as in every comparison of the model.
    missing = needed - charger
    missing[np.abs(missing) <= needed * _TOLERANCE] = 0.0
    hardest = np.unravel_index(int(missing.argmax()), missing.shape)
    closes = bool(missing[hardest] <= 0)
    carried, deepest = _days(tables, cuts)
    return DailyBalance(
        stages[int(hardest[0])].year,
        job.site.seasons[int(hardest[1])].name,
        off,
        24 - off,
        float(kwh[hardest]),
        float(back[hardest]),
        float(back[hardest]) * 1000 / on,
        float(needed[hardest]),
        float(charger[hardest[0], 0]),
        max(0.0, float(missing[hardest])),
        float(volts[hardest[0], 0]),
        closes and carried,
        deepest if closes else float(tables.usable.max()),
    )


def _by_stage(tables: Store, of: Callable[[BankPeriod], float]) -> Floats:
    """One number of each year's bank, as a column that meets (years, seasons)."""
    return np.array([of(stage.period) for stage in tables.stages])[:, None]


def _charge_volts(period: BankPeriod) -> float:
    battery = period.battery
    unit = battery.absorption_v
    return period.series * (unit if unit is not None else battery.class_v * _CHARGE_OVER_CLASS)


def _drawn_ah(tables: Store, cuts: tuple[Window, ...]) -> Floats:
    """Charge that the loads ask of the bank in a day's cuts [Ah]."""
    rows = tables.rows
    total = np.zeros(rows.shape)
    for start, end in cuts:
        upto = tables.cycle.at(rows, np.full(rows.shape, end))
        since = tables.cycle.at(rows, np.full(rows.shape, start))
        total += (upto - since)[..., AMPERE_HOURS]
    return total


def _days(tables: Store, cuts: tuple[Window, ...]) -> tuple[bool, float]:
    """Follow cuts from a full bank; where the day closes, the second day is like all later ones."""
    rows = tables.rows.ravel()
    state = Depletion.full(rows.size)
    carried, deepest, back = True, 0.0, cuts[0][0]
    for day in range(_DAYS_FOLLOWED):
        for start, end in cuts:
            gap = np.full(rows.size, day * 24 + start - back)
            state = recharge(tables, rows, state, gap)
            hours = np.full(rows.size, end - start)
            passed = endure(tables, rows, np.full(rows.size, start), hours, state)
            carried = carried and bool((passed.hours_carried >= hours).all())
            state, back = passed.after, day * 24 + end
            deepest = max(deepest, float(state.depth.max()))
    return carried, deepest
