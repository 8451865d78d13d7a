"""Text that a spreadsheet would take for a formula: marked on the way out, read back whole."""

from typing import Final, TypeVar, cast

Value = TypeVar("Value")

#: First characters that make spreadsheets calculate, or hide what follows.
_RISKY: Final = ("=", "+", "-", "@", "\t", "\r")


def neutralised(value: Value) -> Value:
    """Return a value as it may stand in a table cell: an apostrophe before a formula's sign.

    >>> neutralised("=1+1"), neutralised("Harbour 12"), neutralised("'-x"), neutralised(-2.5)
    ("'=1+1", 'Harbour 12', "''-x", -2.5)
    """
    if isinstance(value, str) and value.lstrip("'").startswith(_RISKY):
        return cast("Value", f"'{value}")
    return value


def read_back(text: str) -> str:
    """Return a text as it was before `neutralised`.

    >>> read_back("'=1+1"), read_back("'quoted'"), read_back("''-x")
    ('=1+1', "'quoted'", "'-x")
    """
    if text.startswith("'") and text.lstrip("'").startswith(_RISKY):
        return text[1:]
    return text
