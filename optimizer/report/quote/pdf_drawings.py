"""What the PDF draws: the curve with its options, and the layout of a bank. Vectors only."""

# ruff: noqa: ANN401 - the pen is reportlab's canvas, which has no types

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.platypus import Flowable

from optimizer.report.charts import labels
from optimizer.report.quote.pdf_axes import hour_ticks, looks, mark, ticks
from optimizer.report.quote.pdf_style import (
    INK,
    PAPER,
    PLUM,
    REGULAR,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    printable,
)
from optimizer.report.words import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.curve import Curve
    from optimizer.model.design import Design
    from optimizer.quote.electrical import Layout
    from optimizer.report.words.writer import Writer


class CurveDrawing(Flowable):  # type: ignore[misc]
    """The exact curve as a staircase; the options ringed and named."""

    def __init__(self, curve: Curve, chosen: Sequence[Design], write: Writer, width: float) -> None:
        super().__init__()
        self.curve, self.chosen, self.write_ = curve, chosen, write
        self.width, self.height = width, 190.0

    def draw(self) -> None:
        """Draw on the page."""
        pen, points, site = self.canv, self.curve.points, self.curve.job.site
        left, bottom, top, right = 38.0, 30.0, self.height - 20, self.width - 8
        most_h = max(points[-1].hours, site.target_hours)
        values = ticks(points[-1].life_cycle_cost)

        def x_of(hours: float) -> float:
            return left + (right - left) * hours / most_h

        def y_of(money: float) -> float:
            return bottom + (top - bottom) * money / values[-1]

        pen.setFont(REGULAR, SMALL)
        pen.setLineWidth(0.6)
        for tick in values:
            pen.setStrokeColor(RULE)
            pen.line(left, y_of(tick), right, y_of(tick))
            pen.setFillColor(SOFT)
            pen.drawRightString(left - 5, y_of(tick) - 2.6, printable(self.write_.number(tick)))
        for hours in hour_ticks(most_h):
            pen.setFillColor(SOFT)
            pen.drawCentredString(x_of(hours), bottom - 11, self.write_.number(hours))
        self._titles(pen, left, bottom, right)
        self._target(pen, x_of(site.target_hours), bottom, top, site.target_hours)
        self._stairs(pen, points, x_of, y_of)
        drawn = looks(point.banks[0].battery.family for point in points)
        for one in points:
            look = drawn[one.banks[0].battery.family]
            mark(pen, x_of(one.hours), y_of(one.life_cycle_cost), look)
        self._family_names(pen, x_of, y_of)
        for point in self.chosen:
            at_x, at_y = x_of(point.hours), y_of(point.life_cycle_cost)
            pen.setStrokeColor(PLUM)
            pen.setLineWidth(1.5)
            pen.circle(at_x, at_y, 5.2, stroke=1, fill=0)
            self._name(pen, at_x, at_y, x_of(site.target_hours), f"{point.hours} h")

    def _name(
        self,
        pen: Any,
        at_x: float,
        at_y: float,
        target_x: float,
        text: str,
    ) -> None:
        """Write an option's hours below its ring: above it the stairs go on."""
        wide = pen.stringWidth(text, STRONG, SMALL)
        pen.setFillColor(PLUM)
        pen.setFont(STRONG, SMALL)
        near_target = 0 < at_x - target_x + 8 < 16  # noqa: PLR2004 - the name would cross its line
        x = target_x - wide - 4 if near_target else at_x - wide / 2
        pen.drawString(min(max(x, 40.0), self.width - wide - 2), at_y - 15, text)

    def _titles(self, pen: Any, left: float, bottom: float, right: float) -> None:
        site = self.curve.job.site
        years = site.horizon_in_words
        pen.setFillColor(SOFT)
        pen.drawString(0, self.height - 6, f"Cost over {years}, {site.currency}")
        pen.drawRightString(right, bottom - 22, "Hours without the grid")
        pen.setStrokeColor(INK)
        pen.line(left, bottom, right, bottom)

    def _target(
        self,
        pen: Any,
        at_x: float,
        bottom: float,
        top: float,
        hours: int,
    ) -> None:
        pen.saveState()
        pen.setStrokeColor(PLUM)
        pen.setLineWidth(0.8)
        pen.setDash(2, 2)
        pen.line(at_x, bottom, at_x, top)
        pen.restoreState()
        pen.setFillColor(PLUM)
        pen.setFont(REGULAR, SMALL)
        beyond = at_x > self.width * 0.72
        draw = pen.drawRightString if beyond else pen.drawString
        draw(at_x - 4 if beyond else at_x + 4, bottom + 5, f"asked for: {hours} h")

    @staticmethod
    def _stairs(pen: Any, points: Sequence[Design], x_of: Any, y_of: Any) -> None:
        """Between two points nothing is for sale: the line lies flat, then rises."""
        path = pen.beginPath()
        path.moveTo(x_of(0), y_of(points[0].life_cycle_cost))
        for point in points:
            path.lineTo(x_of(point.hours - _before(points, point)), y_of(point.life_cycle_cost))
            path.lineTo(x_of(point.hours), y_of(point.life_cycle_cost))
        pen.setStrokeColor(RULE)
        pen.setLineWidth(6)
        pen.setLineJoin(1)
        pen.drawPath(path)
        pen.setStrokeColor(SOFT)
        pen.setLineWidth(0.8)
        pen.drawPath(path)

    def _family_names(self, pen: Any, x_of: Any, y_of: Any) -> None:
        """Name each family once, above and left of one of its marks, where the stairs are not."""
        pen.setFont(REGULAR, SMALL)
        families: dict[str, list[Design]] = {}
        for each in self.curve.points:
            families.setdefault(each.banks[0].battery.family, []).append(each)
        for family, members in families.items():
            clear = [
                point
                for point in members
                if all(abs(x_of(point.hours) - x_of(one.hours)) > 24 for one in self.chosen)  # noqa: PLR2004
            ]
            point = (clear or members)[len(clear or members) // 2]
            pen.setFillColor(looks(families)[family].colour)
            at_x, at_y = x_of(point.hours), y_of(point.life_cycle_cost)
            pen.drawRightString(at_x - 2, at_y + 8, printable(labels.family(plain(family))))


def _before(points: Sequence[Design], point: Design) -> int:
    """Return the hours between a point and the one before it."""
    place = points.index(point)
    return point.hours - (points[place - 1].hours if place else 0)


class LayoutDrawing(Flowable):  # type: ignore[misc]
    """The bank: strings one below the other, units in series, fuse, cable, inverter."""

    def __init__(self, layout: Layout, inverter: str, width: float) -> None:
        super().__init__()
        self.layout, self.inverter = layout, inverter
        self.row = min(34.0, max(12.5, 130.0 / layout.strings))
        self.width, self.height = width, max(66.0, self.row * layout.strings + 46.0)

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
        text = f"– {self.layout.unit_v:g} V +"
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
        fuse_x = plus_x + 14
        pen.setLineWidth(1.3)
        pen.setStrokeColor(PLUM)
        pen.lines(
            [
                (plus_x, middle, plus_x + 7, middle),
                (plus_x + 7, middle, plus_x + 7, plus_y),
                (plus_x + 7, plus_y, box_x, plus_y),
            ]
        )
        pen.setFillColor(PAPER)
        pen.rect(fuse_x, plus_y - 4.5, 26, 9, stroke=1, fill=1)
        pen.line(fuse_x, plus_y, fuse_x + 26, plus_y)
        pen.setFillColor(PLUM)
        pen.setFont(REGULAR, SMALL)
        pen.drawString(fuse_x, plus_y + 8, f"fuse {found.fuse_a:g} A")
        pen.setStrokeColor(INK)
        foot_x = box_x if minus_y >= box_y else box_x + 14
        pen.lines([(minus_x, middle, minus_x, minus_y), (minus_x, minus_y, foot_x, minus_y)])
        if minus_y < box_y:
            pen.line(foot_x, minus_y, foot_x, box_y)
        pen.setFillColor(SOFT)
        pen.drawRightString(foot_x - 12, minus_y - 10, found.cable)
        pen.setFillColor(INK)
        pen.setLineWidth(1.0)
        pen.rect(box_x, box_y, wide, high, stroke=1, fill=0)
        for line, text in enumerate(
            (
                "inverter-charger",
                _cut(pen, printable(self.inverter), wide - 8),
                f"{found.voltage_v} V",
            )
        ):
            pen.drawCentredString(box_x + wide / 2, box_y + high - 14 - 11 * line, text)
        pen.drawRightString(box_x - 4, plus_y + 3, "+")
        pen.drawRightString(foot_x - 4, minus_y + 3, "–")


def _cut(pen: Any, text: str, room: float) -> str:
    while text and pen.stringWidth(text, REGULAR, SMALL) > room:
        text = text[:-2].rstrip() + "…"
    return text
