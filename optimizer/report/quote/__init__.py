"""A quote as files: PDF, XLSX, CSV, JSON, and the as-built file. Libraries load when asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.errors import Fault, InputError

if TYPE_CHECKING:
    from optimizer.quote import Quote

#: Kinds of file for the customer, by the ending of the name.
ENDINGS: Final = (".pdf", ".xlsx", ".csv", ".json")
#: Kinds of file for the installer.
INSTALLER_ENDINGS: Final = (".xlsx", ".csv", ".json")


def quote_bytes(quote: Quote, ending: str) -> bytes:
    """Return a quote as the content of a file.

    Parameters
    ----------
    quote : Quote
        From `optimizer.make_quote`.
    ending : {".pdf", ".xlsx", ".csv", ".json"}
        Which kind. The same quote gives the same bytes.

    Raises
    ------
    InputError
        Another ending.
    """
    kind = _known(ending, ENDINGS, "-o")
    if kind == ".pdf":
        from optimizer.report.quote.pdf import as_pdf  # noqa: PLC0415 - start-up time

        return as_pdf(quote)
    if kind == ".xlsx":
        from optimizer.report.quote.xlsx import as_xlsx  # noqa: PLC0415

        return as_xlsx(quote)
    from optimizer.report.quote import data  # noqa: PLC0415

    return data.as_csv(quote) if kind == ".csv" else data.as_json(data.quote_data(quote))


def installer_bytes(quote: Quote, ending: str) -> bytes:
    """Return the margin of each line as the content of a file: for the installer alone.

    Parameters
    ----------
    quote : Quote
        From `optimizer.make_quote`.
    ending : {".xlsx", ".csv", ".json"}
        Which kind.

    Raises
    ------
    InputError
        Another ending.
    """
    kind = _known(ending, INSTALLER_ENDINGS, "--installer")
    if kind == ".xlsx":
        from optimizer.report.quote.xlsx import installer_xlsx  # noqa: PLC0415

        return installer_xlsx(quote)
    from optimizer.report.quote import data  # noqa: PLC0415

    if kind == ".csv":
        return data.installer_csv(quote)
    return data.as_json(data.installer_data(quote))


def _known(ending: str, known: tuple[str, ...], option: str) -> str:
    if ending.lower() not in known:
        found = f"a name that ends in {ending!r}" if ending else "a name without an ending"
        raise InputError([Fault("options", None, option, found, f"one of {', '.join(known)}")])
    return ending.lower()
