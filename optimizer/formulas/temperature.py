"""What heat and cold do to capacity, life and inverter power."""

from collections.abc import Sequence

import numpy as np

from optimizer.model.job import FLOAT_LIFE_DEGC

#: Temperature at which capacity and inverter ratings are given [°C] (common practice).
RATING_DEGC = 25.0
#: Temperature of the second power rating of an inverter-charger [°C] (common practice).
HOT_RATING_DEGC = 40.0
#: A float life is halved so often at most: what is left of forty years is a thousandth of a second.
MOST_HALVINGS = 40.0


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
    float in [0, 1], or None
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


def float_life_years(
    rated_years: float,
    halving_degc: float,
    temperatures_degc: Sequence[float],
    rated_degc: float = FLOAT_LIFE_DEGC,
) -> float:
    """Return the calendar life on float charge in a room [a].

    Parameters
    ----------
    rated_years : float
        Float life at ``rated_degc`` [a].
    halving_degc : float
        Degrees above it that halve the life [K], > 0.
    temperatures_degc : sequence of float
        Of the room in equal parts of the year, its months or its one mean [°C]; no credit is
        taken below ``rated_degc``.
    rated_degc : float
        Temperature for which the life is stated [°C].

    Returns
    -------
    float in [0, 40]
        Arrhenius' law as the trade writes it: life halves for each 8–10 K (common practice).
        Ageing, not life, is averaged over the year: it is convex in temperature.

    Examples
    --------
    >>> float_life_years(10, 10, [30]), float_life_years(10, 10, [5, 30])
    (5.0, 6.666666666666667)
    """
    halvings = [max(0.0, degc - rated_degc) / halving_degc for degc in temperatures_degc]
    ageing = [2.0 ** min(one, MOST_HALVINGS) for one in halvings]
    return float(rated_years / (sum(ageing) / len(ageing)))


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
    float in [0, 1e16]
        1 up to 25 °C, ``power_w_40c / power_w`` from 40 °C, a straight line between.

    Examples
    --------
    >>> heat_factor(1000, 850, 32.5)
    0.925
    """
    hot = power_w_40c / power_w
    return float(np.interp(temperature_degc, [RATING_DEGC, HOT_RATING_DEGC], [1.0, hot]))
