"""How long a simulated outage lasts: a choice of distributions, stated or fitted to a log."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, Self

import numpy as np

from optimizer.errors import Fault, InputError
from optimizer.model.arrays import Floats
from optimizer.model.phrase import Phrase


class Durations(Protocol):
    """Draws durations, which may be longer than any that was seen."""

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        ...


#: Longest median, mean or scale [h], widest spread of the logarithm, and the shapes of a Weibull
#: distribution that outages can have.
_LONGEST_H = 10_000.0
_WIDEST_SIGMA = 5.0
_FLATTEST, _STEEPEST = 0.1, 100.0


def _require(name: str, **parameters: tuple[float, float, float]) -> None:
    """Refuse each (value, least, most) that is not above its least and at most its most."""
    faults = [
        Fault(
            name,
            None,
            key,
            repr(value),
            Phrase(
                "a number above {least} and at most {most}", least=f"{least:g}", most=f"{most:g}"
            ),
        )
        for key, (value, least, most) in parameters.items()
        if not least < value <= most
    ]
    if faults:
        raise InputError(faults)


@dataclass(frozen=True, slots=True)
class Exponential:
    """Exponential durations of a given mean [h]."""

    mean_hours: float

    def __post_init__(self) -> None:
        _require("exponential", mean_hours=(self.mean_hours, 0, _LONGEST_H))

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
        _require(
            "lognormal",
            median_hours=(self.median_hours, 0, _LONGEST_H),
            sigma=(self.sigma, 0, _WIDEST_SIGMA),
        )

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
        _require(
            "weibull",
            shape=(self.shape, _FLATTEST, _STEEPEST),
            scale_hours=(self.scale_hours, 0, _LONGEST_H),
        )

    @classmethod
    def fitted(cls, hours: Sequence[float]) -> Self:
        """Return the likeliest for durations as they were [h]."""
        from scipy.stats import weibull_min  # noqa: PLC0415 - start-up time

        spread = float(np.ptp(hours))
        _require("weibull, fitted to the log", longest_less_shortest_hours=(spread, 0, _LONGEST_H))
        shape, _, scale = weibull_min.fit(hours, floc=0)
        return cls(float(shape), float(scale))

    def draw(self, rng: np.random.Generator, count: int) -> Floats:
        """Return that many durations [h]."""
        return self.scale_hours * rng.weibull(self.shape, count)
