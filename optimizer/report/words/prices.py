"""What was read of a supplier's list, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.report.words.writer import Writer
    from optimizer.suppliers.conversion import Converted
    from optimizer.suppliers.price_changes import Changes


def read(write: Writer, converted: Converted) -> str:
    """Return how many rows were read and filtered out."""
    rows = write.say_number(
        "{n} row read for {table},",
        "{n} rows read for {table},",
        len(converted.rows),
        table=converted.table,
    )
    filtered = write.say("{n} filtered out.", n=converted.filtered)
    return f"{rows} {filtered}"


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


def written(write: Writer, path: str | None) -> str:
    """Return which file was written."""
    if path is None:
        return write.say("Nothing written; -o DIR writes the table.")
    return write.say("Written: {path}", path=path)


def copy_kept(write: Writer, path: str) -> str:
    """Return where the list that stood there is kept."""
    return write.say("What stood there is kept as {path}.", path=path)
