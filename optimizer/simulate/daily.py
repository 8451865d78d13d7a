"""Scheduled cuts: whether what each takes comes back before the next, day after day."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.outages import Window
from optimizer.model.phrase import Phrase
from optimizer.simulate.bank import (
    bank_voltage_v,
    charge_ratio,
    charger_current_a,
    charging_voltage_v,
)
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.outage import OutageBatch, endure
from optimizer.simulate.store import Store, store

_TOLERANCE = 1e-9
#: Days are followed until one ends like the day before, at most so many.
_MOST_DAYS, _SAME_DEPTH = 366, 1e-9
#: Where a cut follows at once, nothing comes back: any need is then without bound.
_LEAST_GAP_H = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class DailyBalance:
    """The hardest of the scheduled cuts, and how the days go.

    Parameters
    ----------
    year, season : int, str
        Where the charger lacks most, or has least to spare.
    cut : tuple of float
        Start and end of that cut, in hours of the day.
    hours_off, hours_on : float
        Of that cut, and from its end to the next one [h].
    kwh_drawn, kwh_back : float
        From the bank in the cut, and what has to go in after it at the bank's round-trip
        efficiency [kWh].
    watts_back : float
        The latter over the hours on [W].
    amps_needed, amps_charger, amps_missing : float
        Charge current that makes the cut good, the one there is, and the difference [A].
    charge_volts : float
        Voltage at which the current for the energy is taken [V].
    cuts_from_full, cuts_carried : bool
        Whether every cut begins with a full bank, and whether every one is carried, on days that
        follow each other, in every year and season.
    deepest : float
        The largest share of the bank used on such days, at most its depth limit.
    """

    also: ClassVar[tuple[str, ...]] = ("closes",)

    year: int
    season: str
    cut: Window
    hours_off: float
    hours_on: float
    kwh_drawn: float
    kwh_back: float
    watts_back: float
    amps_needed: float
    amps_charger: float
    amps_missing: float
    charge_volts: float
    cuts_from_full: bool
    cuts_carried: bool
    deepest: float

    @property
    def closes(self) -> bool:
        """Whether each cut's charge comes back before the next."""
        return self.amps_missing <= 0


def daily_balance(job: Job, design: Design) -> DailyBalance:
    """Check that the charger puts back what each scheduled cut takes before the next begins.

    Of all years and seasons the hardest cut is told; InputError where the site has none. Two needs
    are compared and the larger is taken: the charge drawn times the charge factor, and the energy
    drawn over the round-trip efficiency at the charging voltage; each over the hours to the next
    cut. The bank carries the cuts alone, tiers let go after their hours; a generator is for longer
    outages.
    """
    cuts = tuple(sorted(job.outages.daily))
    if not cuts:
        told = Phrase("none"), Phrase("scheduled cuts to balance")
        raise InputError([Fault("site", None, "outages.daily", *told)])
    tables = store(job, design, alone=True)
    stages = tables.stages
    rows = tables.rows.ravel()
    period = [stages[row // tables.seasons].period for row in rows]
    charger_a = np.array([charger_current_a(design, one) for one in period])
    ratio = np.array([charge_ratio(one) for one in period])
    off_h = np.array([end - start for start, end in cuts])
    on_h = np.append([start for start, _ in cuts[1:]], cuts[0][0] + 24) - [end for _, end in cuts]
    rested = tables.rested
    drawn_ah = np.array(
        [_pass(tables, cut, rested)[0].drawn_ah - rested.drawn_ah for cut in cuts]
    ).T
    needed_a = drawn_ah * ratio[:, None] / np.maximum(on_h, _LEAST_GAP_H)
    # Equality counts for the design, as in every comparison of the model.
    missing_a = needed_a - charger_a[:, None]
    missing_a[np.abs(missing_a) <= needed_a * _TOLERANCE] = 0.0
    row, cut = (int(i) for i in np.unravel_index(int(missing_a.argmax()), missing_a.shape))
    from_full, carried, deepest = _days(tables, cuts)
    kwh = float(drawn_ah[row, cut]) * bank_voltage_v(period[row]) / 1000
    back_kwh = kwh / period[row].battery.round_trip
    return DailyBalance(
        year=stages[row // tables.seasons].year,
        season=job.site.seasons[row % tables.seasons].name,
        cut=cuts[cut],
        hours_off=float(off_h[cut]),
        hours_on=float(on_h[cut]),
        kwh_drawn=kwh,
        kwh_back=back_kwh,
        watts_back=back_kwh * 1000 / max(float(on_h[cut]), _LEAST_GAP_H),
        amps_needed=float(needed_a[row, cut]),
        amps_charger=float(charger_a[row]),
        amps_missing=max(0.0, float(missing_a[row, cut])),
        charge_volts=charging_voltage_v(period[row]),
        cuts_from_full=from_full,
        cuts_carried=carried,
        deepest=deepest,
    )


def _pass(tables: Store, cut: Window, before: Depletion) -> tuple[Depletion, bool]:
    """Take all banks through one cut; return them after it, and whether all carried it."""
    start, end = cut
    rows = tables.rows.ravel()
    hours = np.full(rows.size, end - start)
    clock_h = np.full(rows.size, start)
    batch = OutageBatch(rows=rows, clock_h=clock_h, hours=hours, before=before)
    passed = endure(tables, batch)
    return passed.after, bool((passed.hours_carried >= hours).all())


def _days(tables: Store, cuts: tuple[Window, ...]) -> tuple[bool, bool, float]:
    """Follow cuts from a rested bank through days that follow one another, until they repeat."""
    rows = tables.rows.ravel()
    state = evening = tables.rested
    from_full, carried, deepest, back_h = True, True, 0.0, cuts[0][0]
    for day in range(_MOST_DAYS):
        for start, end in cuts:
            gap_h = np.full(rows.size, day * 24 + start - back_h)
            state = tables.recharged(rows, state, gap_h)
            from_full = from_full and bool((state.drawn_ah <= tables.rested.drawn_ah).all())
            state, kept = _pass(tables, (start, end), state)
            carried, back_h = carried and kept, day * 24 + end
            deepest = max(deepest, float(state.depth.max()))
        if (np.abs(state.depth - evening.depth) < _SAME_DEPTH).all():
            break
        evening = state
    return from_full, carried, deepest
