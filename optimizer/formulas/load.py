"""What must be carried: hourly profiles, the worst window, peak and surge."""

from collections.abc import Iterable, Sequence

import numpy as np

from optimizer.model.arrays import Floats
from optimizer.model.job import Load, Season
from optimizer.model.outages import Window

#: Hours in the day that repeats.
DAY_H = 24


def hourly_shares(windows: Iterable[Window]) -> Floats:
    """Return the share of each hour of the day that lies inside the windows.

    Parameters
    ----------
    windows : iterable of (float, float)
        Start and end [h]; the end may pass 24 where a window crosses midnight.

    Returns
    -------
    ndarray in [0, 1], shape (24,)
        Shares, 0…1.

    Examples
    --------
    >>> shares = hourly_shares([(6.5, 8.0), (22.0, 30.0)])
    >>> float(shares[6]), float(shares[7]), float(shares.sum())
    (0.5, 1.0, 9.5)
    """
    hour = np.arange(2 * DAY_H)
    shares = np.zeros(2 * DAY_H)
    for start_h, end_h in windows:
        shares += np.clip(np.minimum(end_h, hour + 1) - np.maximum(start_h, hour), 0.0, 1.0)
    return np.minimum(shares[:DAY_H] + shares[DAY_H:], 1.0)


def average_w(loads: Iterable[Load], season: Season) -> Floats:
    """Return the average power of all loads together in each hour of a season's day.

    Parameters
    ----------
    loads : iterable of Load
        The loads that count.
    season : Season
        Whose multipliers apply; a load that does not name it runs as surveyed.

    Returns
    -------
    ndarray in [0, 1e14], shape (24,)
        Average AC power [W].
    """
    total_w = np.zeros(DAY_H)
    for load in loads:
        multiplier = load.season_multipliers.get(season.name, 1.0)
        if multiplier > 0:
            on_w = load.count * load.running_w * load.duty * multiplier
            total_w += on_w * hourly_shares(load.windows)
    return total_w


def profiles_w(loads: Sequence[Load], seasons: Sequence[Season]) -> Floats:
    """Return the hourly average power of every season [W], shape (seasons, 24).

    Returns
    -------
    ndarray in [0, 1e14], shape (seasons, 24)
    """
    return np.array([average_w(loads, season) for season in seasons])


def peak_demand(
    loads: Sequence[Load], seasons: Sequence[Season], coincidence: float
) -> tuple[float, float]:
    """Return the peak power and apparent power that can be on at once.

    Duty and the size of a season's multiplier are left out on purpose: whatever may run in an
    hour can run at the same moment.

    Parameters
    ----------
    loads : sequence of Load
        The loads that count.
    seasons : sequence of Season
        A load with multiplier 0 in a season is off in it.
    coincidence : float
        Share of the sum taken as the peak, (0, 1].

    Returns
    -------
    float in [0, 1e13], float in [0, 1e22]
        Peak power [W] and peak apparent power [VA].
    """
    peak_w = peak_va = 0.0
    for season in seasons:
        sum_w, sum_va = np.zeros(DAY_H), np.zeros(DAY_H)
        for load in loads:
            if load.season_multipliers.get(season.name, 1.0) > 0:
                on_w = load.count * load.running_w * (hourly_shares(load.windows) > 0)
                sum_w += on_w
                sum_va += on_w / load.power_factor
        peak_w = max(peak_w, float(sum_w.max()))
        peak_va = max(peak_va, float(sum_va.max()))
    return coincidence * peak_w, coincidence * peak_va


def largest_start_w(loads: Iterable[Load]) -> float:
    """Return the largest rise from running to starting power of one unit [W].

    Rule of the trade: the running sum and the largest single start (common practice).

    Returns
    -------
    float in [0, 1e7]
    """
    return max((load.starting_w - load.running_w for load in loads), default=0.0)


def window_hours(hours: int) -> Floats:
    """Return how often each hour of the day falls in a window of whole hours, by its start.

    Parameters
    ----------
    hours : int
        Length of the window [h], ≥ 1.

    Returns
    -------
    ndarray in [0, 10], shape (24 starts, 24 hours)
        Counts.

    Examples
    --------
    >>> counts = window_hours(26)
    >>> counts[23, [22, 23, 0, 1]].tolist()
    [1.0, 2.0, 2.0, 1.0]
    """
    days, rest = divmod(hours, DAY_H)
    hour = np.arange(DAY_H)
    since_start = (hour[None, :] - hour[:, None]) % DAY_H
    return days + (since_start < rest).astype(float)


def mean_w(profiles: Floats, seasons: Sequence[Season]) -> float:
    """Return the mean power over the year [W], seasons weighted by their months.

    Returns
    -------
    float in [0, 1e14]
    """
    months = np.array([len(season.months) for season in seasons], dtype=float)
    return float(profiles.mean(axis=1) @ months / months.sum())
