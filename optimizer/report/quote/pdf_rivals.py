"""Families against each other, drawn: paid by when, and where both cost the same."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final, TypeAlias

from reportlab.platypus import Flowable

from optimizer.report.charts import labels
from optimizer.report.quote.pdf_axes import Axes, apart, looks, mark, ticks
from optimizer.report.quote.pdf_style import INK, PAPER, PLUM, REGULAR, SMALL, STRONG
from optimizer.report.words import plain

if TYPE_CHECKING:
    from reportlab.lib.colors import Color

    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.side_by_side import Alternative, Comparison
    from optimizer.report.quote.pdf_axes import Look
    from optimizer.report.words.writer import Writer

    #: Lines by their corners, and boxes by left, foot, right and head; all on the page [points].
    Lines: TypeAlias = list[list[tuple[float, float]]]
    Box: TypeAlias = tuple[float, float, float, float]

#: A range this many times wider than its low end is drawn in equal ratios.
_WIDE: Final = 10
#: Above this share of the highest value a scale need not begin at zero.
_HIGH_UP: Final = 0.6
#: Where words on a side of the break-even line may stand, and how far around them the line counts.
_PLACES, _BESIDE = (0.2, 0.35, 0.5, 0.65, 0.8), 0.14
#: Words keep this far from today's point, across and up [points].
_ROOM: Final = (62.0, 18.0)


class PaidDrawing(Flowable):  # type: ignore[misc]
    """What each family has cost by each year; hollow: after the residual value is taken off."""

    def __init__(self, comparison: Comparison, write: Writer, width: float) -> None:
        super().__init__()
        self.comparison, self.write_ = comparison, write
        self.width, self.height = width, 176.0

    def draw(self) -> None:
        """Draw on the page."""
        found, site = self.comparison, self.comparison.job.site
        years = site.horizon_years
        values = self._values()
        drawn = looks(one.name for one in found.families)
        ends = [self._end(one) for one in found.families]
        room = max(self.canv.stringWidth(text, STRONG, SMALL) for text in ends) + 12
        frame = (40.0, 28.0, self.width - room, self.height - 16)
        axes = Axes(self.canv, frame, (0, years), (values[0], values[-1]))
        begins = f"; the scale begins at {self.write_.number(values[0])}" if values[0] else ""
        axes.write(0, self.height - 6, f"Paid by then, {site.currency} of today{begins}")
        axes.rules(values, self.write_.number)
        step = 1 if years <= 15 else 5  # noqa: PLR2004 - more would collide
        axes.feet(
            range(0, years + 1, step),
            lambda year: "start" if year == 0 else f"{year:.0f}",
            "Years from the start",
        )
        lines = [self._line(axes, one, drawn[one.name]) for one in found.families]
        words: list[Box] = []
        for one in found.families:
            self._bought(axes, one, drawn[one.name], lines, words)
        self._caught_up(axes, lines, words)
        left = [one.balances[-1].real - one.residual_value for one in found.families]
        heights = apart([axes.y(money) - 2.6 for money in left])
        for one, text, height in zip(found.families, ends, heights, strict=True):
            colour = drawn[one.name].colour
            axes.write(frame[2] + 8, height, text, colour=colour, strong=True)

    def _values(self) -> list[float]:
        """Return the values at the left: from zero, or from nearer where the lines lie high up."""
        families = self.comparison.families
        most = max(one.balances[-1].real for one in families)
        least = min(
            min(one.balances[0].real, one.balances[-1].real - one.residual_value)
            for one in families
        )
        return ticks(most, least if least > _HIGH_UP * most else 0.0)

    def _end(self, one: Alternative) -> str:
        left = self.write_.number(one.balances[-1].real - one.residual_value)
        return f"{labels.family(plain(one.name))} {left}"

    @staticmethod
    def _line(axes: Axes, one: Alternative, look: Look) -> list[tuple[float, float]]:
        places: list[tuple[float, float]] = []
        for balance in one.balances:
            x, y = axes.x(balance.time_years), axes.y(balance.real)
            places += [(x, places[-1][1]), (x, y)] if places else [(x, y)]
        axes.line(places, look.colour, dash=look.dash)
        end = axes.y(one.balances[-1].real - one.residual_value)
        axes.line([places[-1], (places[-1][0], end)], look.colour, dash=(0.8, 2.2))
        for balance in one.balances:
            if not balance.time_years or balance.bought:
                at = axes.x(balance.time_years), axes.y(balance.real)
                mark(axes.pen, *at, look, 2.6)
        mark(axes.pen, places[-1][0], end, look, 2.8, hollow=True)
        return places

    @staticmethod
    def _bought(
        axes: Axes,
        one: Alternative,
        look: Look,
        lines: Lines,
        words: list[Box],
    ) -> None:
        """Name what is bought later beside its mark, where neither lines nor words stand."""
        for balance in one.balances[1:]:
            text = plain(", ".join(balance.bought))
            if not text:
                continue
            x, y = axes.x(balance.time_years), axes.y(balance.real)
            wide = axes.pen.stringWidth(text, REGULAR, SMALL)
            before, behind = x - 5 - wide, x + 5
            corners = [(before, y + 4), (behind, y - 10), (behind, y + 4), (before, y - 10)]
            _write_clear(axes, text, look.colour, corners, lines=lines, words=words)

    def _caught_up(self, axes: Axes, lines: Lines, words: list[Box]) -> None:
        years, dearer = self.comparison.caught_up_after, self.comparison.dearer_at_start
        if not years or dearer is None:
            return
        x, y = axes.x(years), axes.y(dearer.balances[years].real)
        axes.pen.setStrokeColor(PLUM)
        axes.pen.setLineWidth(1.4)
        axes.pen.circle(x, y, 5.6, stroke=1, fill=0)
        plural = "s" if years > 1 else ""
        name = labels.family(plain(dearer.name))
        text = f"{name} has caught up after {years} year{plural}"
        wide = axes.pen.stringWidth(text, REGULAR, SMALL)
        corners = [(side, foot) for foot in (y - 16, y + 10) for side in (x - wide - 4, x + 4)]
        corners += [(x + 9, y - 26), (x - wide - 9, y - 26)]
        _write_clear(axes, text, PLUM, corners, lines=lines, words=words)


def _write_clear(
    axes: Axes,
    text: str,
    colour: Color,
    corners: list[tuple[float, float]],
    *,
    lines: Lines,
    words: list[Box],
) -> None:
    """Write a text at the corner where it meets the fewest lines and words, the first of equals."""
    wide = axes.pen.stringWidth(text, REGULAR, SMALL)
    boxes = [
        (left, foot - 1.5, left + wide, foot + 6)
        for left, foot in corners
        if axes.frame[0] <= left and left + wide <= axes.frame[2]
    ]
    if not boxes:  # wider than the plot: where it is asked for first
        left, foot = corners[0]
        boxes = [(left, foot - 1.5, left + wide, foot + 6)]
    box = min(boxes, key=lambda box: _hits(box, lines, words))
    words.append(box)
    axes.write(box[0], box[1] + 1.5, text, colour=colour)


def _hits(box: Box, lines: Lines, words: list[Box]) -> int:
    """Return how many pieces of lines and how many words a box on the page meets."""
    pieces = [
        (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
        for line in lines
        for a, b in pairwise(line)
    ]
    return sum(
        left < box[2] and right > box[0] and foot < box[3] and head > box[1]
        for left, foot, right, head in [*pieces, *words]
    )


class BreakEvenDrawing(Flowable):  # type: ignore[misc]
    """The line on which two families cost the same, with words on both sides."""

    def __init__(self, break_even_line: BreakEvenLine, write: Writer, width: float) -> None:
        super().__init__()
        self.break_even_line, self.write_ = break_even_line, write
        self.width, self.height = width, 176.0

    def draw(self) -> None:
        """Draw on the page."""
        break_even_line, across = self.break_even_line, self.break_even_line.across
        points = [(point.value, self._percent(point.value)) for point in break_even_line.points]
        percents = [percent for _, percent in points] + [0.0]
        room = max(12.0, 0.25 * (max(percents) - min(percents)))
        low = max(min(percents) - room, (break_even_line.price.low - 1) * 100)
        high = min(max(percents) + room, (break_even_line.price.high - 1) * 100)
        inside = [one for one in ticks(high, low, about=5) if low <= one <= high]
        frame = (40.0, 28.0, self.width - 10, self.height - 16)
        ratio = across.low > 0 and across.high / across.low > _WIDE
        axes = Axes(self.canv, frame, (across.low, across.high), (low, high), ratio)
        priced = labels.family(plain(break_even_line.priced))
        axes.write(0, self.height - 6, f"Price of {priced} batteries against today's, %")
        axes.rules(inside, self._against)
        share = across.unit == "%"
        unit = f", {across.unit}" if across.unit else ""
        axes.feet(
            _feet(axes),
            lambda value: self.write_.plain(value * 100 if share else value, 2),
            f"{plain(across.name)}{unit}".capitalize(),
        )
        for piece in self._pieces():
            axes.line([(axes.x(value), axes.y(one)) for value, one in piece], INK, width=1.5)
        axes.pen.setFillColor(PLUM)
        axes.pen.setStrokeColor(PAPER)
        axes.pen.circle(axes.x(across.base), axes.y(0), 3.4, stroke=1, fill=1)
        axes.write(axes.x(across.base) + 7, axes.y(0) - 9, "today", colour=PLUM)
        self._sides(axes, points)

    def _pieces(self) -> list[list[tuple[float, float]]]:
        """Return the line in pieces: it breaks off where one side wins at any price."""
        pieces: list[list[tuple[float, float]]] = [[]]
        for point in self.break_even_line.points:
            if point.factor is None:
                pieces.append([])
            else:
                pieces[-1].append((point.value, (point.factor - 1) * 100))
        return [piece for piece in pieces if piece]

    def _percent(self, value: float) -> float:
        """Return the break-even price against today's [%]; an end of the range where none is."""
        break_even_line = self.break_even_line
        point = next(one for one in break_even_line.points if one.value == value)
        factor = point.factor
        if factor is None:
            factor = (
                break_even_line.price.high
                if point.always == break_even_line.priced
                else break_even_line.price.low
            )
        return (factor - 1) * 100

    def _against(self, percent: float) -> str:
        if abs(percent) < 1e-9:  # noqa: PLR2004 - rounding
            return "today"
        return ("+" if percent > 0 else "") + self.write_.plain(percent, 1)

    def _sides(self, axes: Axes, points: list[tuple[float, float]]) -> None:
        """Write who wins on each side of the line, where there is most room."""
        break_even_line, (low, high) = self.break_even_line, axes.up
        drawn = looks([break_even_line.other, break_even_line.priced])
        today = axes.x(break_even_line.across.base), axes.y(0)
        for name, edge, nearest in (
            (break_even_line.other, high, max),
            (break_even_line.priced, low, min),
        ):
            spots = []
            for place in _PLACES:
                near = [
                    percent for value, percent in points if abs(axes.place(value) - place) < _BESIDE
                ] or [percent for _, percent in points]
                line = nearest(near)
                x, y = axes.x(axes.value(place)), axes.y((edge + line) / 2) - 3
                hides_today = abs(x - today[0]) < _ROOM[0] and abs(y - today[1]) < _ROOM[1]
                spots.append((not hides_today, abs(edge - line), x, y))
            _, _, x, y = max(spots)
            text = f"{labels.family(plain(name))} wins"
            half = axes.pen.stringWidth(text, STRONG, SMALL) / 2 + 2
            axes.pen.setFillColor(PAPER)
            axes.pen.rect(x - half, y - 2, 2 * half, SMALL + 1, stroke=0, fill=1)
            axes.write(x, y, text, at="middle", colour=drawn[name].colour, strong=True)


def _feet(axes: Axes) -> list[float]:
    """Return round values across, within the edges."""
    low, high = axes.across
    if not axes.ratio:
        return [one for one in ticks(high, low, about=6) if low <= one <= high * (1 + 1e-9)]
    powers = [size * 10.0**power for power in range(-4, 8) for size in (1, 2, 5)]
    return [one for one in powers if low <= one <= high]
