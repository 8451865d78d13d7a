"""What is said: one function a sentence, and the writer that knows the locale."""

from optimizer.report.words.english import (
    bank_in_words,
    money,
    purchase_in_words,
    replacements_in_words,
    set_in_words,
)
from optimizer.report.words.writer import plain

__all__ = [
    "bank_in_words",
    "money",
    "plain",
    "purchase_in_words",
    "replacements_in_words",
    "set_in_words",
]
