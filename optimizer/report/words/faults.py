"""What is wrong with the input, in the reader's language."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from optimizer.errors import Fault
    from optimizer.report.words.writer import Writer


def said(write: Writer, text: str | int) -> str:
    """Return a phrase in the writer's language; what is no phrase stands in the file like that."""
    if isinstance(text, Phrase):
        fields = {name: said(write, value) for name, value in text.fields.items()}
        return write.say(text.english, **fields)
    return str(text)


def fault(write: Writer, one: Fault) -> str:
    """Return a fault: where it is, what was found and what would be right."""
    place = one.file
    if one.row is not None:
        place = write.say("{file}, row {row}", file=place, row=str(one.row))
    if one.column is not None:
        place = write.say("{place}, {column}", place=place, column=one.column)
    found, wanted = said(write, one.found), said(write, one.wanted)
    return write.say(
        "{place}: found {found}; wanted {wanted}", place=place, found=found, wanted=wanted
    )
