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

    ``cumulative`` has the totals from midnight, shape (rows, steps + 1, kinds): share of the bank
    used, charge drawn [Ah], energy delivered to the loads [Wh]; beside a generator, what it could
    give to the chargers [Wh] as a fourth. ``marks`` are the first of these as a share of its day,
    plus the row's number, flat: rising through all rows, so that one search serves them all.
    """

    cumulative: Floats
    marks: Floats

    @classmethod
    def of(cls, per_step: Floats) -> "Cycle":
        """Return the totals of quantities per step, shape (rows, steps, 3 or 4)."""
        rows, steps, kinds = per_step.shape
        cumulative = np.zeros((rows, steps + 1, kinds))
        np.cumsum(per_step, axis=1, out=cumulative[:, 1:])
        day = cumulative[:, -1:, SHARE]
        part = np.divide(
            cumulative[..., SHARE], day, out=np.zeros((rows, steps + 1)), where=day > 0
        )
        marks: Floats = part + np.arange(float(rows))[:, None]
        return cls(cumulative, marks.ravel())

    @property
    def steps(self) -> int:
        """Steps in a day."""
        return int(self.cumulative.shape[1]) - 1

    def at(self, rows: Rows, clock_hours: Floats) -> Floats:
        """Return the totals up to times [h since a midnight], by kind on the last axis."""
        position = clock_hours * (self.steps / 24)
        whole = np.floor(position)
        days, step = np.divmod(whole.astype(np.int64), self.steps)
        low = self.cumulative[rows, step]
        high = self.cumulative[rows, step + 1]
        part = (position - whole)[..., None]
        totals: Floats = days[..., None] * self.cumulative[rows, -1] + low + part * (high - low)
        return totals

    def until(self, rows: Rows, used: Floats) -> Floats:
        """Return the time [h since the midnight] at which the share used reaches ``used``.

        Steps that use nothing are passed over; infinite where a whole day uses nothing.
        """
        day = self.cumulative[rows, -1, SHARE]
        idle = day <= 0
        per_day = np.where(idle, 1.0, day)
        days = np.floor(used / per_day)
        rest = used - days * per_day
        found = np.searchsorted(self.marks, rows + rest / per_day, side="right") - 1
        step = np.clip(found - rows * (self.steps + 1), 0, self.steps - 1)
        low = self.cumulative[rows, step, SHARE]
        slope = self.cumulative[rows, step + 1, SHARE] - low
        part = np.clip((rest - low) / np.where(slope > 0, slope, 1.0), 0.0, 1.0)
        hours: Floats = np.where(idle, np.inf, days * 24 + (step + part) * (24 / self.steps))
        return hours
