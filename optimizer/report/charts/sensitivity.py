"""What moves the answer: one bar a number, the widest on top."""

import math
from typing import Final, Literal

import altair as alt

from optimizer.comparison.sensitivities import Sensitivities, Sensitivity, Setting
from optimizer.report.charts.canvas import SMALL, Canvas, Row, marks
from optimizer.report.words import charts as said
from optimizer.report.words import parameters
from optimizer.report.words.design import chemistry

What = Literal["cost", "hours"]
#: Below this a bar would be a line and its words noise [currency, or h].
_NOTICED: Final = 0.5
#: Width of a letter beside a bar, and about the width of the plot [px].
_LETTER_PX, _PLOT_PX = 6.5, 640
#: Height of a bar, and of a bar with its room [px].
_BAR_PX, _ROW_PX = 17, 32
#: Names of numbers up to this long stand beside the bars [px].
_NAME_PX: Final = 250


def moving(found: Sensitivities, what: What = "cost") -> list[Sensitivity]:
    """Return the sensitivities that move something, the widest first."""

    def span(one: Sensitivity) -> float:
        return one.cost_span if what == "cost" else one.hours_span

    return sorted((one for one in found.sensitivities if span(one) > 0), key=span, reverse=True)


def sensitivity_chart(
    found: Sensitivities, canvas: Canvas, *, what: What = "cost"
) -> alt.LayerChart:
    """Return bars around today's answer, the low value hollow, the high one full.

    ``what`` is the cost of the hours required, or the hours that the budget buys.
    """
    shown, colours, write = moving(found, what), canvas.palette, canvas.write
    base = _amount(shown[0].base, what) if shown else 0.0
    bars, beside = _bars(shown, canvas, what, base)
    amounts = [amount for bar in bars for amount in (bar["from"], bar["to"])] or [0.0, 1.0]
    low, high = min(amounts), max(amounts)
    left, right = (_room(beside, side, high - low) for side in ("left", "right"))
    title = said.autonomy(write)
    if what == "cost":
        title = write.say(
            "Life-cycle cost of {hours:hours} over {years:years}, {currency}",
            hours=found.hours,
            years=found.job.site.horizon_years,
        )
    x = canvas.along("from", [low - left, high + right], title, format=",.0f", tickCount=5)
    names = canvas.axis(domain=False, ticks=False, labelLimit=_NAME_PX, labelColor=colours.ink)
    y = alt.Y("number:N", sort=[_name(canvas, one) for one in shown], axis=names)
    bar = marks(bars).mark_bar(size=_BAR_PX, strokeWidth=1.6, stroke=colours.tones[0])
    today = marks([{"from": base}]).mark_rule(color=colours.ink, strokeWidth=1.5)
    layers = [bar.encode(x=x, x2="to:Q", y=y, fill="fill:N"), today.encode(x="from:Q")]
    for side, dx in (("left", -6), ("right", 6)):
        own = [word for word in beside if word["side"] == side]
        align = "right" if side == "left" else "left"
        layers += canvas.words(own, "from:Q", y, fontSize=SMALL, align=align, dx=dx)
    heading = said.sensitivity_heading(write, found, base, cost=what == "cost")
    return canvas.finished(layers, max(1, len(shown)) * _ROW_PX, heading)


def _amount(one: Setting, what: What) -> float:
    return one.cost if what == "cost" else float(one.hours)


def _name(canvas: Canvas, one: Sensitivity) -> str:
    return parameters.name(canvas.write, one.parameter)


def _room(beside: list[Row], side: str, span: float) -> float:
    """Return the room for the words at the outer ends of the bars, in the axis' unit."""
    longest = max([len(word["text"]) for word in beside if word["side"] == side] + [4])
    return (span or 1.0) * longest * _LETTER_PX / (_PLOT_PX - 2 * longest * _LETTER_PX)


def _bars(
    shown: list[Sensitivity], canvas: Canvas, what: What, base: float
) -> tuple[list[Row], list[Row]]:
    """Return the bars from today's answer, and the words at their ends."""
    bars: list[Row] = []
    beside: list[Row] = []
    write, colours = canvas.write, canvas.palette
    for one in shown:
        sides: dict[str, list[str]] = {"left": [], "right": []}
        reach = {"left": base, "right": base}
        for end, setting in (("low", one.low), ("high", one.high)):
            amount = _amount(setting, what)
            text = parameters.value(write, one.parameter, setting.value)
            if not math.isfinite(amount):
                sides["right"].append(write.say("{value}: nothing fits", value=text))
            elif abs(amount - base) >= _NOTICED:
                fill = colours.ground if end == "low" else colours.tones[0]
                bar = {"number": _name(canvas, one), "fill": fill, "from": base, "to": amount}
                bars.append(bar)
                side = "left" if amount < base else "right"
                if what == "cost" and setting.winner not in {None, one.base.winner}:
                    family = chemistry(write, str(setting.winner))
                    text = write.say("{value}: {family} wins", value=text, family=family)
                sides[side].append(text)
                reach[side] = (min if side == "left" else max)(reach[side], amount)
        beside += [
            {
                "number": _name(canvas, one),
                "side": side,
                "from": reach[side],
                "text": "; ".join(texts),
            }
            for side, texts in sides.items()
            if texts
        ]
    return bars, beside
