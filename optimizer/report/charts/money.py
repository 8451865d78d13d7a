"""Money year by year: what is bought, what running costs, the residual value at the end."""

from collections import defaultdict
from collections.abc import Sequence
from typing import Any, Final

import altair as alt

from optimizer.engine.cashflow import PURCHASES, RETURNS, Payment
from optimizer.report.charts.canvas import Canvas, Row, marks, tooltip

#: Usual height of the plot [px].
HEIGHT: Final = 230


def money_rows(flow: Sequence[Payment], horizon_years: int) -> list[Row]:
    """Return the sums by point in time: bought, running, residual value, their sum [currency].

    Years count whole years since the start; value that comes back is negative.
    """
    sums: defaultdict[tuple[int, str], float] = defaultdict(float)
    for payment in flow:
        kind = "value" if payment.kind in RETURNS else "running"
        if payment.kind in PURCHASES:
            kind = "bought"
        sums[payment.counted_year, kind] += payment.amount
    rows: list[Row] = []
    for year in range(horizon_years + 1):
        parts = {kind: sums[year, kind] for kind in ("bought", "running", "value")}
        rows.append({"year": year, **parts, "sum": sum(parts.values())})
    return rows


def money_chart(flow: Sequence[Payment], horizon_years: int, canvas: Canvas) -> alt.LayerChart:
    """Return the payments as bars, what comes back below the line, purchases named."""
    bars, names = _bars(money_rows(flow, horizon_years), canvas)
    top = max([row["high"] for row in bars] + [1.0])
    low = min([row["low"] for row in bars] + [0.0])
    foot = low - 0.12 * (top - low) * (low < 0)
    write = canvas.write
    fields = {
        "year": write.say("Years from the start"),
        "kind": write.say("What"),
        "text": write.say("Amount"),
    }
    domain = [-0.6, horizon_years + 0.6]
    bar = (
        marks(bars)
        .mark_bar(size=16, strokeWidth=1.5)
        .encode(
            x=canvas.years_along(horizon_years, domain, domain=False, ticks=False),
            y=canvas.money_up("low", [foot, top * 1.13], ticks=4),
            y2="high:Q",
            fill="fill:N",
            stroke="stroke:N",
            tooltip=tooltip(fields),
        )
    )
    place: dict[str, Any] = {"x": "year:Q", "y": "at:Q", "align": "center", "dx": 0}
    above = [row for row in names if row["at"] >= 0]
    below = [row for row in names if row["at"] < 0]
    zero = marks([{"level": 0}]).mark_rule(color=canvas.palette.muted).encode(y="level:Q")
    layers = [
        zero,
        bar,
        *canvas.words(above, **place, baseline="bottom", dy=-5),
        *canvas.words(below, **place, baseline="top", dy=5),
    ]
    return canvas.finished(layers, HEIGHT)


def _bars(rows: list[Row], canvas: Canvas) -> tuple[list[Row], list[Row]]:
    """Return the bars with their feet and heads, and the names beside the large ones."""
    colours, write = canvas.palette, canvas.write
    kinds = {
        "first": write.say("upfront cost"),
        "bought": write.say("replacement"),
        "running": write.say("running costs"),
        "value": write.say("residual value"),
    }
    bars: list[Row] = []
    names: list[Row] = []

    def bar(row: Row, ends: tuple[float, float], kind: str, look: tuple[str, str]) -> None:
        low, high = ends
        text = write.number(low if low < 0 else high - low)
        bars.append(
            {"year": row["year"], "low": low, "high": high, "kind": kinds[kind], "text": text,
             "fill": look[0], "stroke": look[1]}
        )  # fmt: skip

    dark, pale = colours.tones[:2]
    for row in rows:
        bought, running = row["bought"], row["running"]
        head = bought + max(0.0, running)
        if bought > 0:
            bar(row, (0.0, bought), "bought" if row["year"] else "first", (dark, dark))
            names.append({"year": row["year"], "at": head, "text": write.number(bought)})
        if running > 0:
            bar(row, (bought, head), "running", (pale, pale))
        back = row["value"] + min(0.0, running)
        if back < 0:
            bar(row, (back, 0.0), "value", (colours.ground, dark))
            names.append({"year": row["year"], "at": back, "text": write.number(back)})
    return bars, names
