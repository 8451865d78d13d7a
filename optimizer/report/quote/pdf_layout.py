"""The layout of a bank, drawn on a page."""

# ruff: noqa: ANN401 - the pen is reportlab's canvas, which has no types

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.platypus import Flowable

from optimizer.model.part import PartKind
from optimizer.report.quote.pdf_style import (
    INK,
    PAPER,
    PLUM,
    REGULAR,
    RULE,
    SMALL,
    SOFT,
    printable,
)

if TYPE_CHECKING:
    from optimizer.quote.circuit import Circuit
    from optimizer.report.quote.pdf_paper import Paper


class LayoutDrawing(Flowable):  # type: ignore[misc]
    """The bank: strings one below the other, units in series, fuse, cable, inverter."""

    def __init__(self, layout: Circuit, inverter: str, paper: Paper) -> None:
        super().__init__()
        self.layout, self.inverter, self._write = layout, inverter, paper.write
        self.row = min(34.0, max(12.5, 130.0 / layout.strings))
        self.width, self.height = paper.width, max(66.0, self.row * layout.strings + 46.0)

    def draw(self) -> None:
        """Draw on the page."""
        pen, found = self.canv, self.layout
        left, right = 16.0, self.width - 168.0
        top = self.height - 14.0
        unit_w = min(74.0, (right - left - 20) / found.series - 5)
        high = self.row * 0.66
        middles = [top - self.row * (place + 0.5) for place in range(found.strings)]
        pen.setLineWidth(1.1)
        pen.setStrokeColor(INK)
        last_x = left + 10 + found.series * (unit_w + 5)
        for number, middle in enumerate(middles, start=1):
            pen.line(left, middle, left + 10, middle)
            for place in range(found.series):
                x = left + 10 + place * (unit_w + 5)
                pen.setFillColor(RULE)
                pen.rect(x, middle - high / 2, unit_w, high, stroke=1, fill=1)
                pen.line(x + unit_w, middle, x + unit_w + 5, middle)
                self._unit_text(pen, x, middle, unit_w, high)
            pen.line(last_x, middle, last_x + 10, middle)
            pen.setFillColor(SOFT)
            pen.setFont(REGULAR, SMALL)
            if found.strings > 1:
                pen.drawRightString(left - 4, middle - 2.6, str(number))
        bus_x = last_x + 10
        pen.setLineWidth(2.2)
        pen.line(left, middles[0], left, middles[-1] - 0.0)
        pen.line(bus_x, middles[0], bus_x, middles[-1])
        self._to_inverter(pen, left, bus_x, (middles[0] + middles[-1]) / 2, middles[-1] - high / 2)

    def _unit_text(self, pen: Any, x: float, middle: float, width: float, high: float) -> None:
        text = self._write.say("– {volts:figure} V +", volts=self.layout.unit_v)
        size = SMALL if width > 40 and high > 11 else 6.0  # noqa: PLR2004
        pen.setFillColor(INK)
        pen.setFont(REGULAR, size)
        if width > pen.stringWidth(text, REGULAR, size) + 3:
            pen.drawCentredString(x + width / 2, middle - size * 0.34, text)

    def _to_inverter(
        self,
        pen: Any,
        minus_x: float,
        plus_x: float,
        middle: float,
        foot: float,
    ) -> None:
        """Draw the two poles' way to the inverter; the fuse stands at the bank's plus."""
        found = self.layout
        wide, high = 112.0, 46.0
        box_x = self.width - wide
        box_y = max(2.0, min(middle - high * 0.72, self.height - high - 2))
        plus_y, minus_y = box_y + high * 0.72, min(box_y + high * 0.22, foot - 7)
        if minus_y < box_y:  # the minus passes below the box, with room for its sign
            minus_y = min(minus_y, box_y - 13)
        pen.setLineWidth(1.3)
        pen.setStrokeColor(PLUM)
        pen.lines(
            [
                (plus_x, middle, plus_x + 7, middle),
                (plus_x + 7, middle, plus_x + 7, plus_y),
                (plus_x + 7, plus_y, box_x, plus_y),
            ]
        )
        pen.setFont(REGULAR, SMALL)
        fuse, pairs = found.part(PartKind.INVERTER_FUSE), found.part(PartKind.BATTERY_CABLE)
        if fuse is not None and fuse.rating is not None:
            self._fuse(pen, plus_x + 14, plus_y, fuse.rating.value)
        pen.setStrokeColor(INK)
        foot_x = box_x if minus_y >= box_y else box_x + 14
        pen.lines([(minus_x, middle, minus_x, minus_y), (minus_x, minus_y, foot_x, minus_y)])
        if minus_y < box_y:
            pen.line(foot_x, minus_y, foot_x, box_y)
        pen.setFillColor(SOFT)
        if pairs is not None and pairs.rating is not None:
            cable = self._write.say("{section:figure} mm²", section=pairs.rating.value)
            pen.drawRightString(foot_x - 12, minus_y - 10, printable(cable))
        pen.setFillColor(INK)
        pen.setLineWidth(1.0)
        pen.rect(box_x, box_y, wide, high, stroke=1, fill=0)
        for line, text in enumerate(
            (
                self._write.say("inverter-charger"),
                _cut(pen, printable(self.inverter), wide - 8),
                self._write.say("{volts} V", volts=found.voltage_v),
            )
        ):
            pen.drawCentredString(box_x + wide / 2, box_y + high - 14 - 11 * line, text)
        pen.drawRightString(box_x - 4, plus_y + 3, "+")
        pen.drawRightString(foot_x - 4, minus_y + 3, "–")

    def _fuse(self, pen: Any, x: float, y: float, rating_a: float) -> None:
        pen.setFillColor(PAPER)
        pen.rect(x, y - 4.5, 26, 9, stroke=1, fill=1)
        pen.line(x, y, x + 26, y)
        pen.setFillColor(PLUM)
        text = self._write.say("fuse {rating:figure} A", rating=rating_a)
        pen.drawString(x, y + 8, printable(text))


def _cut(pen: Any, text: str, room: float) -> str:
    while text and pen.stringWidth(text, REGULAR, SMALL) > room:
        text = text[:-2].rstrip() + "…"
    return text
