"""What the loads draw through a day, by season and tier: worked out here from the survey alone."""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from optimizer.model.arrays import Floats, Rows
from optimizer.model.job import Job, Load

#: Bursts are laid out this many at a time, so that ten thousand loads need no gigabytes.
_CHUNK = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """The loads of one day that repeats, on the AC side, in year 0 and without margin.

    ``weights`` are the share of the year of each season; ``carried_h`` the hours of an outage [h]
    after which each tier is let go, infinite where never; ``watts`` the mean power of each step
    [W], shape (seasons, tiers, steps of one day).
    """

    seasons: tuple[str, ...]
    weights: tuple[float, ...]
    tiers: tuple[str, ...]
    carried_h: tuple[float, ...]
    watts: Floats

    @property
    def step_hours(self) -> float:
        """Length of one step [h]."""
        return 24.0 / int(self.watts.shape[2])

    @property
    def total_w(self) -> Floats:
        """All tiers together [W], shape (seasons, steps)."""
        total: Floats = self.watts.sum(axis=1)
        return total

    def by_part(self) -> tuple[tuple[float, ...], Floats]:
        """Return when fewer tiers are carried [h], from 0 on, and the watts from then on.

        The watts have the shape (parts, seasons, steps).
        """
        ends = np.array(self.carried_h)
        begins_h = (0.0, *sorted({end for end in self.carried_h if np.isfinite(end)}))
        parts = [self.watts[:, ends > begin].sum(axis=1) for begin in begins_h]
        return begins_h, np.array(parts)

    def throughout(self) -> "Profile":
        """Return the same loads with no tier let go."""
        return replace(self, carried_h=(np.inf,) * len(self.tiers))


#: The hourly profiles asked for lately, by the loads themselves and what else they depend on.
_LATELY: Final[deque[tuple[tuple[Load, ...], object, Profile]]] = deque(maxlen=8)


def season_of_month(job: Job) -> Rows:
    """Return the index of the season of each month; slot 0 is unused, January is 1."""
    found = np.zeros(13, dtype=np.intp)
    for index, season in enumerate(job.site.seasons):
        found[list(season.months)] = index
    return found


def hourly(job: Job, tiers: Sequence[str] | None = None) -> Profile:
    """Return the mean watts of each hour.

    A load gives count · running_w · duty · (share of the hour inside its windows) · multiplier.
    """
    kept = _counted(job, tiers)
    question = (kept, job.site.seasons, dict(job.site.tier_hours))
    for asked_of, asked, found in tuple(_LATELY):
        if asked_of is job.loads and asked == question:
            return found
    watts = _empty(job, kept, 24)
    loads = [load for load in job.loads if load.tier in kept]
    if loads:
        owner = np.array([i for i, load in enumerate(loads) for _ in load.windows], dtype=np.intp)
        opens = np.array([start for load in loads for start, _ in load.windows])[:, None]
        closes = np.array([end for load in loads for _, end in load.windows])[:, None]
        # Forty-eight hours, so that a window past midnight folds back on the day's first hours.
        clock = np.arange(48.0)
        inside = np.clip(np.minimum(closes, clock + 1) - np.maximum(opens, clock), 0.0, None)
        folded = inside[:, :24] + inside[:, 24:]
        mean_w = np.array([load.count * load.running_w * load.duty for load in loads])
        tier_of = np.array([kept.index(load.tier) for load in loads], dtype=np.intp)
        for s, season in enumerate(job.site.seasons):
            times = np.array([load.season_multipliers.get(season.name, 1.0) for load in loads])
            np.add.at(watts[s], tier_of[owner], (mean_w * times)[owner, None] * folded)
    watts.flags.writeable = False  # others are given the same
    profile = _profile(job, kept, watts)
    _LATELY.append((job.loads, question, profile))
    return profile


def minutely(job: Job, tiers: Sequence[str] | None = None) -> Profile:
    """Return the mean watts of each minute where loads with a duty below 1 run in bursts.

    Each hour holds the same energy as in `hourly`. In each hour such a load runs at its full
    running_w for duty · multiplier of its time inside the window (the whole of it where that
    exceeds 1, then at the power that gives its energy), at the beginning of that time. So the
    bursts of all loads coincide as far as their windows let them, which is the severe case. A load
    with duty 1 runs through its window.
    """
    kept = _counted(job, tiers)
    watts = _empty(job, kept, 1440)
    for s, season in enumerate(job.site.seasons):
        rows = [
            piece
            for load in job.loads
            if load.tier in kept
            for piece in _bursts(load, season.name, kept.index(load.tier))
        ]
        grid = watts[s].reshape(len(kept), 24, 60)
        for first in range(0, len(rows), _CHUNK):
            table = np.array(rows[first : first + _CHUNK])
            tier_of, hour_of = table[:, 0].astype(np.intp), table[:, 1].astype(np.intp)
            minute = np.arange(60.0)
            covered = np.clip(table[:, 3, None] - minute, 0, 1) - np.clip(
                table[:, 2, None] - minute, 0, 1
            )
            np.add.at(grid, (tier_of, hour_of), table[:, 4, None] * covered)
    return _profile(job, kept, watts)


def _bursts(load: Load, season: str, tier: int) -> list[tuple[float, float, float, float, float]]:
    """One row a piece of an hour: tier, hour, start and end [min in the hour], watts."""
    times = load.season_multipliers.get(season, 1.0)
    running_share = min(1.0, load.duty * times) if load.duty < 1 else 1.0
    if running_share <= 0:
        return []
    watts = load.count * load.running_w * load.duty * times / running_share
    rows = []
    for opens, closes in load.windows:
        for hour in range(int(opens), int(np.ceil(closes))):
            begin, end = max(opens, hour) - hour, min(closes, hour + 1) - hour
            last = begin + (end - begin) * running_share
            rows.append((float(tier), float(hour % 24), 60 * begin, 60 * last, watts))
    return rows


def _counted(job: Job, tiers: Sequence[str] | None) -> tuple[str, ...]:
    return job.site.tiers if tiers is None else tuple(tiers)


def _empty(job: Job, kept: tuple[str, ...], steps: int) -> Floats:
    return np.zeros((len(job.site.seasons), len(kept), steps))


def _profile(job: Job, kept: tuple[str, ...], watts: Floats) -> Profile:
    seasons = job.site.seasons
    return Profile(
        seasons=tuple(season.name for season in seasons),
        weights=tuple(len(season.months) / 12 for season in seasons),
        tiers=kept,
        carried_h=tuple(float(job.site.tier_hours.get(tier, np.inf)) for tier in kept),
        watts=watts,
    )
