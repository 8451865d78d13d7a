"""A design: one inverter set for the horizon and the chain of banks behind it."""

from __future__ import annotations

from dataclasses import dataclass

from optimizer.model.job import Battery, Cable, Contract, Fuse, Generator, Inverter, Job


@dataclass(frozen=True, slots=True)
class BankPeriod:
    """A bank and its time in service, from the start of year ``start`` to that of year ``end``.

    Where the time is longer than a life, ``bought`` banks follow one another, each for a whole
    service life but the last. The depth chosen is ``battery.max_dod``.
    """

    battery: Battery
    series: int
    strings: int
    start: int
    end: int
    service_life_years: float
    bought: int = 1

    @property
    def purchase_years(self) -> tuple[float, ...]:
        """When each of the banks is bought [a], a real number."""
        return tuple(self.start + one * self.service_life_years for one in range(self.bought))

    @property
    def last_age_years(self) -> float:
        """How old the last of the banks is when it is retired [a]."""
        return self.end - self.purchase_years[-1]

    @property
    def units(self) -> int:
        """Battery units in the bank."""
        return self.series * self.strings


@dataclass(frozen=True, slots=True)
class CableRun:
    """The battery cable of one inverter: ``runs`` equal pairs of one section, and their fuse."""

    cable: Cable
    runs: int
    fuse: Fuse


@dataclass(frozen=True, slots=True)
class Design:
    """One answer of the program.

    ``hours`` is the autonomy whose conditions the design meets (it carries every shorter outage
    too); money in the site's currency: ``life_cycle_cost`` in present value over the horizon,
    ``upfront_cost`` what is paid at the start of year 0. ``wiring`` is that of one inverter.
    ``contract`` is the step of the supply contract where the site offers steps; ``generator`` and
    ``fuel_l`` [l], what is stored for it, where there is one.
    """

    hours: int
    life_cycle_cost: float
    upfront_cost: float
    voltage_v: int
    inverter: Inverter
    inverter_units: int
    wiring: CableRun
    banks: tuple[BankPeriod, ...]
    contract: Contract | None = None
    generator: Generator | None = None
    fuel_l: float = 0.0


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
