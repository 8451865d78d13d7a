"""Text that remembers what it says: its sentence and its operands, for a writer to say again."""

from typing import Any, Self


class Phrase(str):
    """A sentence about what stands in a file, English until a writer says it otherwise.

    Its operands, in braces, are names and numbers as files write them, or phrases; the sentence
    with the braces is its key in a language's catalogue.

    >>> one = Phrase("at least {least}", least="3")
    >>> one, one.english, one.fields
    ('at least 3', 'at least {least}', {'least': '3'})
    """

    __slots__ = ("english", "fields")

    english: str
    fields: dict[str, str | int]

    def __new__(cls, english: str, /, **fields: str | int) -> Self:
        """Return the phrase; its text is the English one."""
        made = super().__new__(cls, english.format(**fields))
        made.english, made.fields = english, fields
        return made

    def __getnewargs_ex__(self) -> tuple[tuple[str], dict[str, Any]]:
        return (self.english,), self.fields


def chain(*parts: str) -> Phrase:
    """Return parts of a phrase with a space between; empty ones are left out.

    >>> chain(Phrase("a number"), "", Phrase("years"))
    'a number years'
    """
    there = [part for part in parts if part]
    names = [f"part{place}" for place in range(len(there))]
    return Phrase(" ".join(f"{{{name}}}" for name in names), **dict(zip(names, there, strict=True)))
