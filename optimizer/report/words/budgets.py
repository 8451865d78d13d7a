"""What money buys, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.words.checks import requirement_name

if TYPE_CHECKING:
    from optimizer.comparison.budgets import Cause
    from optimizer.report.words.writer import Writer


def cause(write: Writer, made_by: Cause) -> str:
    """Return what made a step of a staircase."""
    if made_by.requirement is None:
        return write.say("larger bank")
    return requirement_name(write, made_by.requirement)


def nothing(write: Writer) -> str:
    """Return that no budget buys anything."""
    return write.say("No budget buys anything within that limit on later years.")
