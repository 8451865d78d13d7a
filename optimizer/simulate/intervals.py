"""What is not known: from a log that is short, and from a simulation that is short."""

import math
from dataclasses import dataclass

import numpy as np

from optimizer.model.arrays import Floats

#: Two-sided 95 % of the normal distribution.
_Z95 = 1.959964
_TAIL = 0.025
#: A quantile needs no more digits than a percentage shown with one decimal.
_QUANTILE_TOLERANCE = 1e-12
#: Terms of the continued fraction, evaluated from behind: so many, and so many times √(a + b).
_LEAST_TERMS, _TERMS_A_ROOT = 50, 4
#: Resamples of a log; the ends of the interval then stand to about a tenth of its width.
_RESAMPLES = 2_000
#: Upper end of the 95 % interval of a Poisson mean where none was seen: −ln 0.05, rounded.
RULE_OF_THREE = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """A 95 % interval."""

    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A figure from simulated years, and the two ways in which it may be wrong.

    Parameters
    ----------
    value : float
        The figure.
    monte_carlo : float
        Half the 95 % interval that comes of having simulated no more years.
    from_log : Interval or None
        What the log behind it can know: the 95 % interval that comes of having logged no more
        outages. None where there is no log, or it says nothing: no energy can be put on outages
        that were never missed.
    """

    value: float
    monte_carlo: float
    from_log: Interval | None


def share_interval(carried: float, count: int) -> Interval:
    """Return what so many carried of so many outages tell of the share, with 95 % confidence.

    Those carried, [0, count], need not be whole: they may be a mean over ways to run them.

    Notes
    -----
    The exact interval of Clopper and Pearson (1934), by quantiles of the beta distribution; where
    none was missed, the rule of three (Hanley and Lippman-Hand 1983): at most 3 / count missed.

    Examples
    --------
    >>> interval = share_interval(30, 32)
    >>> round(interval.low, 3), round(interval.high, 3)
    (0.792, 0.992)
    >>> share_interval(30, 30)
    Interval(low=0.9, high=1.0)
    """
    missed = count - carried
    if missed <= 0:
        return Interval(low=max(0.0, 1 - RULE_OF_THREE / count), high=1.0)
    low = _beta_quantile(_TAIL, carried, missed + 1) if carried > 0 else 0.0
    return Interval(low=low, high=_beta_quantile(1 - _TAIL, carried + 1, missed))


def _beta_quantile(share: float, a: float, b: float) -> float:
    """Return a quantile of the beta distribution, by halving; the tests hold it against scipy.

    Written here because importing scipy takes longer than the whole rest of an answer.
    """
    low, high = 0.0, 1.0
    while high - low > _QUANTILE_TOLERANCE:
        middle = (low + high) / 2
        low, high = (middle, high) if _beta_share_below(middle, a, b) < share else (low, middle)
    return (low + high) / 2


def _beta_share_below(x: float, a: float, b: float) -> float:
    """Return the regularised incomplete beta function, by its continued fraction (DLMF 8.17.22)."""
    if x > (a + 1) / (a + b + 2):  # beyond, the fraction of the mirrored side converges faster
        return 1 - _beta_share_below(1 - x, b, a)
    logarithm = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    front = math.exp(logarithm + a * math.log(x) + b * math.log1p(-x)) / a
    fraction = 1.0
    for step in range(_LEAST_TERMS + int(_TERMS_A_ROOT * math.sqrt(a + b)), 0, -1):
        m, odd = divmod(step, 2)
        term = -(a + m) * (a + b + m) if odd else m * (b - m)
        fraction = 1 + term * x / ((a + step - 1) * (a + step)) / fraction
    return front / fraction


def yearly_interval(each: Floats, log_years: float, seed: int) -> Interval | None:
    """Return what a log tells of a yearly total, with 95 % confidence: its bootstrap.

    ``each`` is what each logged outage adds; None where none adds anything. Each outage comes a
    Poisson number of times of mean 1 in a resample, so that how many outages there are is as
    uncertain as what they were like (Hanley and MacGibbon 2006).
    """
    if not each.any():
        return None
    times = np.random.default_rng(seed).poisson(1.0, (_RESAMPLES, each.size))
    # by hand: numpy's own quantile imports its masked arrays, which takes longer than all of this
    place = np.array((_TAIL, 1 - _TAIL)) * (_RESAMPLES - 1)
    low, high = np.interp(place, np.arange(_RESAMPLES), np.sort(times @ each / log_years))
    return Interval(low=float(low), high=float(high))


def monte_carlo_error(by_year: Floats) -> float:
    """Return half the 95 % interval of the mean over independent years."""
    return _Z95 * float(by_year.std(ddof=1)) / math.sqrt(by_year.size)
