"""What moves the answer, what a budget buys and what each tier costs, drawn."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from optimizer.report.charts import labels
from optimizer.report.quote.appendix_words import spoken
from optimizer.report.quote.pdf_axes import LINE, Axes, apart, hour_ticks, looks, mark, ticks
from optimizer.report.quote.pdf_style import INK, PAPER, PLUM, REGULAR, SMALL, SOFT, STRONG
from optimizer.report.quote.texts import localised
from optimizer.report.rivals_words import value_in_words
from optimizer.report.words import plain

if TYPE_CHECKING:
    from optimizer.comparison.budgets import Staircase, Step
    from optimizer.comparison.sensitivities import Sensitivities, Sensitivity, Setting
    from optimizer.comparison.tier_costs import TierCurve, Tiers
    from optimizer.quote.appendix import Appendix
    from optimizer.report.words.writer import Writer

_BAR: Final = HexColor("#5f6b78")
#: A bar's height, and from one to the next [points].
_BAR_HIGH, _BAR_STEP = 8.0, 16.0
#: Below this a bar would be a line and its words noise [currency].
_NOTICED: Final = 0.5
#: A step at least this share of the whole is named with its price.
_LARGE: Final = 0.06
#: Dashes of tiers, the first one solid.
_DASHES: Final = ((), (6, 3), (1.6, 2.4), (8, 2.6, 1.6, 2.6))


def moving(found: Sensitivities) -> list[Sensitivity]:
    """Return the sensitivities that move the cost by a visible sum, the widest first."""
    return [sensitivity for sensitivity in found.sensitivities if sensitivity.cost_span >= _NOTICED]


class SensitivitiesDrawing(Flowable):  # type: ignore[misc]
    """One bar a number around today's cost, the widest on top."""

    def __init__(self, found: Appendix, write: Writer, width: float) -> None:
        super().__init__()
        self.found, self.write_ = found, write
        self.sensitivities = moving(found.sensitivities)
        self.width, self.height = width, 34.0 + _BAR_STEP * len(self.sensitivities)

    def draw(self) -> None:
        """Draw on the page."""
        pen, base = self.canv, self.sensitivities[0].base
        costs = [
            one.cost
            for sensitivity in self.sensitivities
            for one in (sensitivity.low, sensitivity.base, sensitivity.high)
            if math.isfinite(one.cost)
        ]
        low, high = min(costs), max(costs)
        words = [self._words(sensitivity, base) for sensitivity in self.sensitivities]

        def longest(side: str) -> float:
            return float(max(pen.stringWidth(row[side], REGULAR, SMALL) for row in words)) + 9

        names = max(
            pen.stringWidth(self._name(sensitivity), REGULAR, SMALL)
            for sensitivity in self.sensitivities
        )
        left = names + longest("left")
        frame = (left, 24.0, self.width - longest("right"), self.height - 4)
        span = (low, high) if high > low else (low - 1, high + 1)
        axes = Axes(pen, frame, span, (0.0, float(len(self.sensitivities))))
        inside = [one for one in ticks(high, low) if low <= one <= high]
        site = self.found.comparison.job.site
        axes.feet(
            inside,
            self.write_.number,
            f"Cost of {self.found.hours} h over {labels.lifetime(site.horizon_years)[5:]}, "
            f"{site.currency}",
        )
        for place, (sensitivity, said) in enumerate(zip(self.sensitivities, words, strict=True)):
            middle = axes.y(len(self.sensitivities) - place - 0.5)
            axes.write(0, middle - 2.6, self._name(sensitivity), colour=INK)
            reach = {"left": axes.x(base.cost), "right": axes.x(base.cost)}
            for one, full in ((sensitivity.low, False), (sensitivity.high, True)):
                if math.isfinite(one.cost) and abs(one.cost - base.cost) >= _NOTICED:
                    self._bar(axes, (base.cost, one.cost), middle, full=full)
                    side = "left" if one.cost < base.cost else "right"
                    further = min if side == "left" else max
                    reach[side] = further(reach[side], axes.x(one.cost))
            axes.write(reach["left"] - 5, middle - 2.6, said["left"], at="right")
            axes.write(reach["right"] + 5, middle - 2.6, said["right"])
        pen.setStrokeColor(INK)
        pen.setLineWidth(1.0)
        pen.line(axes.x(base.cost), frame[1], axes.x(base.cost), frame[3])

    @staticmethod
    def _bar(axes: Axes, span: tuple[float, float], middle: float, *, full: bool) -> None:
        axes.pen.setFillColor(_BAR if full else PAPER)
        axes.pen.setStrokeColor(_BAR)
        axes.pen.setLineWidth(0.9)
        x, end = sorted((axes.x(span[0]), axes.x(span[1])))
        axes.pen.rect(x, middle - _BAR_HIGH / 2, end - x, _BAR_HIGH, stroke=1, fill=1)

    def _words(self, sensitivity: Sensitivity, base: Setting) -> dict[str, str]:
        """Return the words at the left and the right end of a bar."""
        said: dict[str, list[str]] = {"left": [], "right": []}
        for one in (sensitivity.low, sensitivity.high):
            text = localised(value_in_words(sensitivity.parameter, one.value), self.write_)
            if not math.isfinite(one.cost):
                said["right"].append(f"{text}: nothing fits")
            elif abs(one.cost - base.cost) >= _NOTICED:
                if one.winner is not None and one.winner != base.winner:
                    text += f": {labels.family(plain(one.winner))} wins"
                said["left" if one.cost < base.cost else "right"].append(text)
        return {side: "; ".join(texts) for side, texts in said.items()}

    def _name(self, sensitivity: Sensitivity) -> str:
        text = spoken(plain(sensitivity.parameter.name), self.found, self.write_)
        return text[:1].upper() + text[1:]


class StairsDrawing(Flowable):  # type: ignore[misc]
    """The hours over the budget: level where more money buys nothing."""

    def __init__(self, stairs: Staircase, write: Writer, width: float) -> None:
        super().__init__()
        self.stairs, self.write_ = stairs, write
        self.width, self.height = width, 178.0

    def draw(self) -> None:
        """Draw on the page."""
        steps, site = self.stairs.steps, self.stairs.job.site
        end = steps[-1].budget * 1.05
        most = steps[-1].hours
        frame = (30.0, 28.0, self.width - 10, self.height - 16)
        axes = Axes(self.canv, frame, (0, end), (0, most * 1.06))
        axes.write(0, self.height - 6, "Hours without the grid")
        axes.rules(hour_ticks(most), self.write_.number)
        axes.feet(
            [one for one in ticks(end, about=6) if one <= end],
            self.write_.number,
            f"Budget at the start, {site.currency}",
        )
        places = [(axes.x(0), axes.y(0))]
        for step in steps:
            x = axes.x(step.budget)
            places += [(x, places[-1][1]), (x, axes.y(step.hours))]
        places.append((axes.x(end), places[-1][1]))
        axes.line(places, SOFT)
        drawn = looks(_family(step) for step in steps)
        for step in steps:
            mark(axes.pen, axes.x(step.budget), axes.y(step.hours), drawn[_family(step)], 2.4)
        for family, look in drawn.items():
            first = next(step for step in steps if _family(step) == family)
            at = axes.x(first.budget) - 6, axes.y(first.hours) + 5
            text = labels.family(plain(family))
            axes.write(*at, text, at="right", colour=look.colour, strong=True)
        for here, there in pairwise(steps):
            more = there.budget - here.budget
            if more > _LARGE * end:
                at = axes.x(there.budget) - 4, axes.y(here.hours) - 9
                axes.write(*at, f"+{self.write_.number(math.ceil(more))}", at="right")


def _family(step: Step) -> str:
    return step.design.banks[0].battery.family


class TiersDrawing(Flowable):  # type: ignore[misc]
    """The cost over the years against hours, with one tier of loads more from line to line."""

    def __init__(self, tiers: Tiers, write: Writer, width: float) -> None:
        super().__init__()
        self.tiers, self.write_ = tiers, write
        self.width, self.height = width, 160.0

    def draw(self) -> None:
        """Draw on the page."""
        site = self.tiers.job.site
        curves = [one for one in self.tiers.curves if one.curve.points]
        most_h = max(site.target_hours, *(one.curve.points[-1].hours for one in curves))
        values = ticks(max(one.curve.points[-1].life_cycle_cost for one in curves))
        names = [f"{'+ ' if len(one.tiers) > 1 else ''}{plain(one.added)}" for one in curves]
        room = max(self.canv.stringWidth(name, STRONG, SMALL) for name in names) + 14
        frame = (40.0, 28.0, self.width - room, self.height - 16)
        axes = Axes(self.canv, frame, (0, most_h), (0, values[-1]))
        over = labels.lifetime(site.horizon_years).lower()
        axes.write(0, self.height - 6, f"Cost {over}, {site.currency}")
        axes.rules(values, self.write_.number)
        axes.feet(hour_ticks(most_h), self.write_.number, labels.HOURS)
        x = axes.x(site.target_hours)
        axes.line([(x, frame[1]), (x, frame[3])], PLUM, dash=(2, 2), width=0.8)
        beyond = site.target_hours > most_h * 0.72
        text = f"asked for: {site.target_hours} h"
        at = x - 4 if beyond else x + 4, frame[1] + 5
        axes.write(*at, text, at="right" if beyond else "left", colour=PLUM)
        for place, one in enumerate(curves):
            self._stairs(axes, one, _DASHES[place % len(_DASHES)])
        ends = [one.curve.points[-1] for one in curves]
        heights = apart([axes.y(point.life_cycle_cost) - 2.6 for point in ends], LINE)
        for name, height in zip(names, heights, strict=True):
            axes.write(frame[2] + 8, height, name, colour=INK, strong=True)

    def _stairs(self, axes: Axes, one: TierCurve, dash: tuple[float, ...]) -> None:
        points = one.curve.points
        places = [(axes.x(0), axes.y(points[0].life_cycle_cost))]
        for point in points:
            y = axes.y(point.life_cycle_cost)
            places += [(places[-1][0], y), (axes.x(point.hours), y)]
        axes.line(places, INK, dash=dash)
        asked = one.curve.at(self.tiers.job.site.target_hours)
        if asked is not None:
            x, y = axes.x(self.tiers.job.site.target_hours), axes.y(asked.life_cycle_cost)
            axes.pen.setFillColor(PLUM)
            axes.pen.circle(x, y, 2.4, stroke=0, fill=1)
