"""A quote as files: PDF, XLSX, CSV, JSON, and the as-built file. Libraries load when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Final

from optimizer.errors import wrong_option
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from optimizer.quote import Quote

#: Who makes each kind of file for the customer, by the ending of the name: module and function.
_HOUSEHOLD: Final = {
    ".pdf": ("pdf_pages", "household_pdf"),
    ".xlsx": ("xlsx", "household_xlsx"),
    ".csv": ("data", "household_csv"),
    ".json": ("data", "household_json"),
}
#: Of the second paper, for the electrician.
_ELECTRICIAN: Final = {
    ".pdf": ("pdf_electrician", "electrician_pdf"),
    ".xlsx": ("xlsx", "electrician_xlsx"),
}
#: Of the margins, for the installer alone.
_INSTALLER: Final = {
    ".xlsx": ("xlsx", "installer_xlsx"),
    ".csv": ("data", "installer_csv"),
    ".json": ("data", "installer_json"),
}
ENDINGS: Final = tuple(_HOUSEHOLD)
ELECTRICIAN_ENDINGS: Final = tuple(_ELECTRICIAN)
INSTALLER_ENDINGS: Final = tuple(_INSTALLER)


def quote_bytes(quote: Quote, ending: str) -> bytes:
    """Return a quote for the household as the content of a file.

    Parameters
    ----------
    quote : Quote
        From `optimizer.make_quote`.
    ending : {".pdf", ".xlsx", ".csv", ".json"}
        Which kind. The same quote gives the same bytes. JSON holds the electrical sheets too.

    Raises
    ------
    InputError
        Another ending; letters that no font here can print.
    """
    return _made(quote, ending, _HOUSEHOLD, "-o")


def electrician_bytes(quote: Quote, ending: str) -> bytes:
    """Return the paper for whoever connects it as the content of a file, .pdf or .xlsx."""
    return _made(quote, ending, _ELECTRICIAN, "-o")


def installer_bytes(quote: Quote, ending: str) -> bytes:
    """Return the margin of each line, for the installer alone, as .xlsx, .csv or .json."""
    return _made(quote, ending, _INSTALLER, "--installer")


def _made(quote: Quote, ending: str, makers: Mapping[str, tuple[str, str]], option: str) -> bytes:
    kind = ending.lower()
    if kind not in makers:
        found = Phrase("a name without an ending")
        if ending:
            found = Phrase("a name that ends in {ending}", ending=repr(ending))
        wanted = Phrase("one of {names}", names=", ".join(makers))
        raise wrong_option(option, found, wanted)
    module, name = makers[kind]
    make: Callable[[Quote], bytes] = getattr(import_module(f"{__name__}.{module}"), name)
    return make(quote)


def check_letters(quote: Quote) -> None:
    """Raise InputError where a PDF of the quote would stop: a name in letters no font here has."""
    from optimizer.report.quote.pdf_fonts import printable  # noqa: PLC0415 - start-up time

    site, loads = quote.job.site, quote.job.loads
    names = [site.name, *site.tiers, *(season.name for season in site.seasons)]
    names += [load.load for load in loads]
    for option in quote.options:
        later = [one.sum for one in option.pricing.replacements]
        names += [
            line.item.name for found in (option.pricing.first, *later) for line in found.lines
        ]
    for text in [*names, *_texts(asdict(replace(quote.company, file="")))]:
        printable(text)


def _texts(found: object) -> Iterator[str]:
    """Yield every text of a company's data, however deep it stands."""
    if isinstance(found, str):
        yield found
    elif isinstance(found, Mapping):
        yield from _texts(tuple(found.values()))
    elif isinstance(found, tuple):
        for one in found:
            yield from _texts(one)


def papers(quote: Quote, path: str) -> list[tuple[str, bytes]]:
    """Return all papers of one kind of file, each with its path: this one is the household's.

    The electrician's lies beside it under its name and "-electrician".
    """
    named = Path(path)
    found = [(path, quote_bytes(quote, named.suffix))]
    if named.suffix.lower() in _ELECTRICIAN:
        beside = named.with_name(f"{named.stem}-electrician{named.suffix}")
        found.append((str(beside), electrician_bytes(quote, named.suffix)))
    return found
