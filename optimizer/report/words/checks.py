"""What a design must meet, in words: each kind of check and each family of requirements."""

from collections.abc import Mapping, Sequence

from optimizer.engine.check import Check, CheckKind
from optimizer.model.requirement import Requirement
from optimizer.report.words.writer import Sentence, Writer


def check_name(write: Writer, check: Check) -> str:
    """Return what is required, with the bank it is required of where there are several."""
    year = (check.year or 0) + 1
    name = write.say(_NAMES[check.kind].english, degc=check.degc, hours=check.hours, year=year)
    bank = check.bank
    if bank is None:
        return name
    if bank.end - bank.start == 1:
        return write.say(
            "{check}, {battery}, year {year}",
            check=name,
            battery=bank.battery.battery,
            year=bank.end,
        )
    return write.say(
        "{check}, {battery}, years {first}–{last}",
        check=name,
        battery=bank.battery.battery,
        first=bank.start + 1,
        last=bank.end,
    )


def is_of_one_bank(checks: Sequence[Check]) -> bool:
    """Tell whether all checks are about one bank, which then goes without saying."""
    return len({check.bank.start for check in checks if check.bank is not None}) == 1


def check_unit(write: Writer, check: Check) -> str:
    """Return the unit of a check; the currency where it is about money."""
    if check.unit == "money":
        return write.currency
    return write.say("years") if check.unit == "years" else check.unit


def requirement_name(write: Writer, requirement: Requirement) -> str:
    """Return a family of requirements as it stands in a table or inside a sentence."""
    return write.say(_REQUIREMENTS[requirement].english)


_NAMES: Mapping[CheckKind, Sentence] = {
    CheckKind.POWER: Sentence("Power of all loads at once, at {degc:figure} °C"),
    CheckKind.APPARENT_POWER: Sentence("Apparent power, at {degc:figure} °C"),
    CheckKind.SURGE: Sentence("Start of the largest motor on top of the rest"),
    CheckKind.CABLE_CURRENT: Sentence("Battery cable carries the current"),
    CheckKind.FUSE_CURRENT: Sentence("Fuse holds the current"),
    CheckKind.FUSE_PROTECTION: Sentence("Fuse protects the cable"),
    CheckKind.FUSE_VOLTAGE: Sentence("Fuse breaks the bank's voltage"),
    CheckKind.TRANSFER: Sentence("Transfer switch carries all loads"),
    CheckKind.WORKS_IN_PARALLEL: Sentence("Works beside the supply"),
    CheckKind.PEAK_HELP: Sentence("Help at the largest peak of the supply"),
    CheckKind.CONTRACT_TRANSFER: Sentence("Transfer switch carries the supply contract"),
    CheckKind.GENERATOR_POWER: Sentence("Generator carries all loads at once"),
    CheckKind.GENERATOR_APPARENT_POWER: Sentence("Generator's apparent power"),
    CheckKind.GENERATOR_SURGE: Sentence("Generator starts the largest motor"),
    CheckKind.GENERATOR_REFILL: Sentence("Generator recharges the bank by day"),
    CheckKind.GENERATOR_HOURS: Sentence("Outages longer than a night"),
    CheckKind.FUEL: Sentence("Fuel stored"),
    CheckKind.FUEL_LIMIT: Sentence("Fuel that may be stored"),
    CheckKind.START_CURRENT: Sentence("Start of the largest motor from the bank"),
    CheckKind.BETWEEN_CUTS: Sentence(
        "Charger recharges within the {hours:hours} before the next cut"
    ),
    CheckKind.SAME_BOX: Sentence("Battery and inverter of one box"),
    CheckKind.RENEWALS: Sentence("Banks one after another"),
    CheckKind.VOLTAGE_DROP: Sentence("Voltage drop in the cable"),
    CheckKind.INVERTER_UNITS: Sentence("Inverter units side by side"),
    CheckKind.ENERGY: Sentence("Energy for {hours:hours} in year {year}"),
    CheckKind.ENERGY_TODAY: Sentence("Energy for {hours:hours} today"),
    CheckKind.DISCHARGE_CURRENT: Sentence("Discharge current at the peak"),
    CheckKind.LEAST_CHARGING_CURRENT: Sentence("Lowest charging current of the battery"),
    CheckKind.RECHARGE: Sentence("Charger recharges within {hours:hours}"),
    CheckKind.SCHEDULED_CUTS_CLOSE: Sentence("Charger closes the day of scheduled cuts"),
    CheckKind.SCHEDULED_CUTS_CARRIED: Sentence("Every scheduled cut is carried"),
    CheckKind.STRINGS: Sentence("Strings in parallel"),
    CheckKind.SERIES: Sentence("Units in series"),
    CheckKind.MASS: Sentence("Mass of the bank"),
    CheckKind.LOWEST_TEMPERATURE: Sentence("Lowest room temperature"),
    CheckKind.VENTILATED_PLACE: Sentence("Ventilated space"),
    CheckKind.AGE: Sentence("Age when replaced"),
    CheckKind.LEAST_SERVICE: Sentence("Service before it is replaced"),
    CheckKind.STATED_LIFE: Sentence("Service life as stated"),
    CheckKind.UPFRONT_COST: Sentence("Upfront cost"),
    CheckKind.LIFE_CYCLE_COST: Sentence("Life-cycle cost"),
    CheckKind.LATER_COST: Sentence("Purchases of the dearest later year"),
}

_REQUIREMENTS: Mapping[Requirement, Sentence] = {
    Requirement.POWER: Sentence("continuous power in the heat"),
    Requirement.SURGE: Sentence("start-up surge"),
    Requirement.WIRING: Sentence("battery cable and fuse"),
    Requirement.DISCHARGE: Sentence("discharge current of the bank"),
    Requirement.REFILL: Sentence("charging current of the bank"),
    Requirement.STRINGS: Sentence("strings in parallel"),
    Requirement.MASS: Sentence("mass of the bank"),
    Requirement.COLD: Sentence("lowest room temperature"),
    Requirement.START: Sentence("start of the largest motor from the bank"),
    Requirement.TRANSFER: Sentence("transfer switch"),
    Requirement.CUTS: Sentence("recharge between scheduled cuts"),
    Requirement.CONTRACT: Sentence("help at peaks of the supply"),
    Requirement.GENERATOR: Sentence("generator"),
    Requirement.VENTED: Sentence("no ventilated space"),
}
