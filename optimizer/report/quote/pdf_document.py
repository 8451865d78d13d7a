"""Any document as a PDF: assembled, numbered, and the same bytes for the same content."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Final

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import SimpleDocTemplate

from optimizer.report.quote.pdf_fonts import REGULAR, cut, font_for, set_up_fonts
from optimizer.report.quote.pdf_paper import Paper
from optimizer.report.quote.pdf_style import BOTTOM, MARGIN, SMALL, SOFT, TOP, PdfWriter, sheet
from optimizer.report.words import letter

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from reportlab.platypus import Flowable

    from optimizer.quote import Quote
    from optimizer.report.words.writer import Writer

#: What reportlab's frame keeps free inside the margins [points].
_PADDING: Final = 6.0
#: Room for the number of the page [points].
_FOLIO: Final = 60.0


def document(
    write: PdfWriter,
    story: Callable[[Paper], Iterable[Flowable]],
    *,
    title: str,
    author: str,
    subject: str,
) -> bytes:
    """Return a document on the sheet that is usual for its language; its title is at every foot."""
    set_up_fonts()
    wide, high = size = sheet(write.locale.territory)
    out = io.BytesIO()
    template = SimpleDocTemplate(
        out,
        pagesize=size,
        leftMargin=MARGIN - _PADDING,
        rightMargin=MARGIN - _PADDING,
        topMargin=TOP - _PADDING,
        bottomMargin=BOTTOM - _PADDING,
        title=title,
        author=author,
        subject=subject,
        lang=write.locale.language,
        invariant=1,
    )

    def canvas(*arguments: Any, **options: Any) -> _Numbered:  # noqa: ANN401 - reportlab's own
        return _Numbered(write, title, *arguments, **options)

    paper = Paper(write, wide - 2 * MARGIN, high - TOP - BOTTOM)
    template.build([*story(paper)], canvasmaker=canvas)
    paper.pages = template.page
    return paper.drawn_on(out.getvalue())


def quote_pdf(quote: Quote, story: Callable[[Quote, Paper], Iterable[Flowable]]) -> bytes:
    """Return one of a quote's papers."""
    write = PdfWriter(quote.currency, quote.company.locale)
    heading = letter.title(write, quote.company)
    return document(
        write,
        lambda paper: story(quote, paper),
        title=write.say("{title}: {site}", title=heading, site=quote.site),
        author=quote.company.name or "",
        subject=write.say("Battery and inverter-charger for riding through grid failures"),
    )


class _Numbered(Canvas):  # type: ignore[misc] # reportlab has no types
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
