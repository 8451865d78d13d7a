"""The kinds of parts between the cells and the loads, and a part as the price list offers it."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Final, Literal, get_args


class PartKind(StrEnum):
    """A part of the circuit, in order from the cells to the loads."""

    CELLS = "cells"
    STRING_CABLE = "string_cable"
    STRING_FUSE = "string_fuse"
    STRING_ISOLATOR = "string_isolator"
    SHUNT = "shunt"
    MAIN_ISOLATOR = "main_isolator"
    BUSBAR = "busbar"
    INVERTER_FUSE = "inverter_fuse"
    BATTERY_CABLE = "battery_cable"
    PRE_CHARGE = "pre_charge"
    INVERTER = "inverter"
    SUPPLY_BREAKER = "supply_breaker"
    SURGE_PROTECTION = "surge_protection"
    GENERATOR_SWITCH = "generator_switch"
    OUTPUT_BREAKER = "output_breaker"
    RCD = "rcd"
    NEUTRAL_BOND = "neutral_bond"
    EARTHING_CONDUCTOR = "earthing_conductor"
    BONDING_CONDUCTOR = "bonding_conductor"
    DC_EARTH = "dc_earth"


#: Kinds that the table of parts may hold; the rest has tables of its own, or is no ware.
ListedKind = Literal[
    "string_isolator",
    "shunt",
    "main_isolator",
    "busbar",
    "pre_charge",
    "supply_breaker",
    "surge_protection",
    "generator_switch",
    "output_breaker",
    "rcd",
]
LISTED_KINDS: Final = tuple(PartKind(kind) for kind in get_args(ListedKind))
#: Kinds without a rating to choose by.
UNRATED_KINDS: Final = frozenset({PartKind.PRE_CHARGE, PartKind.SURGE_PROTECTION})


@dataclass(frozen=True, slots=True)
class ListedPart:
    """A part on offer.

    ``rating_a`` is None where its kind has none; ``rated_v`` of direct current, None where not
    stated.
    """

    kind: PartKind
    price: float
    rating_a: float | None = None
    rated_v: float | None = None
    warranty_years: float | None = None
    supplier: str | None = None
    supplier_code: str | None = None
    price_date: date | None = None
