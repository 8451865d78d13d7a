"""The parts of the circuit in words."""

from collections.abc import Mapping
from typing import Final

from optimizer.model.part import PartKind
from optimizer.quote.circuit import CircuitPart, Offered
from optimizer.report.words.writer import Sentence, Writer

#: What each part is.
KINDS: Final[Mapping[PartKind, Sentence]] = {
    PartKind.CELLS: Sentence("Battery"),
    PartKind.STRING_CABLE: Sentence("String cable"),
    PartKind.STRING_FUSE: Sentence("String fuse"),
    PartKind.STRING_ISOLATOR: Sentence("String isolator"),
    PartKind.SHUNT: Sentence("Shunt"),
    PartKind.MAIN_ISOLATOR: Sentence("Main isolator"),
    PartKind.BUSBAR: Sentence("Busbar"),
    PartKind.INVERTER_FUSE: Sentence("Inverter fuse"),
    PartKind.BATTERY_CABLE: Sentence("Inverter cable"),
    PartKind.PRE_CHARGE: Sentence("Pre-charge"),
    PartKind.INVERTER: Sentence("Inverter-charger"),
    PartKind.SUPPLY_BREAKER: Sentence("Input breaker"),
    PartKind.SURGE_PROTECTION: Sentence("Surge protective device"),
    PartKind.GENERATOR_SWITCH: Sentence("Transfer switch, interlocked"),
    PartKind.OUTPUT_BREAKER: Sentence("Output breaker"),
    PartKind.RCD: Sentence("RCD, 30 mA"),
    PartKind.NEUTRAL_BOND: Sentence("Neutral–earth bond"),
    PartKind.EARTHING_CONDUCTOR: Sentence("Protective conductor"),
    PartKind.BONDING_CONDUCTOR: Sentence("Bonding conductor"),
    PartKind.DC_EARTH: Sentence("Pole of the bank to earth"),
}


def named(write: Writer, part: CircuitPart) -> str:
    """Return a part with its model where it is one of the price list."""
    kind = write.say(KINDS[part.kind].english)
    return write.say("{kind}: {name}", kind=kind, name=part.name) if part.name else kind


def rating(write: Writer, part: CircuitPart) -> str | None:
    """Return what a part is rated for, None where that is said in words."""
    found = part.rating
    if found is None:
        return None
    if found.is_least:
        return write.say("at least {value:figure} {unit}", value=found.value, unit=found.unit)
    return write.say("{value:figure} {unit}", value=found.value, unit=found.unit)


#: Whether a part's price is in the offer.
OFFERED: Final[Mapping[Offered, Sentence]] = {
    Offered.PRICED: Sentence("in the offer"),
    Offered.NOT_LISTED: Sentence("not in the price list"),
    Offered.BY_LENGTH: Sentence("by length, measured on site"),
    Offered.DECISION: Sentence("to be decided"),
}
