"""Banks that follow one another within a period: how many, how old, and how healthy."""

import numpy as np

from optimizer.formulas.ageing import health
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.arrays import Floats


def banks_in_turn(years: float | Floats, service_life_years: float | Floats) -> Floats:
    """Return how many identical banks fill a period, each kept for its whole life but the last.

    Parameters
    ----------
    years : float or ndarray
        Length of the period [a], > 0.
    service_life_years : float or ndarray
        Service life of one bank [a], a real number.

    Returns
    -------
    ndarray in [1, 2081]
        The least whole number ≥ years / life, a hair above a whole number counted as whole.

    Examples
    --------
    >>> banks_in_turn(10, np.array([1.9, 5.0, 12.0])).tolist()
    [6.0, 2.0, 1.0]
    """
    lives = np.asarray(years) / service_life_years
    return np.asarray(np.maximum(1.0, np.ceil(lives * (1 - RELATIVE_TOLERANCE))))


def yearly_health(service_life_years: Floats, end_of_life_soh: Floats, years: int) -> Floats:
    """Return the least health of the banks in service in each year since the first was bought.

    Parameters
    ----------
    service_life_years, end_of_life_soh : ndarray, shape (banks,)
        Service life [a] and state of health at its end, 0…1.
    years : int
        Number of years [a].

    Returns
    -------
    ndarray in [0.5, 1], shape (banks, years)
        Each bank at the end of the year, or at its retirement if that is earlier. A bank that
        is retired within the year is at the end of its life then, whatever follows it; so the
        figure does not depend on how long the period lasts.

    Examples
    --------
    >>> yearly_health(np.array([2.5]), np.array([0.8]), 4).round(2).tolist()
    [[0.92, 0.84, 0.8, 0.88]]
    """
    year = np.arange(years, dtype=float)
    life = service_life_years[:, None]
    bought = (banks_in_turn(year + 1, life) - 1) * life
    at_year_end = health(year + 1 - bought, life, end_of_life_soh[:, None])
    retired_within = bought > year * (1 + RELATIVE_TOLERANCE)
    return np.asarray(np.where(retired_within, end_of_life_soh[:, None], at_year_end))


def sum_of_powers(log_ratio: float | Floats, count: float | Floats) -> Floats:
    """Return 1 + q + q² + … of ``count`` terms, from the logarithm of q.

    Parameters
    ----------
    log_ratio : float or ndarray
        ln q; 0 gives the count itself.
    count : float or ndarray
        Number of terms.

    Returns
    -------
    ndarray in [0, 1e11]
        (qⁿ − 1) / (q − 1), written so that nothing cancels where q is near 1.

    Examples
    --------
    >>> sum_of_powers(np.log(0.5), 3).item(), sum_of_powers(0.0, 4).item()
    (1.75, 4.0)
    """
    ratio = np.asarray(log_ratio, dtype=float)
    steady = ratio == 0
    safe = np.where(steady, -1.0, ratio)  # any but 0, and no power of it is too large
    return np.asarray(np.where(steady, count, np.expm1(count * safe) / np.expm1(safe)))
