"""Text that a spreadsheet would take for a formula: marked on the way out, read back whole."""

from __future__ import annotations

from typing import Final

#: First characters that make spreadsheets calculate, or hide what follows.
_RISKY: Final = ("=", "+", "-", "@", "\t", "\r")


def neutralised(text: str) -> str:
    """Return a text as it may stand in a table cell: an apostrophe before a formula's sign.

    >>> neutralised("=1+1"), neutralised("Harbour 12"), neutralised("'-x")
    ("'=1+1", 'Harbour 12', "''-x")
    """
    return f"'{text}" if text.lstrip("'").startswith(_RISKY) else text


def read_back(text: str) -> str:
    """Return a text as it was before `neutralised`.

    >>> read_back("'=1+1"), read_back("'quoted'"), read_back("''-x")
    ('=1+1', "'quoted'", "'-x")
    """
    if text.startswith("'") and text.lstrip("'").startswith(_RISKY):
        return text[1:]
    return text
