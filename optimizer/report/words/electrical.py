"""The electrical sheet in words: each figure's name, formula, source and meaning."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.hydrogen import AIR_M3_PER_AH
from optimizer.formulas.inverter import COMPUTER_HOLD_MS, LOWEST_VOLTAGE_SHARE
from optimizer.formulas.wiring import CONTINUOUS_FACTOR
from optimizer.quote.cautions import Caution, RoomNote
from optimizer.quote.figures import Figure, FigureKind, Note, Topic

if TYPE_CHECKING:
    from optimizer.model.design import Design
    from optimizer.quote.figures import Given
    from optimizer.report.words.writer import Writer


def topics(write: Writer) -> dict[Topic, str]:
    """Return the headings of the sheet."""
    return {
        Topic.BANK: write.say("Battery bank"),
        Topic.DC_CIRCUIT: write.say("Direct-current circuit"),
        Topic.CHARGER: write.say("Charger settings"),
        Topic.AC_SIDE: write.say("Alternating-current side"),
        Topic.FLOOR: write.say("Mass and floor"),
        Topic.AIR: write.say("Hydrogen and air"),
        Topic.ROOM: write.say("Room"),
    }


def names(write: Writer) -> dict[FigureKind, str]:
    """Return what each figure is."""
    return {
        FigureKind.LAYOUT: write.say("Layout, series × parallel"),
        FigureKind.STRING_VOLTAGE: write.say("Voltage of a string"),
        FigureKind.RATED_CAPACITY: write.say("Rated capacity"),
        FigureKind.ENERGY: write.say("Energy to flat, new, at the rated hours"),
        FigureKind.NOMINAL_CURRENT: write.say("Current at full power, nominal voltage"),
        FigureKind.LARGEST_CURRENT: write.say("Current at full power, lowest voltage"),
        FigureKind.CABLE: write.say("Battery cable, copper"),
        FigureKind.VOLTAGE_DROP: write.say("Voltage drop, there and back"),
        FigureKind.FUSE: write.say("Fuse at the bank"),
        FigureKind.SHORT_CIRCUIT: write.say("Short-circuit current of the bank"),
        FigureKind.STRING_CURRENT: write.say("Current of one string, evenly shared"),
        FigureKind.CHARGING_CURRENT: write.say("Charging current to set"),
        FigureKind.NEEDED_CHARGING_CURRENT: write.say("Current that recharges in time"),
        FigureKind.RECHARGE_TIME: write.say("Recharge from the lowest state of charge"),
        FigureKind.ABSORPTION_VOLTAGE: write.say("Absorption voltage"),
        FigureKind.FLOAT_VOLTAGE: write.say("Float voltage"),
        FigureKind.LOWEST_STATE_OF_CHARGE: write.say("Lowest state of charge in an outage"),
        FigureKind.HOT_POWER: write.say("Continuous power in the hottest room"),
        FigureKind.OUTPUT_CURRENT: write.say("Output current of each phase"),
        FigureKind.BREAKER: write.say("Circuit breaker at the output"),
        FigureKind.SURGE_CURRENT: write.say("Largest output current without the grid"),
        FigureKind.RCD: write.say("RCD"),
        FigureKind.NEUTRAL_BOND: write.say("Neutral–earth bond without the grid"),
        FigureKind.TRANSFER_TIME: write.say("Transfer time"),
        FigureKind.OWN_USE: write.say("The inverter's own use in an outage"),
        FigureKind.BANK_MASS: write.say("Mass of the bank"),
        FigureKind.FLOOR_PRESSURE: write.say("Pressure under the units, one layer, no gaps"),
        FigureKind.FLOOR_AREA: write.say("Floor to spread it over on an upper storey"),
        FigureKind.INVERTER_MASS: write.say("Mass of the inverter set, on the wall"),
        FigureKind.NO_HYDROGEN: write.say("Hydrogen"),
        FigureKind.FLOAT_AIR: write.say("Fresh air, floating"),
        FigureKind.FLOAT_OPENING: write.say("Inlet and outlet, each, floating"),
        FigureKind.BOOST_AIR: write.say("Fresh air, in absorption"),
        FigureKind.BOOST_OPENING: write.say("Inlet and outlet, each, in absorption"),
        FigureKind.SPARK_DISTANCE: write.say("No sparks or glowing parts nearer than"),
        FigureKind.ROOM_TEMPERATURE: write.say("Temperature, from–to"),
        FigureKind.LOWEST_TEMPERATURE: write.say("Lowest the battery bears"),
    }


def formulas(write: Writer) -> dict[FigureKind, str]:
    """Return how figures follow from their inputs; those that are read off are left out."""
    return {
        FigureKind.STRING_VOLTAGE: "s · U",
        FigureKind.RATED_CAPACITY: "n · C",
        FigureKind.ENERGY: "s · n · U · C / 1000",
        FigureKind.NOMINAL_CURRENT: "m · P / η / U",
        FigureKind.LARGEST_CURRENT: write.say(
            "m · P / η / ({share:number.2} · U)", share=LOWEST_VOLTAGE_SHARE
        ),
        FigureKind.CABLE: write.say(
            "runs · ampacity ≥ {factor:figure} · I", factor=CONTINUOUS_FACTOR
        ),
        FigureKind.VOLTAGE_DROP: write.say("2 · l · R′ / 1000 / runs · I"),
        FigureKind.FUSE: write.say(
            "{factor:figure} · I ≤ rating ≤ runs · ampacity", factor=CONTINUOUS_FACTOR
        ),
        FigureKind.SHORT_CIRCUIT: write.say("n · I_sc / 1000 ≤ breaking capacity"),
        FigureKind.STRING_CURRENT: "I / n",
        FigureKind.CHARGING_CURRENT: write.say("the smaller of m · A and r_max · n · C"),
        FigureKind.NEEDED_CHARGING_CURRENT: write.say("n · C · the larger of r_min and k · d / T"),
        FigureKind.RECHARGE_TIME: "k · d · n · C / I",
        FigureKind.LOWEST_STATE_OF_CHARGE: "1 − d",
        FigureKind.HOT_POWER: "m · P · f",
        FigureKind.OUTPUT_CURRENT: write.say("m · S / (phases · U)"),
        FigureKind.BREAKER: write.say("the next rated current ≥ I"),
        FigureKind.SURGE_CURRENT: write.say("m · P_surge / (phases · U)"),
        FigureKind.TRANSFER_TIME: write.say("≤ {limit:figure} ms", limit=COMPUTER_HOLD_MS),
        FigureKind.OWN_USE: "m · P₀ · 24 / 1000",
        FigureKind.BANK_MASS: write.say("units · mass"),
        FigureKind.FLOOR_PRESSURE: write.say("mass · g / (units · length · width)"),
        FigureKind.FLOOR_AREA: write.say("mass · g / (1000 · 1.5 kN/m²)"),
        FigureKind.INVERTER_MASS: write.say("m · mass"),
        FigureKind.FLOAT_AIR: write.say(
            "{factor:figure} · n · I_gas · C / 1000", factor=AIR_M3_PER_AH
        ),
        FigureKind.BOOST_AIR: write.say(
            "{factor:figure} · n · I_gas · C / 1000", factor=AIR_M3_PER_AH
        ),
        FigureKind.FLOAT_OPENING: "28 · Q",
        FigureKind.BOOST_OPENING: "28 · Q",
        FigureKind.SPARK_DISTANCE: write.say("{factor:number.1} · (I_gas · C)^(1/3)", factor=28.8),
    }


def sources(write: Writer) -> dict[FigureKind, str]:
    """Return where formulas and constants come from; the others are arithmetic."""
    price_list = write.say("price list")
    return {
        FigureKind.LAYOUT: write.say("this design"),
        FigureKind.LARGEST_CURRENT: write.say("arithmetic; lowest voltage: common practice"),
        FigureKind.CABLE: write.say("common practice; ampacity from the price list"),
        FigureKind.VOLTAGE_DROP: write.say("arithmetic; R′ at 20 °C as in IEC 60228"),
        FigureKind.FUSE: write.say("common practice"),
        FigureKind.SHORT_CIRCUIT: write.say("arithmetic; price list"),
        FigureKind.CHARGING_CURRENT: price_list,
        FigureKind.LOWEST_STATE_OF_CHARGE: price_list,
        FigureKind.LOWEST_TEMPERATURE: price_list,
        FigureKind.ABSORPTION_VOLTAGE: price_list,
        FigureKind.FLOAT_VOLTAGE: price_list,
        FigureKind.NEEDED_CHARGING_CURRENT: write.say(
            "IEEE Std 946, without direct-current loads (from memory)"
        ),
        FigureKind.HOT_POWER: write.say(
            "price list; f a straight line from 25 to 40 °C (common practice)"
        ),
        FigureKind.BREAKER: write.say("rated currents of IEC 60898-1 (from memory)"),
        FigureKind.SURGE_CURRENT: write.say(
            "type B trips at 5 × its rating (IEC 60898-1, from memory)"
        ),
        FigureKind.RCD: write.say("IEC 60364-4-41, clause 411.3.3 (from memory)"),
        FigureKind.NEUTRAL_BOND: write.say("IEC 60364-5-55, clause 551 (from memory)"),
        FigureKind.TRANSFER_TIME: write.say("ITI (CBEMA) curve: no voltage for up to 20 ms"),
        FigureKind.FLOOR_AREA: write.say("EN 1991-1-1, homes (from memory)"),
        FigureKind.NO_HYDROGEN: write.say("chemistry"),
        FigureKind.FLOAT_AIR: write.say("IEC 62485-2:2010, clause 7.2 (0.05: 0.0504 rounded)"),
        FigureKind.BOOST_AIR: write.say("IEC 62485-2:2010, clause 7.2 (0.05: 0.0504 rounded)"),
        FigureKind.FLOAT_OPENING: write.say("IEC 62485-2:2010, clause 7.3"),
        FigureKind.BOOST_OPENING: write.say("IEC 62485-2:2010, clause 7.3"),
        FigureKind.SPARK_DISTANCE: write.say("IEC 62485-2, clause 7.6 (from memory)"),
        FigureKind.ROOM_TEMPERATURE: write.say("the site"),
        FigureKind.STRING_VOLTAGE: price_list,
        FigureKind.RATED_CAPACITY: price_list,
        FigureKind.BANK_MASS: price_list,
        FigureKind.INVERTER_MASS: price_list,
    }


def meanings(write: Writer) -> dict[FigureKind, str]:
    """Return what is to be minded of figures, whatever the design."""
    return {
        FigureKind.LARGEST_CURRENT: write.say("Cable, fuse and isolators are chosen for it."),
        FigureKind.CABLE: write.say("Runs in parallel: equal length, equal lugs."),
        FigureKind.FUSE: write.say(
            "For direct current, at the bank; in both poles where the code asks."
        ),
        FigureKind.STRING_CURRENT: write.say(
            "Strings of equal cable length, each with its own isolator and fuse."
        ),
        FigureKind.RECHARGE_TIME: write.say("The last part of a full charge is slower."),
        FigureKind.LOWEST_STATE_OF_CHARGE: write.say(
            "For the inverter's cut-off or a monitor's alarm."
        ),
        FigureKind.BREAKER: write.say(
            "The cables behind it carry its rating; on the supply side by the maker's sheet."
        ),
        FigureKind.RCD: write.say(
            "On the essential circuits, so that it works with the grid and without. Type A at "
            "least; type B where the maker asks for it."
        ),
        FigureKind.NEUTRAL_BOND: write.say(
            "By the earthing of the local supply: made by the transfer switch when the grid is "
            "off, never twice at once; without it the RCD may not trip."
        ),
        FigureKind.FLOOR_PRESSURE: write.say(
            "A dwelling's floor is reckoned at 1.5–2.0 kN/m² (EN 1991-1-1, from memory)."
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
            "Measured from the gas openings: no switch, fuse or socket within it."
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
        Note.CHARGER_TURNED_DOWN: write.say("Set the charger down to it."),
        Note.CHARGER_IN_FULL: write.say("The charger's full current."),
        Note.MAKERS_VOLTAGE: write.say("The maker's, from the price list."),
        Note.USUAL_VOLTAGE: write.say(
            "Usual at 20–25 °C, from memory: the maker's sheet prevails."
        ),
        Note.NOT_COMPENSATED: write.say("Not compensated for temperature."),
        Note.COMPENSATED: write.say("At 20–25 °C; compensated as the maker says."),
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
        Note.SPREAD_THE_LOAD: write.say("Spread the load."),
    }


def room_notes(write: Writer, design: Design) -> dict[RoomNote, str]:
    """Return the notes on place and clearances."""
    later = list(dict.fromkeys(bank.battery.chemistry for bank in design.banks))[1:]
    return {
        RoomNote.FREE_FLOOR: write.say(
            "At least 600 mm of free floor in front of bank and inverter; the way out stays free."
        ),
        RoomNote.DRY_AND_APART: write.say(
            "Dry, out of the sun, away from sleeping places, escape routes and heat sources."
        ),
        RoomNote.NO_FIRE: write.say(
            "On or before a surface that does not burn, with the maker's clearance on every "
            "side; a smoke alarm in the room."
        ),
        RoomNote.AIR_BETWEEN: write.say(
            "About 10 mm between units for air, room above to lift and measure."
        ),
        RoomNote.ACID_PROOF: write.say(
            "A tray or floor that acid does not attack; water and goggles within reach."
        ),
        RoomNote.TOP_UP: write.say(
            "Room above to top up, with distilled water after charging, never before; log it."
        ),
        RoomNote.OTHER_CHEMISTRY_LATER: write.say(
            "A later bank is of another chemistry ({later:list}): charger settings change then.",
            later=later,
        ),
    }


def cautions(write: Writer) -> dict[Caution, str]:
    """Return the cautions in plain words; none is a statement of compliance."""
    return {
        Caution.PLANS_ONLY: write.say(
            "This sheet plans, it does not certify. The local code, the makers' instructions "
            "and the judgement of a licensed electrician go before anything written here."
        ),
        Caution.ALWAYS_LIVE: write.say(
            "A battery cannot be switched off: across its poles a dropped spanner melts. "
            "Insulated tools, no rings or watches, poles covered until the last moment; "
            "isolator open and polarity checked before the fuse goes in."
        ),
        Caution.LIVE_WITHOUT_GRID: write.say(
            "With the grid off, the sockets behind the inverter are live. Label the board, and "
            "isolate grid and bank both before work."
        ),
        Caution.LITHIUM_COLD: write.say(
            "Lithium must not be charged below the temperature stated: it is damaged for good, "
            "unseen. Its own management must be able to stop charger and inverter."
        ),
        Caution.LITHIUM_STANDARDS: write.say(
            "See IEC 62619 for the battery, IEC 62485-5 for its place, NFPA 855 chapter 15 "
            "where it applies: check against the current edition."
        ),
        Caution.HYDROGEN: write.say(
            "Charging lead-acid gives off hydrogen, which explodes at the smallest spark: air "
            "the place first, never smoke there, no switching parts within the distance stated."
        ),
        Caution.ACID: write.say(
            "The acid burns skin and eyes: gloves and goggles; rinse long with water, then get "
            "medical help."
        ),
        Caution.LEAD_STANDARDS: write.say(
            "See IEC 62485-2 for the place and its ventilation: check against the current edition."
        ),
        Caution.WIRING_STANDARDS: write.say(
            "Wiring: IEC 60364-5-55 clause 551, -5-57 and -8-2, or NFPA 70 articles 480 and "
            "706, whichever applies: check against the current edition."
        ),
    }


def symbols(write: Writer) -> dict[str, str]:
    """Return the inputs that bear a name; the others are symbols."""
    return {
        "system": write.say("system voltage"),
        "rate": write.say("rated hours"),
        "depth": write.say("maximum depth of discharge"),
        "battery": write.say("battery"),
        "section": write.say("section"),
        "runs": write.say("runs"),
        "ampacity": write.say("ampacity"),
        "runs · ampacity": write.say("runs · ampacity"),
        "allowed": write.say("allowed"),
        "I_sc of a unit": write.say("I_sc of a unit"),
        "breaking capacity": write.say("breaking capacity"),
        "each unit": write.say("on each unit"),
        "nominal": write.say("nominal"),
        "phases": write.say("phases"),
        "trip": write.say("trips at"),
        "limit": write.say("limit"),
        "room, highest": write.say("room, highest"),
        "room, lowest": write.say("room, lowest"),
        "units": write.say("units"),
        "mass": write.say("mass"),
        "length": write.say("length"),
        "width": write.say("width"),
        "chemistry": write.say("chemistry"),
        "C of a unit": write.say("C of a unit"),
        "mean": write.say("mean"),
        "halving above 20 °C": write.say("halving above 20 °C"),
    }


def given(write: Writer, one: Given, named: dict[str, str]) -> str:
    """Return an input with its unit."""
    symbol = named.get(one.symbol, one.symbol)
    if one.value is None:
        return write.say("{symbol} = not stated", symbol=symbol)
    if isinstance(one.value, str):
        return write.say("{symbol} = {value}", symbol=symbol, value=one.value)
    return write.say(
        "{symbol} = {value:figure.4} {unit}", symbol=symbol, value=one.value, unit=one.unit
    ).rstrip()


def value(write: Writer, figure: Figure) -> str | None:
    """Return the value of a figure that is no number, None of one that is."""
    if isinstance(figure.value, tuple):
        low, high = figure.value
        return write.say("{low:figure} – {high:figure}", low=low, high=high)
    if figure.value is not None:
        return None
    if figure.kind is FigureKind.LAYOUT:
        layout = {name: figure.given(name) for name in ("s", "n", "battery")}
        return write.say("{s} × {n}, {battery}", **layout)
    if figure.kind is FigureKind.CABLE:
        runs, section = figure.given("runs"), figure.given("section")
        return write.say("{runs} × 2 × {section:figure} mm²", runs=runs, section=section)
    return {
        FigureKind.BREAKER: write.say("above 125 A: fuses or a power breaker"),
        FigureKind.ABSORPTION_VOLTAGE: write.say("by the maker's sheet"),
        FigureKind.FLOAT_VOLTAGE: write.say("by the maker's sheet"),
        FigureKind.RCD: write.say("30 mA, behind the inverter"),
        FigureKind.NEUTRAL_BOND: write.say("to be decided locally"),
        FigureKind.NO_HYDROGEN: write.say("none in normal use"),
    }.get(figure.kind) or write.say("not yet known")


def kept(write: Writer, figure: Figure) -> str | None:
    """Return whether a figure keeps its limit, None where there is none or it is not known."""
    if figure.meets is None:
        return None
    return write.say("Within the limit.") if figure.meets else write.say("Beyond the limit.")
