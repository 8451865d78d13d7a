"""What must be carried: watts by the hour, windows of an outage, and the outages as events."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import ceil
from types import SimpleNamespace as Row
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from .case import Case

TOLERANCE = 1e-9


def at_least(left, right):
    """``left`` ≥ ``right`` but for rounding, for numbers and arrays."""
    return left >= right - TOLERANCE * np.maximum(np.abs(left), np.abs(right))


@dataclass(frozen=True)
class Event:
    """An outage, or a peak of the supply, as it wears a bank."""

    hours: float
    energy_wh: float  # on the AC side, year 0
    times: float  # a year
    peak: bool = False


class Demand:
    """Average watts by season, tier and hour, and what follows from them."""

    def __init__(self, case: Case) -> None:
        self.case, site = case, case.site
        loads = [load for load in case.loads if load.tier in site.tiers]
        self.tiers = sorted({load.tier for load in loads})
        #: hours that each tier is carried
        self.kept_h = {tier: site.tier_hours.get(tier, 10**9) for tier in self.tiers}
        #: season -> tier -> 24 average watts
        self.watts: dict[str, dict[str, np.ndarray]] = {}
        most_w = most_va = 0.0
        for season in case.seasons:
            self.watts[season] = {tier: np.zeros(24) for tier in self.tiers}
            for hour in range(24):
                on_w = on_va = 0.0
                for load in loads:
                    share = _share_of_hour(load.windows, hour)
                    multiplier = load.seasons.get(season, 1.0)
                    all_on_w = load.count * load.running_w
                    self.watts[season][load.tier][hour] += all_on_w * load.duty * share * multiplier
                    if share > 0 and multiplier > 0:
                        on_w += all_on_w
                        on_va += all_on_w / load.power_factor
                most_w, most_va = max(most_w, on_w), max(most_va, on_va)
        self.peak_w, self.peak_va = site.coincidence * most_w, site.coincidence * most_va
        self.surge_w = self.peak_w + max(
            (load.starting_w - load.running_w for load in loads), default=0.0
        )
        self._windows: dict[tuple[int, bool], np.ndarray] = {}
        #: load of the largest year over that of year 0
        self.largest = max((1 + site.load_growth) ** year for year in range(site.horizon_years))

    def share_of_year(self, season: str) -> float:
        return len(self.case.seasons[season]) / 12

    def mean_w(self, tier: str) -> float:
        """Mean watts of a tier over the day, seasons weighted by their months."""
        return sum(
            self.share_of_year(season) * tiers[tier].mean() for season, tiers in self.watts.items()
        )

    def all_watts(self, season: str) -> np.ndarray:
        """24 average watts of all tiers."""
        return sum(self.watts[season].values(), np.zeros(24))

    def windows(self, hours: int, *, let_go: bool = True) -> np.ndarray:
        """Hourly watts of every window of ``hours``: a row for each season and start hour."""
        if (hours, let_go) not in self._windows:
            self._windows[hours, let_go] = self._all_windows(hours, let_go=let_go)
        return self._windows[hours, let_go]

    def _all_windows(self, hours: int, *, let_go: bool) -> np.ndarray:
        step = np.arange(hours)
        at = (np.arange(24)[:, None] + step) % 24
        rows = []
        for tiers in self.watts.values():
            drawn = np.zeros((24, hours))
            for tier, watts in tiers.items():
                kept = (step < self.kept_h[tier]) if let_go else True
                drawn += np.where(kept, watts[at], 0.0)
            rows.append(drawn)
        return np.concatenate(rows)

    @cached_property
    def heaviest_wh(self) -> np.ndarray:
        """The largest energy of any window of each number of hours from 1, nothing let go."""
        every = range(1, self.case.site.max_hours + 1)
        return np.array([self.windows(h, let_go=False).sum(axis=1).max() for h in every])

    def nights(self) -> np.ndarray:
        """Hourly watts that the bank carries beside a generator, nothing let go.

        ``start_after_h`` hours from any hour, then the quiet hours.
        """
        site = self.case.site
        first = np.arange(24)[:, None] + np.arange(site.start_after_h)
        quiet = np.tile(np.arange(*site.quiet_h), (24, 1))
        at = np.hstack([first, quiet]) % 24
        return np.concatenate([self.all_watts(season)[at] for season in self.watts])

    def clock_wh(self, season: str, start_h: float, hours: float) -> float:
        """Watt-hours of an outage by its own clock, tiers let go after their hours."""
        total_wh = 0.0
        for tier, watts in self.watts[season].items():
            end_h = start_h + min(hours, self.kept_h[tier])
            for hour in range(int(start_h), ceil(end_h)):
                within = min(end_h, hour + 1) - max(start_h, hour)
                total_wh += watts[hour % 24] * max(0.0, within)
        return total_wh

    def outages(self) -> list[Event]:
        """Every outage of the site as an event, whatever the form given."""
        case, found = self.case, []
        for start, end in case.log:
            season = next(name for name, months in case.seasons.items() if start.month in months)
            start_h = start.hour + start.minute / 60 + start.second / 3600
            hours = (end - start).total_seconds() / 3600
            found.append(Event(hours, self.clock_wh(season, start_h, hours), 1 / case.log_years))
        for start_h, end_h in case.daily:
            for season in self.watts:
                times = case.days_per_year * self.share_of_year(season)
                energy_wh = self.clock_wh(season, start_h, end_h - start_h)
                found.append(Event(end_h - start_h, energy_wh, times))
        for hours, times in case.typed:
            energy_wh = sum(
                min(hours, self.kept_h[tier]) * self.mean_w(tier) for tier in self.tiers
            )
            found.append(Event(hours, energy_wh, times))
        return found

    def outages_beside_generator(self, night_h: int) -> list[Event]:
        """Outages longer than a night count as nights of the day's mean watts."""
        mean_w = sum(self.mean_w(tier) for tier in self.tiers)
        found = []
        for event in self.outages():
            if event.hours > night_h * (1 + TOLERANCE):
                days = (event.hours - self.case.site.start_after_h) / 24
                nights = ceil(days * (1 - TOLERANCE))
                found.append(Event(night_h, night_h * mean_w, event.times * nights))
            else:
                found.append(event)
        return found


def unevenness(windows: np.ndarray, peukert: float) -> float:
    """The factor φ of a set of windows."""
    mean = windows.mean(axis=1, keepdims=True)
    windows, mean = windows[mean[:, 0] > 0], mean[mean[:, 0] > 0]
    drawn = windows * np.maximum(1.0, (windows / mean) ** (peukert - 1))
    return max([1.0, *(drawn.mean(axis=1) / mean[:, 0])])


def _share_of_hour(windows: list[tuple[float, float]], hour: int) -> float:
    share = 0.0
    for start, end in windows:
        for day in (0, 24):  # a window past midnight also covers the early hours
            share += max(0.0, min(end, hour + day + 1) - max(start, hour + day))
    return share


@dataclass(frozen=True)
class Variant:
    """A step of the supply contract and a generator, each or none."""

    contract: tuple[float, float] | None = None  # watts, cost a year
    generator: Row | None = None


class Setting:
    """The job under one variant: its events, its hours on the bank, its excess of peaks."""

    def __init__(self, demand: Demand, variant: Variant) -> None:
        site = demand.case.site
        self.demand, self.variant = demand, variant
        self.hours = np.arange(1, site.max_hours + 1)
        #: (watts beyond the contract, hours, times a year) of each peak that passes it
        self.excesses = [
            (watts - variant.contract[0], minutes / 60, 12 * times)
            for watts, minutes, times in (site.peaks if variant.contract else [])
            if watts > variant.contract[0]
        ]
        quiet = site.quiet_h[1] - site.quiet_h[0]
        if variant.generator is None:
            self.offered = np.full(len(self.hours), fill_value=True)
            self.bank_hours = self.hours
            outages = demand.outages()
        else:
            self.running_h = 24 - quiet
            self.night_h = site.start_after_h + quiet
            self.offered = self.hours > self.night_h
            self.bank_hours = np.full(len(self.hours), self.night_h)
            outages = demand.outages_beside_generator(self.night_h)
        peaks = [Event(hours, watts * hours, times, True) for watts, hours, times in self.excesses]
        self.events = (*outages, *peaks)
        self._uneven: dict[tuple[int, float], float] = {}

    def uneven(self, bank_hours: int, peukert: float) -> float:
        """φ over what the bank carries in one go."""
        key = bank_hours, peukert
        if key not in self._uneven:
            self._uneven[key] = unevenness(self.windows(bank_hours), peukert)
        return self._uneven[key]

    def windows(self, bank_hours: int) -> np.ndarray:
        """What the bank carries in one go."""
        if self.variant.generator is None:
            return self.demand.windows(bank_hours)
        return self.demand.nights()
