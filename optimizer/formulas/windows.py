"""Stretches of an outage by the clock: windows with tiers let go, nights, and logged outages.

A *layer* is what some tiers draw together: the hours after which an outage lets go of them
(infinite: never) and their hourly profile. Layers add up to the site's load.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from optimizer.formulas.load import DAY_H, window_hours
from optimizer.model.arrays import Floats

Layers = Sequence[tuple[float, Floats]]


@dataclass(frozen=True, eq=False)
class Stretches:
    """Every stretch of one length, by season and start hour, in pieces of even load.

    ``power_w`` [W], shape (seasons, 24 starts, pieces), lasts ``piece_h`` [h], shape
    (24 starts, pieces); the pieces of a stretch add up to ``hours`` [h]. ``known_factors`` keeps
    the uneven-load factors worked out, by Peukert's exponent.
    """

    power_w: Floats
    piece_h: Floats
    hours: int
    known_factors: dict[float, float] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def energy_wh(self) -> Floats:
        """Energy of every stretch [Wh], shape (seasons, 24 starts)."""
        return np.asarray((self.power_w * self.piece_h).sum(axis=-1))

    @cached_property
    def largest_wh(self) -> float:
        """The largest energy of any stretch [Wh]."""
        return float(self.energy_wh.max())


def busy_hours(profiles: Floats, hours: int) -> int:
    """Return in how many of some consecutive hours a load draws power, at most [h].

    Parameters
    ----------
    profiles : ndarray
        Hourly power [W], shape (seasons, 24).
    hours : int
        Length of the outage [h], ≥ 1; it starts at any whole hour, and days repeat.

    Returns
    -------
    int in [0, 240]

    Examples
    --------
    >>> night = np.array([[110.0] * 6 + [0.0] * 17 + [110.0]])
    >>> [busy_hours(night, hours) for hours in (6, 20, 25)]
    [6, 7, 8]
    """
    clock = (np.arange(DAY_H)[:, None] + np.arange(hours)) % DAY_H
    return int((profiles > 0)[:, clock].sum(axis=-1).max())


def windows(layers: Layers, hours: int) -> Stretches:
    """Return the windows of ``hours`` from every whole hour, tiers let go on the way.

    Parameters
    ----------
    layers : sequence of (float, ndarray)
        Hours carried [h], whole or infinite, and hourly power [W], shape (seasons, 24).
    hours : int
        Length of the windows [h], ≥ 1; days repeat.

    Returns
    -------
    Stretches, energies in [0, 1e17]
        Hour by hour until the last tier is let go; what follows repeats by the day and is
        gathered by the hour of the day.

    Examples
    --------
    >>> even = np.full((1, 24), 100.0)
    >>> windows([(float("inf"), even), (2, even)], 5).largest_wh
    700.0
    """
    singly = max((int(carried_h) for carried_h, _ in layers if carried_h < hours), default=0)
    since_start = np.arange(singly)
    clock = (np.arange(DAY_H)[:, None] + since_start) % DAY_H
    seasons = len(layers[0][1])
    first_w, rest_w = np.zeros((seasons, DAY_H, singly)), np.zeros((seasons, DAY_H))
    for carried_h, profiles in layers:
        first_w += profiles[:, clock] * (since_start < carried_h)
        if carried_h > singly:
            rest_w += profiles
    rest_h = np.roll(window_hours(hours - singly), -singly, axis=0)
    by_hour_w = np.broadcast_to(rest_w[:, None, :], (seasons, DAY_H, DAY_H))
    return Stretches(
        power_w=np.concatenate([first_w, by_hour_w], axis=2),
        piece_h=np.concatenate([np.ones((DAY_H, singly)), rest_h], axis=1),
        hours=hours,
    )


def nights(profiles: Floats, start_after_h: int, quiet_from_h: int, quiet_hours: int) -> Stretches:
    """Return what a bank carries beside a generator: its start and then the quiet hours.

    Parameters
    ----------
    profiles : ndarray, shape (seasons, 24)
        Hourly power of all tiers [W]; nothing is let go.
    start_after_h : int
        Hours before the generator runs [h], from any hour of the day.
    quiet_from_h, quiet_hours : int
        Start [h] and length [h] of the window in which it may not run.

    Returns
    -------
    Stretches, energies in [0, 1e17]
        ``start_after_h`` hours from each hour of the day, then the quiet hours.

    Examples
    --------
    >>> nights(np.full((1, 24), 100.0), 2, 21, 10).largest_wh
    1200.0
    """
    starting = (np.arange(DAY_H)[:, None] + np.arange(start_after_h)) % DAY_H
    quiet = (quiet_from_h + np.arange(quiet_hours)) % DAY_H
    clock = np.concatenate([starting, np.broadcast_to(quiet, (DAY_H, quiet_hours))], axis=1)
    return Stretches(profiles[:, clock], np.ones(clock.shape), start_after_h + quiet_hours)


def clock_wh(layers: Layers, season: int, start_h: float, hours: float) -> float:
    """Return the energy of one outage by its own clock, tiers let go after their hours.

    Parameters
    ----------
    layers : sequence of (float, ndarray)
        As in `windows`.
    season : int
        Row of the profiles that holds throughout.
    start_h : float
        Time of the day [h], whole or not.
    hours : float
        Length [h].

    Returns
    -------
    float in [0, 1e17]
        [Wh]; an hour begun or ended within counts by its share, at that hour's mean power.

    Examples
    --------
    >>> clock_wh([(float("inf"), np.arange(24.0)[None, :])], 0, 22.5, 2.0)
    34.0
    """
    return sum(
        _since_midnight_wh(profiles[season], start_h + min(hours, carried_h))
        - _since_midnight_wh(profiles[season], start_h)
        for carried_h, profiles in layers
    )


def _since_midnight_wh(profile_w: Floats, time_h: float) -> float:
    days, hour = divmod(time_h, DAY_H)
    whole = int(hour)
    day_wh = float(profile_w.sum())
    return float(days * day_wh + profile_w[:whole].sum() + (hour - whole) * profile_w[whole])
