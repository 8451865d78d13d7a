"""Paper, ink and letters of the PDF: one sans family, two sizes and one for headings."""

from collections.abc import Iterable
from decimal import Decimal
from functools import cache
from typing import Final

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph

from optimizer.report.charts import theme as hues
from optimizer.report.quote.pdf_fonts import REGULAR, STRONG, markup, set_up_fonts
from optimizer.report.words.writer import Writer

PAPER: Final = HexColor(hues.PAPER.ground)
INK: Final = HexColor(hues.PAPER.ink)
#: Small print.
SOFT: Final = HexColor(hues.PAPER.muted)
RULE: Final = HexColor(hues.PAPER.grid)
PLUM: Final = HexColor(hues.PAPER.accent)

SIZE: Final = 9.4
SMALL: Final = 7.8
HEADING: Final = 15.5

MARGIN: Final = 19 * mm
TOP: Final = 17 * mm
BOTTOM: Final = 19 * mm

#: Territories that print on letter paper.
_LETTER: Final = frozenset({"US", "CA", "MX", "PH", "CL", "CO", "GT", "CR", "PA", "PR", "DO"})


def sheet(territory: str | None) -> tuple[float, float]:
    """Return the sheet that is usual in a territory [points]."""
    width, height = letter if territory in _LETTER else A4
    return float(width), float(height)


class PdfWriter(Writer):
    """A writer that falls back to the currency's code where the font lacks its sign."""

    def money(self, value: float | Decimal, *, whole: bool = False) -> str:
        """Return money with a sign that the font has."""
        text = super().money(value, whole=whole)
        if all(ord(one) in set_up_fonts() for one in text):
            return text
        number = self.number(value) if whole else self.amount(value)
        return f"{number}\N{NO-BREAK SPACE}{self.currency}"


def _style(name: str, **changes: object) -> ParagraphStyle:
    given = {
        "fontName": REGULAR,
        "fontSize": SIZE,
        "leading": SIZE * 1.36,
        "textColor": INK,
        "splitLongWords": 1,
        "bulletFontName": REGULAR,
        "bulletFontSize": SIZE,
    }
    return ParagraphStyle(name, **{**given, **changes})


BODY: Final = _style("body", spaceAfter=5)
TIGHT: Final = _style("tight", spaceAfter=2.5, leading=SIZE * 1.28)
LEAD_IN: Final = _style("lead-in", spaceAfter=8, leading=SIZE * 1.45)
CELL: Final = _style("cell")
STRONG_CELL: Final = _style("strong", fontName=STRONG)
NOTE: Final = _style("note", fontSize=SMALL, leading=SMALL * 1.34, textColor=SOFT, spaceAfter=3)
SMALL_CELL: Final = _style("small", fontSize=SMALL, leading=SMALL * 1.28)
SMALL_SOFT: Final = _style("small soft", fontSize=SMALL, leading=SMALL * 1.28, textColor=SOFT)
HEAD: Final = _style("head", fontSize=SMALL, leading=SMALL * 1.25, textColor=SOFT)
TITLE: Final = _style(
    "title", fontName=STRONG, fontSize=HEADING, leading=HEADING * 1.2, spaceAfter=5
)
#: A title that may stand below other things of its page.
TITLE_BELOW: Final = ParagraphStyle("title below", TITLE, spaceBefore=18)
SECTION: Final = _style("section", fontName=STRONG, spaceBefore=9, spaceAfter=3, keepWithNext=1)
STEP: Final = _style("step", leftIndent=14, leading=SIZE * 1.28, spaceAfter=2, bulletIndent=0)


@cache
def to_right(style: ParagraphStyle) -> ParagraphStyle:
    """Return a style for numbers."""
    return ParagraphStyle(f"{style.name} number", style, alignment=TA_RIGHT)


def say(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """Return a text as a paragraph; whatever it holds is text, not markup."""
    return Paragraph(markup(text), style)


def bulleted(lines: Iterable[str]) -> list[Paragraph]:
    """Return a list with dashes."""
    return [Paragraph(markup(text), STEP, bulletText="–") for text in lines]


def numbered(steps: Iterable[str]) -> list[Paragraph]:
    """Return numbered steps."""
    return [
        Paragraph(markup(text), STEP, bulletText=f"{place}")
        for place, text in enumerate(steps, start=1)
    ]
