"""What money buys, in sentences."""

import math

from optimizer.answers.stops import Stop
from optimizer.comparison.budgets import Cause, Staircase
from optimizer.comparison.study import side_of
from optimizer.report.words.checks import requirement_name
from optimizer.report.words.comparison import side
from optimizer.report.words.design import stopped
from optimizer.report.words.writer import Writer


def cause(write: Writer, made_by: Cause) -> str:
    """Return what made a step of a staircase."""
    if made_by.fuel:
        return write.say("more fuel")
    if made_by.requirement is None:
        return write.say("larger bank")
    return write.say(
        "{requirement} ({share:money} of the step)",
        requirement=requirement_name(write, made_by.requirement),
        share=made_by.lower_by,
    )


def nothing(write: Writer) -> str:
    """Return that no budget buys anything."""
    return write.say("No budget buys anything within that limit on later years.")


def ended(write: Writer, stop: Stop, hours: int) -> str:
    """Return why budgets buy nothing longer."""
    match stop:
        case Stop.MONEY:
            return write.say("The limit on later years ends it there, whatever is paid upfront.")
        case Stop.OFFER:
            return write.say("More money buys no more hours: nothing on offer holds longer.")
        case Stop.LOOKED:
            return stopped(write, stop, hours)


def required(write: Writer, stairs: Staircase, hours: int) -> str:
    """Return the least budget that buys an autonomy."""
    first = next((step for step in stairs.steps if step.hours >= hours), None)
    if first is None:
        return write.say("No budget buys {hours:hours}.", hours=hours)
    fields = {"hours": hours, "budget": math.ceil(first.budget)}
    if stairs.lifetime:
        return write.say(
            "{hours:hours} take a life-cycle budget of {budget:money} at least.", **fields
        )
    return write.say("{hours:hours} take an upfront budget of {budget:money} at least.", **fields)


def bought(write: Writer, stairs: Staircase, budget: float) -> str:
    """Return what a budget buys, and where the next step begins."""
    here = stairs.at(budget)
    if here is None:
        buys = write.say("{budget:money} buy nothing yet.", budget=budget)
    else:
        buys = write.say(
            "{budget:money} buy {hours:hours}, {family}.",
            budget=budget,
            hours=here.hours,
            family=side(write, side_of(here.design)),
        )
    after = next((step for step in stairs.steps if step.budget > budget), None)
    if after is None and stairs.stopped_by is not None:
        more = ended(write, stairs.stopped_by, stairs.steps[-1].hours)
    elif after is None:
        more = write.say("More money buys no more hours.")
    else:
        more = write.say(
            "{hours:hours} begin at {budget:money}.",
            hours=after.hours,
            budget=math.ceil(after.budget),
        )
    return f"{buys} {more}"
