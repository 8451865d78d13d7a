"""What is odd in a job without being wrong, one sentence each."""

from collections.abc import Callable, Mapping
from typing import Final

from optimizer.model.job import Job
from optimizer.model.warning import JobWarning, WarningKind
from optimizer.report.words.parameters import what_if
from optimizer.report.words.writer import Sentence, Writer

#: Keys and columns of the files that a sentence names, each as ``of_`` it.
_KEYS: Final = ("recharge_hours", "power_w", "power_w_40c", "built_into", "mean_degc")


def job_warning(write: Writer, one: JobWarning, called: Callable[[str], str] = str) -> str:
    """Return what is odd and what to look at; ``called`` tells the reader's name of a key."""
    if one.kind is WarningKind.WHAT_IF:
        return what_if(write, **one.operands)  # type: ignore[arg-type] # by name
    names = {f"of_{key}": called(key) for key in _KEYS}
    return write.say(_ODD[one.kind].english, **names, **one.operands)


def supposed(write: Writer, job: Job) -> list[str]:
    """Return what is supposed of a job, one sentence each."""
    told = [one for one in job.warnings if one.kind is WarningKind.WHAT_IF]
    return [job_warning(write, one) for one in told]


_ODD: Mapping[WarningKind, Sentence] = {
    WarningKind.LONG_OUTAGES: Sentence(
        "Half of all outages last {hours:figure} h or more, over a week: were minutes taken for "
        "hours?"
    ),
    WarningKind.GAPS_TOO_SHORT: Sentence(
        "{of_recharge_hours} ({recharge_hours:figure} h) exceeds the usual gap in the outage "
        "log ({gap_hours:figure} h): the next outage often finds the bank not yet full."
    ),
    WarningKind.OLD_COLUMN: Sentence(
        "{file}: the column {old} is called {new} now; the next version reads only that."
    ),
    WarningKind.CRITICAL_NOT_CARRIED: Sentence(
        "{load} is critical but waits for the grid: its tier {tier} is not carried."
    ),
    WarningKind.RATING_RISES: Sentence(
        "Inverter {inverter}: {of_power_w_40c} exceeds {of_power_w}."
    ),
    WarningKind.LOST_BOX: Sentence(
        "Inverter {inverter} counts as free: its price is 0, and no battery names it in "
        "{of_built_into}. Leave its row out, or exclude it, if a battery's box brought it."
    ),
    WarningKind.HOT_ROOM: Sentence(
        "{of_mean_degc} is read as {mean_degc:figure} °C, hotter than any climate: were degrees "
        'Fahrenheit meant? Then write them with their unit, such as "59 °F".'
    ),
}
