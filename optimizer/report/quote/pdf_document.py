"""Any document as a PDF: assembled, numbered, and the same bytes for the same content."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Final

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

from optimizer.report.quote.pdf_fonts import REGULAR, cut, font_for, set_up_fonts
from optimizer.report.quote.pdf_paper import Paper
from optimizer.report.quote.pdf_style import BOTTOM, MARGIN, SMALL, SOFT, TOP, paper

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from reportlab.platypus import Flowable

    from optimizer.report.quote.pdf_style import PdfWriter
    from optimizer.report.words.writer import Writer


def document(
    write: PdfWriter,
    story: Callable[[Paper], Iterable[Flowable]],
    *,
    title: str,
    author: str,
    subject: str,
) -> bytes:
    """Return a document.

    Parameters
    ----------
    write : PdfWriter
        Of its currency and language, which decides on the sheet.
    story : callable
        Makes the content for what the document is made with.
    title, author, subject : str
        Said of it in the file; the title at the foot of each page too.
    """
    set_up_fonts()
    size = paper(write.locale.territory)
    out = io.BytesIO()
    template = BaseDocTemplate(
        out,
        pagesize=size,
        title=title,
        author=author,
        subject=subject,
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
    template.addPageTemplates(PageTemplate("page", [frame], pagesize=size))

    def canvas(*arguments: Any, **options: Any) -> _Numbered:  # noqa: ANN401 - reportlab's own
        return _Numbered(write, title, *arguments, **options)

    sheet = Paper(write, size[0] - 2 * MARGIN, size[1] - TOP - BOTTOM)
    template.build(list(story(sheet)), canvasmaker=canvas)
    sheet.pages = template.page
    return sheet.drawn_on(out.getvalue())


#: Room for the number of the page [points].
_FOLIO: Final = 60.0


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
