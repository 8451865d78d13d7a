"""What is odd in a job without being wrong, one sentence each."""

from typing import assert_never

from optimizer.model.job import Job
from optimizer.model.warning import JobWarning, WarningKind
from optimizer.report.words.parameters import what_if
from optimizer.report.words.writer import Writer


def job_warning(write: Writer, one: JobWarning) -> str:  # noqa: PLR0911 - one a kind
    """Return what is odd and what to look at."""
    match one.kind:
        case WarningKind.LONG_OUTAGES:
            return write.say(
                "Half of all outages last {hours:figure} h or more, over a week: were minutes "
                "taken for hours?",
                **one.operands,
            )
        case WarningKind.GAPS_TOO_SHORT:
            return write.say(
                "recharge_hours ({recharge_hours:figure} h) exceeds the usual gap in the outage "
                "log ({gap_hours:figure} h): the next outage often finds the bank not yet full.",
                **one.operands,
            )
        case WarningKind.OLD_COLUMN:
            return write.say(
                "{file}: the column {old} is called {new} now; the next version reads only that.",
                **one.operands,
            )
        case WarningKind.CRITICAL_NOT_CARRIED:
            return write.say(
                "{load} is critical but waits for the grid: its tier {tier} is not carried.",
                **one.operands,
            )
        case WarningKind.RATING_RISES:
            return write.say("Inverter {inverter}: power_w_40c exceeds power_w.", **one.operands)
        case WarningKind.LOST_BOX:
            return write.say(
                "Inverter {inverter} is taken for nothing: its price is 0, and no battery names it "
                "in built_into. Leave its row out, or exclude it, if a battery's box brought it.",
                **one.operands,
            )
        case WarningKind.HOT_ROOM:
            return write.say(
                "mean_degc is read as {mean_degc:figure} °C, hotter than any climate: were degrees "
                'Fahrenheit meant? Then write them with their unit, such as "59 °F".',
                **one.operands,
            )
        case WarningKind.WHAT_IF:
            return what_if(write, **one.operands)  # type: ignore[arg-type] # by name
    assert_never(one.kind)


def supposed(write: Writer, job: Job) -> list[str]:
    """Return what is supposed of a job, one sentence each."""
    told = [one for one in job.warnings if one.kind is WarningKind.WHAT_IF]
    return [job_warning(write, one) for one in told]
