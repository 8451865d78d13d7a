"""The sentences of a language: a gettext catalogue, whose keys are the English sentences."""

from functools import cache
from gettext import GNUTranslations, NullTranslations
from io import BytesIO
from pathlib import Path
from typing import Final

#: Where the catalogues lie, one ``<locale>.po`` each; English needs none.
FOLDER: Final = Path(__file__).parent / "catalogues"


@cache
def of_locale(name: str) -> NullTranslations:
    """Return the catalogue of a locale, or of its language; without one all stays English."""
    for part in (name, name.partition("_")[0]):
        path = FOLDER / f"{part}.po"
        if path.is_file():
            from babel.messages.mofile import write_mo  # noqa: PLC0415 - start-up time
            from babel.messages.pofile import read_po  # noqa: PLC0415 - start-up time

            compiled = BytesIO()
            with path.open("rb") as file:
                write_mo(compiled, read_po(file))
            compiled.seek(0)
            return GNUTranslations(compiled)
    return NullTranslations()
