"""A fault of the program itself: what it was about, and how it is reported."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.report.words.writer import Writer


def lines(write: Writer, problem: str, read: Sequence[str]) -> list[str]:
    """Return what went wrong inside, the files it came about with, and how to report it."""
    return [
        write.say("A fault of keeplit itself: {problem}", problem=problem),
        *([write.say("It came about with {files:list}.", files=read)] if read else []),
        write.say(
            "To report it, send these lines, the command as typed, what keeplit --version says and "
            "the files."
        ),
    ]
