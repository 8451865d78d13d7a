"""What several charts say alike, and their headings in files and on the page."""

from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.budgets import Staircase
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.tier_costs import Tiers
from optimizer.report.words.comparison import side
from optimizer.report.words.design import chemistry as family
from optimizer.report.words.writer import Writer


def autonomy(write: Writer) -> str:
    """Return the title of hours."""
    return write.say("Autonomy, h")


def cost(write: Writer, years: int, *, upfront: bool = False) -> str:
    """Return what money is called: at the start, or over the study period."""
    if upfront:
        return write.say("Upfront cost, {currency}")
    return write.say("Life-cycle cost over {years:years}, {currency}", years=years)


def since_failure(write: Writer) -> str:
    """Return the title of an outage's hours."""
    return write.say("Hours since the grid failed")


def time_of_day(write: Writer) -> str:
    """Return the title of hours of days."""
    return write.say("Hour of the day")


def paid_heading(write: Writer, found: Comparison) -> tuple[str, str]:
    """Return title and subtitle of what has been paid by when."""
    return (
        write.say("Paid to date, for {hours:hours} of autonomy", hours=found.hours),
        write.say(
            "{currency} of today; hollow: with the residual value deducted. {family:capital} is "
            "cheaper by {margin:money} in present value.",
            family=side(write, found.winner.name),
            margin=found.cheaper_by,
        ),
    )


def break_even_heading(write: Writer, line: BreakEvenLine) -> tuple[str, str]:
    """Return title and subtitle of the break-even line."""
    one, other = family(write, line.other), family(write, line.priced)
    return (
        write.say("Where {one} and {other} cost the same", one=one, other=other),
        write.say("Below the line {other} wins, above it {one}", one=one, other=other),
    )


def sensitivity_heading(
    write: Writer, found: Sensitivities, now: float, *, cost: bool
) -> tuple[str, str]:
    """Return title and subtitle of a sensitivity."""
    if cost:
        return (
            write.say("What moves the life-cycle cost of {hours:hours}", hours=found.hours),
            write.say("Now {now:money}; hollow: lower value, full: higher value", now=now),
        )
    return (
        write.say("What moves the autonomy that {budget:money} upfront buys", budget=found.budget),
        write.say("Now {now:hours}; hollow: lower value, full: higher value", now=now),
    )


def staircase_heading(write: Writer, found: Staircase) -> tuple[str, str]:
    """Return title and subtitle of what money buys."""
    if found.lifetime:
        title = write.say("What a life-cycle budget buys")
    else:
        title = write.say("What an upfront budget buys")
    below = write.say("Level where more money buys no more hours; marks: family of the first bank")
    return title, below


def tiers_heading(write: Writer, found: Tiers) -> tuple[str, str]:
    """Return title and subtitle of the tiers."""
    years = found.job.site.horizon_years
    return (
        write.say("Tier by tier: life-cycle cost over {years:years}", years=years),
        write.say("{currency}, residual value deducted"),
    )
