"""One requirement on a design, and how amply it is met."""

from dataclasses import KW_ONLY, dataclass, field
from enum import StrEnum
from typing import ClassVar, Self

from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.design import BankPeriod
from optimizer.model.requirement import Requirement
from optimizer.model.shown import Unbounded, shown


class CheckKind(StrEnum):
    """What is checked; each kind knows its unit, its family, and whether it is a ceiling.

    ``unit`` is "money" for the site's currency and empty for counts and conditions.
    ``requirement`` is the family that can be lifted, None for autonomy, age and money.
    """

    unit: str
    requirement: Requirement | None
    at_most: bool

    def __new__(
        cls, value: str, unit: str = "", requirement: Requirement | None = None, most: str = ""
    ) -> Self:
        """Make a member from its identifier and what it knows."""
        member = str.__new__(cls, value)
        member._value_ = value
        member.unit, member.requirement, member.at_most = unit, requirement, bool(most)
        return member

    POWER = "power", "W", Requirement.POWER
    APPARENT_POWER = "apparent_power", "VA", Requirement.POWER
    SURGE = "surge", "W", Requirement.SURGE
    CABLE_CURRENT = "cable_current", "A", Requirement.WIRING
    FUSE_CURRENT = "fuse_current", "A", Requirement.WIRING
    FUSE_PROTECTION = "fuse_protection", "A", Requirement.WIRING, "at most"
    FUSE_VOLTAGE = "fuse_voltage", "V", Requirement.WIRING
    VOLTAGE_DROP = "voltage_drop", "V", Requirement.WIRING, "at most"
    TRANSFER = "transfer", "VA", Requirement.TRANSFER
    WORKS_IN_PARALLEL = "works_in_parallel", "", Requirement.CONTRACT
    PEAK_HELP = "peak_help", "W", Requirement.CONTRACT
    CONTRACT_TRANSFER = "contract_transfer", "W", Requirement.CONTRACT
    GENERATOR_POWER = "generator_power", "W", Requirement.GENERATOR
    GENERATOR_APPARENT_POWER = "generator_apparent_power", "VA", Requirement.GENERATOR
    GENERATOR_SURGE = "generator_surge", "W", Requirement.GENERATOR
    GENERATOR_REFILL = "generator_refill", "kWh", Requirement.GENERATOR
    GENERATOR_HOURS = "generator_hours"
    FUEL = "fuel", "l", Requirement.GENERATOR
    FUEL_LIMIT = "fuel_limit", "l", Requirement.GENERATOR, "at most"
    INVERTER_UNITS = "inverter_units", "", None, "at most"
    ENERGY = "energy", "kWh"
    ENERGY_TODAY = "energy_today", "kWh"
    DISCHARGE_CURRENT = "discharge_current", "A", Requirement.DISCHARGE
    START_CURRENT = "start_current", "A", Requirement.START
    LEAST_CHARGING_CURRENT = "least_charging_current", "A", Requirement.REFILL
    RECHARGE = "recharge", "A", Requirement.REFILL
    BETWEEN_CUTS = "between_cuts", "A", Requirement.CUTS
    SAME_BOX = "same_box"
    SCHEDULED_CUTS_CLOSE = "scheduled_cuts_close", "A", Requirement.REFILL
    SCHEDULED_CUTS_CARRIED = "scheduled_cuts_carried"
    STRINGS = "strings", "", Requirement.STRINGS, "at most"
    SERIES = "series", "", None, "at most"
    MASS = "mass", "kg", Requirement.MASS, "at most"
    LOWEST_TEMPERATURE = "lowest_temperature", "°C", Requirement.COLD
    VENTILATED_PLACE = "ventilated_place", "", Requirement.VENTED
    AGE = "age", "years", None, "at most"
    RENEWALS = "renewals"
    LEAST_SERVICE = "least_service", "years"
    STATED_LIFE = "stated_life", "years"
    UPFRONT_COST = "upfront_cost", "money", None, "at most"
    LIFE_CYCLE_COST = "life_cycle_cost", "money", None, "at most"
    LATER_COST = "later_cost", "money", None, "at most"


#: Conditions that hold or do not: 1 is required, 1 or 0 provided.
CONDITIONS = frozenset(
    {
        CheckKind.GENERATOR_HOURS,
        CheckKind.SAME_BOX,
        CheckKind.SCHEDULED_CUTS_CARRIED,
        CheckKind.VENTILATED_PLACE,
        CheckKind.WORKS_IN_PARALLEL,
    }
)


@dataclass(frozen=True, slots=True)
class Check:
    """One requirement: what is required and what the design provides, in the kind's unit.

    Parameters
    ----------
    kind : CheckKind
        What is checked.
    required, provided : float
        In the unit of the kind.
    bank : BankPeriod or None
        The bank it is about.
    year : int or None
        The year in which it is tightest, from 0.
    hours : float or None
        The autonomy or the time it is about [h].
    degc : float or None
        The temperature it is about [°C].
    """

    also: ClassVar[tuple[str, ...]] = ("unit", "at_most", "requirement", "met", "margin")

    kind: CheckKind
    _: KW_ONLY
    required: float
    provided: float
    bank: BankPeriod | None = field(default=None, metadata=shown(take=("battery", "start", "end")))
    year: int | None = None
    hours: float | None = None
    degc: float | None = None

    @property
    def unit(self) -> str:
        """Unit of what is required and provided."""
        return self.kind.unit

    @property
    def at_most(self) -> bool:
        """Whether the requirement is a ceiling, not a floor."""
        return self.kind.at_most

    @property
    def requirement(self) -> Requirement | None:
        """The family that can be lifted; None for autonomy, age and money."""
        return self.kind.requirement

    @property
    def met(self) -> bool:
        """Whether the design meets it, within a relative 1e-9 in its favour."""
        return self.met_within(RELATIVE_TOLERANCE)

    def met_within(self, tolerance: float) -> bool:
        """Tell whether the design meets it within a relative tolerance in its favour."""
        slack = tolerance * max(abs(self.required), abs(self.provided))
        if self.at_most:
            return self.provided <= self.required + slack
        return self.provided >= self.required - slack

    @property
    def margin(self) -> Unbounded:
        """What is to spare as a share of the requirement; infinite where nothing is required."""
        if self.required == 0:
            return float("inf")
        spare = self.required - self.provided if self.at_most else self.provided - self.required
        return spare / abs(self.required)

    def __str__(self) -> str:
        return f"{self.kind}: {self.required:g} required, {self.provided:g} provided"
