"""What a design rests on, in words."""

from optimizer.answers.ledger import Assumption, Source, Subject
from optimizer.report.words.faults import said
from optimizer.report.words.writer import Writer, plain


def count(write: Writer, n: int) -> str:
    """Return how many numbers a design rests on."""
    return write.say_number("It rests on {n} number", "It rests on {n} numbers", n)


def subject(write: Writer, one: Assumption) -> str:  # noqa: PLR0911 - one a subject
    """Return what a table of numbers is about."""
    match one.subject:
        case Subject.SITE:
            return write.say("Site")
        case Subject.LOAD:
            return write.say("Loads, from the load survey")
        case Subject.OUTAGES:
            return write.say("Outages")
        case Subject.INVERTER:
            return write.say("Inverter {name}", name=one.of)
        case Subject.BATTERY:
            return write.say("Battery {name}", name=one.of)
        case Subject.CABLE:
            return write.say("Cable {name}", name=one.of)
        case Subject.FUSE:
            return write.say("Fuse {name}", name=one.of)
        case Subject.WORK:
            return write.say("Labour and fittings")
        case Subject.SCHEDULED_CUTS:
            return write.say("Scheduled cuts")
    return write.say("Constants")


def source(write: Writer, one: Assumption) -> str:
    """Return where a number comes from."""
    if one.source is Source.CHEMISTRY:
        return plain(one.detail)
    shown = source_kind(write, one.source)
    if not one.detail:
        return shown
    return write.say("{source}, {detail}", source=shown, detail=said(write, one.detail))


def source_kind(write: Writer, found: Source) -> str:
    """Return which kind of source a number has."""
    return {
        Source.CHEMISTRY: write.say("chemistry"),
        Source.SITE_FILE: write.say("site file"),
        Source.DEFAULT: write.say("the default, or typed the same"),
        Source.LOAD_SURVEY: write.say("load survey"),
        Source.OUTAGE_LOG: write.say("outage log"),
        Source.PRICE_LIST: write.say("price list"),
        Source.TYPED_IN: write.say("typed in"),
        Source.COMMON_PRACTICE: write.say("common practice"),
        Source.FROM_MEMORY: write.say("from memory"),
        Source.OWN_RULE: write.say("this project's rule"),
        Source.ARITHMETIC: write.say("arithmetic"),
    }[found]


def name(write: Writer, one: Assumption) -> str:  # noqa: PLR0911 - one a name
    """Return what a number is; keys and columns of files keep their names."""
    match one.subject, one.name:
        case Subject.SITE, "months":
            return write.say("months of {season}", season=one.operand)
        case Subject.OUTAGES, "times_per_year":
            return write.say("of {hours:figure} h", hours=one.operand)
        case Subject.OUTAGES, "outages_logged":
            return write.say("outages logged")
        case Subject.OUTAGES, "hours_logged":
            return write.say("hours logged")
        case Subject.WORK, _:
            return write.say("{key}, {purchase}", key=one.name, purchase=_purchase(write, one))
        case Subject.SCHEDULED_CUTS, _:
            return write.say("charging voltage in the balance of a day")
        case Subject.CONSTANTS, "larger_loads":
            return write.say("larger loads tried: {share:share} of the survey", share=one.operand)
        case Subject.CONSTANTS, _:
            return _constants(write)[one.name]
    return one.name


def _purchase(write: Writer, one: Assumption) -> str:
    match one.operand:
        case "first":
            return write.say("first purchase")
        case "swap":
            return write.say("replacement")
    return write.say("each purchase")


def _constants(write: Writer) -> dict[str, str]:
    return {
        "lowest_voltage_share": write.say("battery voltage at its lowest, of the system's"),
        "rating_degc": write.say("temperature of ratings"),
        "hot_rating_degc": write.say("temperature of the second inverter rating"),
        "float_life_degc": write.say("temperature of float life, where the row has none"),
        "continuous_factor": write.say("continuous current that cable and fuse carry, times"),
        "most_cable_runs": write.say("most cable runs in parallel"),
        "lowest_class_voltage_share": write.say("lowest voltage of a class, of its nominal"),
        "highest_class_voltage_share": write.say("highest voltage of a class, of its nominal"),
        "hours_of_year": write.say("hours of a year of 365 days"),
        "relative_tolerance": write.say("tolerance of every comparison, relative"),
        "cost_tolerance": write.say("costs that are equal, apart by less than"),
        "depth_tolerance": write.say("tolerance on depth in the simulation, relative"),
    }
