"""What stands under every result."""

from collections.abc import Sequence

from optimizer.report.words.writer import Writer


def caution(write: Writer) -> str:
    """Return what the figures are not for."""
    return write.say(
        "Planning figures, not an installation plan: batteries hold dangerous currents, lead-acid "
        "gives off hydrogen. All wiring, the battery side included, belongs to a licensed "
        "electrician; local codes prevail."
    )


def second_source(write: Writer, loads: Sequence[str]) -> str:
    """Return the caution about loads that somebody's health or safety hangs on."""
    return write.say(
        "Nobody's health or safety may hang on this alone: give {loads:list} a second source that "
        "works without it, and a plan for when both fail. Tell the supplier of a medical device, "
        "and the grid operator where it keeps a list.",
        loads=loads,
    )


def old_prices(write: Writer, n: int) -> str:
    """Return that prices may have changed."""
    return write.say_number(
        "{n} price is older than a year; keeplit check names it.",
        "{n} prices are older than a year; keeplit check names them.",
        n,
    )


def note(write: Writer, text: str) -> str:
    """Return a warning from the files."""
    return write.say("Note: {text}", text=text)
