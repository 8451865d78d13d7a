"""How capacity shrinks with the rate of discharge (Peukert)."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from optimizer.formulas.load import window_hours

if TYPE_CHECKING:
    from numpy.typing import NDArray


def discharge_hours(capacity_ah: float, rate_h: float, peukert: float, current_a: float) -> float:
    """Return how long a constant current runs a full battery flat.

    Parameters
    ----------
    capacity_ah : float
        Capacity at the rated hours [Ah].
    rate_h : float
        The rated hours [h], as in "100 Ah at the 20-hour rate".
    peukert : float
        Peukert's exponent k, ≥ 1.
    current_a : float
        Discharge current [A], > 0.

    Returns
    -------
    float
        Time [h].

    Notes
    -----
    t = H·(C / (I·H))^k. The short form C / I^k is wrong unless C was measured at 1 A.

    Source: W. Peukert, Elektrotechnische Zeitschrift 20 (1897), in the form with rated hours
    (common practice).

    Examples
    --------
    >>> round(discharge_hours(100, 20, 1.2, 10), 3)
    8.706
    """
    return float(rate_h * (capacity_ah / (current_a * rate_h)) ** peukert)


def fixed_time_share(
    hours: float | NDArray[np.float64],
    rate_h: float | NDArray[np.float64],
    peukert: float | NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return the share of the rated capacity that can be drawn evenly in ``hours``.

    Parameters
    ----------
    hours : float or ndarray
        Time of the discharge [h], > 0.
    rate_h : float or ndarray
        Rated hours [h].
    peukert : float or ndarray
        Peukert's exponent, ≥ 1.

    Returns
    -------
    ndarray
        min(1, (T / H)^(1 − 1/k)): Peukert's law solved for a fixed time. No credit is taken
        beyond the rated hours.

    Examples
    --------
    >>> round(float(fixed_time_share(5, 20, 1.2)), 3)
    0.794
    """
    share = (np.asarray(hours) / rate_h) ** (1.0 - 1.0 / np.asarray(peukert))
    return np.minimum(1.0, share)


def uneven_load_factor(profiles: NDArray[np.float64], hours: int, peukert: float) -> float:
    """Return by how much an uneven load weighs more than its mean, the worst window counted.

    Parameters
    ----------
    profiles : ndarray, shape (seasons, 24)
        Hourly average power [W]; days repeat.
    hours : int
        Length of the window [h].
    peukert : float
        Peukert's exponent, ≥ 1.

    Returns
    -------
    float
        The largest over windows of mean(p·max(1, (p / m)^(k−1))) / m, m the window's mean power;
        windows without load are left out; ≥ 1. Hours above the mean cost more by Peukert's law,
        quiet hours give nothing back.

    Examples
    --------
    >>> uneven_load_factor(np.full((1, 24), 100.0), 7, 1.25)
    1.0
    """
    return float(uneven_load_factors(profiles, hours, np.array([peukert]))[0])


def uneven_load_factors(
    profiles: NDArray[np.float64], hours: int, peukerts: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return `uneven_load_factor` for several exponents at once, shape as ``peukerts``."""
    counts = window_hours(hours)
    windows = profiles @ counts.T / hours  # (seasons, starts): mean power of each window
    seasons, starts = np.nonzero(windows > 0)
    factors = np.ones(len(peukerts))
    if seasons.size == 0 or bool(np.all(peukerts == 1.0)):
        return factors
    means = windows[seasons, starts]
    # each hour's share of its window's energy, (windows, 24)
    weights = counts[starts] * profiles[seasons] / (means[:, None] * hours)
    log_excess = np.log(np.maximum(1.0, profiles[seasons] / means[:, None]))
    for index, peukert in enumerate(peukerts):
        worst = (weights * np.exp((peukert - 1.0) * log_excess)).sum(axis=1).max()
        factors[index] = max(1.0, float(worst))
    return factors
