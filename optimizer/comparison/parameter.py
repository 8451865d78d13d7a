"""A number of a job that may be doubted: its name, its range, and the job under another value."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from optimizer.model.job import Job
from optimizer.model.shown import shown

#: Makes the job with another number, of a family where it is one's own; a function of a module, so
#: that other processes find it.
Change = Callable[[Job, float, str | None], Job]


class Kind(StrEnum):
    """What a parameter is of; with its family it is the parameter's key."""

    OUTAGES = "outages"
    DISCOUNT_RATE = "rate"
    STUDY_PERIOD = "study-period"
    PRICE = "price"
    PRICE_DRIFT = "drift"
    RESIDUAL_SHARE = "residual-share"
    TEMPERATURE = "room"
    DEPTH = "depth"
    CYCLE_LIFE = "cycle-life"
    FLOAT_LIFE = "float-life"
    TARIFF = "tariff"
    CHARGER = "charger"
    CONTRACT_PRICE = "contract-price"
    FUEL_PRICE = "fuel-price"
    LOAD = "load"
    LOST_LOAD = "lost-load"


#: Those that each family of the price list has one of.
FAMILY_KINDS = frozenset({Kind.PRICE, Kind.DEPTH, Kind.CYCLE_LIFE, Kind.FLOAT_LIFE})


class Unit(StrEnum):
    """What a parameter is counted in."""

    TIMES_A_YEAR = "1/a"
    SHARE = "share"
    MORE_SHARE = "more_share"
    YEARS = "a"
    FACTOR = "factor"
    DEGC = "°C"
    MONEY_PER_KWH = "currency/kWh"
    MONEY_PER_LITRE = "currency/l"


#: Units that are shown in per cent.
SHARES = frozenset({Unit.SHARE, Unit.MORE_SHARE})


class Shape(StrEnum):
    """How costs move along a parameter, which decides how switch points are found.

    ``CONCAVE``: a design's cost runs straight, or bends down where its residual value reaches
    zero, and what is allowed does not change; so the least cost is concave and made of straight
    pieces. ``WHOLE``: whole numbers only. ``ANY``: nothing is known.
    """

    CONCAVE = "concave"
    WHOLE = "whole"
    ANY = "any"


@dataclass(frozen=True, kw_only=True)
class Parameter:
    """One number of a job that may be otherwise.

    ``low`` and ``high`` bound the search; ``doubt`` are the two values of a sensitivity.
    """

    also: ClassVar[tuple[str, ...]] = ("key",)

    kind: Kind
    unit: Unit
    base: float
    low: float
    high: float
    doubt: tuple[float, float]
    change: Change = field(metadata=shown(hide=True))
    shape: Shape = field(default=Shape.ANY, metadata=shown(hide=True))
    family: str | None = None

    @property
    def key(self) -> str:
        """What it is called in commands and files, such as "outages" or "price:lithium"."""
        return self.kind if self.family is None else f"{self.kind}:{self.family}"

    def at(self, job: Job, value: float) -> Job:
        """Return the job with this number instead; the job itself at the base."""
        return job if value == self.base else self.change(job, value, self.family)
