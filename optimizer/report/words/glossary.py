"""The trade's terms as this project uses them, each with the standard it follows.

Definitions are told in plain words, after the standards named and from memory; the current
edition prevails. Terms without a standard are common practice or this project's own.
"""

from enum import Enum

from optimizer.model.phrase import Phrase


class Term(Enum):
    """A term of the trade: what it is called, what it means here, the standard that it follows."""

    AUTONOMY = (
        Phrase("Autonomy"),
        Phrase(
            "Hours for which the loads run without the grid, from a full bank and the worst "
            "starting hour."
        ),
    )
    UPFRONT_COST = (
        Phrase("Upfront cost"),
        Phrase("All that is paid at the start: equipment, labour and fittings, tax included."),
        "ASTM E917",
    )
    LIFE_CYCLE_COST = (
        Phrase("Life-cycle cost"),
        Phrase(
            "All that is paid over the study period, in present value, the residual value deducted."
        ),
        "ASTM E917",
    )
    STUDY_PERIOD = (
        Phrase("Study period"),
        Phrase("The years over which costs are counted."),
        "ASTM E917",
    )
    DISCOUNT_RATE = (
        Phrase("Discount rate"),
        Phrase("By how much money a year later is worth less today, above inflation."),
        "ASTM E917",
    )
    PRESENT_VALUE = (
        Phrase("Present value"),
        Phrase("What later money is worth today, by the discount rate."),
        "ASTM E917",
    )
    RESIDUAL_VALUE = (
        Phrase("Residual value"),
        Phrase("What equipment with life left is worth at the end of the study period."),
        "ASTM E917",
    )
    REPLACEMENT = (
        Phrase("Replacement"),
        Phrase("Equipment bought again when its service life is over."),
        "ASTM E917",
    )
    RATED_CAPACITY = (
        Phrase("Rated capacity"),
        Phrase("Ampere-hours a new battery gives over the rated hours at the rated temperature."),
        "IEC 60896",
    )
    STATE_OF_CHARGE = (
        Phrase("State of charge"),
        Phrase("Share of the capacity that is in the bank now."),
        "IEC 60050-482",
    )
    DEPTH_OF_DISCHARGE = (
        Phrase("Depth of discharge"),
        Phrase(
            "Share of the capacity that is taken out; at most the depth that the maker allows or "
            "that is chosen for a long life."
        ),
        "IEC 60050-482",
    )
    STATE_OF_HEALTH = (
        Phrase("State of health"),
        Phrase("Share of the new capacity that an aged bank still has."),
    )
    SERVICE_LIFE = (
        Phrase("Service life"),
        Phrase(
            "Years until the state of health is down to its end, worn by time, heat and outages."
        ),
    )
    STRING = (
        Phrase("String"),
        Phrase("Battery units in series; strings stand in parallel."),
    )
    VALVE_REGULATED = (
        Phrase("Valve-regulated"),
        Phrase(
            "Lead-acid under a valve (AGM, gel): no water to add, yet it may gas and needs air."
        ),
        "IEC 60896-21",
    )
    VENTED = (
        Phrase("Vented"),
        Phrase("Lead-acid with open acid: gives off hydrogen, needs a ventilated place and water."),
        "IEC 60896-11",
    )
    INVERTER_CHARGER = (
        Phrase("Inverter-charger"),
        Phrase("Makes mains from the bank when the grid is gone, and charges it when it is back."),
    )
    STARTING_POWER = (
        Phrase("Starting power"),
        Phrase("What a motor draws for seconds as it starts, several times what it runs on."),
    )
    TIER = (
        Phrase("Tier"),
        Phrase("Loads that are kept or let go together."),
    )
    UNSERVED_ENERGY = (
        Phrase("Unserved energy"),
        Phrase("Energy that loads ask for in outages and do not get."),
    )
    VALUE_OF_LOST_LOAD = (
        Phrase("Value of lost load"),
        Phrase("What a kilowatt-hour that is not served costs whoever lacks it."),
    )
    TRANSFER_SWITCH = (
        Phrase("Transfer switch"),
        Phrase("Puts the loads on the inverter when the grid fails, and back."),
        "IEC 60947-6-1",
    )
    RCD = (
        Phrase("RCD"),
        Phrase(
            "Residual current device: cuts the circuit when current goes astray through a person "
            "or a fault."
        ),
        "IEC 61008-1",
    )
    INDEPENDENT_SIMULATION = (
        Phrase("Independent simulation"),
        Phrase(
            "The design followed hour by hour by a program that shares no code with the one that "
            "chose it."
        ),
    )

    def __init__(self, called: Phrase, meaning: Phrase, source: str = "") -> None:
        self.called, self.meaning, self.source = called, meaning, source
