"""What the grid does, in the indices of the trade, and what of it a bank leaves unserved."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

#: Hours in a year [h], leap days left out.
YEAR_H = 8760.0

#: Beyond this exponent e^(-x) is nothing beside 1: a tail that far out holds no energy.
_NO_TAIL = 700.0


def saidi(interruptions: Iterable[tuple[float, float]], customers_served: float) -> float:
    """Return the system average interruption duration index, in the unit of the durations.

    Parameters
    ----------
    interruptions : iterable of (float, float)
        Customers interrupted and duration [min or h] of each.
    customers_served : float
        All customers; 1 for a single site's log.

    Notes
    -----
    SAIDI = Σ N·r / N_T. Source: IEEE Std 1366.

    Examples
    --------
    >>> saidi([(100, 5), (200, 10), (300, 11)], 10_000)
    0.58
    """
    return sum(count * duration for count, duration in interruptions) / customers_served


def saifi(interruptions: Iterable[tuple[float, float]], customers_served: float) -> float:
    """Return the system average interruption frequency index: interruptions a customer.

    Parameters
    ----------
    interruptions : iterable of (float, float)
        Customers interrupted and duration of each.
    customers_served : float
        All customers; 1 for a single site's log.

    Notes
    -----
    SAIFI = Σ N / N_T. Source: IEEE Std 1366.

    Examples
    --------
    >>> saifi([(100, 5), (200, 10), (300, 11)], 10_000)
    0.06
    """
    return sum(count for count, _ in interruptions) / customers_served


def caidi(interruptions: Iterable[tuple[float, float]]) -> float:
    """Return the customer average interruption duration index, in the unit of the durations.

    Parameters
    ----------
    interruptions : iterable of (float, float)
        Customers interrupted and duration of each; at least one.

    Notes
    -----
    CAIDI = SAIDI / SAIFI. Source: IEEE Std 1366.

    Examples
    --------
    >>> round(caidi([(100, 5), (200, 10), (300, 11)]), 4)
    9.6667
    """
    listed = list(interruptions)
    return saidi(listed, 1.0) / saifi(listed, 1.0)


def share_longer_exponential(hours: float, mean_h: float) -> float:
    """Return the share of exponential outages of mean ``mean_h`` [h] longer than ``hours`` [h].

    >>> round(share_longer_exponential(4, 2), 6)
    0.135335
    """
    return math.exp(-hours / mean_h)


def share_longer_lognormal(hours: float, median_h: float, sigma: float) -> float:
    """Return the share of lognormal outages longer than ``hours`` [h].

    Parameters
    ----------
    hours : float
        Limit [h], ≥ 0.
    median_h : float
        Median [h].
    sigma : float
        Standard deviation of the logarithm.

    Examples
    --------
    >>> round(share_longer_lognormal(4, 1.5, 1.0), 6)
    0.163338
    """
    if hours == 0:
        return 1.0
    return _upper_normal(math.log(hours / median_h) / sigma)


def share_longer_weibull(hours: float, shape: float, scale_h: float) -> float:
    """Return the share of Weibull outages (``shape``, ``scale_h`` [h]) longer than ``hours`` [h].

    >>> round(share_longer_weibull(4, 0.7, 2), 6)
    0.197009
    """
    return math.exp(-((hours / scale_h) ** shape))


def unserved_exponential_wh(power_w: float, energy_wh: float, mean_h: float) -> float:
    """Return the mean energy that an outage leaves unserved, exponential durations [Wh].

    Parameters
    ----------
    power_w : float
        Load, even [W], > 0.
    energy_wh : float
        What the bank gives, seen from the loads [Wh].
    mean_h : float
        Mean duration [h].

    Notes
    -----
    P · ∫ share longer than t, from t = E / P on: P · m · e^(−E / (P·m)) (arithmetic).

    Examples
    --------
    >>> round(unserved_exponential_wh(500, 2000, 2), 3)
    135.335
    """
    return power_w * mean_h * math.exp(-energy_wh / (power_w * mean_h))


def unserved_lognormal_wh(power_w: float, energy_wh: float, median_h: float, sigma: float) -> float:
    """Return the mean energy that an outage leaves unserved, lognormal durations [Wh].

    Parameters
    ----------
    power_w, energy_wh : float
        As in `unserved_exponential_wh` [W], [Wh].
    median_h : float
        Median duration [h].
    sigma : float
        Standard deviation of the logarithm.

    Notes
    -----
    With t = E / P and z = ln(t / median) / σ: P · (median·e^(σ²/2)·Φ(σ − z) − t·Φ(−z))
    (arithmetic; the form of a call option's value).

    Examples
    --------
    >>> round(unserved_lognormal_wh(500, 2000, 1.5, 1.0), 2)
    301.05
    """
    mean_h = median_h * math.exp(sigma**2 / 2)
    if energy_wh == 0:
        return power_w * mean_h
    carried_h = energy_wh / power_w
    z = math.log(carried_h / median_h) / sigma
    return power_w * (mean_h * _upper_normal(z - sigma) - carried_h * _upper_normal(z))


def unserved_weibull_wh(power_w: float, energy_wh: float, shape: float, scale_h: float) -> float:
    """Return the mean energy that an outage leaves unserved, Weibull durations [Wh].

    Parameters
    ----------
    power_w, energy_wh : float
        As in `unserved_exponential_wh` [W], [Wh].
    shape : float
        Shape of the distribution; below 1 long outages are frequent.
    scale_h : float
        Scale [h].

    Notes
    -----
    P · λ / k · Γ(1/k, (t/λ)^k) with t = E / P; the upper incomplete gamma function as the whole
    less its lower part, by that one's power series (arithmetic).

    Examples
    --------
    >>> round(unserved_weibull_wh(500, 2000, 0.7, 2), 3)
    419.445
    """
    a = 1 / shape
    x = (energy_wh / power_w / scale_h) ** shape
    if x > _NO_TAIL:
        return 0.0
    whole = math.gamma(a)
    return power_w * scale_h / shape * max(0.0, whole - _lower_gamma(a, x))


def _upper_normal(z: float) -> float:
    return math.erfc(z / math.sqrt(2)) / 2


def _lower_gamma(a: float, x: float) -> float:
    """γ(a, x) = x^a e^(−x) Σ x^n / (a (a+1) … (a+n)); all terms positive, so nothing cancels."""
    if x == 0:
        return 0.0
    term = total = 1 / a
    n = 0
    while term > total * 1e-17:
        n += 1
        term *= x / (a + n)
        total += term
    return total * math.exp(a * math.log(x) - x)


def next_outage_share(times_a_year: float, recharge_h: float) -> float:
    """Return the probability that the next outage comes before the bank is full again.

    Parameters
    ----------
    times_a_year : float
        Outages a year [1/a].
    recharge_h : float
        Time to refill [h].

    Notes
    -----
    1 − e^(−λτ/8760) for outages that come independently (Poisson; arithmetic).

    Examples
    --------
    >>> round(next_outage_share(12, 24), 6)
    0.032342
    """
    return -math.expm1(-times_a_year * recharge_h / YEAR_H)


def lost_load_value_per_year(
    unserved_wh: float, times_a_year: float, value_per_kwh: float
) -> float:
    """Return what a year's unserved energy is worth to those who miss it [currency/a].

    Parameters
    ----------
    unserved_wh : float
        Mean energy that an outage leaves unserved [Wh].
    times_a_year : float
        Outages a year [1/a].
    value_per_kwh : float
        Value of lost load [currency/kWh].

    Examples
    --------
    >>> round(lost_load_value_per_year(1000, 1.4, 8.7), 2)
    12.18
    """
    return unserved_wh / 1000 * times_a_year * value_per_kwh
