"""A generator beside a bank: what it puts back by day, and the fuel of a long outage."""

import numpy as np

from optimizer.formulas.inverter import LOWEST_VOLTAGE_SHARE
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.arrays import Floats

#: Of the power that a charger takes from the generator, what arrives at the bank's terminals
#: (common practice for chargers of this size).
CHARGER_EFFICIENCY = LOWEST_VOLTAGE_SHARE
#: Of the energy put into a bank, what comes out again in the worst case: an old lead-acid bank
#: (common practice; a lithium bank gives more).
WORST_ROUND_TRIP = 0.70
_DAY_H = 24


def refillable_wh(charger_w: float | Floats, power_w: float, load_w: Floats) -> Floats:
    """Return the energy that a generator gives a charger in a day beside the loads [Wh].

    Parameters
    ----------
    charger_w : float or ndarray
        What the charger takes at most [W].
    power_w : float
        Of the generator [W].
    load_w : ndarray, shape (hours,)
        Mean load in each hour in which it may run [W].

    Returns
    -------
    ndarray in [0, 2.4e8], shape as ``charger_w``
        Σ over the hours of min(charger, generator − load), not below 0.

    Notes
    -----
    Concave and piecewise straight in ``charger_w``, so it is read between its corners: exact.

    Examples
    --------
    >>> refillable_wh(400.0, 1000.0, np.array([100.0, 800.0, 1200.0])).item()
    600.0
    """
    left_w = np.sort(np.maximum(0.0, power_w - load_w))
    corners_w = np.concatenate([[0.0], left_w])
    filled_wh = np.minimum(corners_w[:, None], left_w[None, :]).sum(axis=1)
    return np.asarray(np.interp(charger_w, corners_w, filled_wh))


def running_hours(hours: int, start_after_h: int, hours_a_day: int) -> int:
    """Return how long a generator runs in an outage, counted on the safe side [h].

    Parameters
    ----------
    hours : int
        The outage [h].
    start_after_h : int
        Hours before it may run [h].
    hours_a_day : int
        Hours of the day in which it may run [h].

    Returns
    -------
    int in [0, 240]

    Examples
    --------
    >>> running_hours(60, 2, 14)
    38
    """
    days, rest = divmod(max(0, hours - start_after_h), _DAY_H)
    return hours_a_day * days + min(hours_a_day, rest)


def days_begun(hours: float, start_after_h: float) -> float:
    """Return on how many days of an outage the bank is emptied and refilled.

    >>> days_begun(26, 2), days_begun(26.5, 2)
    (1.0, 2.0)

    Returns
    -------
    float in [0, 10]
    """
    return float(np.ceil((hours - start_after_h) / _DAY_H * (1 - RELATIVE_TOLERANCE)))


def litres(
    run_h: float,
    energy_ac_wh: float | Floats,
    power_w: float,
    litres_h_full: float,
    litres_h_idle: float,
) -> float | Floats:
    """Return the fuel for a time of running and the energy given in it [l].

    Parameters
    ----------
    run_h : float
        Time of running [h].
    energy_ac_wh : float or ndarray
        Energy given, to loads and charger [Wh].
    power_w : float
        Of the generator [W].
    litres_h_full, litres_h_idle : float
        Fuel at full power and at none [l/h].

    Returns
    -------
    float or ndarray in [0, 1e29]
        A straight line between idling and full power (common practice).

    Examples
    --------
    >>> litres(10, 5000, 1000, 0.75, 0.25)
    5.0
    """
    return litres_h_idle * run_h + (litres_h_full - litres_h_idle) / power_w * energy_ac_wh
