"""What moves the answer: one bar a number, the widest on top."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final, Literal

import altair as alt

from optimizer.report.charts import labels
from optimizer.report.charts.compare import finished
from optimizer.report.charts.theme import SMALL, Palette, Row, axis, data
from optimizer.report.rivals_words import value_in_words
from optimizer.report.words import money, plain

if TYPE_CHECKING:
    from optimizer.comparison.sensitivities import Sensitivities, Sensitivity, Setting

What = Literal["cost", "hours"]
#: Below this a bar would be a line and its words noise [currency, or h].
_NOTICED: Final = 0.5
#: Width of a letter beside a bar, and about the width of the plot [px].
_LETTER_PX, _PLOT_PX = 6.5, 820
#: Where words stand beside the bars.
SIDES: Final = ("left", "right")
#: Height of a bar with its room [px].
_BAR_PX: Final = 34
#: Names of numbers up to this long stand beside the bars [px].
_NAME_PX: Final = 250


def sensitivity_rows(found: Sensitivities, what: What = "cost") -> list[Row]:
    """Return every number with its three values and what becomes of cost or hours.

    Numbers that move nothing are left out; where nothing carries the hours the cost is None.
    """
    rows: list[Row] = []
    for sensitivity in _moving(found, what):
        rows.append(
            {
                "number": plain(sensitivity.parameter.name),
                **{
                    f"{end}_{part}": value
                    for end, one in (
                        ("low", sensitivity.low),
                        ("now", sensitivity.base),
                        ("high", sensitivity.high),
                    )
                    for part, value in (
                        ("value", value_in_words(sensitivity.parameter, one.value)),
                        (what, _amount(one, what)),
                        ("winner", one.winner),
                    )
                },
            }
        )
    return rows


def _amount(one: Setting, what: What) -> float | None:
    amount = one.cost if what == "cost" else float(one.hours)
    return amount if math.isfinite(amount) else None


def _moving(found: Sensitivities, what: What) -> list[Sensitivity]:
    """Return the sensitivities that move something, the widest first."""
    spans = [
        (sensitivity.cost_span if what == "cost" else sensitivity.hours_span, sensitivity)
        for sensitivity in found.sensitivities
    ]
    moving = [(span, sensitivity) for span, sensitivity in spans if span > 0]
    return [sensitivity for _, sensitivity in sorted(moving, key=lambda pair: -pair[0])]


def sensitivities_chart(
    found: Sensitivities,
    palette: Palette,
    *,
    what: What = "cost",
    alone: bool = False,
) -> alt.TopLevelMixin:
    """Return bars around today's answer, the low value hollow, the high one full.

    Parameters
    ----------
    found : Sensitivities
        All numbers.
    palette : Palette
        Light or dark.
    what : {"cost", "hours"}
        The cost of the hours asked, or the hours that the budget buys.
    alone : bool
        With a heading and a width of its own, for a file.
    """
    rows = sensitivity_rows(found, what)
    base = rows[0][f"now_{what}"] if rows else 0.0
    bars, words = _bars(rows, what, base)
    amounts = [amount for bar in bars for amount in (bar["from"], bar["to"])] or [0.0, 1.0]
    low, high = min(amounts), max(amounts)
    left, right = (_room(words, side, high - low) for side in SIDES)
    order = [row["number"] for row in rows]
    x = alt.X(
        "from:Q",
        scale=alt.Scale(domain=[low - left, high + right], nice=False),
        axis=axis(palette, title=None, format=",.0f", tickCount=5),
    )
    y = alt.Y(
        "number:N",
        sort=order,
        axis=axis(
            palette,
            title=None,
            domain=False,
            ticks=False,
            labelLimit=_NAME_PX,
            labelColor=palette.ink,
        ),
    )
    mark: dict[str, Any] = {"size": 17, "strokeWidth": 1.6, "stroke": palette.tones[0]}
    full = [bar for bar in bars if bar["end"] == "high"]
    hollow = [bar for bar in bars if bar["end"] == "low"]
    layers: list[alt.Chart] = [
        alt.Chart(data(group)).mark_bar(fill=fill, **mark).encode(x=x, x2="to:Q", y=y)
        for group, fill in ((hollow, palette.ground), (full, palette.tones[0]))
    ]
    now: list[Row] = [{"from": base}]
    layers.append(
        alt.Chart(data(now)).mark_rule(color=palette.ink, strokeWidth=1.5).encode(x="from:Q")
    )
    inked: dict[str, Any] = {"color": palette.ink, "fontSize": SMALL}
    at_left, at_right = (
        alt.Chart(data([word for word in words if word["side"] == side])) for side in SIDES
    )
    layers += [
        at_left.mark_text(align="right", dx=-6, **inked).encode(x="from:Q", y=y, text="text:N"),
        at_right.mark_text(align="left", dx=6, **inked).encode(x="from:Q", y=y, text="text:N"),
    ]
    height = max(1, len(rows)) * _BAR_PX
    return finished(
        layers, palette, _title(found, what, base), alone=alone, height=height, right=24
    )


def _room(words: list[Row], side: str, span: float) -> float:
    """Return the room for the words at the outer ends of the bars, in the axis' unit."""
    longest = max([len(word["text"]) for word in words if word["side"] == side] + [4])
    return (span or 1.0) * longest * _LETTER_PX / (_PLOT_PX - 2 * longest * _LETTER_PX)


def _bars(rows: list[Row], what: What, base: float) -> tuple[list[Row], list[Row]]:
    """Return the bars from today's answer, and the words at their ends."""
    bars: list[Row] = []
    words: list[Row] = []
    for row in rows:
        sides: dict[str, list[str]] = {"left": [], "right": []}
        reach = {"left": base, "right": base}
        for end in ("low", "high"):
            amount = row[f"{end}_{what}"]
            text = row[f"{end}_value"]
            if amount is None:
                sides["right"].append(f"{text}: nothing fits")
                continue
            if abs(amount - base) < _NOTICED:
                continue
            bars.append({"number": row["number"], "end": end, "from": base, "to": amount})
            side = "left" if amount < base else "right"
            won = row[f"{end}_winner"]
            if what == "cost" and won != row["now_winner"] and won is not None:
                text = f"{text}: {labels.family(plain(won))} wins"
            sides[side].append(text)
            further = min if side == "left" else max
            reach[side] = further(reach[side], amount)
        words += [
            {"number": row["number"], "side": side, "from": reach[side], "text": "; ".join(texts)}
            for side, texts in sides.items()
            if texts
        ]
    return bars, words


def _title(found: Sensitivities, what: What, base: float) -> tuple[str, str]:
    site = found.job.site
    how = "hollow: at the low value, full: at the high one"
    if what == "cost":
        return (
            f"What moves the cost of {found.hours} h over {site.horizon_in_words}",
            f"{site.currency}, now {money(base)}; {how}",
        )
    return (
        f"What moves the hours that {money(found.budget, site.currency)} at the start buys",
        f"hours, now {base:.0f}; {how}",
    )
