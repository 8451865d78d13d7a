"""A quote as files: PDF, XLSX, CSV, JSON, and the as-built file. Libraries load when asked for."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from optimizer.errors import Fault, InputError
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from optimizer.quote import Quote

#: Kinds of file for the customer, by the ending of the name.
ENDINGS: Final = (".pdf", ".xlsx", ".csv", ".json")
#: Kinds of file that have a second paper, for the electrician.
ELECTRICIAN_ENDINGS: Final = (".pdf", ".xlsx")
#: Kinds of file for the installer.
INSTALLER_ENDINGS: Final = (".xlsx", ".csv", ".json")


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
    kind = _known(ending, ENDINGS, "-o")
    if kind == ".pdf":
        from optimizer.report.quote.pdf import household_pdf  # noqa: PLC0415 - start-up time

        return household_pdf(quote)
    if kind == ".xlsx":
        from optimizer.report.quote.xlsx import household_xlsx  # noqa: PLC0415

        return household_xlsx(quote)
    from optimizer.report.json.quote import quote_answer  # noqa: PLC0415
    from optimizer.report.json.serialise import output  # noqa: PLC0415
    from optimizer.report.quote import data  # noqa: PLC0415

    return (
        data.as_csv(quote)
        if kind == ".csv"
        else data.as_json(output(quote_answer(quote), quote.job.supposed))
    )


def electrician_bytes(quote: Quote, ending: str) -> bytes:
    """Return the paper for whoever connects it as the content of a file.

    Parameters
    ----------
    quote : Quote
        From `optimizer.make_quote`.
    ending : {".pdf", ".xlsx"}
        Which kind.

    Raises
    ------
    InputError
        Another ending; letters that no font here can print.
    """
    if _known(ending, ELECTRICIAN_ENDINGS, "-o") == ".pdf":
        from optimizer.report.quote.pdf import electrician_pdf  # noqa: PLC0415

        return electrician_pdf(quote)
    from optimizer.report.quote.xlsx import electrician_xlsx  # noqa: PLC0415

    return electrician_xlsx(quote)


def check_letters(quote: Quote) -> None:
    """Raise InputError where a PDF of the quote would stop: a name in letters no font here has.

    Parameters
    ----------
    quote : Quote
        From `optimizer.make_quote`.
    """
    from optimizer.report.quote.pdf_fonts import printable  # noqa: PLC0415

    company, job = quote.company, quote.job
    own = (company.name, company.customer, company.registration, company.delivery)
    lists = (company.address, company.contact, company.customer_address, company.cover)
    texts = [*own, *(one for found in lists for one in found), *company.terms]
    texts += [job.site.name, *job.site.tiers, *(load.load for load in job.loads)]
    lines = [line for option in quote.options for line in option.pricing.first.lines]
    for text in [*texts, *(line.item.name for line in lines)]:
        printable(text or "")


def papers(quote: Quote, path: str) -> list[tuple[str, bytes]]:
    """Return all papers of one kind of file, each with its path.

    Parameters
    ----------
    quote : Quote
        From `optimizer.make_quote`.
    path : str
        Of the household's; the electrician's lies beside it under its name and "-electrician".
    """
    named = Path(path)
    found = [(path, quote_bytes(quote, named.suffix))]
    if named.suffix.lower() in ELECTRICIAN_ENDINGS:
        beside = named.with_name(f"{named.stem}-electrician{named.suffix}")
        found.append((str(beside), electrician_bytes(quote, named.suffix)))
    return found


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
        found = Phrase("a name without an ending")
        if ending:
            found = Phrase("a name that ends in {ending}", ending=repr(ending))
        wanted = Phrase("one of {names}", names=", ".join(known))
        raise InputError([Fault("options", None, option, found, wanted)])
    return ending.lower()
