"""The trade's terms as this project uses them, each with the standard it follows.

Definitions are told in plain words, after the standards named and from memory; the current
edition prevails.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.report.words.writer import Writer


class Term(StrEnum):
    """A term of the trade."""

    AUTONOMY = "autonomy"
    UPFRONT_COST = "upfront_cost"
    LIFE_CYCLE_COST = "life_cycle_cost"
    STUDY_PERIOD = "study_period"
    DISCOUNT_RATE = "discount_rate"
    PRESENT_VALUE = "present_value"
    RESIDUAL_VALUE = "residual_value"
    REPLACEMENT = "replacement"
    RATED_CAPACITY = "rated_capacity"
    STATE_OF_CHARGE = "state_of_charge"
    DEPTH_OF_DISCHARGE = "depth_of_discharge"
    STATE_OF_HEALTH = "state_of_health"
    SERVICE_LIFE = "service_life"
    STRING = "string"
    VALVE_REGULATED = "valve_regulated"
    VENTED = "vented"
    INVERTER_CHARGER = "inverter_charger"
    STARTING_POWER = "starting_power"
    TIER = "tier"
    UNSERVED_ENERGY = "unserved_energy"
    VALUE_OF_LOST_LOAD = "value_of_lost_load"
    TRANSFER_SWITCH = "transfer_switch"
    RCD = "rcd"
    INDEPENDENT_SIMULATION = "independent_simulation"


def term(write: Writer, one: Term) -> str:
    """Return a term as it stands in the glossary."""
    return _TERMS[one][0](write)


def meaning(write: Writer, one: Term) -> str:
    """Return what a term means here."""
    return _TERMS[one][1](write)


#: The standards that terms follow; the others are common practice or this project's own.
SOURCES: Mapping[Term, str] = {
    **dict.fromkeys(
        (
            Term.UPFRONT_COST,
            Term.LIFE_CYCLE_COST,
            Term.STUDY_PERIOD,
            Term.DISCOUNT_RATE,
            Term.PRESENT_VALUE,
            Term.RESIDUAL_VALUE,
            Term.REPLACEMENT,
        ),
        "ASTM E917",
    ),
    Term.RATED_CAPACITY: "IEC 60896",
    Term.STATE_OF_CHARGE: "IEC 60050-482",
    Term.DEPTH_OF_DISCHARGE: "IEC 60050-482",
    Term.VALVE_REGULATED: "IEC 60896-21",
    Term.VENTED: "IEC 60896-11",
    Term.TRANSFER_SWITCH: "IEC 60947-6-1",
    Term.RCD: "IEC 61008-1",
}

_Says = Callable[["Writer"], str]
_TERMS: Mapping[Term, tuple[_Says, _Says]] = {
    Term.AUTONOMY: (
        lambda write: write.say("Autonomy"),
        lambda write: write.say(
            "Hours for which the loads run without the grid, from a full bank and the worst "
            "starting hour."
        ),
    ),
    Term.UPFRONT_COST: (
        lambda write: write.say("Upfront cost"),
        lambda write: write.say(
            "All that is paid at the start: equipment, labour and fittings, tax included."
        ),
    ),
    Term.LIFE_CYCLE_COST: (
        lambda write: write.say("Life-cycle cost"),
        lambda write: write.say(
            "All that is paid over the study period, in present value, the residual value deducted."
        ),
    ),
    Term.STUDY_PERIOD: (
        lambda write: write.say("Study period"),
        lambda write: write.say("The years over which costs are counted."),
    ),
    Term.DISCOUNT_RATE: (
        lambda write: write.say("Discount rate"),
        lambda write: write.say(
            "By how much money a year later is worth less today, above inflation."
        ),
    ),
    Term.PRESENT_VALUE: (
        lambda write: write.say("Present value"),
        lambda write: write.say("What later money is worth today, by the discount rate."),
    ),
    Term.RESIDUAL_VALUE: (
        lambda write: write.say("Residual value"),
        lambda write: write.say(
            "What equipment with life left is worth at the end of the study period."
        ),
    ),
    Term.REPLACEMENT: (
        lambda write: write.say("Replacement"),
        lambda write: write.say("Equipment bought again when its service life is over."),
    ),
    Term.RATED_CAPACITY: (
        lambda write: write.say("Rated capacity"),
        lambda write: write.say(
            "Ampere-hours a new battery gives over the rated hours at the rated temperature."
        ),
    ),
    Term.STATE_OF_CHARGE: (
        lambda write: write.say("State of charge"),
        lambda write: write.say("Share of the capacity that is in the bank now."),
    ),
    Term.DEPTH_OF_DISCHARGE: (
        lambda write: write.say("Depth of discharge"),
        lambda write: write.say(
            "Share of the capacity that is taken out; at most the depth that the maker allows or "
            "that is chosen for a long life."
        ),
    ),
    Term.STATE_OF_HEALTH: (
        lambda write: write.say("State of health"),
        lambda write: write.say("Share of the new capacity that an aged bank still has."),
    ),
    Term.SERVICE_LIFE: (
        lambda write: write.say("Service life"),
        lambda write: write.say(
            "Years until the state of health is down to its end, worn by time, heat and outages."
        ),
    ),
    Term.STRING: (
        lambda write: write.say("String"),
        lambda write: write.say("Battery units in series; strings stand in parallel."),
    ),
    Term.VALVE_REGULATED: (
        lambda write: write.say("Valve-regulated"),
        lambda write: write.say(
            "Lead-acid under a valve (AGM, gel): no water to add, yet it may gas and needs air."
        ),
    ),
    Term.VENTED: (
        lambda write: write.say("Vented"),
        lambda write: write.say(
            "Lead-acid with open acid: gives off hydrogen, needs a ventilated place and water."
        ),
    ),
    Term.INVERTER_CHARGER: (
        lambda write: write.say("Inverter-charger"),
        lambda write: write.say(
            "Makes mains from the bank when the grid is gone, and charges it when it is back."
        ),
    ),
    Term.STARTING_POWER: (
        lambda write: write.say("Starting power"),
        lambda write: write.say(
            "What a motor draws for seconds as it starts, several times what it runs on."
        ),
    ),
    Term.TIER: (
        lambda write: write.say("Tier"),
        lambda write: write.say("Loads that are kept or let go together."),
    ),
    Term.UNSERVED_ENERGY: (
        lambda write: write.say("Unserved energy"),
        lambda write: write.say("Energy that loads ask for in outages and do not get."),
    ),
    Term.VALUE_OF_LOST_LOAD: (
        lambda write: write.say("Value of lost load"),
        lambda write: write.say("What a kilowatt-hour that is not served costs whoever lacks it."),
    ),
    Term.TRANSFER_SWITCH: (
        lambda write: write.say("Transfer switch"),
        lambda write: write.say("Puts the loads on the inverter when the grid fails, and back."),
    ),
    Term.RCD: (
        lambda write: write.say("RCD"),
        lambda write: write.say(
            "Residual current device: cuts the circuit when current goes astray through a person "
            "or a fault."
        ),
    ),
    Term.INDEPENDENT_SIMULATION: (
        lambda write: write.say("Independent simulation"),
        lambda write: write.say(
            "The design followed hour by hour by a program that shares no code with the one that "
            "chose it."
        ),
    ),
}
