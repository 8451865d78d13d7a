"""How long a bank lasts: calendar and cycle wear added up, and what is left on the way."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray


def cycles_to_end_of_life(
    depth: float | NDArray[np.float64], cycle_points: Sequence[tuple[float, float]]
) -> NDArray[np.float64]:
    """Return the cycles of one depth that a battery gives.

    Parameters
    ----------
    depth : float or ndarray
        Depth of discharge, (0, 1].
    cycle_points : sequence of (float, float)
        Depth (rising) and cycles (falling).

    Returns
    -------
    ndarray
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
    slope = (y[-1] - y[-2]) / (x[-1] - x[-2]) if len(x) > 1 else -1.0
    log_cycles = np.where(log_depth > x[-1], y[-1] + slope * (log_depth - x[-1]), log_cycles)
    return np.asarray(np.exp(log_cycles))


def wear_per_year(
    depths: NDArray[np.float64],
    times_a_year: NDArray[np.float64],
    cycle_points: Sequence[tuple[float, float]],
) -> NDArray[np.float64]:
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
    ndarray, shape (...)
        Wear [1/a].

    Notes
    -----
    Palmgren–Miner rule: damage adds up linearly (M. A. Miner, J. Applied Mechanics 12, 1945).
    """
    used = depths > 0
    cycles = cycles_to_end_of_life(np.where(used, depths, 1.0), cycle_points)
    return np.asarray((np.where(used, 1.0 / cycles, 0.0) * times_a_year).sum(axis=-1))


def service_life_years(
    float_life_years: float | NDArray[np.float64], wear_per_year: float | NDArray[np.float64]
) -> float | NDArray[np.float64]:
    """Return the service life when calendar and cycle wear add up [a].

    Parameters
    ----------
    float_life_years : float or ndarray
        Calendar life at the room's temperature [a].
    wear_per_year : float or ndarray
        Cycle wear [1/a].

    Examples
    --------
    >>> round(service_life_years(10, 20 / 1200), 1)
    8.6
    """
    return 1.0 / (1.0 / float_life_years + wear_per_year)


def health(
    age_years: float | NDArray[np.float64],
    service_life_years: float | NDArray[np.float64],
    end_of_life_soh: float | NDArray[np.float64],
) -> float | NDArray[np.float64]:
    """Return the state of health at an age: a straight line from 1 to its end-of-life value.

    Parameters
    ----------
    age_years : float or ndarray
        Age [a].
    service_life_years : float or ndarray
        Service life [a].
    end_of_life_soh : float or ndarray
        State of health at the end of the service life, 0…1.

    Examples
    --------
    >>> health(5, 10, 0.8)
    0.9
    """
    return 1.0 - (1.0 - end_of_life_soh) * age_years / service_life_years


#: Boltzmann's constant [eV/K] (SI, exact to the digits given).
BOLTZMANN_EV_PER_K = 8.617333e-5
_ZERO_DEGC_K = 273.15


def arrhenius_ratio(temperature_degc: float, reference_degc: float, activation_ev: float) -> float:
    """Return how much faster a battery ages at a temperature than at a reference.

    Parameters
    ----------
    temperature_degc, reference_degc : float
        Temperatures [°C].
    activation_ev : float
        Activation energy [eV]; 0.53 doubles from 20 to 30 °C.

    Notes
    -----
    exp(E / k · (1 / T_ref − 1 / T)) (S. Arrhenius, 1889). The trade's rule, a half for each 10 K,
    runs ahead of it in great heat.

    Examples
    --------
    >>> round(arrhenius_ratio(30, 20, 0.53), 2)
    2.0
    """
    kelvin, reference_k = temperature_degc + _ZERO_DEGC_K, reference_degc + _ZERO_DEGC_K
    return math.exp(activation_ev / BOLTZMANN_EV_PER_K * (1 / reference_k - 1 / kelvin))


#: Calendar fade of a lithium iron phosphate cell (M. Naumann et al., J. Energy Storage 17, 2018;
#: from memory): rate at 25 °C [1/√s], weight of the state of charge, constant, energy [eV].
_FADE_PER_ROOT_S = 1.2571e-5
_FADE_CHARGE, _FADE_CONSTANT = 2.8575, 0.60225
_FADE_ACTIVATION_EV = 17126 / 96485.33
_SECONDS_A_YEAR = 365.25 * 86400


def lfp_calendar_fade(years: float, temperature_degc: float, state_of_charge: float) -> float:
    """Return the share of capacity that lithium iron phosphate loses by standing.

    Parameters
    ----------
    years : float
        Time [a].
    temperature_degc : float
        Mean temperature [°C].
    state_of_charge : float
        At which it stands, 0…1: a bank held full for outages ages faster than a half full one.

    Notes
    -----
    rate(T) · (2.8575·(soc − 0.5)³ + 0.60225) · √t. Source: M. Naumann et al., J. Energy
    Storage 17 (2018), parameters from memory.

    Examples
    --------
    >>> round(lfp_calendar_fade(10, 25, 0.5), 3), round(lfp_calendar_fade(10, 25, 1.0), 3)
    (0.134, 0.214)
    """
    rate = _FADE_PER_ROOT_S * arrhenius_ratio(temperature_degc, 25.0, _FADE_ACTIVATION_EV)
    charge = _FADE_CHARGE * (state_of_charge - 0.5) ** 3 + _FADE_CONSTANT
    return rate * charge * math.sqrt(years * _SECONDS_A_YEAR)
