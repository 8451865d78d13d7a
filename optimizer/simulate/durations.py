"""How long a drawn outage lasts: a choice of distributions, each with its parameters."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from optimizer.errors import Fault, InputError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class Durations(Protocol):
    """Draws durations."""

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        ...

    def longer_than(self, hours: float) -> float:
        """Return the probability of more than so many hours [h]."""
        ...


def _require_positive(name: str, **parameters: float) -> None:
    faults = [
        Fault(name, None, key, repr(value), "a finite number above 0")
        for key, value in parameters.items()
        if not (math.isfinite(value) and value > 0)
    ]
    if faults:
        raise InputError(faults)


@dataclass(frozen=True, slots=True)
class Exponential:
    """Exponential durations of a given mean [h].

    >>> round(Exponential(2.0).longer_than(4.0), 6)
    0.135335
    """

    mean_hours: float

    def __post_init__(self) -> None:
        _require_positive("exponential", mean_hours=self.mean_hours)

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return rng.exponential(self.mean_hours, count)

    def longer_than(self, hours: float) -> float:
        """Return the probability of more than so many hours [h]."""
        return math.exp(-hours / self.mean_hours)


@dataclass(frozen=True, slots=True)
class Lognormal:
    """Lognormal durations of a given median [h] and standard deviation of the logarithm.

    >>> round(Lognormal(1.5, 1.0).longer_than(8.0), 6)
    0.047068
    """

    median_hours: float
    sigma: float

    def __post_init__(self) -> None:
        _require_positive("lognormal", median_hours=self.median_hours, sigma=self.sigma)

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return rng.lognormal(math.log(self.median_hours), self.sigma, count)

    def longer_than(self, hours: float) -> float:
        """Return the probability of more than so many hours [h]."""
        return math.erfc(math.log(hours / self.median_hours) / self.sigma / math.sqrt(2)) / 2


@dataclass(frozen=True, slots=True)
class Weibull:
    """Weibull durations of a given shape and scale [h].

    >>> round(Weibull(0.7, 2.0).longer_than(4.0), 6)
    0.197009
    """

    shape: float
    scale_hours: float

    def __post_init__(self) -> None:
        _require_positive("weibull", shape=self.shape, scale_hours=self.scale_hours)

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return self.scale_hours * rng.weibull(self.shape, count)

    def longer_than(self, hours: float) -> float:
        """Return the probability of more than so many hours [h]."""
        return math.exp(-((hours / self.scale_hours) ** self.shape))


@dataclass(frozen=True, slots=True)
class Known:
    """The site's own durations [h], each as often as it comes in a year.

    >>> Known(((1.0, 3.0), (10.0, 1.0))).longer_than(4.0)
    0.25
    """

    yearly: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        total = sum(times for _, times in self.yearly)
        _require_positive("known durations", times_a_year=total)

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        hours, times = np.array(self.yearly).T
        drawn: Floats = rng.choice(hours, count, p=times / times.sum())
        return drawn

    def longer_than(self, hours: float) -> float:
        """Return the probability of more than so many hours [h]."""
        total = sum(times for _, times in self.yearly)
        return sum(times for length, times in self.yearly if length > hours) / total
