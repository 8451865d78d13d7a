"""The electrical sheet in words: headings, symbols, values, room and cautions."""

from collections.abc import Mapping, Sequence
from typing import Final

from optimizer.formulas.protection import BREAKERS_A
from optimizer.formulas.wiring import CONTINUOUS_FACTOR
from optimizer.model.design import Design
from optimizer.quote.cautions import Caution, RoomNote
from optimizer.quote.figures import Figure, FigureKind, Given, Note, State, Topic
from optimizer.report.words.notes import second_source
from optimizer.report.words.writer import Sentence, Writer

#: The headings of the sheet.
TOPICS: Final[Mapping[Topic, Sentence]] = {
    Topic.BANK: Sentence("Battery bank"),
    Topic.CURRENTS: Sentence("Currents of the bank"),
    Topic.DC_CIRCUIT: Sentence("Direct-current circuit"),
    Topic.CHARGER: Sentence("Charger settings and cut-off"),
    Topic.AC_SIDE: Sentence("Alternating-current side"),
    Topic.EARTH: Sentence("Earth"),
    Topic.FLOOR: Sentence("Mass and floor"),
    Topic.AIR: Sentence("Hydrogen and air"),
    Topic.ROOM: Sentence("Room"),
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
            "About 10 mm between units for air; room to lift each out."
        ),
        RoomNote.ACID_PROOF: write.say(
            "A tray or floor that acid does not attack; water and goggles within reach."
        ),
        RoomNote.TOP_UP: write.say(
            "Room above to measure and top up, with distilled water after charging, never before; "
            "log it."
        ),
        RoomNote.OTHER_CHEMISTRY_LATER: write.say(
            "A later bank is of another chemistry ({later:list}): charger settings change then.",
            later=later,
        ),
    }


def cautions(write: Writer, critical: Sequence[str]) -> dict[Caution, str]:
    """Return the cautions in plain words; none is a statement of compliance."""
    return {
        Caution.PLANS_ONLY: write.say(
            "This sheet plans, it does not certify. The local code, the makers' instructions "
            "and the judgement of a licensed electrician go before anything written here."
        ),
        Caution.SECOND_SOURCE: second_source(write, critical),
        Caution.ALWAYS_LIVE: write.say(
            "A battery cannot be switched off: across its poles a dropped spanner melts. "
            "Insulated tools, no rings or watches, poles covered until the last moment."
        ),
        Caution.CONNECTING: write.say(
            "In this order: isolator open; polarity and voltage measured; every joint tightened "
            "to the torque that its maker says; fuse in; pre-charge; only then the isolator closed."
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
    """Return what each symbol of a formula stands for, in the order of the sheet."""
    return {
        "s": write.say("battery units in series in a string"),
        "n": write.say("strings in parallel"),
        "m": write.say("inverters"),
        "U": write.say("voltage: of a unit, of the system or of the supply"),
        "C": write.say("capacity of a battery unit"),
        "C_bank": write.say("capacity of the bank"),
        "P": write.say("power of an inverter"),
        "P_loads": write.say("all surveyed loads at once"),
        "P_start": write.say("the same, and the start of the largest motor"),
        "P_surge": write.say("power of an inverter for seconds"),
        "P₀": write.say("an inverter's draw without load"),
        "η": write.say("efficiency of the inverter"),
        "I": write.say("current of the line above it"),
        "I_sc": write.say("short-circuit current of a battery unit"),
        "l": write.say("length of the cable, one way"),
        "R′": write.say("resistance of one conductor for each km"),
        "θ": write.say("temperature of the copper at full power"),
        "A": write.say("charging current of an inverter"),
        "r_max": write.say("highest charging current for each Ah"),
        "r_min": write.say("lowest charging current for each Ah"),
        "k": write.say("charge put in for each charge taken out"),
        "d": write.say("maximum depth of discharge"),
        "T": write.say("hours in which the bank is to be recharged"),
        "τ": write.say("time in which the bank accepts what is missing"),
        "f": write.say("what heat leaves of the power"),
        "I_charge": write.say("charging current, direct"),
        "U_charge": write.say("charging voltage"),
        "η_charge": write.say("efficiency of the charger"),
        "S": write.say("apparent power of an inverter or generator"),
        "S_loads": write.say("apparent power of all surveyed loads"),
        "I_charger": write.say("what the chargers draw from the supply"),
        "I_loads": write.say("what the loads draw through the inverters"),
        "I_supply": write.say("both together"),
        "I_generator": write.say("current of the generator"),
        "z": write.say("cells in series in the bank"),
        "N": write.say("cells in one battery unit"),
        "I_gas": write.say("current that makes gas"),
        "Q": write.say("fresh air"),
        "g": write.say("{g:figure} m/s²", g=9.81),
    }


def labels(write: Writer) -> dict[str, str]:
    """Return the inputs that bear a name instead of a symbol."""
    return {
        "system": write.say("system voltage"),
        "rate": write.say("rated hours"),
        "depth": write.say("maximum depth of discharge"),
        "battery": write.say("battery"),
        "section": write.say("section"),
        "runs": write.say("runs"),
        "ampacity": write.say("ampacity"),
        "1.25 · I": write.say("{factor:figure} · I", factor=CONTINUOUS_FACTOR),
        "1.25 · I / n": write.say("{factor:figure} · I / n", factor=CONTINUOUS_FACTOR),
        "runs · ampacity": write.say("runs · ampacity"),
        "allowed": write.say("allowed"),
        "allowed by the bank": write.say("the bank allows"),
        "fuse": write.say("fuse"),
        "feeding": write.say("strings that feed it"),
        "rated voltage": write.say("rated voltage"),
        "I_sc of a unit": write.say("I_sc of a unit"),
        "breaking capacity": write.say("breaking capacity"),
        "drop": write.say("drop"),
        "each unit": write.say("on each unit"),
        "share": write.say("share"),
        "nominal": write.say("nominal"),
        "phases": write.say("phases"),
        "transfer switch": write.say("transfer switch"),
        "contract": write.say("contract"),
        "copper behind": write.say("copper behind"),
        "breaker": write.say("breaker"),
        "thickest line": write.say("thickest line"),
        "protective conductor": write.say("protective conductor"),
        "trip": write.say("trips at"),
        "limit": write.say("limit"),
        "room, highest": write.say("room, highest"),
        "room, lowest": write.say("room, lowest"),
        "units": write.say("units"),
        "mass": write.say("mass"),
        "length": write.say("length"),
        "width": write.say("width"),
        "chemistry": write.say("chemistry"),
        "from year": write.say("from year"),
        "mean": write.say("mean"),
        "halving": write.say("halving above 20 °C"),
    }


def given(write: Writer, one: Given, named: dict[str, str]) -> str:
    """Return an input with its unit."""
    symbol = named.get(one.symbol, one.symbol)
    if one.value is None:
        return write.say("{symbol} = not stated", symbol=symbol)
    if isinstance(one.value, str):
        return write.say("{symbol} = {value}", symbol=symbol, value=one.value)
    return write.say(
        "{symbol} = {value:figure.4}\N{NO-BREAK SPACE}{unit}",
        symbol=symbol,
        value=one.value,
        unit=one.unit,
    ).rstrip()


def value(write: Writer, figure: Figure) -> str | None:
    """Return the value of a figure that is no number, None of one that is."""
    if isinstance(figure.value, tuple):
        low, high = figure.value
        # a narrow column breaks behind the dash, and not within a figure
        return write.say("{low:figure}\N{NO-BREAK SPACE}– {high:figure}", low=low, high=high)
    if figure.value is not None:
        return None
    if {Note.NOT_COMPENSATED, Note.NO_EQUALISING} & {*figure.notes}:
        return write.say("none")
    if figure.kind is FigureKind.LAYOUT:
        layout = {name: figure.given(name) for name in ("s", "n", "battery")}
        return write.say("{s} × {n}, {battery}", **layout)
    if figure.kind is FigureKind.CABLE:
        runs, section = figure.given("runs"), figure.given("section")
        return write.say("{runs} × 2 × {section:figure} mm²", runs=runs, section=section)
    most = BREAKERS_A[-1]
    no_breaker = write.say("above {most:figure} A: fuses or a power breaker", most=most)
    return {
        FigureKind.BREAKER: no_breaker,
        FigureKind.SUPPLY_BREAKER: no_breaker,
        FigureKind.TORQUE: write.say("as the maker says"),
        FigureKind.DC_EARTH: write.say("to be decided"),
        FigureKind.ABSORPTION_VOLTAGE: write.say("by the maker's sheet"),
        FigureKind.ABSORPTION_TIME: write.say("none"),
        FigureKind.FLOAT_VOLTAGE: write.say("by the maker's sheet"),
        FigureKind.COMPENSATION: write.say("by the maker's sheet"),
        FigureKind.EQUALISING: write.say("by the maker's sheet"),
        FigureKind.RCD: write.say("30 mA, behind the inverter"),
        FigureKind.NEUTRAL_BOND: write.say("to be decided locally"),
        FigureKind.NO_HYDROGEN: write.say("none in normal use"),
    }.get(figure.kind) or write.say("not yet known")


#: How far a part or figure is settled.
STATES: Final[Mapping[State, Sentence]] = {
    State.SIZED: Sentence("sized"),
    State.NOT_YET_KNOWN: Sentence("not yet known"),
    State.BEYOND_LIMIT: Sentence("beyond the limit"),
}


def current_state(write: Writer, figure: Figure) -> str | None:
    """Return how far a current of the bank is settled, or that only loads to come could draw it."""
    if figure.state is not None:
        return write.say(STATES[figure.state].english)
    if Note.BEYOND_THE_BANK in figure.notes:
        return write.say("beyond the limit, but no load listed draws it")
    return None


def kept(write: Writer, figure: Figure) -> str | None:
    """Return whether a figure keeps its limit, None where there is none."""
    if figure.state is None:
        return None
    return {
        State.SIZED: write.say("Within the limit."),
        State.NOT_YET_KNOWN: write.say("Not yet known."),
        State.BEYOND_LIMIT: write.say("Beyond the limit."),
    }[figure.state]
