"""What stands in place of an answer where something went wrong."""

from __future__ import annotations

from dataclasses import dataclass

from optimizer.errors import Fault, InputError, KeeplitError, NoAllotmentError, NoDesignError
from optimizer.model.diagnosis import Goal, Hindrance, Opening
from optimizer.model.refusal import Eased


@dataclass(frozen=True)
class ErrorAnswer:
    """What stands in place of an answer; the exit status says which kind too.

    Parameters
    ----------
    error : str
        "input", "no_design", "no_allotment", "not_proven" or "internal".
    faults : tuple of Fault or None
        Every fault of the input.
    goal : Goal or None
        What no design meets.
    reasons, openings : tuple or None
        What stands in the way of it, and what would open it alone.
    pairs : tuple or None
        Two that open it together, where none does alone.
    least : float or None
        What a programme of sites takes at the start to reach what it must [currency].
    sites : tuple of str or None
        Sites of it that cannot reach what they must.
    eased : tuple of Eased or None
        The terms without which it takes less, each alone.
    message : str or None
        For those who mend the program, where it is at fault.
    """

    error: str
    faults: tuple[Fault, ...] | None = None
    goal: Goal | None = None
    reasons: tuple[Hindrance, ...] | None = None
    openings: tuple[Opening, ...] | None = None
    pairs: tuple[tuple[Opening, Opening], ...] | None = None
    least: float | None = None
    sites: tuple[str, ...] | None = None
    eased: tuple[Eased, ...] | None = None
    message: str | None = None


def error_answer(error: KeeplitError) -> ErrorAnswer:
    """Return an error as the contract writes it."""
    if isinstance(error, InputError):
        return ErrorAnswer(error.kind, faults=error.faults)
    if isinstance(error, NoDesignError):
        found = error.diagnosis
        return ErrorAnswer(
            error.kind,
            goal=error.goal,
            reasons=found.hindrances,
            openings=found.openings,
            pairs=found.pairs,
        )
    if isinstance(error, NoAllotmentError):
        told = error.refusal
        return ErrorAnswer(error.kind, least=told.least, sites=told.sites, eased=told.eased)
    return ErrorAnswer(error.kind, message=str(error))
