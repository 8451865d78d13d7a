"""What was read of a supplier's list, in words."""

from collections.abc import Sequence
from typing import Final

from optimizer.report.words import commands
from optimizer.report.words.writer import Writer
from optimizer.suppliers.converted import Converted
from optimizer.suppliers.price_changes import Changes

#: Ranges of rows that a sentence lists, at most.
_MOST_RANGES: Final = 12
#: Columns that a sentence names, at most.
_MOST_COLUMNS: Final = 8


def read(write: Writer, converted: Converted) -> str:
    """Return how many rows were read, filtered out and left aside, and what was not asked for."""
    place = converted.file
    if converted.sheet:
        place = write.say("{file}, sheet {sheet}", file=place, sheet=converted.sheet)
    rows = write.say_number(
        "{place}: {n} row read for {table},",
        "{place}: {n} rows read for {table},",
        len(converted.rows),
        place=place,
        table=converted.table,
    )
    told = [rows, write.say("{n} filtered out.", n=converted.filtered)]
    if converted.noise:
        told.append(
            write.say_number(
                "{n} row without figures left aside ({rows}).",
                "{n} rows without figures left aside ({rows}).",
                len(converted.noise),
                rows=_ranges(converted.noise),
            )
        )
    if converted.unasked:
        columns = write.first([f"“{name}”" for name in converted.unasked], _MOST_COLUMNS)
        told.append(
            write.say_number(
                "Nothing was asked of the column {columns:list}.",
                "Nothing was asked of the columns {columns:list}.",
                len(converted.unasked),
                columns=columns,
            )
        )
    return " ".join(told)


def _ranges(numbers: Sequence[int]) -> str:
    """Return numbers of rows, those in sequence as a range; the first of very many.

    >>> _ranges([3, 5, 6, 7])
    '3, 5–7'
    """
    found: list[list[int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1][1] = number
        else:
            found.append([number, number])
    told = [f"{low}" if low == high else f"{low}–{high}" for low, high in found]
    more = ["…"] if len(told) > _MOST_RANGES else []
    return ", ".join(told[:_MOST_RANGES] + more)


def bare_units(write: Writer, converted: Converted) -> str:
    """Return in which units numbers were taken that have none in cell, heading or mapping."""
    named = [
        write.say("{column} in {unit}", column=name, unit=unit) for name, unit in converted.bare
    ]
    return write.say("No unit stands there, so taken: {columns:list}.", columns=named)


def left_out(write: Writer, n: int) -> str:
    """Return how many rows could not be read."""
    return write.say_number(
        "{n} row left out because it cannot be read:",
        "{n} rows left out because they cannot be read:",
        n,
    )


def unreadable(write: Writer, n: int) -> str:
    """Return how many rows cannot be read."""
    return write.say_number("{n} row cannot be read:", "{n} rows cannot be read:", n)


def listed(write: Writer, found: Changes) -> list[str]:
    """Return which names went and came, or that nothing changed."""
    if not (found.changed or found.vanished or found.added):
        return [write.say("No price changed since the last list.")]
    lines = []
    if found.vanished:
        lines.append(write.say("No longer listed: {names:list}.", names=found.vanished))
    if found.added:
        lines.append(write.say("New: {names:list}.", names=found.added))
    return lines


def untouched(write: Writer, rows: int) -> str:
    """Return how many rows of a table stay."""
    return write.say_number(
        "{n} row of the table stays as it is.", "{n} rows of the table stay as they are.", rows
    )


def written(write: Writer, paths: Sequence[str]) -> list[str]:
    """Return which files were written."""
    if not paths:
        return [write.say("Nothing written; -o DIR writes the table.")]
    return [commands.written(write, path) for path in paths]


def copy_kept(write: Writer, path: str) -> str:
    """Return where the list that stood there is kept."""
    return write.say("What stood there is kept as {path}.", path=path)
