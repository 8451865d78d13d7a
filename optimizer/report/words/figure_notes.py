"""What is to be minded of the figures of the electrical sheet."""

from collections.abc import Mapping
from typing import Final

from optimizer.formulas.charging import ACCEPTS_WITHIN_H
from optimizer.quote.figures import Figure, FigureKind, Note
from optimizer.quote.room import FLOOR_KN_PER_M2
from optimizer.report.words.writer import Sentence, Writer

#: What is to be minded of figures, whatever the design.
MEANINGS: Final[Mapping[FigureKind, Sentence]] = {
    FigureKind.TORQUE: Sentence(
        "As the maker says, with a torque wrench; marked once done, checked again after the "
        "first weeks."
    ),
    FigureKind.START_CURRENT: Sentence("For seconds."),
    FigureKind.STRING_CURRENT: Sentence(
        "Strings of equal units and equal cable length; the feed to the inverters from "
        "opposite corners: plus at the first string, minus at the last."
    ),
    FigureKind.STRING_FUSE: Sentence("At the string's own pole, before anything else."),
    FigureKind.STRING_FAULT: Sentence("The other strings feed a fault in one of them."),
    FigureKind.STRING_ISOLATOR: Sentence("For direct current of the bank's voltage, lockable."),
    FigureKind.SHUNT: Sentence("In the minus, nearest to the bank: nothing passes it by."),
    FigureKind.MAIN_ISOLATOR: Sentence(
        "For direct current of the bank's voltage, lockable; both poles where the code asks."
    ),
    FigureKind.BUSBAR: Sentence("Covered; cables in their order, strings apart from inverters."),
    FigureKind.FUSE: Sentence(
        "For direct current, at the bank or its busbar; in both poles where the code asks."
    ),
    FigureKind.CABLE: Sentence("Runs in parallel: equal length, equal lugs."),
    FigureKind.PRE_CHARGE: Sentence(
        "A resistor across the open isolator until the voltages are equal, or the inverter's "
        "own: as its maker says. Without it closing the isolator strikes an arc."
    ),
    FigureKind.LEAST_CHARGING_CURRENT: Sentence(
        "The larger of this and the current that recharges in time is the least to set."
    ),
    FigureKind.RECHARGE_TIME: Sentence("The last part of a full charge is slower."),
    FigureKind.ABSORPTION_TIME: Sentence(
        "The longest to set where the charger has no tail current; τ = 1 h for lead-acid, "
        "{lithium:figure} h for lithium.",
    ),
    FigureKind.TAIL_CURRENT: Sentence("Held for a few minutes."),
    FigureKind.CUT_OFF: Sentence(
        "Voltage tells the charge roughly only: a monitor with a shunt goes before it."
    ),
    FigureKind.LOWEST_STATE_OF_CHARGE: Sentence("For the inverter's cut-off or a monitor's alarm."),
    FigureKind.CHARGER_INPUT: Sentence("At the absorption voltage."),
    FigureKind.SERVICE_FUSE: Sentence("Loads that the inverters do not carry come on top."),
    FigureKind.CONTRACT_CURRENT: Sentence("Set it on the inverters."),
    FigureKind.SUPPLY_BREAKER: Sentence(
        "Type C where the inverters' inrush asks for it; the copper behind it is the least, "
        "in conduit on a wall at 30 °C, not bundled."
    ),
    FigureKind.SURGE_PROTECTION: Sentence(
        "Type 2 at the board, type 1 where there is a lightning conductor; short leads; "
        "another at the inverter where the cable is longer than 10 m."
    ),
    FigureKind.GENERATOR_SWITCH: Sentence(
        "All poles, neutral too; interlocked, so that supply and generator can never feed each "
        "other and nothing feeds back into the grid. Which earth the generator has is settled "
        "with the neutral–earth bond."
    ),
    FigureKind.BREAKER: Sentence(
        "The cables behind it carry its rating; the copper given is the least, in conduit on "
        "a wall at 30 °C, not bundled."
    ),
    FigureKind.RCD: Sentence(
        "On the essential circuits, so that it works with the grid and without. Type A at "
        "least; type B where the maker asks for it. Its button does not prove the earthing: "
        "the installer measures trip time and loop impedance at handover."
    ),
    FigureKind.NEUTRAL_BOND: Sentence(
        "Open question to the installer, by the earthing of the local supply: made by the transfer "
        "switch when the grid is off, never twice at once; without it the RCD may not trip."
    ),
    FigureKind.EARTHING_CONDUCTOR: Sentence(
        "From every inverter's case to the main earth terminal, of copper, at least this."
    ),
    FigureKind.BONDING_CONDUCTOR: Sentence(
        "Racks, cabinets and metal pipes within reach; at least this. With a combined neutral "
        "and earth the supplier may ask for more."
    ),
    FigureKind.DC_EARTH: Sentence(
        "Open question to the installer: as the inverter's maker says, at one place only, or "
        "not at all."
    ),
    FigureKind.FLOOR_PRESSURE: Sentence(
        "A dwelling's floor is reckoned at {low:number.1}–{high:number.1} kN/m² (EN 1991-1-1: "
        "check against the current edition).",
    ),
    FigureKind.FLOOR_AREA: Sentence("Nothing else counted; a solid ground floor needs less care."),
    FigureKind.INVERTER_MASS: Sentence("Not above the bank where it gives off gas."),
    FigureKind.NO_HYDROGEN: Sentence(
        "No ventilation for hydrogen; the room still has to carry off heat, and the "
        "maker's instructions for a damaged battery prevail."
    ),
    FigureKind.BOOST_OPENING: Sentence("Natural draught: inlet low, outlet high, opposite."),
    FigureKind.SPARK_DISTANCE: Sentence(
        "Measured from the gas openings: no switch, fuse or socket within it. All cells of a "
        "block are counted, the cautious reading of the clause."
    ),
    FigureKind.ROOM_TEMPERATURE: Sentence(
        "Each step of halving above 20 °C halves the float life."
    ),
}


#: What figures mean where that depends on the design.
NOTES: Final[Mapping[Note, Sentence]] = {
    Note.BATTERY_CURRENT_UNKNOWN: Sentence(
        "Ask the maker for the battery's short-circuit current before choosing the fuse."
    ),
    Note.BREAKING_CAPACITY_UNKNOWN: Sentence(
        "The fuse's breaking capacity is not stated: it must be at least this."
    ),
    Note.FUSE_BREAKS: Sentence("The fuse breaks it."),
    Note.FUSE_BREAKS_LESS: Sentence("The fuse breaks less: take one that breaks more."),
    Note.VOLTAGE_UNKNOWN: Sentence(
        "Its rated direct voltage is not stated: ask for it; a rating for alternating current "
        "does not count."
    ),
    Note.NO_STRING_FUSE: Sentence("No fuse on offer is rated so high for this voltage."),
    Note.BEYOND_THE_BANK: Sentence(
        "More than the bank allows, and more than the surveyed loads draw: no load is to be "
        "added without a larger bank."
    ),
    Note.COLD_DROP_ONLY: Sentence(
        "The limit is kept with copper at 20 °C: take the next section where it is to hold "
        "warm, too."
    ),
    Note.CHARGER_TURNED_DOWN: Sentence("Set the charger down to it."),
    Note.CHARGER_IN_FULL: Sentence("The charger's full current."),
    Note.MAKERS_VOLTAGE: Sentence("The maker's, from the price list."),
    Note.USUAL_VOLTAGE: Sentence("Usual at 20–25 °C: the maker's sheet prevails."),
    Note.NO_EQUALISING: Sentence("Never, unless the maker asks for it."),
    Note.NOT_COMPENSATED: Sentence("Not compensated for temperature."),
    Note.COMPENSATED: Sentence("At 20–25 °C; compensated as the maker says."),
    Note.LOWER_INPUT_LIMIT: Sentence(
        "The loads alone pass; with the chargers it is more than the transfer switches are rated "
        "for: set the input current limit to their rating, and ask the maker what the input bears."
    ),
    Note.PASS_THROUGH_UNKNOWN: Sentence(
        "The price list does not state what the transfer switch carries: ask the maker."
    ),
    Note.SERVICE_FUSE_UNKNOWN: Sentence("The site does not state it: read it off."),
    Note.OVER_SERVICE_FUSE: Sentence(
        "More than the service fuse carries: set the input current limit below it, or ask for "
        "a stronger supply."
    ),
    Note.ABOVE_TRANSFER_SWITCH: Sentence(
        "More than the transfer switches are rated for: ask the maker how high the input may "
        "be fused."
    ),
    Note.WITH_THE_SUPPLY: Sentence(
        "The inverters help the supply: what it gives and what they add leave by one output."
    ),
    Note.PHASES_UNKNOWN: Sentence("The price list does not state the phases; one is taken."),
    Note.NO_BREAKER: Sentence("No miniature circuit breaker is rated that high."),
    Note.TRIPS: Sentence("A type B breaker trips at once."),
    Note.DOES_NOT_TRIP: Sentence(
        "No type B breaker trips at once: the RCD must protect from shock."
    ),
    Note.COMPUTERS_STAY_UP: Sentence("Computers stay up."),
    Note.COMPUTERS_RESTART: Sentence("Computers may restart: give them a supply of their own."),
    Note.SIZE_UNKNOWN: Sentence("The price list does not state the battery's length and width."),
    Note.SPREAD_THE_LOAD: Sentence("More than that: spread the load."),
    Note.NOT_IN_SERVICE_YET: Sentence("Of a bank bought later: build the room for it now."),
}


def minded(write: Writer, figure: Figure) -> list[str]:
    """Return what is to be minded of a figure: first what its design makes of it."""
    told = [write.say(NOTES[note].english) for note in figure.notes]
    if figure.kind in MEANINGS:
        lithium, low, high = ACCEPTS_WITHIN_H[False], FLOOR_KN_PER_M2, 2.0
        meaning = MEANINGS[figure.kind]
        told.append(write.say(meaning.english, lithium=lithium, low=low, high=high))
    return told
