"""Everything that can go wrong, as one tree.

::

    KeeplitError          exit status 1
    ├── InputError        2  a file or an option is not as it must be; every fault listed
    ├── NoDesignError     3  nothing on offer meets the requirements; the reasons listed
    ├── NoAllotmentError  3  a programme of sites cannot reach what it must
    ├── NotProvenError    4  stopped before the optimum was proven
    └── InternalError     5  a bug in this project, never the user's fault

Data stands on the objects; the text for people is made here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from importlib import import_module
from itertools import islice
from typing import ClassVar

from optimizer.model.diagnosis import Diagnosis, Goal
from optimizer.model.phrase import Phrase
from optimizer.model.refusal import Refusal

#: So many faults are told one by one; of the rest how many of which kind.
SHOWN_FAULTS = 20
#: So much of so many names is compared: the time grows with the square of each.
_COMPARED = 60
_MOST_COMPARED = 500


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that looks most like ``word``, or None.

    >>> nearest("capacity", ["capacity_ah", "price"])
    'capacity_ah'
    """
    names = {name[:_COMPARED].lower(): name for name in islice(known, _MOST_COMPARED)}
    found = get_close_matches(word[:_COMPARED].lower(), list(names), n=1, cutoff=0.5)
    return names[found[0]] if found else None


class FaultKind(StrEnum):
    """What sort of thing is wrong."""

    FILE = "file"  # not there, or not to be read
    MISSING = "missing"  # a column, a key, a row
    UNKNOWN = "unknown"  # a name that nobody knows
    VALUE = "value"  # unreadable, or out of range
    TWICE = "twice"  # a name that is used already
    CONFLICT = "conflict"  # with what stands elsewhere


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in one place.

    Parameters
    ----------
    file : str
        The file's name as the user gave it.
    row : int or None
        The row as a spreadsheet numbers it (the heading is row 1); for TOML the line, where known.
    column : str or None
        The column's name; for TOML the dotted key.
    found : str
        What stands there: a phrase, or the user's own text as it stands.
    wanted : Phrase
        What would be right.
    kind : FaultKind
        What sort of thing is wrong.
    """

    file: str
    row: int | None
    column: str | None
    found: str
    wanted: Phrase
    kind: FaultKind = FaultKind.VALUE

    def __str__(self) -> str:
        place = self.file
        if self.row is not None:
            place += f", row {self.row}"
        if self.column is not None:
            place += f", {self.column}"
        return f"{place}: found {self.found}; wanted {self.wanted}"


class KeeplitError(Exception):
    """Base of all errors that this project raises on purpose."""

    exit_status: ClassVar[int] = 1
    kind: ClassVar[str] = "error"


class InputError(KeeplitError):
    """A file or an option is not as it must be.

    Parameters
    ----------
    faults : iterable of Fault
        Every fault found, in the order of files and rows.
    """

    exit_status = 2
    kind = "input"

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__(self.faults)

    def __str__(self) -> str:
        told = [str(fault) for fault in self.faults[:SHOWN_FAULTS]]
        rest = len(self.faults) - len(told)
        return "\n".join([*told, f"and {rest:,} more"] if rest else told)


def wrong_option(
    option: str | None, found: str, wanted: Phrase, kind: FaultKind = FaultKind.VALUE
) -> InputError:
    """Return the error about one option of a command, or about what a function is asked."""
    return InputError([Fault("options", None, option, found, wanted, kind)])


class NoDesignError(KeeplitError):
    """Nothing on offer meets the requirements.

    Parameters
    ----------
    goal : Goal
        What was asked for.
    diagnosis : Diagnosis
        What stands in the way and what would open it.
    """

    exit_status = 3
    kind = "no_design"

    def __init__(self, goal: Goal, diagnosis: Diagnosis) -> None:
        self.goal = goal
        self.diagnosis = diagnosis
        super().__init__(goal, diagnosis)

    def __str__(self) -> str:
        # by name: the ground stands on no room above it, and needs words only when printed
        words = import_module("optimizer.report.words.relaxations")
        return str(words.no_design(self))


class NoAllotmentError(KeeplitError):
    """A programme of many sites cannot reach what it must within its limits.

    Parameters
    ----------
    currency : str
        Of the money.
    refusal : Refusal
        What it would take, and what makes it so.
    """

    exit_status = 3
    kind = "no_allotment"

    def __init__(self, currency: str, refusal: Refusal) -> None:
        self.currency = currency
        self.refusal = refusal
        super().__init__(currency, refusal)

    def __str__(self) -> str:
        # by name: the ground stands on no room above it, and needs words only when printed
        words = import_module("optimizer.report.words.refusals")
        return str(words.no_allotment(self))


class NotProvenError(KeeplitError):
    """A solver stopped before the optimum was proven."""

    exit_status = 4
    kind = "not_proven"


class InternalError(KeeplitError):
    """Two parts of this project disagree: a bug here, never the user's fault."""

    exit_status = 5
    kind = "internal"
