"""The appendix of a quote in words."""

from collections.abc import Sequence

from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.switch_points import SwitchPoints
from optimizer.quote import Quote
from optimizer.report.words import switch_points
from optimizer.report.words.comparison import catch_up, missing
from optimizer.report.words.comparison import reasons as parts
from optimizer.report.words.design import chemistry as family
from optimizer.report.words.writer import Writer

#: From this share on a difference of sums is told.
_TOLD = 0.005


def title(write: Writer, families: Sequence[str]) -> str:
    """Return the heading: the question as a buyer asks it."""
    names = [family(write, name) for name in families]
    if len(names) == 1:
        return write.say("Appendix: what would change the answer")
    return write.say("Appendix: {names:choice}, and what would change the answer", names=names)


def reasons(write: Writer, comparison: Comparison) -> list[str]:
    """Return why the winner wins, when the dearer has caught up, and who cannot carry it."""
    said = [*parts(write, comparison), catch_up(write, comparison)]
    if comparison.missing:
        said.append(missing(write, comparison))
    return [sentence for sentence in said if sentence]


def beside_the_offer(write: Writer, quote: Quote) -> list[str]:
    """Return why sums and banks here are not those of the options, where they are not."""
    said = []
    compared = quote.appendix.comparison.hours if quote.appendix else 0
    for one in quote.options:
        design, asked = one.design, float(one.pricing.total)
        if design.hours != compared:
            continue
        if abs(asked - design.upfront_cost) >= _TOLD * design.upfront_cost:
            said.append(
                write.say(
                    "All sums here are by the price list that designs are chosen by, with the fuel "
                    "to store: {model:money} upfront for {hours:hours}, where the offer asks "
                    "{asked:money} with its parts of the circuit, extras and discounts, and no "
                    "fuel.",
                    model=design.upfront_cost,
                    hours=design.hours,
                    asked=asked,
                )
            )
        later = dict.fromkeys(bank.battery.family for bank in design.banks)
        if len(later) > 1:
            said.append(
                write.say(
                    "The option for {hours:hours} goes on with {later:list} when its first bank is "
                    "due; here each side keeps to one kind of battery, which costs more.",
                    hours=design.hours,
                    later=[family(write, name) for name in list(later)[1:]],
                )
            )
    return list(dict.fromkeys(said))


def turns(write: Writer, found: Sequence[SwitchPoints], comparison: Comparison) -> list[str]:
    """Return what would turn the answer; who stays the answer where nothing does."""
    if not any(one.points for one in found):
        return [
            write.say(
                "Nothing turns it alone: {family} stays the answer throughout every range below.",
                family=family(write, comparison.winner.name),
            )
        ]
    return switch_points.turning(write, found)


def jumps(write: Writer) -> str:
    """Return what the table of switch points is, and what a jump is."""
    return write.say(
        "Each number alone, all else as today. A jump is where a cost breaks off: a whole unit or "
        "a year of life more or less."
    )


def break_even_title(write: Writer, line: BreakEvenLine) -> str:
    """Return the heading of the break-even line."""
    return write.say(
        "Two numbers at once: where {one} and {other} cost the same",
        one=family(write, line.other),
        other=family(write, line.priced),
    )


def break_even(write: Writer, line: BreakEvenLine, families: Sequence[str]) -> list[str]:
    """Return the break-even line at the lowest, today's and the highest value, and between whom."""
    winners = {point.always for point in line.points}
    if len(winners) == 1 and None not in winners:
        winner = str(*winners)
        return [
            write.say(
                "None: {family} wins at every price and value looked at.",
                family=family(write, winner),
            )
        ]
    said = switch_points.break_even(write, line)
    others = [family(write, name) for name in families if name not in {line.priced, line.other}]
    if others:
        said.append(write.say("Between these two alone, without {names:list}.", names=others))
    return said


def bars(write: Writer) -> str:
    """Return how the bars of a sensitivity are read."""
    return write.say("Hollow: at the lower value. Full: at the higher one. The line: today.")


def sensitivity_note(write: Writer, found: Sensitivities) -> str:
    """Return what the table of sensitivities holds."""
    return write.say(
        "Life-cycle cost over {years:years} of {hours:hours}, {currency}; hours: what "
        "{budget:money} upfront buys, now {now}. Numbers that move neither are left out.",
        years=found.job.site.horizon_years,
        hours=found.hours,
        budget=found.budget,
        now=found.sensitivities[0].base.hours,
    )


def alone(write: Writer, title: str, family_alone: str | None) -> str:
    """Return a heading, with the family that it is about where that is one alone."""
    if family_alone is None:
        return title
    return write.say("{title}, {family} alone", title=title, family=family(write, family_alone))


def budget_note(write: Writer) -> str:
    """Return what is to be minded of a budget."""
    return write.say(
        "The longest hours that an upfront budget buys, whatever follows: a low price is often "
        "paid for later, see the replacements. The options of this quote have the least life-cycle "
        "cost instead. Marks: the family of the first bank."
    )


def tiers_note(write: Writer) -> str:
    """Return what the table of tiers holds."""
    return write.say(
        "For the loads named and all before them; “none” where nothing on offer lasts that long."
    )
