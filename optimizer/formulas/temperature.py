"""What heat and cold do to capacity, life and inverter power."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

#: Temperature at which capacity and inverter ratings are given [°C] (common practice).
RATING_DEGC = 25.0
#: Temperature at which float life is given [°C] (EUROBAT's classes, from memory).
FLOAT_LIFE_DEGC = 20.0
#: Temperature of the second power rating of an inverter-charger [°C] (common practice).
HOT_RATING_DEGC = 40.0


def cold_share(cold_points: Sequence[tuple[float, float]], temperature_degc: float) -> float | None:
    """Return the share of rated capacity that is there in the cold.

    Parameters
    ----------
    cold_points : sequence of (float, float)
        Temperature [°C], rising, and share (0, 1].
    temperature_degc : float
        The lowest temperature of the battery's room [°C].

    Returns
    -------
    float or None
        Straight lines between the points, the last share above the last point; None below the
        first, where nothing is known.

    Examples
    --------
    >>> cold_share([(0, 0.7), (25, 1.0)], 12.5), cold_share([(0, 0.7), (25, 1.0)], -1)
    (0.85, None)
    """
    degc = [point[0] for point in cold_points]
    shares = [point[1] for point in cold_points]
    if temperature_degc < degc[0]:
        return None
    return float(np.interp(temperature_degc, degc, shares))


def float_life_years(rated_years: float, halving_degc: float, mean_degc: float) -> float:
    """Return the calendar life on float charge at a mean temperature [a].

    Parameters
    ----------
    rated_years : float
        Float life at 20 °C [a].
    halving_degc : float
        Degrees above 20 °C that halve it [K], > 0.
    mean_degc : float
        Mean temperature of the room [°C]; no credit is taken below 20 °C.

    Notes
    -----
    Arrhenius' law as the trade writes it: life halves for each 8–10 K (common practice).

    Examples
    --------
    >>> float_life_years(10, 10, 30), float_life_years(10, 10, 5)
    (5.0, 10.0)
    """
    excess_degc = max(0.0, mean_degc - FLOAT_LIFE_DEGC)
    return float(rated_years * 2.0 ** (-excess_degc / halving_degc))


def heat_factor(power_w: float, power_w_40c: float, temperature_degc: float) -> float:
    """Return the share of an inverter's rating that is left in a hot room.

    Parameters
    ----------
    power_w, power_w_40c : float
        Continuous rating at 25 °C and at 40 °C [W].
    temperature_degc : float
        The room's highest temperature [°C].

    Returns
    -------
    float
        1 up to 25 °C, ``power_w_40c / power_w`` from 40 °C, a straight line between.

    Examples
    --------
    >>> heat_factor(1000, 850, 32.5)
    0.925
    """
    hot = power_w_40c / power_w
    return float(np.interp(temperature_degc, [RATING_DEGC, HOT_RATING_DEGC], [1.0, hot]))
