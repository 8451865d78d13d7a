"""Money year by year: what is bought, what running costs, what is left at the end."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Any, Final

import altair as alt

from optimizer.report.charts import labels
from optimizer.report.charts.theme import Palette, Row, axis, data, layered, row_text
from optimizer.report.words import money

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.engine.cashflow import Payment

_BOUGHT: Final = frozenset({"inverter", "wiring", "battery", "works"})
_RUNNING: Final = frozenset({"standby", "upkeep", "losses"})


def money_rows(flow: Sequence[Payment], horizon_years: int) -> list[Row]:
    """Return the sums by point in time: bought, running, value left, their sum [currency].

    Years count whole years since the start; value that comes back is negative.
    """
    sums: defaultdict[tuple[int, str], float] = defaultdict(float)
    for payment in flow:
        kind = "value" if payment.kind == "value" else "running"
        if payment.kind in _BOUGHT:
            kind = "bought"
        sums[payment.time_years, kind] += payment.amount
    rows: list[Row] = []
    for year in range(horizon_years + 1):
        bought, running, value = (sums[year, kind] for kind in ("bought", "running", "value"))
        rows.append(
            {
                "year": year,
                "bought": bought,
                "running": running,
                "value": value,
                "sum": bought + running + value,
            }
        )
    return rows


def money_chart(
    flow: Sequence[Payment],
    horizon_years: int,
    palette: Palette,
    *,
    height: int = 230,
    width: int | None = None,
) -> alt.LayerChart:
    """Return the payments as bars, what comes back below the line, purchases named.

    Parameters
    ----------
    flow : sequence of Payment
        In money of today.
    horizon_years : int
        The last year drawn.
    palette : Palette
        Light or dark.
    height, width : int
        Of the plot [px]; as wide as the page where no width is given.
    """
    rows = money_rows(flow, horizon_years)
    bars, names = _bars(rows, palette)
    scale = alt.Scale(domain=[-0.6, horizon_years + 0.6], nice=False)
    step = 1 if horizon_years <= 15 else 5  # noqa: PLR2004 - more labels would collide
    ticks = list(range(0, horizon_years + 1, step))
    named = f"datum.value == 0 ? '{labels.START}' : datum.value"
    x = alt.X(
        "year:Q",
        scale=scale,
        axis=axis(
            palette, values=ticks, title=labels.TIME, labelExpr=named, domain=False, ticks=False
        ),
    )
    top = max([row["high"] for row in bars] + [1.0])
    low = min([row["low"] for row in bars] + [0.0])
    reach = alt.Scale(domain=[low - 0.12 * (top - low) * (low < 0), top * 1.13], nice=False)
    upright = axis(palette, grid=True, title=None, format=",.0f", tickCount=4)
    bar = (
        alt.Chart(data(bars))
        .mark_bar(size=16, strokeWidth=1.5)
        .encode(
            x=x,
            y=alt.Y("low:Q", scale=reach, axis=upright),
            y2="high:Q",
            fill=alt.Fill("fill:N", scale=None),
            stroke=alt.Stroke("stroke:N", scale=None),
            tooltip=[
                alt.Tooltip("year:Q", title=labels.TIME),
                alt.Tooltip("kind:N", title=labels.WHAT),
                alt.Tooltip("text:N", title=labels.AMOUNT),
            ],
        )
    )
    zero = alt.Chart(data([{"level": 0}])).mark_rule(color=palette.muted).encode(y=alt.Y("level:Q"))
    above = alt.Chart(data([row for row in names if row["at"] >= 0]))
    below = alt.Chart(data([row for row in names if row["at"] < 0]))
    ink: dict[str, Any] = {"color": palette.ink, "align": "center"}
    place = {"x": alt.X("year:Q"), "y": alt.Y("at:Q"), "text": row_text()}
    layers = [
        zero,
        bar,
        above.mark_text(baseline="bottom", dy=-5, **ink).encode(**place),
        below.mark_text(baseline="top", dy=5, **ink).encode(**place),
    ]
    return layered(layers, palette, height=height, width=width, right=24)


def _bars(rows: list[Row], palette: Palette) -> tuple[list[Row], list[Row]]:
    """Return the bars with their feet and heads, and the names beside the large ones."""
    bars: list[Row] = []
    names: list[Row] = []
    for row in rows:
        head = 0.0
        for kind, fill in (("bought", palette.tones[0]), ("running", palette.tones[1])):
            if row[kind] > 0:
                named = labels.FIRST if kind == "bought" and row["year"] == 0 else labels.LATER
                bars.append(
                    {
                        "year": row["year"],
                        "low": head,
                        "high": head + row[kind],
                        "kind": labels.RUNNING if kind == "running" else named,
                        "text": money(row[kind]),
                        "fill": fill,
                        "stroke": fill,
                    }
                )
                head += row[kind]
        if row["bought"] > 0:
            names.append({"year": row["year"], "at": head, "text": money(row["bought"])})
        back = row["value"] + min(0.0, row["running"])
        if back < 0:
            bars.append(
                {
                    "year": row["year"],
                    "low": back,
                    "high": 0.0,
                    "kind": labels.VALUE,
                    "text": money(back).replace("-", "−"),
                    "fill": palette.ground,
                    "stroke": palette.tones[0],
                }
            )
            names.append({"year": row["year"], "at": back, "text": money(back).replace("-", "−")})
    return bars, names
