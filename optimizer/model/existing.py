"""A bank and inverters that stand already, or that somebody has quoted."""

from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from optimizer.model.job import Battery, Contract, Generator, Inverter
from optimizer.model.shown import shown

_LEAST_SHARE = 1e-9


@dataclass(frozen=True, slots=True)
class Plan:
    """The quote that a design was built from.

    Parameters
    ----------
    quote : str or None
        Its number.
    day : date or None
        Its day.
    planned_hours : int or None
        Autonomy that was planned [h].
    bank_years : int or None
        How long the plan keeps the bank [a]; it may replace it before it is worn out.
    is_unchanged : bool
        Whether the design is still the one that was planned.
    """

    quote: str | None = None
    day: date | None = None
    planned_hours: int | None = None
    bank_years: int | None = None
    is_unchanged: bool = False


@dataclass(frozen=True, slots=True)
class Existing:
    """A bank and inverters as they stand or as they were offered.

    Parameters
    ----------
    inverter : Inverter
        The model.
    units : int
        How many of it.
    battery : Battery
        The model.
    strings : int
        Strings in parallel, all of one age.
    voltage_v : int
        Of the system [V].
    age_years : float
        Of the bank [a]; any age, past its life too.
    measured_ah : float or None
        Capacity of the whole bank as measured at the rated hours [Ah], all strings together, in
        place of the computed ageing.
    charge_at_start : float
        State of charge as an outage begins, share of full.
    paid : float or None
        What was or is asked for it all [currency].
    contract : Contract or None
        The step of the supply contract; the smallest that covers every peak where not given.
    generator : Generator or None
        What stands beside the bank.
    fuel_l : float or None
        Fuel stored for it [l]; what the hours asked for take, as far as the site may store it,
        where not given.
    plan : Plan or None
        The quote it was built from, where the file says so.
    """

    also: ClassVar[tuple[str, ...]] = ("series",)

    inverter: Inverter = field(metadata=shown(take=("inverter",)))
    units: int
    battery: Battery = field(metadata=shown(take=("battery", "chemistry")))
    strings: int
    voltage_v: int = field(metadata=shown("voltage"))
    age_years: float = 0.0
    paid: float | None = None
    measured_ah: float | None = None
    charge_at_start: float = 1.0
    contract: Contract | None = field(default=None, metadata=shown("contract_w", take=("power_w",)))
    generator: Generator | None = field(default=None, metadata=shown(take=("generator",)))
    fuel_l: float | None = None
    plan: Plan | None = None

    @property
    def series(self) -> int:
        """Battery units in one string."""
        return self.voltage_v // self.battery.class_v

    @property
    def charged_share(self) -> float:
        """What is there above the lowest state of charge, of what a full bank has there.

        Never quite nothing, so that what it is divided into stays finite.
        """
        return max(_LEAST_SHARE, 1.0 - (1.0 - self.charge_at_start) / self.battery.max_dod)

    def age_here_years(self, service_life_years: float) -> float:
        """Return its age [a]; that of a bank which holds as much, where that was measured."""
        if self.measured_ah is None:
            return self.age_years
        left = min(1.0, self.measured_ah / (self.strings * self.battery.capacity_ah))
        return (1.0 - left) / (1.0 - self.battery.end_of_life_soh) * service_life_years
