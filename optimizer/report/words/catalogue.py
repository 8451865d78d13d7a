"""The sentences of a language: a gettext catalogue, whose keys are the English sentences."""

from __future__ import annotations

from functools import cache
from gettext import c2py
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

#: Where the catalogues lie, one ``<locale>.po`` each; English needs none.
FOLDER: Final = Path(__file__).parent / "catalogues"


class Catalogue:
    """Sentences by their English; without a file every sentence stays English.

    Parameters
    ----------
    path : Path or None
        A catalogue in gettext's text format.
    """

    def __init__(self, path: Path | None = None) -> None:
        self._texts: dict[str, str] = {}
        self._plurals: dict[str, Sequence[str]] = {}
        self._form = c2py("n != 1")
        if path is not None:
            from babel.messages.pofile import read_po  # noqa: PLC0415 - start-up time

            with path.open("rb") as file:
                found = read_po(file)
            self._form = c2py(found.plural_expr)
            for message in found:
                if not message.id or not message.string or message.fuzzy:
                    continue
                if isinstance(message.id, str):
                    self._texts[message.id] = str(message.string)
                else:
                    self._plurals[message.id[0]] = tuple(message.string)

    def text(self, english: str) -> str:
        """Return a sentence in this language, in English where it is not translated."""
        return self._texts.get(english, english)

    def plural(self, one: str, many: str, n: int) -> str:
        """Return the form of a sentence that goes with a number."""
        forms = self._plurals.get(one)
        if forms is None:
            return one if n == 1 else many
        return forms[self._form(n)]


@cache
def of_locale(name: str) -> Catalogue:
    """Return the catalogue of a locale, or of its language, or an empty one."""
    for part in (name, name.partition("_")[0]):
        path = FOLDER / f"{part}.po"
        if path.is_file():
            return Catalogue(path)
    return Catalogue()
