"""A fault of the program itself: what it was about, and how it is reported."""

from collections.abc import Sequence

from optimizer.report.words.writer import Writer


def lines(
    write: Writer, problem: str, read: Sequence[str], rows: Sequence[tuple[str, int]]
) -> list[str]:
    """Return what went wrong inside, the files and rows it came about with, how to report it."""
    at = [write.say("{file}, row {row}", file=file, row=str(row)) for file, row in rows]
    return [
        write.say("A fault of keeplit itself: {problem}", problem=problem),
        *([write.say("It came about with {files:list}.", files=read)] if read else []),
        *([write.say("It was at work on {rows:list}.", rows=at)] if at else []),
        write.say(
            "To report it, send these lines, the command as typed, what keeplit --version says and "
            "the files."
        ),
    ]
