"""A bank and inverters that stand already, or that somebody has quoted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.model.job import Battery, Inverter


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
        Of the bank [a].
    paid : float or None
        What was or is asked for it all [currency].
    """

    inverter: Inverter
    units: int
    battery: Battery
    strings: int
    voltage_v: int
    age_years: float = 0.0
    paid: float | None = None

    @property
    def series(self) -> int:
        """Battery units in one string."""
        return self.voltage_v // self.battery.class_v
