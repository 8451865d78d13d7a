"""A quote as a PDF: assembled, numbered, and the same bytes for the same quote."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Final

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

from optimizer.report.quote.pdf_electrician import electrician_story
from optimizer.report.quote.pdf_fonts import REGULAR, cut, font_for, set_up_fonts
from optimizer.report.quote.pdf_pages import household_story
from optimizer.report.quote.pdf_paper import Paper
from optimizer.report.quote.pdf_style import BOTTOM, MARGIN, SMALL, SOFT, TOP, PdfWriter, paper
from optimizer.report.words import letter

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from reportlab.platypus import Flowable

    from optimizer.quote import Quote
    from optimizer.report.words.writer import Writer


def household_pdf(quote: Quote) -> bytes:
    """Return the household's paper."""
    return _pdf(quote, household_story)


def electrician_pdf(quote: Quote) -> bytes:
    """Return the electrician's paper."""
    return _pdf(quote, electrician_story)


def _pdf(quote: Quote, story: Callable[[Quote, Paper], Iterable[Flowable]]) -> bytes:
    set_up_fonts()
    write = PdfWriter(quote.job.site.currency, quote.company.locale)
    size = paper(write.locale.territory)
    out = io.BytesIO()
    title = write.say(
        "{title}: {site}", title=letter.title(write, quote.company), site=quote.job.site.name
    )
    document = BaseDocTemplate(
        out,
        pagesize=size,
        title=title,
        author=quote.company.name or "",
        subject=write.say("Battery and inverter-charger for riding through grid failures"),
        lang=write.locale.language,
        invariant=1,
    )
    frame = Frame(
        MARGIN,
        BOTTOM,
        size[0] - 2 * MARGIN,
        size[1] - TOP - BOTTOM,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    document.addPageTemplates(PageTemplate("page", [frame], pagesize=size))

    def canvas(*arguments: Any, **options: Any) -> _Numbered:  # noqa: ANN401 - reportlab's own
        return _Numbered(write, title, *arguments, **options)

    sheet = Paper(write, size[0] - 2 * MARGIN, size[1] - TOP - BOTTOM)
    document.build(list(story(quote, sheet)), canvasmaker=canvas)
    return sheet.drawn_on(out.getvalue())


#: Room for the number of the page [points].
_FOLIO: Final = 60.0


class _Numbered(Canvas):  # type: ignore[misc]
    """A canvas that knows how many pages there are before it writes their numbers."""

    def __init__(self, write: Writer, title: str, *arguments: Any, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*arguments, **{**options, "initialFontName": REGULAR})
        self._write_as, self._footing = write, title
        self._pages: list[dict[str, Any]] = []

    def showPage(self) -> None:
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        for number, page in enumerate(self._pages, start=1):
            self.__dict__.update(page)
            self.setFont(REGULAR, SMALL)
            self.setFillColor(SOFT)
            right = self._pagesize[0] - MARGIN
            footing = cut(self._footing, right - MARGIN - _FOLIO, SMALL)
            self.setFont(font_for(footing), SMALL)
            self.drawString(MARGIN, BOTTOM - 22, footing)
            self.setFont(REGULAR, SMALL)
            pages = len(self._pages)
            folio = self._write_as.say("{page} of {pages}", page=number, pages=pages)
            self.drawRightString(right, BOTTOM - 22, folio)
            super().showPage()
        super().save()
