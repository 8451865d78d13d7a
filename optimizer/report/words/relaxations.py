"""Why nothing fits and what would open it, one sentence each."""

from collections.abc import Iterator, Mapping

from optimizer.errors import NoDesignError
from optimizer.model.diagnosis import GoalKind, Hindrance, HindranceKind, Opening, RelaxationKind
from optimizer.model.requirement import Requirement
from optimizer.report.words.writer import Sentence, Writer


def no_design(error: NoDesignError, locale: str = "en") -> str:
    """Return all of a refusal, one sentence a line: what the error's own text is made of."""
    write = Writer(error.goal.currency, locale)
    return "\n".join((goal(write, error), *reasons(write, error)))


def goal(write: Writer, error: NoDesignError) -> str:
    """Return that nothing meets a goal; with money in the way, that it is for this money."""
    asked = error.goal
    match asked.kind:
        case GoalKind.HOURS if any(
            one.kind is HindranceKind.MONEY for one in error.diagnosis.hindrances
        ):
            return write.say(
                "No design carries {hours:hours} for the money allowed.", hours=asked.hours
            )
        case GoalKind.HOURS:
            return write.say("No design carries {hours:hours}.", hours=asked.hours)
        case GoalKind.UPFRONT_BUDGET:
            return write.say("No design costs {money:cents} upfront or less.", money=asked.amount)
        case GoalKind.LIFETIME_BUDGET:
            return write.say(
                "No design has a life-cycle cost of {money:cents} or less.", money=asked.amount
            )


def reasons(write: Writer, error: NoDesignError) -> Iterator[str]:
    """Yield what stands in the way and what would open it, one sentence each."""
    found = error.diagnosis
    for one in found.hindrances:
        if one.kind is not HindranceKind.MONEY:  # the goal says it
            yield _hindrance(write, one)
    for change in found.openings:
        yield opening(write, change)
    if not found.openings:
        yield write.say("No single change opens it.")
    for first, second in found.pairs:
        yield write.say(
            "Two together do: {first} And: {second}",
            first=opening(write, first),
            second=opening(write, second),
        )
    if not found.openings and not found.pairs:
        yield write.say(
            "No two of the changes tried do either: the price list has nothing for this site."
        )


def _hindrance(write: Writer, one: Hindrance) -> str:
    if one.requirement is not None:
        return write.say(_IN_THE_WAY[one.requirement].english)
    match one.kind:
        case HindranceKind.NO_INVERTER_SET:
            return write.say(
                "No inverter set on offer passes; more than one requirement is in the way."
            )
        case HindranceKind.NO_BANK:
            return write.say("No battery on offer passes; more than one requirement is in the way.")
    sets, banks = one.sets or 0, one.banks or 0
    return write.say(
        "{sets} and {banks} pass by themselves; no pair of them holds long enough.",
        sets=write.say_number("{n} inverter set", "{n} inverter sets", sets),
        banks=write.say_number("{n} bank", "{n} banks", banks),
    )


def opening(write: Writer, one: Opening) -> str:
    """Return what would open a question, as advice."""
    if one.kind is RelaxationKind.STRINGS:
        return _strings(write, one)
    fields = {"needed": one.needed, "now": one.now, "load": one.load}
    return write.say(_OPENINGS[one.kind].english, **fields)


_IN_THE_WAY: Mapping[Requirement, Sentence] = {
    Requirement.POWER: Sentence(
        "Continuous power stands in the way: no inverter set carries all loads at once in the heat."
    ),
    Requirement.SURGE: Sentence(
        "The start-up surge stands in the way: no inverter set starts the largest motor on top of "
        "the rest."
    ),
    Requirement.WIRING: Sentence(
        "The wiring stands in the way: no battery cable and fuse on offer carry the current with "
        "the drop allowed."
    ),
    Requirement.DISCHARGE: Sentence(
        "The discharge current stands in the way: the banks that fit may not give what the peak "
        "draws."
    ),
    Requirement.REFILL: Sentence(
        "The charging current stands in the way: the chargers are too small for the banks that "
        "would last."
    ),
    Requirement.START: Sentence(
        "The start of the largest motor stands in the way: no bank that lasts gives its current."
    ),
    Requirement.TRANSFER: Sentence(
        "The transfer switch stands in the way: none carries all loads at once."
    ),
    Requirement.CUTS: Sentence(
        "The time between the cuts stands in the way: the chargers are too small to recharge the "
        "bank before the next one."
    ),
    Requirement.CONTRACT: Sentence(
        "The peaks of the supply stand in the way: no inverter set helps with what the contract "
        "does not cover."
    ),
    Requirement.GENERATOR: Sentence(
        "The generator stands in the way: too weak, or out of fuel, for outages of that length."
    ),
    Requirement.STRINGS: Sentence(
        "The strings in parallel stand in the way: the site allows too few."
    ),
    Requirement.MASS: Sentence(
        "The mass stands in the way: the banks that would last are too heavy for the floor."
    ),
    Requirement.COLD: Sentence(
        "The cold stands in the way: the room falls below what the batteries allow."
    ),
    Requirement.VENTED: Sentence(
        "Ventilation stands in the way: the batteries that would do are vented, which the site "
        "does not allow."
    ),
}


def _strings(write: Writer, one: Opening) -> str:
    if one.now is None:
        return write.say(
            "Allow {needed} strings in parallel also of batteries whose makers allow fewer: "
            "it needs the maker's consent.",
            needed=int(one.needed),
        )
    if one.makers_most is not None and one.needed > one.makers_most:
        return write.say(
            "Allow {needed} strings in parallel instead of {now}. No maker here allows more than "
            "{most}: it needs the maker's consent.",
            needed=int(one.needed),
            now=int(one.now),
            most=one.makers_most,
        )
    return write.say(
        "Allow {needed} strings in parallel instead of {now}.",
        needed=int(one.needed),
        now=int(one.now),
    )


_OPENINGS: Mapping[RelaxationKind, Sentence] = {
    RelaxationKind.HOURS: Sentence("Ask for {needed:hours} instead of {now:hours}."),
    RelaxationKind.UPFRONT_BUDGET: Sentence(
        "Raise the upfront budget to {needed:cents} from {now:cents}.",
    ),
    RelaxationKind.LIFETIME_BUDGET: Sentence(
        "Raise the limit on the life-cycle cost to {needed:cents} from {now:cents}.",
    ),
    RelaxationKind.LATER_LIMIT: Sentence(
        "Let a later year cost {needed:cents} instead of {now:cents}.",
    ),
    RelaxationKind.LARGEST_START: Sentence(
        "Start {load} with at most {needed:number} W instead of {now:number} W (a soft starter, "
        "or another motor).",
    ),
    RelaxationKind.PEAK: Sentence(
        "Let no more than {needed:number} W run at once instead of {now:number} W.",
    ),
    RelaxationKind.LOWEST_TEMPERATURE: Sentence(
        "Keep the battery room at {needed:figure} °C or warmer instead of {now:figure} °C.",
    ),
    RelaxationKind.CHARGER: Sentence(
        "{needed:number} A of charger needed, {now:number} A offered: give each inverter a "
        "stronger charger.",
    ),
    RelaxationKind.RECHARGE_HOURS: Sentence(
        "Allow {needed:number.1} h to recharge the bank instead of {now:figure} h.",
    ),
    RelaxationKind.BANK_MASS: Sentence(
        "Allow a bank of {needed:number.1} kg instead of {now:number} kg, if a structural engineer "
        "confirms that the floor carries it.",
    ),
}
