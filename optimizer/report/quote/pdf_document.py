"""Any document as a PDF: assembled, numbered, and the same bytes for the same content.

Charts on its pages are vectors in the shipped font.
"""

import io
from collections.abc import Callable, Iterable, Sequence
from copy import copy
from typing import Any, Final, Self

import altair as alt
import vl_convert
from pypdf import PdfReader, Transformation
from pypdf import PdfWriter as Pages
from pypdf.generic import DictionaryObject
from reportlab.pdfgen.canvas import Canvas as Pen
from reportlab.platypus import Flowable, KeepInFrame, SimpleDocTemplate, Table

from optimizer.quote import Quote
from optimizer.report.charts.canvas import SIZE, Canvas
from optimizer.report.charts.theme import PAPER
from optimizer.report.grids.grid import Grid
from optimizer.report.quote.pdf_fonts import FONTS, REGULAR, cut, font_for, set_up_fonts
from optimizer.report.quote.pdf_grid import pdf_table
from optimizer.report.quote.pdf_style import BOTTOM, MARGIN, SMALL, SOFT, TOP, PdfWriter, sheet
from optimizer.report.words import letter
from optimizer.report.words.writer import Writer

#: What reportlab's frame keeps free inside the margins [points].
_PADDING: Final = 6.0
#: Room for the number of the page [points].
_FOLIO: Final = 60.0
#: Points a pixel: the letters of a chart are as high as the small print.
_SCALE: Final = SMALL / SIZE
#: A page's content is drawn smaller by one of these where it would not fit.
_SHRUNK: Final = (1.0, 1.04, 1.08, 1.12, 1.16, 1.2, 1.25)
#: Higher than any content [points].
_ENDLESS: Final = 1e6


class ChartRoom(Flowable):  # type: ignore[misc] # reportlab has no types
    """The room of a chart on a page; it is drawn there once the pages are made."""

    def __init__(self, chart: alt.TopLevelMixin) -> None:
        super().__init__()
        drawn = vl_convert.vegalite_to_pdf(chart.to_dict(validate=False))
        self.page = PdfReader(io.BytesIO(drawn)).pages[0]
        _sort(self.page["/Resources"])  # they come in any order, and a quote is the same twice
        box = self.page.mediabox
        self.width, self.height = float(box.width) * _SCALE, float(box.height) * _SCALE
        self.placed: tuple[int, float, float] | None = None

    def draw(self) -> None:
        """Note where on which page it stands."""
        x, y = self.canv.absolutePosition(0, 0)
        self.placed = (self.canv.getPageNumber() - 1, x, y)


def _sort(found: Any) -> None:  # noqa: ANN401 - pypdf's dictionary
    items = sorted(found.items())
    found.clear()
    for name, value in items:
        found[name] = value
        if isinstance(value, DictionaryObject):
            _sort(value)


class Paper:
    """What a document is made with: its writer, the room of its text, what is drawn on it."""

    def __init__(self, write: Writer, width: float, height: float) -> None:
        vl_convert.register_font_directory(str(FONTS))
        self.write, self.width, self.height = write, width, height
        #: How many pages were made.
        self.pages = 0
        self._rooms: list[ChartRoom] = []

    def fits(self, content: Sequence[Flowable]) -> bool:
        """Tell whether flowables below each other are no higher than the page."""
        column = KeepInFrame(self.width, _ENDLESS, [*content], mode="overflow")
        return bool(column.wrapOn(None, self.width, _ENDLESS)[1] <= self.height)

    def on_one_page(self, make: Callable[[Self], Iterable[Flowable]]) -> Iterable[Flowable]:
        """Return content as one page, drawn a little smaller where need be; else as it flows."""
        for factor in _SHRUNK:
            wider = copy(self)
            wider.width, wider.height = self.width * factor, self.height * factor
            content = [*make(wider)]
            if wider.fits(content):
                return [KeepInFrame(self.width, self.height, content, fakeWidth=False)]
        return make(self)

    def table(self, grid: Grid, **how: Any) -> Table:  # noqa: ANN401 - of `pdf_table`
        """Return a grid as a table as wide as the text."""
        return pdf_table(grid, self.write, self.width, **how)

    def canvas(self, height: float) -> Canvas:
        """Return what a chart is drawn on, its plot as high as asked [points]."""
        return Canvas(
            PAPER, self.write, width=round(self.width / _SCALE), height=round(height / _SCALE)
        )

    def chart(self, chart: alt.TopLevelMixin) -> ChartRoom:
        """Return the room of a chart on a page."""
        self._rooms.append(ChartRoom(chart))
        return self._rooms[-1]

    def drawn_on(self, document: bytes) -> bytes:
        """Return the document with the charts in their rooms."""
        made = Pages(clone_from=io.BytesIO(document))
        for room in self._rooms:
            if room.placed is not None:
                number, x, y = room.placed
                place = Transformation().scale(_SCALE).translate(x, y)
                made.pages[number].merge_transformed_page(room.page, place)
                made.pages[number].compress_content_streams()
        out = io.BytesIO()
        made.write(out)
        return out.getvalue()


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


class _Numbered(Pen):  # type: ignore[misc] # reportlab has no types
    """A canvas that knows how many pages there are before it writes their numbers."""

    def __init__(self, write: Writer, title: str, *arguments: Any, **options: Any) -> None:  # noqa: ANN401 - reportlab's
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
