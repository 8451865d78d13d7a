"""What was asked, what stands in the way of it, and what would open it: identifiers and numbers."""

from dataclasses import KW_ONLY, dataclass
from enum import StrEnum
from typing import ClassVar, Self

from optimizer.model.requirement import Requirement


class GoalKind(StrEnum):
    """What kind of question is asked."""

    HOURS = "hours"
    UPFRONT_BUDGET = "upfront_budget"
    LIFETIME_BUDGET = "lifetime_budget"


@dataclass(frozen=True, slots=True)
class Goal:
    """A question: the least cost of some hours, or the longest autonomy that money buys.

    Parameters
    ----------
    kind : GoalKind
        Which of them.
    hours : int
        The autonomy required [h]; 1 where money is the limit.
    amount : float or None
        The money that is the limit [currency].
    family : str or None
        Only banks of this chemistry family.
    currency : str
        Of all money in the answer, a code of ISO 4217.
    """

    kind: GoalKind
    _: KW_ONLY
    currency: str
    hours: int = 1
    amount: float | None = None
    family: str | None = None


class HindranceKind(StrEnum):
    """What kind of thing stands in the way."""

    REQUIREMENT = "requirement"
    MONEY = "money"
    NO_INVERTER_SET = "no_inverter_set"
    NO_BANK = "no_bank"
    NO_PAIR = "no_pair"


@dataclass(frozen=True, slots=True)
class Hindrance:
    """One thing that stands in the way.

    ``requirement`` is set where lifting it alone gives a design; ``sets`` and ``banks`` count
    what passes by itself where no pair holds long enough.
    """

    kind: HindranceKind
    _: KW_ONLY
    requirement: Requirement | None = None
    sets: int | None = None
    banks: int | None = None


class RelaxationKind(StrEnum):
    """What a person could change; each kind knows its unit, "money" for the site's currency."""

    unit: str

    def __new__(cls, value: str, unit: str = "") -> Self:
        """Make a member from its identifier and its unit."""
        member = str.__new__(cls, value)
        member._value_ = value
        member.unit = unit
        return member

    HOURS = "hours", "h"
    UPFRONT_BUDGET = "upfront_budget", "money"
    LIFETIME_BUDGET = "lifetime_budget", "money"
    LATER_LIMIT = "later_limit", "money"
    LARGEST_START = "largest_start", "W"
    PEAK = "peak", "W"
    LOWEST_TEMPERATURE = "lowest_temperature", "°C"
    RECHARGE_HOURS = "recharge_hours", "h"
    CHARGER = "charger", "A"
    BANK_MASS = "bank_mass", "kg"
    STRINGS = "strings"


@dataclass(frozen=True, slots=True)
class Opening:
    """A change with the mildest setting that opens the question.

    Parameters
    ----------
    kind : RelaxationKind
        What is changed.
    now : float or None
        How it stands; None where there is no limit of the site's own.
    needed : float
        What it takes.
    load : str or None
        The load it is about.
    makers_most : int or None
        The most strings that any maker allows.
    """

    also: ClassVar[tuple[str, ...]] = ("unit",)

    kind: RelaxationKind
    _: KW_ONLY
    now: float | None
    needed: float
    load: str | None = None
    makers_most: int | None = None

    @property
    def unit(self) -> str:
        """Unit of both settings."""
        return self.kind.unit


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Why nothing fits, and what would open it: single changes, and pairs where none does."""

    hindrances: tuple[Hindrance, ...]
    openings: tuple[Opening, ...]
    pairs: tuple[tuple[Opening, Opening], ...]
