"""A quote as PDF: the household's paper, and the electrician's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.quote.pdf_document import document
from optimizer.report.quote.pdf_electrician import electrician_story
from optimizer.report.quote.pdf_pages import household_story
from optimizer.report.quote.pdf_style import PdfWriter
from optimizer.report.words import letter

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from reportlab.platypus import Flowable

    from optimizer.quote import Quote
    from optimizer.report.quote.pdf_paper import Paper


def household_pdf(quote: Quote) -> bytes:
    """Return the household's paper."""
    return _pdf(quote, household_story)


def electrician_pdf(quote: Quote) -> bytes:
    """Return the electrician's paper."""
    return _pdf(quote, electrician_story)


def _pdf(quote: Quote, story: Callable[[Quote, Paper], Iterable[Flowable]]) -> bytes:
    write = PdfWriter(quote.job.site.currency, quote.company.locale)
    title = write.say(
        "{title}: {site}", title=letter.title(write, quote.company), site=quote.job.site.name
    )
    return document(
        write,
        lambda sheet: story(quote, sheet),
        title=title,
        author=quote.company.name or "",
        subject=write.say("Battery and inverter-charger for riding through grid failures"),
    )
