"""How long a simulated outage lasts: a choice of distributions, stated or fitted to a log."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from optimizer.errors import Fault, InputError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Self

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class Durations(Protocol):
    """Draws durations, which may be longer than any that was seen."""

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
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
    """Exponential durations of a given mean [h]."""

    mean_hours: float

    def __post_init__(self) -> None:
        _require_positive("exponential", mean_hours=self.mean_hours)

    @classmethod
    def fitted(cls, hours: Sequence[float]) -> Self:
        """Return the likeliest for durations as they were [h]: that of their mean."""
        return cls(float(np.mean(hours)))

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return rng.exponential(self.mean_hours, count)


@dataclass(frozen=True, slots=True)
class Lognormal:
    """Lognormal durations of a given median [h] and standard deviation of the logarithm."""

    median_hours: float
    sigma: float

    def __post_init__(self) -> None:
        _require_positive("lognormal", median_hours=self.median_hours, sigma=self.sigma)

    @classmethod
    def fitted(cls, hours: Sequence[float]) -> Self:
        """Return the likeliest for durations as they were [h]: that of their logarithms."""
        logs = np.log(hours)
        return cls(math.exp(float(logs.mean())), float(logs.std()))

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return rng.lognormal(math.log(self.median_hours), self.sigma, count)


@dataclass(frozen=True, slots=True)
class Weibull:
    """Weibull durations of a given shape and scale [h]."""

    shape: float
    scale_hours: float

    def __post_init__(self) -> None:
        _require_positive("weibull", shape=self.shape, scale_hours=self.scale_hours)

    @classmethod
    def fitted(cls, hours: Sequence[float]) -> Self:
        """Return the likeliest for durations as they were [h]."""
        from scipy.stats import weibull_min  # noqa: PLC0415 - start-up time

        spread = float(np.ptp(hours))
        _require_positive("weibull, fitted to the log", longest_less_shortest_hours=spread)
        shape, _, scale = weibull_min.fit(hours, floc=0)
        return cls(float(shape), float(scale))

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return self.scale_hours * rng.weibull(self.shape, count)
