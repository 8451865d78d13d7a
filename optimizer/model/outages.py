"""What the grid does: outages as they were logged, typed as they come, or cut by a schedule."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

#: Start and end in hours of the day; the end may pass 24 where a window crosses midnight.
Window = tuple[float, float]


@dataclass(frozen=True, slots=True)
class LoggedOutage:
    """One outage as it happened, in local time.

    ``end`` is ``start`` and the time that passed, so its clock is that of the start where clocks
    changed in between. ``utc_offset_h`` is the start's offset from UTC [h], None where not stated.
    """

    start: datetime
    end: datetime
    utc_offset_h: float | None = None

    @property
    def hours(self) -> float:
        """Duration [h]."""
        return (self.end - self.start).total_seconds() / 3600


@dataclass(frozen=True, slots=True)
class Outages:
    """What the grid does, in one of three forms.

    ``typed`` holds (duration [h], times a year); ``log`` and ``log_years`` are set for a logged
    site, ``daily`` (windows of the day) and ``days_per_year`` for a site with scheduled cuts.
    """

    form: Literal["log", "typed", "daily"]
    typed: tuple[tuple[float, float], ...] = ()
    log: tuple[LoggedOutage, ...] = ()
    log_years: float | None = None
    daily: tuple[Window, ...] = ()
    days_per_year: float | None = None

    @property
    def yearly(self) -> tuple[tuple[float, float], ...]:
        """Duration [h] and times a year of every outage, whatever the form given."""
        if self.form == "log":
            return tuple((outage.hours, 1 / (self.log_years or 1.0)) for outage in self.log)
        if self.form == "daily":
            return tuple((end - start, self.days_per_year or 0.0) for start, end in self.daily)
        return self.typed

    @property
    def times_a_year(self) -> float:
        """How many outages a year there are [1/a]."""
        return sum(times for _, times in self.yearly)
