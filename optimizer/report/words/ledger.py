"""What a design rests on, in words."""

from collections.abc import Mapping

from optimizer.answers.ledger import Assumption, Source, Subject
from optimizer.report.words.faults import said
from optimizer.report.words.writer import Sentence, Writer, plain


def count(write: Writer, n: int) -> str:
    """Return how many numbers a design rests on."""
    return write.say_number("It rests on {n} number", "It rests on {n} numbers", n)


def subject(write: Writer, one: Assumption) -> str:
    """Return what a table of numbers is about."""
    return write.say(_SUBJECTS[one.subject].english, name=one.of)


_SUBJECTS: Mapping[Subject, Sentence] = {
    Subject.SITE: Sentence("Site"),
    Subject.LOAD: Sentence("Loads, from the load survey"),
    Subject.OUTAGES: Sentence("Outages"),
    Subject.INVERTER: Sentence("Inverter {name}"),
    Subject.BATTERY: Sentence("Battery {name}"),
    Subject.CABLE: Sentence("Cable {name}"),
    Subject.FUSE: Sentence("Fuse {name}"),
    Subject.WORK: Sentence("Labour and fittings"),
    Subject.SCHEDULED_CUTS: Sentence("Scheduled cuts"),
    Subject.CONSTANTS: Sentence("Constants"),
}


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
    return write.say(_SOURCES[found].english)


_SOURCES: Mapping[Source, Sentence] = {
    Source.CHEMISTRY: Sentence("chemistry"),
    Source.SITE_FILE: Sentence("site file"),
    Source.DEFAULT: Sentence("the default, or typed the same"),
    Source.LOAD_SURVEY: Sentence("load survey"),
    Source.OUTAGE_LOG: Sentence("outage log"),
    Source.PRICE_LIST: Sentence("price list"),
    Source.TYPED_IN: Sentence("typed in"),
    Source.COMMON_PRACTICE: Sentence("common practice"),
    Source.FROM_MEMORY: Sentence("from memory"),
    Source.OWN_RULE: Sentence("this project's rule"),
    Source.ARITHMETIC: Sentence("arithmetic"),
}


def name(write: Writer, one: Assumption) -> str:
    """Return what a number is; keys and columns of files keep their names."""
    if one.subject is Subject.WORK:
        return write.say("{key}, {purchase}", key=one.name, purchase=_purchase(write, one))
    found = _NAMES.get(one.subject, {}).get(one.name)
    return one.name if found is None else write.say(found.english, operand=one.operand)


def _purchase(write: Writer, one: Assumption) -> str:
    match one.operand:
        case "first":
            return write.say("first purchase")
        case "swap":
            return write.say("replacement")
    return write.say("each purchase")


_NAMES: Mapping[Subject, Mapping[str, Sentence]] = {
    Subject.SITE: {"months": Sentence("months of {operand}")},
    Subject.OUTAGES: {
        "times_per_year": Sentence("of {operand:figure} h"),
        "outages_logged": Sentence("outages logged"),
        "hours_logged": Sentence("hours logged"),
    },
    Subject.SCHEDULED_CUTS: {
        "charging_voltage": Sentence("charging voltage in the balance of a day")
    },
    Subject.CONSTANTS: {
        "larger_loads": Sentence("larger loads tried: {operand:share} of the survey"),
        "lowest_voltage_share": Sentence("battery voltage at its lowest, of the system's"),
        "rating_degc": Sentence("temperature of ratings"),
        "hot_rating_degc": Sentence("temperature of the second inverter rating"),
        "float_life_degc": Sentence("temperature of float life, where the row has none"),
        "continuous_factor": Sentence("continuous current that cable and fuse carry, times"),
        "most_cable_runs": Sentence("most cable runs in parallel"),
        "lowest_class_voltage_share": Sentence("lowest voltage of a class, of its nominal"),
        "highest_class_voltage_share": Sentence("highest voltage of a class, of its nominal"),
        "hours_of_year": Sentence("hours of a year of 365 days"),
        "relative_tolerance": Sentence("tolerance of every comparison, relative"),
        "cost_tolerance": Sentence("costs that are equal, apart by less than"),
        "depth_tolerance": Sentence("tolerance on depth in the simulation, relative"),
    },
}
