"""The language of the page: one for the whole server, told by its environment."""

import os
from typing import Final

from optimizer.report.words.writer import Writer

_LOCALE: Final = os.environ.get("KEEPLIT_LOCALE", "en")
#: Writes what holds no money: labels and helps, once, when the page is loaded.
PLAIN: Final = Writer("EUR", _LOCALE)
say: Final = PLAIN.say


def writer(currency: str) -> Writer:
    """Return what writes the page's numbers and sentences."""
    return Writer(currency, _LOCALE)
