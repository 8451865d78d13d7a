"""Why nothing fits and what would open it, one sentence each."""

from collections.abc import Callable, Iterator, Mapping

from optimizer.errors import NoDesignError
from optimizer.model.diagnosis import GoalKind, Hindrance, HindranceKind, Opening, RelaxationKind
from optimizer.model.requirement import Requirement
from optimizer.report.words.writer import Writer


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
        return _IN_THE_WAY[one.requirement](write)
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
    return _OPENINGS[one.kind](write, one)


_IN_THE_WAY: Mapping[Requirement, Callable[[Writer], str]] = {
    Requirement.POWER: lambda write: write.say(
        "In the way is continuous power: no inverter set carries all loads at once in the heat."
    ),
    Requirement.SURGE: lambda write: write.say(
        "In the way is the start-up surge: no inverter set starts the largest motor on top of "
        "the rest."
    ),
    Requirement.WIRING: lambda write: write.say(
        "In the way is the wiring: no battery cable and fuse on offer carry the current with the "
        "drop allowed."
    ),
    Requirement.DISCHARGE: lambda write: write.say(
        "In the way is the discharge current: the banks that fit may not be discharged at the peak."
    ),
    Requirement.REFILL: lambda write: write.say(
        "In the way is the charging current: the chargers are too small for the banks that would "
        "last."
    ),
    Requirement.START: lambda write: write.say(
        "In the way is the start of the largest motor: no bank that lasts gives its current."
    ),
    Requirement.TRANSFER: lambda write: write.say(
        "In the way is the transfer switch: none carries all loads at once."
    ),
    Requirement.CUTS: lambda write: write.say(
        "In the way is the time between the cuts: the chargers are too small to recharge the bank "
        "before the next one."
    ),
    Requirement.CONTRACT: lambda write: write.say(
        "In the way are the peaks of the supply: no inverter set helps with what the contract "
        "does not cover."
    ),
    Requirement.GENERATOR: lambda write: write.say(
        "In the way is the generator: too weak, or out of fuel, for outages of that length."
    ),
    Requirement.STRINGS: lambda write: write.say(
        "In the way are the strings in parallel: the site allows too few."
    ),
    Requirement.MASS: lambda write: write.say(
        "In the way is the mass: the banks that would last are too heavy for the floor."
    ),
    Requirement.COLD: lambda write: write.say(
        "In the way is the cold: the room falls below what the batteries allow."
    ),
    Requirement.VENTED: lambda write: write.say(
        "In the way is ventilation: the batteries that would do are vented, which the site does "
        "not allow."
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


_OPENINGS: Mapping[RelaxationKind, Callable[[Writer, Opening], str]] = {
    RelaxationKind.HOURS: lambda write, one: write.say(
        "Ask for {needed:hours} instead of {now:hours}.", needed=one.needed, now=one.now
    ),
    RelaxationKind.UPFRONT_BUDGET: lambda write, one: write.say(
        "Raise the upfront budget to {needed:cents} from {now:cents}.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.LIFETIME_BUDGET: lambda write, one: write.say(
        "Raise the limit on the life-cycle cost to {needed:cents} from {now:cents}.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.LATER_LIMIT: lambda write, one: write.say(
        "Let a later year cost {needed:cents} instead of {now:cents}.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.LARGEST_START: lambda write, one: write.say(
        "Start {load} with at most {needed:number} W instead of {now:number} W (a soft starter, "
        "or another motor).",
        load=one.load,
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.PEAK: lambda write, one: write.say(
        "Let no more than {needed:number} W run at once instead of {now:number} W.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.LOWEST_TEMPERATURE: lambda write, one: write.say(
        "Keep the battery room at {needed:figure} °C or warmer instead of {now:figure} °C.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.CHARGER: lambda write, one: write.say(
        "{needed:number} A of charger needed, {now:number} A offered: give each inverter a "
        "stronger charger.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.RECHARGE_HOURS: lambda write, one: write.say(
        "Allow {needed:number.1} h to recharge the bank instead of {now:figure} h.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.BANK_MASS: lambda write, one: write.say(
        "Allow a bank of {needed:number.1} kg instead of {now:number} kg, if a structural engineer "
        "confirms that the floor carries it.",
        needed=one.needed,
        now=one.now,
    ),
    RelaxationKind.STRINGS: _strings,
}
