"""Room notes and cautions for whoever connects a design, by what it is made of."""

from __future__ import annotations

from enum import StrEnum, auto
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.model.design import Design


class RoomNote(StrEnum):
    """What is to be minded of place and clearances."""

    FREE_FLOOR = auto()
    DRY_AND_APART = auto()
    NO_FIRE = auto()
    AIR_BETWEEN = auto()
    ACID_PROOF = auto()
    TOP_UP = auto()
    OTHER_CHEMISTRY_LATER = auto()


class Caution(StrEnum):
    """What is to be minded before anybody connects anything."""

    PLANS_ONLY = auto()
    ALWAYS_LIVE = auto()
    LIVE_WITHOUT_GRID = auto()
    LITHIUM_COLD = auto()
    LITHIUM_STANDARDS = auto()
    HYDROGEN = auto()
    ACID = auto()
    LEAD_STANDARDS = auto()
    WIRING_STANDARDS = auto()


def room_notes(design: Design) -> tuple[RoomNote, ...]:
    """Return notes on place and clearances (common practice unless a source is named)."""
    gas = design.banks[0].battery.gas
    found = [RoomNote.FREE_FLOOR, RoomNote.DRY_AND_APART]
    found += [RoomNote.NO_FIRE] if gas == "none" else [RoomNote.AIR_BETWEEN, RoomNote.ACID_PROOF]
    if gas == "vented":
        found.append(RoomNote.TOP_UP)
    if design.banks[0].battery.chemistry != design.banks[-1].battery.chemistry:
        found.append(RoomNote.OTHER_CHEMISTRY_LATER)
    return tuple(found)


def cautions(design: Design) -> tuple[Caution, ...]:
    """Return the cautions of a design; none is a statement of compliance."""
    own: tuple[Caution, ...]
    if design.banks[0].battery.gas == "none":
        own = (Caution.LITHIUM_COLD, Caution.LITHIUM_STANDARDS)
    else:
        own = (Caution.HYDROGEN, Caution.ACID, Caution.LEAD_STANDARDS)
    first = (Caution.PLANS_ONLY, Caution.ALWAYS_LIVE, Caution.LIVE_WITHOUT_GRID)
    return (*first, *own, Caution.WIRING_STANDARDS)
