"""Figures of the electrical sheet: what each is, how it follows, and from where."""

from collections.abc import Mapping
from typing import Final

from optimizer.formulas.charging import COUNTS_AS_FULL
from optimizer.formulas.hydrogen import AIR_M3_PER_AH, OPENING_CM2_H_PER_M3, SPARK_DISTANCE_MM
from optimizer.formulas.inverter import COMPUTER_HOLD_MS, LOWEST_VOLTAGE_SHARE
from optimizer.formulas.protection import SURGE_VOLTAGE_FACTOR
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, COPPER_PER_DEGC, FUSE_VOLTAGE_FACTOR
from optimizer.quote.figures import FigureKind
from optimizer.quote.room import FLOOR_KN_PER_M2
from optimizer.report.words.writer import Sentence, Writer

#: What each figure is.
NAMES: Final[Mapping[FigureKind, Sentence]] = {
    FigureKind.LAYOUT: Sentence("Layout, series × parallel"),
    FigureKind.STRING_VOLTAGE: Sentence("Voltage of a string"),
    FigureKind.RATED_CAPACITY: Sentence("Rated capacity"),
    FigureKind.ENERGY: Sentence("Energy to flat, new, at the rated hours"),
    FigureKind.TORQUE: Sentence("Torque of every bolted joint"),
    FigureKind.RUNNING_CURRENT: Sentence("Running, all surveyed loads, lowest voltage"),
    FigureKind.START_CURRENT: Sentence("Start of the largest motor on top of them"),
    FigureKind.NOMINAL_CURRENT: Sentence("Inverters at full power, nominal voltage"),
    FigureKind.LARGEST_CURRENT: Sentence("Inverters at full power, lowest voltage"),
    FigureKind.STRING_CURRENT: Sentence("Current of one string, evenly shared"),
    FigureKind.STRING_CABLE: Sentence("Cable of each string, copper"),
    FigureKind.STRING_FUSE: Sentence("Fuse of each string"),
    FigureKind.STRING_FUSE_VOLTAGE: Sentence("Direct voltage that a string's fuse breaks"),
    FigureKind.STRING_FAULT: Sentence("Fault current into one string"),
    FigureKind.STRING_ISOLATOR: Sentence("Isolator of each string"),
    FigureKind.SHUNT: Sentence("Shunt of the battery monitor"),
    FigureKind.MAIN_ISOLATOR: Sentence("Main isolator"),
    FigureKind.BUSBAR: Sentence("Busbars, plus and minus"),
    FigureKind.FUSE: Sentence("Fuse of each inverter"),
    FigureKind.FUSE_VOLTAGE: Sentence("Direct voltage that an inverter's fuse breaks"),
    FigureKind.SHORT_CIRCUIT: Sentence("Short-circuit current of the bank"),
    FigureKind.CABLE: Sentence("Cable of each inverter, copper"),
    FigureKind.VOLTAGE_DROP: Sentence("Voltage drop, there and back, copper at 20 °C"),
    FigureKind.WARM_DROP: Sentence("The same, copper as warm as it gets"),
    FigureKind.PRE_CHARGE: Sentence("Pre-charge of the inverters' capacitors"),
    FigureKind.CHARGING_CURRENT: Sentence("Charging current to set"),
    FigureKind.LEAST_CHARGING_CURRENT: Sentence("Lowest charging current of the battery"),
    FigureKind.NEEDED_CHARGING_CURRENT: Sentence("Current that recharges in time"),
    FigureKind.RECHARGE_TIME: Sentence("Recharge from the lowest state of charge"),
    FigureKind.ABSORPTION_VOLTAGE: Sentence("Absorption voltage"),
    FigureKind.ABSORPTION_TIME: Sentence("Absorption time after a deep discharge"),
    FigureKind.TAIL_CURRENT: Sentence("Tail current that ends the absorption"),
    FigureKind.FLOAT_VOLTAGE: Sentence("Float voltage"),
    FigureKind.COMPENSATION: Sentence("Lower both for each °C above 25 °C by"),
    FigureKind.EQUALISING: Sentence("Equalising voltage"),
    FigureKind.CUT_OFF: Sentence("Low-voltage cut-off, under load"),
    FigureKind.LOWEST_STATE_OF_CHARGE: Sentence("Lowest state of charge in an outage"),
    FigureKind.HOT_POWER: Sentence("Continuous power in the hottest room"),
    FigureKind.CHARGER_INPUT: Sentence("Chargers, from the supply, each phase"),
    FigureKind.PASSED_THROUGH: Sentence("Loads passed through, each phase"),
    FigureKind.SUPPLY_CURRENT: Sentence("Both together, each phase"),
    FigureKind.SERVICE_FUSE: Sentence("Service fuse of the site"),
    FigureKind.CONTRACT_CURRENT: Sentence("Input current limit by the supply contract"),
    FigureKind.SUPPLY_BREAKER: Sentence("Circuit breaker at the input"),
    FigureKind.SURGE_PROTECTION: Sentence("Surge protective device, lasting voltage"),
    FigureKind.GENERATOR_CURRENT: Sentence("Current of the generator"),
    FigureKind.GENERATOR_SWITCH: Sentence("Transfer switch, supply or generator"),
    FigureKind.OUTPUT_CURRENT: Sentence("Output current of each phase"),
    FigureKind.BREAKER: Sentence("Circuit breaker at the output"),
    FigureKind.SURGE_CURRENT: Sentence("Largest output current without the grid"),
    FigureKind.RCD: Sentence("RCD"),
    FigureKind.TRANSFER_TIME: Sentence("Transfer time"),
    FigureKind.OWN_USE: Sentence("The inverter's own use in an outage"),
    FigureKind.NEUTRAL_BOND: Sentence("Neutral–earth bond without the grid"),
    FigureKind.EARTHING_CONDUCTOR: Sentence("Protective conductor of the inverters"),
    FigureKind.BONDING_CONDUCTOR: Sentence("Bonding conductor to the main earth terminal"),
    FigureKind.DC_EARTH: Sentence("A pole of the bank to earth"),
    FigureKind.BANK_MASS: Sentence("Mass of the bank"),
    FigureKind.FLOOR_PRESSURE: Sentence("Pressure under the units, one layer, no gaps"),
    FigureKind.FLOOR_AREA: Sentence("Floor to spread it over on an upper storey"),
    FigureKind.INVERTER_MASS: Sentence("Mass of the inverter set, on the wall"),
    FigureKind.NO_HYDROGEN: Sentence("Hydrogen"),
    FigureKind.FLOAT_AIR: Sentence("Fresh air, floating"),
    FigureKind.FLOAT_OPENING: Sentence("Inlet and outlet, each, floating"),
    FigureKind.BOOST_AIR: Sentence("Fresh air, in absorption"),
    FigureKind.BOOST_OPENING: Sentence("Inlet and outlet, each, in absorption"),
    FigureKind.SPARK_DISTANCE: Sentence("No sparks or glowing parts nearer than"),
    FigureKind.ROOM_TEMPERATURE: Sentence("Temperature, from–to"),
    FigureKind.LOWEST_TEMPERATURE: Sentence("Lowest the battery bears"),
}


def formulas(write: Writer) -> dict[FigureKind, str]:
    """Return how figures follow from their inputs; those that are read off are left out."""
    lowest = {"share": LOWEST_VOLTAGE_SHARE}
    wanted = write.say("{factor:figure} · I", factor=CONTINUOUS_FACTOR)
    voltage = write.say("{factor:figure} · U ≤ rated voltage", factor=FUSE_VOLTAGE_FACTOR)
    air = write.say("{factor:figure} · z · I_gas · C_bank / 1000", factor=AIR_M3_PER_AH)
    opening = write.say("{factor:figure} · Q", factor=OPENING_CM2_H_PER_M3)
    next_rating = write.say("the next rated current ≥ I")
    return {
        FigureKind.STRING_VOLTAGE: "s · U",
        FigureKind.RATED_CAPACITY: "n · C",
        FigureKind.ENERGY: "s · n · U · C / 1000",
        FigureKind.RUNNING_CURRENT: write.say("P_loads / η / ({share:number.2} · U)", **lowest),
        FigureKind.START_CURRENT: write.say("P_start / η / ({share:number.2} · U)", **lowest),
        FigureKind.NOMINAL_CURRENT: "m · P / η / U",
        FigureKind.LARGEST_CURRENT: write.say("m · P / η / ({share:number.2} · U)", **lowest),
        FigureKind.STRING_CURRENT: "I / n",
        FigureKind.STRING_CABLE: write.say("ampacity ≥ fuse"),
        FigureKind.STRING_FUSE: write.say(
            "{factor:figure} · I / n ≤ rating ≤ ampacity", factor=CONTINUOUS_FACTOR
        ),
        FigureKind.STRING_FUSE_VOLTAGE: voltage,
        FigureKind.STRING_FAULT: write.say("feeding · I_sc / 1000 ≤ breaking capacity"),
        FigureKind.STRING_ISOLATOR: wanted,
        FigureKind.SHUNT: "I",
        FigureKind.MAIN_ISOLATOR: wanted,
        FigureKind.BUSBAR: wanted,
        FigureKind.FUSE: write.say(
            "{factor:figure} · I ≤ rating ≤ runs · ampacity", factor=CONTINUOUS_FACTOR
        ),
        FigureKind.FUSE_VOLTAGE: voltage,
        FigureKind.SHORT_CIRCUIT: write.say("feeding · I_sc / 1000 ≤ breaking capacity"),
        FigureKind.CABLE: write.say(
            "runs · ampacity ≥ {factor:figure} · I", factor=CONTINUOUS_FACTOR
        ),
        FigureKind.VOLTAGE_DROP: write.say("2 · l · R′ / 1000 / runs · I"),
        FigureKind.WARM_DROP: write.say(
            "drop · (1 + {rise:number.5} · (θ − 20))", rise=COPPER_PER_DEGC
        ),
        FigureKind.CHARGING_CURRENT: write.say("the smaller of m · A and r_max · n · C"),
        FigureKind.LEAST_CHARGING_CURRENT: "r_min · n · C",
        FigureKind.NEEDED_CHARGING_CURRENT: "k · d · n · C / T",
        FigureKind.RECHARGE_TIME: "k · d · n · C / I",
        FigureKind.ABSORPTION_TIME: write.say(
            "60 · k · τ · ln(I · τ / ({end:figure} · n · C)), not below 0", end=COUNTS_AS_FULL
        ),
        FigureKind.TAIL_CURRENT: write.say("share · n · C"),
        FigureKind.COMPENSATION: write.say("3 to 5 mV · z"),
        FigureKind.EQUALISING: write.say(
            "{low:number.2} to {high:number.2} V · z", low=2.5, high=2.6
        ),
        FigureKind.CUT_OFF: write.say("a straight line in what is left of the charge"),
        FigureKind.LOWEST_STATE_OF_CHARGE: "1 − d",
        FigureKind.HOT_POWER: "m · P · f",
        FigureKind.CHARGER_INPUT: write.say("I_charge · U_charge / η_charge / (phases · U)"),
        FigureKind.PASSED_THROUGH: write.say("S_loads / (phases · U) ≤ transfer switch"),
        FigureKind.SUPPLY_CURRENT: write.say("I_charger + I_loads ≤ transfer switch"),
        FigureKind.SERVICE_FUSE: "≥ I_supply",
        FigureKind.CONTRACT_CURRENT: write.say("contract / (phases · U)"),
        FigureKind.SUPPLY_BREAKER: next_rating,
        FigureKind.SURGE_PROTECTION: write.say("{factor:figure} · U", factor=SURGE_VOLTAGE_FACTOR),
        FigureKind.GENERATOR_CURRENT: "S / U",
        FigureKind.GENERATOR_SWITCH: write.say("the larger of I_generator and I_supply"),
        FigureKind.OUTPUT_CURRENT: write.say("m · S / (phases · U)"),
        FigureKind.BREAKER: next_rating,
        FigureKind.SURGE_CURRENT: write.say("m · P_surge / (phases · U)"),
        FigureKind.RCD: write.say("rated current ≥ the breaker's"),
        FigureKind.TRANSFER_TIME: write.say("≤ {limit:figure} ms", limit=COMPUTER_HOLD_MS),
        FigureKind.OWN_USE: "m · P₀ · 24 / 1000",
        FigureKind.EARTHING_CONDUCTOR: write.say(
            "the thickest line up to 16 mm², 16 mm² up to 35 mm², then half of it"
        ),
        FigureKind.BONDING_CONDUCTOR: write.say(
            "half the protective conductor, from 6 mm² to 25 mm²"
        ),
        FigureKind.BANK_MASS: write.say("units · mass"),
        FigureKind.FLOOR_PRESSURE: write.say("mass · g / (units · length · width)"),
        FigureKind.FLOOR_AREA: write.say(
            "mass · g / (1000 · {floor:figure} kN/m²)", floor=FLOOR_KN_PER_M2
        ),
        FigureKind.INVERTER_MASS: write.say("m · mass"),
        FigureKind.FLOAT_AIR: air,
        FigureKind.BOOST_AIR: air,
        FigureKind.FLOAT_OPENING: opening,
        FigureKind.BOOST_OPENING: opening,
        FigureKind.SPARK_DISTANCE: write.say(
            "{factor:number.1} · (I_gas · C · N)^(1/3)", factor=SPARK_DISTANCE_MM
        ),
    }


def sources(write: Writer) -> dict[FigureKind, str]:
    """Return where formulas and constants come from; the others are arithmetic."""
    price_list, practice = write.say("price list"), write.say("common practice")
    maker = write.say("the maker's sheet")
    usual = write.say("common practice; the maker's sheet prevails")

    def standard(name: str) -> str:
        return write.say("{name}: check against the current edition", name=name)

    iec_60947 = standard("IEC 60947-3")
    iec_60269 = standard("IEC 60269")
    iec_60364_52 = standard("IEC 60364-5-52")
    iec_60364_54 = standard("IEC 60364-5-54")
    iec_60364_551 = standard("IEC 60364-5-55, 551")
    iec_60898 = standard("IEC 60898-1")
    iec_62485 = standard("IEC 62485-2, clause 7")
    lowest = write.say("arithmetic; lowest voltage: common practice")
    return {
        FigureKind.LAYOUT: write.say("this design"),
        FigureKind.STRING_VOLTAGE: price_list,
        FigureKind.RATED_CAPACITY: price_list,
        FigureKind.TORQUE: maker,
        FigureKind.RUNNING_CURRENT: lowest,
        FigureKind.START_CURRENT: lowest,
        FigureKind.LARGEST_CURRENT: lowest,
        FigureKind.STRING_CABLE: iec_60364_52,
        FigureKind.STRING_FUSE: iec_60269,
        FigureKind.STRING_FUSE_VOLTAGE: iec_60269,
        FigureKind.STRING_FAULT: iec_60269,
        FigureKind.STRING_ISOLATOR: iec_60947,
        FigureKind.SHUNT: practice,
        FigureKind.MAIN_ISOLATOR: iec_60947,
        FigureKind.BUSBAR: practice,
        FigureKind.FUSE: iec_60269,
        FigureKind.FUSE_VOLTAGE: iec_60269,
        FigureKind.SHORT_CIRCUIT: iec_60269,
        FigureKind.CABLE: iec_60364_52,
        FigureKind.VOLTAGE_DROP: standard("IEC 60228"),
        FigureKind.WARM_DROP: standard("IEC 60228"),
        FigureKind.PRE_CHARGE: maker,
        FigureKind.CHARGING_CURRENT: price_list,
        FigureKind.LEAST_CHARGING_CURRENT: price_list,
        FigureKind.NEEDED_CHARGING_CURRENT: standard("IEEE Std 946"),
        FigureKind.ABSORPTION_VOLTAGE: price_list,
        FigureKind.ABSORPTION_TIME: usual,
        FigureKind.TAIL_CURRENT: usual,
        FigureKind.FLOAT_VOLTAGE: price_list,
        FigureKind.COMPENSATION: usual,
        FigureKind.EQUALISING: usual,
        FigureKind.CUT_OFF: usual,
        FigureKind.LOWEST_STATE_OF_CHARGE: price_list,
        FigureKind.HOT_POWER: write.say(
            "price list; f a straight line from 25 to 40 °C (common practice)"
        ),
        FigureKind.SERVICE_FUSE: write.say("the site"),
        FigureKind.SUPPLY_BREAKER: iec_60898,
        FigureKind.SURGE_PROTECTION: standard("IEC 60364-5-53, 534"),
        FigureKind.GENERATOR_SWITCH: iec_60364_551,
        FigureKind.BREAKER: iec_60898,
        FigureKind.SURGE_CURRENT: write.say(
            "type B trips at 5 × its rating (IEC 60898-1: check against the current edition)"
        ),
        FigureKind.RCD: standard("IEC 60364-4-41, 411.3.3"),
        FigureKind.TRANSFER_TIME: write.say("ITI (CBEMA) curve: no voltage for up to 20 ms"),
        FigureKind.NEUTRAL_BOND: iec_60364_551,
        FigureKind.EARTHING_CONDUCTOR: iec_60364_54,
        FigureKind.BONDING_CONDUCTOR: iec_60364_54,
        FigureKind.DC_EARTH: iec_60364_54,
        FigureKind.BANK_MASS: price_list,
        FigureKind.FLOOR_AREA: standard("EN 1991-1-1"),
        FigureKind.INVERTER_MASS: price_list,
        FigureKind.NO_HYDROGEN: write.say("chemistry"),
        FigureKind.FLOAT_AIR: iec_62485,
        FigureKind.BOOST_AIR: iec_62485,
        FigureKind.FLOAT_OPENING: iec_62485,
        FigureKind.BOOST_OPENING: iec_62485,
        FigureKind.SPARK_DISTANCE: iec_62485,
        FigureKind.ROOM_TEMPERATURE: write.say("the site"),
        FigureKind.LOWEST_TEMPERATURE: price_list,
    }
