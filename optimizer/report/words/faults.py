"""What is wrong with the input, in the reader's language."""

from collections import Counter
from collections.abc import Sequence

from optimizer.errors import SHOWN_FAULTS, Fault, FaultKind
from optimizer.inputs.faults import cut
from optimizer.model.phrase import Phrase
from optimizer.report.words.writer import Writer

#: Longest name of a file or a column that is shown whole [characters].
_NAME = 160


def said(write: Writer, text: str | int) -> str:
    """Return a phrase in the writer's language; what is no phrase stands in the file like that."""
    if isinstance(text, Phrase):
        fields = {name: said(write, value) for name, value in text.fields.items()}
        return write.say(text.english, **fields)
    return str(text)


def fault(write: Writer, one: Fault) -> str:
    """Return a fault: where it is, what was found and what would be right."""
    place = cut(said(write, one.file), _NAME)
    if one.row is not None:
        place = write.say("{file}, row {row}", file=place, row=str(one.row))
    if one.column is not None:
        place = write.say("{place}, {column}", place=place, column=cut(one.column, _NAME))
    found, wanted = said(write, one.found), said(write, one.wanted)
    return write.say(
        "{place}: found {found}; wanted {wanted}", place=place, found=found, wanted=wanted
    )


def faults(write: Writer, found: Sequence[Fault]) -> list[str]:
    """Return the first faults, one by one, and how many more there are of which kind."""
    rest = more(write, found)
    return [*(fault(write, one) for one in found[:SHOWN_FAULTS]), *([rest] if rest else [])]


def more(write: Writer, found: Sequence[Fault]) -> str:
    """Return how many faults are not told one by one; empty where there are none."""
    counts = Counter(one.kind for one in found[SHOWN_FAULTS:])
    if not counts:
        return ""
    kinds = [_counted(write, kind, n) for kind, n in counts.most_common()]
    return write.say("And {n} more: {kinds}.", n=counts.total(), kinds=", ".join(kinds))


def _counted(write: Writer, kind: FaultKind, n: int) -> str:
    if kind is FaultKind.FILE:
        return write.say_number("{n} unreadable file", "{n} unreadable files", n)
    if kind is FaultKind.MISSING:
        return write.say_number("{n} left out", "{n} left out", n)
    if kind is FaultKind.UNKNOWN:
        return write.say_number("{n} unknown name", "{n} unknown names", n)
    if kind is FaultKind.TWICE:
        return write.say_number("{n} used twice", "{n} used twice", n)
    if kind is FaultKind.CONFLICT:
        return write.say_number("{n} that does not fit the rest", "{n} that do not fit the rest", n)
    return write.say_number(
        "{n} value unreadable or out of range", "{n} values unreadable or out of range", n
    )
