"""How capacity shrinks with the rate of discharge (Peukert)."""

import numpy as np

from optimizer.formulas.windows import Stretches
from optimizer.model.arrays import Floats


def fixed_time_share(
    hours: float | Floats,
    rate_h: float | Floats,
    peukert: float | Floats,
) -> Floats:
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
    ndarray in [0, 1]
        min(1, (T / H)^(1 − 1/k)): Peukert's law solved for a fixed time. No credit is taken
        beyond the rated hours.

    Examples
    --------
    >>> round(float(fixed_time_share(5, 20, 1.2)), 3)
    0.794
    """
    share = (np.asarray(hours) / rate_h) ** (1.0 - 1.0 / np.asarray(peukert))
    return np.minimum(1.0, share)


def uneven_load_factors(stretches: Stretches, peukerts: Floats) -> Floats:
    """Return by how much an uneven load weighs more than its mean, the worst stretch counted.

    Parameters
    ----------
    stretches : Stretches
        Of one length, tiers let go.
    peukerts : ndarray, shape (exponents,)
        Peukert's exponents, ≥ 1.

    Returns
    -------
    ndarray in [1, 30], shape (exponents,)
        The largest over stretches of mean(p·max(1, (p / m)^(k−1))) / m, m the stretch's mean
        power; stretches without load are left out; ≥ 1. Hours above the mean cost more by
        Peukert's law, quiet hours give nothing back.

    Examples
    --------
    >>> from optimizer.formulas.windows import windows
    >>> uneven_load_factors(windows([(24, np.full((1, 24), 100.0))], 7), np.array([1.25])).tolist()
    [1.0]
    """
    known = stretches.known_factors
    missing = [peukert for peukert in peukerts.tolist() if peukert not in known]
    if missing:
        known.update(zip(missing, _worst_factors(stretches, missing), strict=True))
    return np.array([known[peukert] for peukert in peukerts.tolist()])


def _worst_factors(stretches: Stretches, peukerts: list[float]) -> list[float]:
    mean_w = stretches.energy_wh / stretches.hours
    seasons, starts = np.nonzero(mean_w > 0)
    if seasons.size == 0 or max(peukerts) == 1.0:
        return [1.0] * len(peukerts)
    # each piece over its stretch's mean, and its share of that stretch's energy
    over_mean = stretches.power_w[seasons, starts] / mean_w[seasons, starts][:, None]
    shares = over_mean * stretches.piece_h[starts] / stretches.hours
    log_excess = np.log(np.maximum(1.0, over_mean))
    weighed = ((shares * np.exp((one - 1.0) * log_excess)).sum(axis=1) for one in peukerts)
    return [max(1.0, float(one.max())) for one in weighed]


def depth_taken(
    share: float | Floats,
    hours: float | Floats,
    rate_h: float | Floats,
    peukert: float | Floats,
) -> Floats:
    """Return the depth that a share of the rated capacity takes when drawn in ``hours``.

    Parameters
    ----------
    share : float or ndarray
        Charge drawn as a share of the capacity at the rated current, ≥ 0; may exceed 1.
    hours : float or ndarray
        Time in which it is drawn evenly [h], > 0.
    rate_h : float or ndarray
        Rated hours [h].
    peukert : float or ndarray
        Peukert's exponent, ≥ 1.

    Returns
    -------
    ndarray in [0, 1e57]
        share · max(1, (share · H / t)^(k−1)): share · H / t is the mean current over the rated
        one. No credit is taken below the rated current.

    Examples
    --------
    >>> depth_taken(0.5, np.array([2.0, 20.0]), 20, 1.2).round(3).tolist()
    [0.69, 0.5]
    """
    current = np.asarray(share) * rate_h / hours
    return np.asarray(share * np.maximum(1.0, current) ** (np.asarray(peukert) - 1.0))
