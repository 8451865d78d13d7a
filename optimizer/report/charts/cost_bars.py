"""Where the money goes: one stacked bar a design, in present value."""

from collections.abc import Sequence
from typing import Final

import altair as alt

from optimizer.answers.purchases import CostShare, cost_shares
from optimizer.comparison.side_by_side import Alternative
from optimizer.report.charts.canvas import SMALL, Canvas, Row, marks, tooltip
from optimizer.report.charts.theme import strokes
from optimizer.report.words.comparison import side

#: Height of a bar with its names [px].
_BAR_HEIGHT: Final = 78
#: Height of the axis below them [px].
_AXIS: Final = 58
#: Width of a letter of small print, about [px].
_LETTER_PX: Final = 6.4
#: What keeps a name apart from that of the residual value, left of it [px].
_APART_PX: Final = 9
#: Room to the right of the longest bar for what it comes to [share of its length].
_ROOM: Final = 1.16
#: Room left of zero, where the residual value has its name [share of the rest].
_LEFT: Final = 0.14
#: Half the height of a bar, in places.
_HALF: Final = 0.14


def cost_rows(
    alternatives: Sequence[Alternative], discount_rate: float, canvas: Canvas
) -> list[Row]:
    """Return the shares of each design from left to right; what comes back lies left of zero."""
    write = canvas.write
    names = {
        CostShare.EQUIPMENT: write.say("equipment"),
        CostShare.LABOUR: write.say("labour"),
        CostShare.REPLACEMENTS: write.say("replacements"),
        CostShare.RUNNING: write.say("energy and upkeep"),
        CostShare.RESIDUAL_VALUE: write.say("residual"),
    }
    rows: list[Row] = []
    for place, one in enumerate(alternatives):
        at = 0.0
        for share, amount in cost_shares(one.design.payments, discount_rate).items():
            if share is CostShare.RESIDUAL_VALUE:
                low, high = amount, 0.0
            else:
                low, high = at, at + amount
                at = high
            name, text = names[share], write.number(amount)
            rows.append(
                {"side": one.name, "place": place, "share": share, "low": low, "high": high,
                 "name": name, "amount": text, "text": f"{name}\n{text}",
                 "letters": max(len(name), len(text))}
            )  # fmt: skip
    return rows


def cost_bars(
    alternatives: Sequence[Alternative], discount_rate: float, canvas: Canvas
) -> alt.LayerChart:
    """Return a bar a design: equipment, labour, replacements, running; what comes back hollow.

    A mark across each bar is the life-cycle cost; the rate is real [1/a].
    """
    rows = cost_rows(alternatives, discount_rate, canvas)
    colours, write = canvas.palette, canvas.write
    looks = strokes([one.name for one in alternatives], colours)
    tones = dict(zip(CostShare, (*colours.tones, colours.ground), strict=True))
    high = max(row["high"] for row in rows) * _ROOM
    low = min(-_LEFT * high, *(row["low"] for row in rows))
    for row in rows:
        hollow = row["share"] is CostShare.RESIDUAL_VALUE
        row |= {
            "fill": tones[row["share"]],
            "stroke": colours.tones[0] if hollow else colours.ground,
            "from": row["place"] - _HALF,
            "to": row["place"] + _HALF,
            "under": row["place"] + _HALF,
        }
    down = alt.Y(
        "from:Q",
        axis=None,
        scale=alt.Scale(domain=[-0.55, len(alternatives) - 0.4], reverse=True, nice=False),
    )
    title = write.say("Present value, {currency}")
    along = canvas.along("low", [low, high], title, format=",.0f", tickCount=4)
    fields = {"name": write.say("What"), "amount": write.say("Present value")}
    bars = (
        marks(rows)
        .mark_rect(strokeWidth=1.2)
        .encode(
            x=along,
            x2="high:Q",
            y=down,
            y2="to:Q",
            fill="fill:N",
            stroke="stroke:N",
            tooltip=tooltip(fields),
        )
    )
    sums: list[Row] = [
        {
            "cost": one.life_cycle_cost,
            "from": place - _HALF - 0.07,
            "to": place + _HALF + 0.07,
            "end": max(row["high"] for row in rows if row["place"] == place),
            "at": place,
            "name": side(write, one.name),
            "text": write.number(one.life_cycle_cost),
            "colour": looks[one.name].colour,
        }
        for place, one in enumerate(alternatives)
    ]
    across = marks(sums).mark_rule(color=colours.ink, strokeWidth=2.5)
    # a name stands under its share only where it has the room
    fits = f"(datum.high - datum.low) / {high - low} * width"
    fits += f" > {_APART_PX} + {_LETTER_PX} * datum.letters"
    below: Row = {
        "color": colours.muted,
        "fontSize": SMALL,
        "baseline": "top",
        "dx": _APART_PX,
        "dy": 4,
        "lineBreak": "\n",
    }
    paid = [row for row in rows if row["share"] is not CostShare.RESIDUAL_VALUE]
    back = [row for row in rows if row["share"] is CostShare.RESIDUAL_VALUE]
    left: Row = {**below, "align": "right", "dx": -4}
    named = [
        *(one.transform_filter(fits) for one in canvas.words(paid, "low:Q", "under:Q", **below)),
        *canvas.words(back, "high:Q", "under:Q", **left),
    ]
    return canvas.finished(
        [
            bars,
            across.encode(x="cost:Q", y="from:Q", y2="to:Q"),
            *named,
            *canvas.words(sums, "end:Q", "at:Q", dx=9, fontWeight="bold"),
            *canvas.words(
                [{**one, "text": one["name"]} for one in sums],
                alt.value(0), "from:Q", dx=1, dy=-2, baseline="bottom", fontWeight="bold",
            ),
        ],
        _BAR_HEIGHT * len(alternatives) + _AXIS,
    )  # fmt: skip
