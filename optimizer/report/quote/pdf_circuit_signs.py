"""The signs of a circuit drawing: battery units, fuses, switches, bars, boxes, earth."""

# ruff: noqa: ANN401 - the pen is reportlab's canvas, which has no types

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

from optimizer.quote.circuit import CircuitPart
from optimizer.quote.figures import State
from optimizer.report.quote.pdf_fonts import REGULAR, cut, font_for, printable
from optimizer.report.quote.pdf_style import INK, PAPER, PLUM, RULE, SOFT
from optimizer.report.words import circuit as words
from optimizer.report.words.writer import Writer

#: Letters of the drawing, and the space from line to line [points].
TINY: Final = 6.3
_LEADING: Final = 7.4
#: Half the length of a sign that stands in a line, and half its height [points].
HALF, _LOW = 10.0, 3.6


class Signs:
    """Draws signs; what is not yet known is dashed, what is beyond its limit is coloured."""

    def __init__(self, pen: Any, write: Writer) -> None:
        self.pen, self._write = pen, write
        pen.setLineWidth(0.9)

    def wire(self, *points: tuple[float, float], heavy: bool = False) -> None:
        """Draw a line through points; a heavy one is a bar."""
        self.pen.setStrokeColor(INK)
        self.pen.setLineWidth(2.4 if heavy else 0.9)
        for (x, y), (to_x, to_y) in pairwise(points):
            self.pen.line(x, y, to_x, to_y)
        self.pen.setLineWidth(0.9)

    def text(self, x: float, y: float, lines: Sequence[str], *, middle: bool = True) -> None:
        """Write small lines below each other, the first at y."""
        self.pen.setFont(REGULAR, TINY)
        self.pen.setFillColor(SOFT)
        for number, line in enumerate(lines):
            draw = self.pen.drawCentredString if middle else self.pen.drawString
            draw(x, y - number * _LEADING, printable(line))

    def labels(self, part: CircuitPart) -> list[str]:
        """Return what stands beside a sign: what it is, its rating."""
        rated = words.rating(self._write, part)
        return [self._write.say(words.KINDS[part.kind].english), *([rated] if rated else [])]

    def fuse(self, x: float, y: float, part: CircuitPart) -> None:
        """Draw a fuse in a line that runs through y."""
        self._outlined(part)
        self.pen.rect(x - HALF, y - _LOW, 2 * HALF, 2 * _LOW, stroke=1, fill=1)
        self.pen.line(x - HALF, y, x + HALF, y)
        self._plain()

    def switch(self, x: float, y: float, part: CircuitPart, *, breaks: bool = False) -> None:
        """Draw an isolator, or a breaker with its cross, open as it stands before work."""
        self.pen.setFillColor(PAPER)
        self.pen.rect(x - HALF, y - 1.4, 2 * HALF, 2.8, stroke=0, fill=1)
        self._outlined(part)
        self.pen.line(x - HALF, y, x + HALF - 2, y + 2.2 * _LOW)
        if breaks:
            at = x + HALF
            self.pen.lines([(at - 2.4, y - 2.4, at + 2.4, y + 2.4)])
            self.pen.lines([(at - 2.4, y + 2.4, at + 2.4, y - 2.4)])
        else:
            self.pen.line(x + HALF, y - _LOW, x + HALF, y + _LOW)
        self._plain()

    def box(self, x: float, y: float, size: tuple[float, float], lines: Sequence[str]) -> None:
        """Draw a box whose lower left corner is x, y, with lines of text in its middle."""
        wide, high = size
        self.pen.setFillColor(PAPER)
        self.pen.setStrokeColor(INK)
        self.pen.rect(x, y, wide, high, stroke=1, fill=1)
        shown = [cut(line, wide - 6, TINY) for line in lines]
        top = y + high / 2 + (len(shown) - 1) * _LEADING / 2 - TINY * 0.35
        self.pen.setFillColor(INK)
        self.pen.setFont(REGULAR, TINY)
        for number, line in enumerate(shown):
            self.pen.setFont(font_for(line), TINY)
            self.pen.drawCentredString(x + wide / 2, top - number * _LEADING, line)

    def part(self, x: float, y: float, part: CircuitPart, size: tuple[float, float]) -> None:
        """Draw a part as a box in its own outline, its middle at x, y."""
        self._outlined(part)
        self.pen.rect(x - size[0] / 2, y - size[1] / 2, *size, stroke=1, fill=1)
        self._plain()

    def unit(self, x: float, y: float, size: tuple[float, float], text: str) -> None:
        """Draw a battery unit whose left middle is x, y; its text where there is room."""
        wide, high = size
        self.pen.setFillColor(RULE)
        self.pen.setStrokeColor(INK)
        self.pen.rect(x, y - high / 2, wide, high, stroke=1, fill=1)
        self.pen.setFillColor(INK)
        self.pen.setFont(REGULAR, TINY)
        if self.pen.stringWidth(printable(text), REGULAR, TINY) < wide - 3:
            self.pen.drawCentredString(x + wide / 2, y - TINY * 0.35, printable(text))

    def earth(self, x: float, y: float) -> None:
        """Draw the sign of earth, hanging from x, y."""
        self.pen.setStrokeColor(INK)
        for step, half in enumerate((6.0, 4.0, 2.0)):
            self.pen.line(x - half, y - 2.4 * step, x + half, y - 2.4 * step)

    def _outlined(self, part: CircuitPart) -> None:
        self.pen.setFillColor(PAPER)
        self.pen.setStrokeColor(PLUM if part.state is State.BEYOND_LIMIT else INK)
        self.pen.setDash(*((2, 1.6),) if part.state is State.NOT_YET_KNOWN else ())

    def _plain(self) -> None:
        self.pen.setDash()
        self.pen.setStrokeColor(INK)
