"""What is to be minded of the figures of the electrical sheet."""

from optimizer.formulas.charging import ACCEPTS_WITHIN_H
from optimizer.quote.figures import FigureKind, Note
from optimizer.quote.room import FLOOR_KN_PER_M2
from optimizer.report.words.writer import Writer


def meanings(write: Writer) -> dict[FigureKind, str]:
    """Return what is to be minded of figures, whatever the design."""
    return {
        FigureKind.TORQUE: write.say(
            "As the maker says, with a torque wrench; marked once done, checked again after the "
            "first weeks."
        ),
        FigureKind.START_CURRENT: write.say("For seconds."),
        FigureKind.STRING_CURRENT: write.say(
            "Strings of equal units and equal cable length; the feed to the inverters from "
            "opposite corners: plus at the first string, minus at the last."
        ),
        FigureKind.STRING_FUSE: write.say("At the string's own pole, before anything else."),
        FigureKind.STRING_FAULT: write.say("The other strings feed a fault in one of them."),
        FigureKind.STRING_ISOLATOR: write.say(
            "For direct current of the bank's voltage, lockable."
        ),
        FigureKind.SHUNT: write.say("In the minus, nearest to the bank: nothing passes it by."),
        FigureKind.MAIN_ISOLATOR: write.say(
            "For direct current of the bank's voltage, lockable; both poles where the code asks."
        ),
        FigureKind.BUSBAR: write.say(
            "Covered; cables in their order, strings apart from inverters."
        ),
        FigureKind.FUSE: write.say(
            "For direct current, at the bank or its busbar; in both poles where the code asks."
        ),
        FigureKind.CABLE: write.say("Runs in parallel: equal length, equal lugs."),
        FigureKind.PRE_CHARGE: write.say(
            "A resistor across the open isolator until the voltages are equal, or the inverter's "
            "own: as its maker says. Without it closing the isolator strikes an arc."
        ),
        FigureKind.LEAST_CHARGING_CURRENT: write.say(
            "The larger of this and the current that recharges in time is the least to set."
        ),
        FigureKind.RECHARGE_TIME: write.say("The last part of a full charge is slower."),
        FigureKind.ABSORPTION_TIME: write.say(
            "The longest to set where the charger has no tail current; τ = 1 h for lead-acid, "
            "{lithium:figure} h for lithium.",
            lithium=ACCEPTS_WITHIN_H[False],
        ),
        FigureKind.TAIL_CURRENT: write.say("Held for a few minutes."),
        FigureKind.CUT_OFF: write.say(
            "Voltage tells the charge roughly only: a monitor with a shunt goes before it."
        ),
        FigureKind.LOWEST_STATE_OF_CHARGE: write.say(
            "For the inverter's cut-off or a monitor's alarm."
        ),
        FigureKind.CHARGER_INPUT: write.say("At the absorption voltage."),
        FigureKind.SERVICE_FUSE: write.say("Loads that the inverters do not carry come on top."),
        FigureKind.CONTRACT_CURRENT: write.say("Set it on the inverters."),
        FigureKind.SUPPLY_BREAKER: write.say(
            "Type C where the inverters' inrush asks for it; the copper behind it is the least, "
            "in conduit on a wall at 30 °C, not bundled."
        ),
        FigureKind.SURGE_PROTECTION: write.say(
            "Type 2 at the board, type 1 where there is a lightning conductor; short leads; "
            "another at the inverter where the cable is longer than 10 m."
        ),
        FigureKind.GENERATOR_SWITCH: write.say(
            "All poles, neutral too; interlocked, so that supply and generator can never feed each "
            "other and nothing feeds back into the grid. Which earth the generator has is settled "
            "with the neutral–earth bond."
        ),
        FigureKind.BREAKER: write.say(
            "The cables behind it carry its rating; the copper given is the least, in conduit on "
            "a wall at 30 °C, not bundled."
        ),
        FigureKind.RCD: write.say(
            "On the essential circuits, so that it works with the grid and without. Type A at "
            "least; type B where the maker asks for it. Its button does not prove the earthing: "
            "the installer measures trip time and loop impedance at handover."
        ),
        FigureKind.NEUTRAL_BOND: write.say(
            "Open question to the installer, by the earthing of the local supply: made by the "
            "transfer switch when the grid is off, never twice at once; without it the RCD may not "
            "trip."
        ),
        FigureKind.EARTHING_CONDUCTOR: write.say(
            "From every inverter's case to the main earth terminal, of copper, at least this."
        ),
        FigureKind.BONDING_CONDUCTOR: write.say(
            "Racks, cabinets and metal pipes within reach; at least this. With a combined neutral "
            "and earth the supplier may ask for more."
        ),
        FigureKind.DC_EARTH: write.say(
            "Open question to the installer: as the inverter's maker says, at one place only, or "
            "not at all."
        ),
        FigureKind.FLOOR_PRESSURE: write.say(
            "A dwelling's floor is reckoned at {low:number.1}–{high:number.1} kN/m² (EN 1991-1-1: "
            "check against the current edition).",
            low=FLOOR_KN_PER_M2,
            high=2.0,
        ),
        FigureKind.FLOOR_AREA: write.say(
            "Nothing else counted; a solid ground floor needs less care."
        ),
        FigureKind.INVERTER_MASS: write.say("Not above the bank where it gives off gas."),
        FigureKind.NO_HYDROGEN: write.say(
            "No ventilation for hydrogen; the room still has to carry off heat, and the "
            "maker's instructions for a damaged battery prevail."
        ),
        FigureKind.BOOST_OPENING: write.say("Natural draught: inlet low, outlet high, opposite."),
        FigureKind.SPARK_DISTANCE: write.say(
            "Measured from the gas openings: no switch, fuse or socket within it. All cells of a "
            "block are counted, the cautious reading of the clause."
        ),
        FigureKind.ROOM_TEMPERATURE: write.say(
            "Each step of halving above 20 °C halves the float life."
        ),
    }


def notes(write: Writer) -> dict[Note, str]:
    """Return what figures mean where that depends on the design."""
    return {
        Note.BATTERY_CURRENT_UNKNOWN: write.say(
            "Ask the maker for the battery's short-circuit current before choosing the fuse."
        ),
        Note.BREAKING_CAPACITY_UNKNOWN: write.say(
            "The fuse's breaking capacity is not stated: it must be at least this."
        ),
        Note.FUSE_BREAKS: write.say("The fuse breaks it."),
        Note.FUSE_BREAKS_LESS: write.say("The fuse breaks less: take one that breaks more."),
        Note.VOLTAGE_UNKNOWN: write.say(
            "Its rated direct voltage is not stated: ask for it; a rating for alternating current "
            "does not count."
        ),
        Note.NO_STRING_FUSE: write.say("No fuse on offer is rated so high for this voltage."),
        Note.BEYOND_THE_BANK: write.say(
            "More than the bank allows, and more than the surveyed loads draw: no load is to be "
            "added without a larger bank."
        ),
        Note.COLD_DROP_ONLY: write.say(
            "The limit is kept with copper at 20 °C: take the next section where it is to hold "
            "warm, too."
        ),
        Note.CHARGER_TURNED_DOWN: write.say("Set the charger down to it."),
        Note.CHARGER_IN_FULL: write.say("The charger's full current."),
        Note.MAKERS_VOLTAGE: write.say("The maker's, from the price list."),
        Note.USUAL_VOLTAGE: write.say("Usual at 20–25 °C: the maker's sheet prevails."),
        Note.NO_EQUALISING: write.say("Never, unless the maker asks for it."),
        Note.NOT_COMPENSATED: write.say("Not compensated for temperature."),
        Note.COMPENSATED: write.say("At 20–25 °C; compensated as the maker says."),
        Note.LOWER_INPUT_LIMIT: write.say(
            "The loads alone pass; with the chargers it is more than the transfer switches are "
            "rated for: set the input current limit to their rating, and ask the maker what the "
            "input bears."
        ),
        Note.PASS_THROUGH_UNKNOWN: write.say(
            "The price list does not state what the transfer switch carries: ask the maker."
        ),
        Note.SERVICE_FUSE_UNKNOWN: write.say("The site does not state it: read it off."),
        Note.OVER_SERVICE_FUSE: write.say(
            "More than the service fuse carries: set the input current limit below it, or ask for "
            "a stronger supply."
        ),
        Note.ABOVE_TRANSFER_SWITCH: write.say(
            "More than the transfer switches are rated for: ask the maker how high the input may "
            "be fused."
        ),
        Note.WITH_THE_SUPPLY: write.say(
            "The inverters help the supply: what it gives and what they add leave by one output."
        ),
        Note.PHASES_UNKNOWN: write.say("The price list does not state the phases; one is taken."),
        Note.NO_BREAKER: write.say("No miniature circuit breaker is rated that high."),
        Note.TRIPS: write.say("A type B breaker trips at once."),
        Note.DOES_NOT_TRIP: write.say(
            "No type B breaker trips at once: the RCD must protect from shock."
        ),
        Note.COMPUTERS_STAY_UP: write.say("Computers stay up."),
        Note.COMPUTERS_RESTART: write.say(
            "Computers may restart: give them a supply of their own."
        ),
        Note.SIZE_UNKNOWN: write.say(
            "The price list does not state the battery's length and width."
        ),
        Note.SPREAD_THE_LOAD: write.say("More than that: spread the load."),
        Note.NOT_IN_SERVICE_YET: write.say("Of a bank bought later: build the room for it now."),
    }
