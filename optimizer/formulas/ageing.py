"""How long a bank lasts: calendar and cycle wear added up, and what is left on the way."""

from collections.abc import Sequence

import numpy as np

from optimizer.model.arrays import Floats

#: Least of any service life [a]: a bank that lasts a week is none, and none such is offered.
SHORTEST_LIFE_YEARS = 1 / 52
#: Cycles are known between the inverse of so large a power of e and it: 1e-43 to 1e43.
_MOST_LOG_CYCLES = 100.0
#: Depths that lie closer on the logarithmic axis are reckoned as so far apart.
_LEAST_APART = 1e-12


def cycles_to_end_of_life(
    depth: float | Floats, cycle_points: Sequence[tuple[float, float]]
) -> Floats:
    """Return the cycles of one depth that a battery gives.

    Parameters
    ----------
    depth : float or ndarray
        Depth of discharge, (0, 1].
    cycle_points : sequence of (float, float)
        Depth (rising) and cycles (falling).

    Returns
    -------
    ndarray in [1e-44, 1e44]
        Straight lines between the points on log–log axes. Shallower than the first point, and
        with one point alone, depth × cycles is constant; deeper than the last, the last line
        goes on.

    Examples
    --------
    >>> cycles_to_end_of_life(np.array([0.1, 0.5]), [(0.2, 2800), (0.5, 1100)]).round().tolist()
    [5600.0, 1100.0]
    """
    log_depth = np.log(np.asarray(depth, dtype=float))
    x = np.log([point[0] for point in cycle_points])
    y = np.log([point[1] for point in cycle_points])
    log_cycles = np.interp(log_depth, x, y)
    log_cycles = np.where(log_depth < x[0], y[0] + x[0] - log_depth, log_cycles)
    slope = (y[-1] - y[-2]) / max(_LEAST_APART, x[-1] - x[-2]) if len(x) > 1 else -1.0
    log_cycles = np.where(log_depth > x[-1], y[-1] + slope * (log_depth - x[-1]), log_cycles)
    return np.asarray(np.exp(np.clip(log_cycles, -_MOST_LOG_CYCLES, _MOST_LOG_CYCLES)))


def wear_per_year(
    depths: Floats,
    times_a_year: Floats,
    cycle_points: Sequence[tuple[float, float]],
) -> Floats:
    """Return the share of a bank's cycle life that a year's outages take.

    Parameters
    ----------
    depths : ndarray, shape (..., outages)
        Depth of discharge of each outage, 0…1; depth 0 wears nothing.
    times_a_year : ndarray, shape (outages,)
        How often each happens [1/a].
    cycle_points : sequence of (float, float)
        As in `cycles_to_end_of_life`.

    Returns
    -------
    ndarray in [0, 1e48], shape (...)
        Wear [1/a].

    Notes
    -----
    Palmgren–Miner rule: damage adds up linearly (M. A. Miner, J. Applied Mechanics 12, 1945).
    """
    used = depths > 0
    cycles = cycles_to_end_of_life(np.where(used, depths, 1.0), cycle_points)
    return np.asarray((np.where(used, 1.0 / cycles, 0.0) * times_a_year).sum(axis=-1))


def service_life_years(
    float_life_years: float | Floats, wear_per_year: float | Floats
) -> float | Floats:
    """Return the service life when calendar and cycle wear add up [a], a week at least.

    Parameters
    ----------
    float_life_years : float or ndarray
        Calendar life at the room's temperature [a].
    wear_per_year : float or ndarray
        Cycle wear [1/a].

    Returns
    -------
    float or ndarray in [0.019, 40]

    Examples
    --------
    >>> round(float(service_life_years(10, 20 / 1200)), 1)
    8.6
    """
    lives = 1.0 / (1.0 / float_life_years + wear_per_year)
    return np.maximum(lives, SHORTEST_LIFE_YEARS)


def health(
    age_years: float | Floats,
    service_life_years: float | Floats,
    end_of_life_soh: float | Floats,
) -> float | Floats:
    """Return the state of health at an age: a straight line from 1 to its end-of-life value.

    Parameters
    ----------
    age_years : float or ndarray
        Age [a].
    service_life_years : float or ndarray
        Service life [a].
    end_of_life_soh : float or ndarray
        State of health at the end of the service life, 0…1.

    Returns
    -------
    float or ndarray in [-5200, 1]

    Examples
    --------
    >>> health(5, 10, 0.8)
    0.9
    """
    return 1.0 - (1.0 - end_of_life_soh) * age_years / service_life_years
