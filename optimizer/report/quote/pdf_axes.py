"""Axes, marks and strokes that the drawings of the PDF share. Vectors only."""

# ruff: noqa: ANN401 - the pen is reportlab's canvas, which has no types

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from reportlab.lib.colors import Color, HexColor

from optimizer.report.quote.pdf_style import (
    INK,
    LEAD,
    LITHIUM,
    PAPER,
    REGULAR,
    RULE,
    SMALL,
    SOFT,
    STRONG,
    printable,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence


#: The least distance between two lines of words [points].
LINE: Final = SMALL * 1.2


@dataclass(frozen=True, slots=True)
class Look:
    """How a family is drawn: hue, dash and shape together, so that none is needed alone."""

    colour: Color
    dash: tuple[float, ...]
    shape: str


#: Families that always look the same; others take what is left, in their order.
_USUAL: Final = {"lead": Look(LEAD, (5, 2.4), "square"), "lithium": Look(LITHIUM, (), "round")}
_OTHERS: Final = (
    Look(HexColor("#3f5ba9"), (1.6, 2.2), "triangle"),
    Look(HexColor("#a0365a"), (7, 2.2, 1.6, 2.2), "diamond"),
    Look(HexColor("#5a6b1f"), (1, 1.4), "cross"),
)


def looks(families: Iterable[str]) -> dict[str, Look]:
    """Return how each family is drawn.

    >>> looks(["lithium", "nickel"])["nickel"].shape
    'triangle'
    """
    names = list(dict.fromkeys(families))
    others = [name for name in names if name not in _USUAL]
    return {name: _USUAL.get(name) or _OTHERS[others.index(name) % len(_OTHERS)] for name in names}


def mark(
    pen: Any, x: float, y: float, look: Look, size: float = 2.1, *, hollow: bool = False
) -> None:
    """Draw a family's mark; hollow where it stands for something apart."""
    pen.saveState()
    pen.setDash()
    pen.setFillColor(PAPER if hollow else look.colour)
    pen.setStrokeColor(look.colour)
    pen.setLineWidth(1.1)
    stroke = int(hollow)
    if look.shape == "square":
        pen.rect(x - size, y - size, 2 * size, 2 * size, stroke=stroke, fill=1)
    elif look.shape == "round":
        pen.circle(x, y, size * 1.1, stroke=stroke, fill=1)
    else:
        corners = {
            "triangle": ((-1.1, -1), (1.1, -1), (0, 1.2)),
            "diamond": ((-1.3, 0), (0, -1.3), (1.3, 0), (0, 1.3)),
            "cross": ((-1.2, -1.2), (0, -0.4), (1.2, -1.2), (0.4, 0), (1.2, 1.2), (0, 0.4),
                      (-1.2, 1.2), (-0.4, 0)),
        }[look.shape]  # fmt: skip
        path = pen.beginPath()
        path.moveTo(x + corners[0][0] * size, y + corners[0][1] * size)
        for across, up in corners[1:]:
            path.lineTo(x + across * size, y + up * size)
        path.close()
        pen.drawPath(path, stroke=stroke, fill=1)
    pen.restoreState()


def ticks(most: float, least: float = 0.0, about: int = 4) -> list[float]:
    """Return round values that span ``least`` to ``most``.

    >>> ticks(9400.0), ticks(60.0, -20.0)
    ([0, 2000, 4000, 6000, 8000, 10000], [-20, 0, 20, 40, 60])
    """
    rough = (most - least) / about
    power = 10 ** math.floor(math.log10(rough)) if rough > 0 else 1.0
    step = next(size * power for size in (1, 2, 2.5, 5, 10) if size * power >= rough * 0.8)
    first = math.floor(least / step + 1e-9)
    return [step * place for place in range(first, math.ceil(most / step - 1e-9) + 1)]


def hour_ticks(most: int) -> list[int]:
    """Return hours worth a mark on an axis."""
    step = next((size for size in (1, 2, 4, 6, 12, 24, 48) if most / size <= 9), 48)  # noqa: PLR2004
    return list(range(0, most + 1, step))


@dataclass(frozen=True, slots=True)
class Axes:
    """A plot on the page: its frame [points], and the values at its edges.

    ``ratio`` draws the values across in equal ratios.
    """

    pen: Any
    frame: tuple[float, float, float, float]
    across: tuple[float, float]
    up: tuple[float, float]
    ratio: bool = False

    def x(self, value: float) -> float:
        """Return where a value stands across [points]."""
        left, _, right, _ = self.frame
        return left + (right - left) * self.place(value)

    def place(self, value: float) -> float:
        """Return where a value stands between the edges, 0…1."""
        low, high = self.across
        if self.ratio:
            return math.log(value / low) / math.log(high / low)
        return (value - low) / (high - low)

    def value(self, place: float) -> float:
        """Return the value at a place between the edges."""
        low, high = self.across
        return low * (high / low) ** place if self.ratio else low + place * (high - low)

    def y(self, value: float) -> float:
        """Return how high a value stands [points]."""
        _, bottom, _, top = self.frame
        low, high = self.up
        return bottom + (top - bottom) * (value - low) / (high - low)

    def rules(self, values: Iterable[float], words: Callable[[float], str]) -> None:
        """Draw quiet lines across, each with its value at the left."""
        left, _, right, _ = self.frame
        self.pen.setFont(REGULAR, SMALL)
        self.pen.setLineWidth(0.6)
        for value in values:
            self.pen.setStrokeColor(RULE)
            self.pen.line(left, self.y(value), right, self.y(value))
            self.write(left - 5, self.y(value) - 2.6, words(value), at="right")

    def feet(self, values: Iterable[float], words: Callable[[float], str], title: str) -> None:
        """Draw the line at the foot, values below it, and what they are."""
        left, bottom, right, _ = self.frame
        self.pen.setStrokeColor(INK)
        self.pen.setLineWidth(0.6)
        self.pen.line(left, bottom, right, bottom)
        for value in values:
            self.pen.line(self.x(value), bottom, self.x(value), bottom - 2.5)
            self.write(self.x(value), bottom - 11, words(value), at="middle")
        self.write(right, bottom - 22, title, at="right")

    def write(
        self,
        x: float,
        y: float,
        text: str,
        *,
        at: str = "left",
        colour: Color = SOFT,
        strong: bool = False,
    ) -> None:
        """Write words in small print that begin, end or are centred at a place."""
        self.pen.setFont(STRONG if strong else REGULAR, SMALL)
        self.pen.setFillColor(colour)
        draw = {
            "left": self.pen.drawString,
            "right": self.pen.drawRightString,
            "middle": self.pen.drawCentredString,
        }[at]
        draw(x, y, printable(text))

    def line(
        self,
        points: Sequence[tuple[float, float]],
        colour: Color,
        *,
        dash: tuple[float, ...] = (),
        width: float = 1.3,
    ) -> None:
        """Draw a line through places on the page [points]."""
        self.pen.saveState()
        self.pen.setStrokeColor(colour)
        self.pen.setLineWidth(width)
        self.pen.setLineJoin(1)
        if dash:
            self.pen.setDash(list(dash))
        path = self.pen.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        self.pen.drawPath(path)
        self.pen.restoreState()


def apart(heights: Sequence[float], least: float = LINE) -> list[float]:
    """Return heights of words moved up until none stands on another, in the order given.

    >>> apart([10.0, 12.0, 40.0], 8.0)
    [10.0, 18.0, 40.0]
    """
    found = list(heights)
    last = -math.inf
    for place in sorted(range(len(found)), key=lambda place: heights[place]):
        last = found[place] = max(found[place], last + least)
    return found
