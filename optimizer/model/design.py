"""A design: one inverter set for the horizon and the chain of banks behind it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.model.job import Battery, Cable, Fuse, Inverter, Job


@dataclass(frozen=True, slots=True)
class BankPeriod:
    """A bank and its time in service: bought at the start of year ``start``, retired at ``end``."""

    battery: Battery
    series: int
    strings: int
    start: int
    end: int
    service_life_years: float

    @property
    def units(self) -> int:
        """Battery units in the bank."""
        return self.series * self.strings


@dataclass(frozen=True, slots=True)
class CableRun:
    """The battery cable: ``runs`` equal pairs of one section, and the fuse that protects them."""

    cable: Cable
    runs: int
    fuse: Fuse


@dataclass(frozen=True, slots=True)
class Design:
    """One answer of the program.

    ``hours`` is the autonomy whose conditions the design meets (it carries every shorter outage
    too); money in the site's currency: ``life_cycle_cost`` in present value over the horizon,
    ``upfront_cost`` what is paid at the start of year 0.
    """

    hours: int
    life_cycle_cost: float
    upfront_cost: float
    voltage_v: int
    inverter: Inverter
    inverter_units: int
    wiring: CableRun
    banks: tuple[BankPeriod, ...]


@dataclass(frozen=True)
class Curve:
    """The exact curve of life-cycle cost against hours of autonomy.

    ``points`` are all non-dominated designs, hours and cost rising; each is proven. ``job``
    holds the limits under which they were found.
    """

    job: Job
    family: str | None
    points: tuple[Design, ...]

    def at(self, hours: int) -> Design | None:
        """Return the cheapest design that carries ``hours``, or None.

        The frontier holds it: no design is cheaper at these hours or longer.
        """
        return next((point for point in self.points if point.hours >= hours), None)
