"""Running totals over a day that repeats: how much by when, and by when how much.

The share of a bank that an hour uses depends on that hour's current alone. So the total up to any
time is a running sum, a stretch from any start is a difference of two, and the time at which a
given share is used up is a search in the same sum: no loop over hours, starts or years.
"""

from typing import NamedTuple

import numpy as np

from optimizer.model.arrays import Floats, Rows

#: Places on the last axis of `Cycle.cumulative`.
SHARE, AMPERE_HOURS, AC_WATT_HOURS, CHARGE_WATT_HOURS = 0, 1, 2, 3


class Cycle(NamedTuple):
    """Running totals of one day for several rows (a row is one year and season).

    ``totals`` are those from midnight to the beginning of each step and to the end of the day, and
    ``rises`` what the step adds, both of shape (rows · (steps + 1), kinds), ``days`` those of a
    whole day, shape (rows, kinds). Kinds are the share of the bank used, charge drawn [Ah], energy
    delivered to the loads [Wh]; beside a generator, what it could give to the chargers [Wh] as a
    fourth. ``marks`` are the first of these as a share of its day, plus the row's number: rising
    through all rows, so that one search serves them all.
    """

    steps: int
    totals: Floats
    rises: Floats
    days: Floats
    marks: Floats

    @classmethod
    def of(cls, per_step: Floats) -> "Cycle":
        """Return the totals of quantities per step, shape (rows, steps, 3 or 4)."""
        rows, steps, kinds = per_step.shape
        totals = np.zeros((rows, steps + 1, kinds))
        np.cumsum(per_step, axis=1, out=totals[:, 1:])
        day = totals[:, -1:, SHARE]
        part = np.divide(totals[..., SHARE], day, out=np.zeros((rows, steps + 1)), where=day > 0)
        marks: Floats = part + np.arange(float(rows))[:, None]
        rises = np.diff(totals, axis=1, append=totals[:, -1:])
        flat = (-1, kinds)
        return cls(
            steps, totals.reshape(flat), rises.reshape(flat), totals[:, -1].copy(), marks.ravel()
        )

    def at(self, rows: Rows, clock_hours: Floats) -> Floats:
        """Return the totals up to times [h since a midnight], by kind on the last axis.

        Taking whole lines by one number is three times as fast as indexing by row and step.
        """
        position = clock_hours * (self.steps / 24)
        whole = np.floor(position)
        days = np.floor(whole / self.steps)
        place = rows * (self.steps + 1) + (whole - days * self.steps).astype(np.intp)
        until_midnight = days[..., None] * self.days.take(rows, axis=0)
        in_step = (position - whole)[..., None] * self.rises.take(place, axis=0)
        totals: Floats = until_midnight + self.totals.take(place, axis=0) + in_step
        return totals

    def until(self, rows: Rows, used: Floats) -> Floats:
        """Return the time [h since the midnight] at which the share used reaches ``used``.

        Steps that use nothing are passed over; infinite where a whole day uses nothing.
        """
        day = self.days[rows, SHARE]
        idle = day <= 0
        per_day = np.where(idle, 1.0, day)
        days = np.floor(used / per_day)
        rest = used - days * per_day
        midnight = rows * (self.steps + 1)
        found = np.searchsorted(self.marks, rows + rest / per_day, side="right") - 1
        step = np.clip(found - midnight, 0, self.steps - 1)
        slope = self.rises[midnight + step, SHARE]
        missing = rest - self.totals[midnight + step, SHARE]
        part = np.clip(missing / np.where(slope > 0, slope, 1.0), 0.0, 1.0)
        hours: Floats = np.where(idle, np.inf, days * 24 + (step + part) * (24 / self.steps))
        return hours
