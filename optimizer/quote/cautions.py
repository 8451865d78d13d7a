"""Room notes and cautions for whoever connects a design, by what it is made of."""

from enum import StrEnum, auto

from optimizer.model.design import Design
from optimizer.model.job import Job


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
    SECOND_SOURCE = auto()
    ALWAYS_LIVE = auto()
    CONNECTING = auto()
    LIVE_WITHOUT_GRID = auto()
    LITHIUM_COLD = auto()
    LITHIUM_STANDARDS = auto()
    HYDROGEN = auto()
    ACID = auto()
    LEAD_STANDARDS = auto()
    WIRING_STANDARDS = auto()


class Hazard(StrEnum):
    """What everybody in the house is to know, on the sheet by the fuse board."""

    LIVE_WITHOUT_GRID = auto()
    NO_SPARKS = auto()
    LEAVE = auto()
    WHOM_TO_CALL = auto()


def hazards(design: Design) -> tuple[Hazard, ...]:
    """Return the hazards of a design; sparks where any bank of its chain is lead-acid."""
    gasses = any(bank.battery.gas != "none" for bank in design.banks)
    return tuple(one for one in Hazard if gasses or one is not Hazard.NO_SPARKS)


def room_notes(design: Design) -> tuple[RoomNote, ...]:
    """Return notes on place and clearances (common practice unless a source is named)."""
    gases = {bank.battery.gas for bank in design.banks}
    found = [RoomNote.FREE_FLOOR, RoomNote.DRY_AND_APART]
    found += [RoomNote.NO_FIRE] if "none" in gases else []
    found += [RoomNote.AIR_BETWEEN, RoomNote.ACID_PROOF] if gases != {"none"} else []
    found += [RoomNote.TOP_UP] if "vented" in gases else []
    if design.banks[0].battery.chemistry != design.banks[-1].battery.chemistry:
        found.append(RoomNote.OTHER_CHEMISTRY_LATER)
    return tuple(found)


def cautions(job: Job, design: Design) -> tuple[Caution, ...]:
    """Return the cautions of a design, later banks included; none is a statement of compliance."""
    gases = {bank.battery.gas for bank in design.banks}
    critical = (Caution.SECOND_SOURCE,) if job.critical_loads else ()
    common = Caution.ALWAYS_LIVE, Caution.CONNECTING, Caution.LIVE_WITHOUT_GRID
    lithium = (Caution.LITHIUM_COLD, Caution.LITHIUM_STANDARDS) if "none" in gases else ()
    lead = (Caution.HYDROGEN, Caution.ACID, Caution.LEAD_STANDARDS) if gases != {"none"} else ()
    return (
        Caution.PLANS_ONLY,
        *critical,
        *common,
        *lithium,
        *lead,
        Caution.WIRING_STANDARDS,
    )
