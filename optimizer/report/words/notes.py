"""What stands under every result."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.report.words.writer import Writer


def caution(write: Writer) -> str:
    """Return what the figures are not for."""
    return write.say(
        "Planning figures, not an installation plan: batteries hold dangerous currents, lead-acid "
        "gives off hydrogen. All wiring, the battery side included, belongs to a licensed "
        "electrician; local codes prevail."
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
