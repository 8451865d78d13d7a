"""A design: one inverter set for the horizon and the chain of banks behind it."""

from dataclasses import dataclass, field, replace
from typing import ClassVar, Self

from optimizer.model.job import Battery, Cable, Contract, Fuse, Generator, Inverter
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True)
class BankPeriod:
    """A bank and its time in service, from the start of year ``start`` to that of year ``end``.

    Where the time is longer than a life, ``bought`` banks follow one another, each for a whole
    service life but the last. The depth chosen is ``battery.max_dod``.
    """

    also: ClassVar[tuple[str, ...]] = ("max_dod",)

    battery: Battery = field(metadata=shown(take=("battery", "chemistry", "family")))
    series: int
    strings: int
    start: int
    end: int
    service_life_years: float = field(metadata=shown("service_life"))
    bought: int = 1

    @property
    def max_dod(self) -> float:
        """The depth of discharge chosen, share of the capacity."""
        return self.battery.max_dod

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

    @property
    def energy_wh(self) -> float:
        """Nominal energy of the bank [Wh]."""
        return self.units * self.battery.voltage_v * self.battery.capacity_ah

    @property
    def mass_kg(self) -> float:
        """Mass of the bank [kg]."""
        return self.units * self.battery.mass_kg

    @property
    def floor_m2(self) -> float | None:
        """Floor that its units cover side by side, without gaps [m²]; None if not known."""
        battery = self.battery
        if battery.length_mm is None or battery.width_mm is None:
            return None
        return self.units * battery.length_mm * battery.width_mm / 1e6


@dataclass(frozen=True, slots=True)
class CableRun:
    """The battery cable of one inverter: ``runs`` equal pairs of one section, and their fuse."""

    cable: Cable = field(metadata=shown("section_mm2", take=("section_mm2",)))
    runs: int
    fuse: Fuse = field(metadata=shown("fuse_a", take=("rating_a",)))


@dataclass(frozen=True, slots=True)
class Design:
    """One answer of the program.

    ``hours`` is the autonomy whose conditions the design meets (it carries every shorter outage
    too); money in the site's currency: ``life_cycle_cost`` in present value over the horizon,
    ``upfront_cost`` what is paid at the start of year 0. ``wiring`` is that of one inverter,
    None where battery and inverter share a box.
    ``contract`` is the step of the supply contract where the site offers steps; ``generator`` and
    ``fuel_l`` [l], what is stored for it, where there is one. ``charge_at_start`` is the share of
    full at which outages find the bank: 1 but for a bank that stands and is said to be kept lower.
    """

    hours: int
    life_cycle_cost: float
    upfront_cost: float
    voltage_v: int = field(metadata=shown("voltage"))
    inverter: Inverter = field(metadata=shown(take=("inverter",)))
    inverter_units: int = field(metadata=shown("units"))
    wiring: CableRun | None
    banks: tuple[BankPeriod, ...]
    contract: Contract | None = field(default=None, metadata=shown("contract_w", take=("power_w",)))
    generator: Generator | None = field(default=None, metadata=shown(take=("generator",)))
    fuel_l: float = 0.0
    charge_at_start: float = field(default=1.0, metadata=shown(hide=True))

    @property
    def power_w(self) -> float:
        """Rated power of the inverter set [W]."""
        return self.inverter_units * self.inverter.power_w

    @property
    def mass_kg(self) -> float:
        """Mass of the first bank and the inverter set [kg]."""
        return self.banks[0].mass_kg + self.inverter_units * self.inverter.mass_kg

    @property
    def equipment(self) -> tuple[object, ...]:
        """All that is bought but fuel."""
        inverters = self.inverter, self.inverter_units, self.wiring
        return *inverters, self.banks, self.contract, self.generator

    @property
    def bank_alone(self) -> Self:
        """The same without its generator: what an outage is like until that one is started."""
        return replace(self, generator=None, fuel_l=0.0)
