"""The parts of the circuit in words."""

from optimizer.model.part import PartKind
from optimizer.quote.circuit import CircuitPart, Offered
from optimizer.report.words.writer import Writer


def kinds(write: Writer) -> dict[PartKind, str]:
    """Return what each part is."""
    return {
        PartKind.CELLS: write.say("Battery"),
        PartKind.STRING_CABLE: write.say("String cable"),
        PartKind.STRING_FUSE: write.say("String fuse"),
        PartKind.STRING_ISOLATOR: write.say("String isolator"),
        PartKind.SHUNT: write.say("Shunt"),
        PartKind.MAIN_ISOLATOR: write.say("Main isolator"),
        PartKind.BUSBAR: write.say("Busbar"),
        PartKind.INVERTER_FUSE: write.say("Inverter fuse"),
        PartKind.BATTERY_CABLE: write.say("Inverter cable"),
        PartKind.PRE_CHARGE: write.say("Pre-charge"),
        PartKind.INVERTER: write.say("Inverter-charger"),
        PartKind.SUPPLY_BREAKER: write.say("Input breaker"),
        PartKind.SURGE_PROTECTION: write.say("Surge protective device"),
        PartKind.GENERATOR_SWITCH: write.say("Transfer switch, interlocked"),
        PartKind.OUTPUT_BREAKER: write.say("Output breaker"),
        PartKind.RCD: write.say("RCD, 30 mA"),
        PartKind.NEUTRAL_BOND: write.say("Neutral–earth bond"),
        PartKind.EARTHING_CONDUCTOR: write.say("Protective conductor"),
        PartKind.BONDING_CONDUCTOR: write.say("Bonding conductor"),
        PartKind.DC_EARTH: write.say("Pole of the bank to earth"),
    }


def named(write: Writer, part: CircuitPart) -> str:
    """Return a part with its model where it is one of the price list."""
    kind = kinds(write)[part.kind]
    return write.say("{kind}: {name}", kind=kind, name=part.name) if part.name else kind


def rating(write: Writer, part: CircuitPart) -> str | None:
    """Return what a part is rated for, None where that is said in words."""
    found = part.rating
    if found is None:
        return None
    if found.is_least:
        return write.say("at least {value:figure} {unit}", value=found.value, unit=found.unit)
    return write.say("{value:figure} {unit}", value=found.value, unit=found.unit)


def offered(write: Writer) -> dict[Offered, str]:
    """Return whether a part's price is in the offer."""
    return {
        Offered.PRICED: write.say("in the offer"),
        Offered.NOT_LISTED: write.say("not in the price list"),
        Offered.BY_LENGTH: write.say("by length, measured on site"),
        Offered.DECISION: write.say("to be decided"),
    }
