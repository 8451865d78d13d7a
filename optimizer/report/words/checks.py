"""What a design must meet, in words: each kind of check and each family of requirements."""

from collections.abc import Callable, Mapping, Sequence

from optimizer.engine.check import Check, CheckKind
from optimizer.model.requirement import Requirement
from optimizer.report.words.writer import Writer


def check_name(write: Writer, check: Check) -> str:
    """Return what is required, with the bank it is required of where there are several."""
    name = _NAMES[check.kind](write, check)
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
    return _REQUIREMENTS[requirement](write)


def _energy(write: Writer, check: Check) -> str:
    return write.say(
        "Energy for {hours:hours} in year {year}", hours=check.hours, year=(check.year or 0) + 1
    )


_NAMES: Mapping[CheckKind, Callable[[Writer, Check], str]] = {
    CheckKind.POWER: lambda write, check: write.say(
        "Power of all loads at once, at {degc:figure} °C", degc=check.degc
    ),
    CheckKind.APPARENT_POWER: lambda write, check: write.say(
        "Apparent power, at {degc:figure} °C", degc=check.degc
    ),
    CheckKind.SURGE: lambda write, _: write.say("Start of the largest motor on top of the rest"),
    CheckKind.CABLE_CURRENT: lambda write, _: write.say("Battery cable carries the current"),
    CheckKind.FUSE_CURRENT: lambda write, _: write.say("Fuse holds the current"),
    CheckKind.FUSE_PROTECTION: lambda write, _: write.say("Fuse protects the cable"),
    CheckKind.FUSE_VOLTAGE: lambda write, _: write.say("Fuse breaks the bank's voltage"),
    CheckKind.TRANSFER: lambda write, _: write.say("Transfer switch carries all loads"),
    CheckKind.WORKS_IN_PARALLEL: lambda write, _: write.say("Works beside the supply"),
    CheckKind.PEAK_HELP: lambda write, _: write.say("Help at the largest peak of the supply"),
    CheckKind.CONTRACT_TRANSFER: lambda write, _: write.say(
        "Transfer switch carries the supply contract"
    ),
    CheckKind.GENERATOR_POWER: lambda write, _: write.say("Generator carries all loads at once"),
    CheckKind.GENERATOR_APPARENT_POWER: lambda write, _: write.say("Generator's apparent power"),
    CheckKind.GENERATOR_SURGE: lambda write, _: write.say("Generator starts the largest motor"),
    CheckKind.GENERATOR_REFILL: lambda write, _: write.say("Generator recharges the bank by day"),
    CheckKind.GENERATOR_HOURS: lambda write, _: write.say("Outages longer than a night"),
    CheckKind.FUEL: lambda write, _: write.say("Fuel stored"),
    CheckKind.FUEL_LIMIT: lambda write, _: write.say("Fuel that may be stored"),
    CheckKind.START_CURRENT: lambda write, _: write.say("Start of the largest motor from the bank"),
    CheckKind.BETWEEN_CUTS: lambda write, check: write.say(
        "Charger recharges within the {hours:hours} before the next cut", hours=check.hours
    ),
    CheckKind.SAME_BOX: lambda write, _: write.say("Battery and inverter of one box"),
    CheckKind.RENEWALS: lambda write, _: write.say("Banks one after another"),
    CheckKind.VOLTAGE_DROP: lambda write, _: write.say("Voltage drop in the cable"),
    CheckKind.INVERTER_UNITS: lambda write, _: write.say("Inverter units side by side"),
    CheckKind.ENERGY: _energy,
    CheckKind.ENERGY_TODAY: lambda write, check: write.say(
        "Energy for {hours:hours} today", hours=check.hours
    ),
    CheckKind.DISCHARGE_CURRENT: lambda write, _: write.say("Discharge current at the peak"),
    CheckKind.LEAST_CHARGING_CURRENT: lambda write, _: write.say(
        "Lowest charging current of the battery"
    ),
    CheckKind.RECHARGE: lambda write, check: write.say(
        "Charger recharges within {hours:hours}", hours=check.hours
    ),
    CheckKind.SCHEDULED_CUTS_CLOSE: lambda write, _: write.say(
        "Charger closes the day of scheduled cuts"
    ),
    CheckKind.SCHEDULED_CUTS_CARRIED: lambda write, _: write.say("Every scheduled cut is carried"),
    CheckKind.STRINGS: lambda write, _: write.say("Strings in parallel"),
    CheckKind.SERIES: lambda write, _: write.say("Units in series"),
    CheckKind.MASS: lambda write, _: write.say("Mass of the bank"),
    CheckKind.LOWEST_TEMPERATURE: lambda write, _: write.say("Lowest room temperature"),
    CheckKind.VENTILATED_PLACE: lambda write, _: write.say("Ventilated space"),
    CheckKind.AGE: lambda write, _: write.say("Age when replaced"),
    CheckKind.LEAST_SERVICE: lambda write, _: write.say("Service before it is replaced"),
    CheckKind.STATED_LIFE: lambda write, _: write.say("Service life as stated"),
    CheckKind.UPFRONT_COST: lambda write, _: write.say("Upfront cost"),
    CheckKind.LIFE_CYCLE_COST: lambda write, _: write.say("Life-cycle cost"),
    CheckKind.LATER_COST: lambda write, _: write.say("Purchases of the dearest later year"),
}

_REQUIREMENTS: Mapping[Requirement, Callable[[Writer], str]] = {
    Requirement.POWER: lambda write: write.say("continuous power in the heat"),
    Requirement.SURGE: lambda write: write.say("start-up surge"),
    Requirement.WIRING: lambda write: write.say("battery cable and fuse"),
    Requirement.DISCHARGE: lambda write: write.say("discharge current of the bank"),
    Requirement.REFILL: lambda write: write.say("charging current of the bank"),
    Requirement.STRINGS: lambda write: write.say("strings in parallel"),
    Requirement.MASS: lambda write: write.say("mass of the bank"),
    Requirement.COLD: lambda write: write.say("lowest room temperature"),
    Requirement.START: lambda write: write.say("start of the largest motor from the bank"),
    Requirement.TRANSFER: lambda write: write.say("transfer switch"),
    Requirement.CUTS: lambda write: write.say("recharge between scheduled cuts"),
    Requirement.CONTRACT: lambda write: write.say("help at peaks of the supply"),
    Requirement.GENERATOR: lambda write: write.say("generator"),
    Requirement.VENTED: lambda write: write.say("no ventilated space"),
}
