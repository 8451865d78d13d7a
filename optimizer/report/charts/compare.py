"""Families against each other: what has been paid by when, and where both cost the same."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

import altair as alt

from optimizer.report.charts import labels
from optimizer.report.charts.theme import (
    Palette,
    Row,
    axis,
    data,
    dressed,
    strokes,
    titled,
)
from optimizer.report.rivals_words import break_even_line_in_words
from optimizer.report.words import money, plain

if TYPE_CHECKING:
    import pandas as pd

    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.parameters import Parameter
    from optimizer.comparison.side_by_side import Comparison
    from optimizer.report.charts.theme import Stroke

#: Room at the right for the names of the lines [px].
_ROOM_PX: Final = 150
#: Room beside the words of a picture [px].
_EDGE_PX: Final = 24
#: Names at line ends stand at least this share of the height apart.
_APART: Final = 0.06
#: Size of a chart that stands alone in a file [px].
_WIDTH, _HEIGHT = 820, 420
#: Where words on a side may stand along the axis, and how far around them the line counts.
_PLACES, _BESIDE = (0.2, 0.35, 0.5, 0.65, 0.8), 0.14
#: A range this many times wider than its low end is drawn in equal ratios.
_WIDE = 10


def frame(rows: list[Row]) -> pd.DataFrame:
    """Return the numbers of a chart as a frame."""
    import pandas as pd  # noqa: PLC0415 - start-up time

    return pd.DataFrame(rows)


def finished(
    layers: list[alt.Chart],
    palette: Palette,
    title: tuple[str, str],
    *,
    alone: bool,
    height: int | None = None,
    right: int = _ROOM_PX,
) -> alt.TopLevelMixin:
    """Return a chart on its ground: as wide as the page, or alone with a heading."""
    sized = alt.LayerChart(layer=layers).properties(
        height=height or _HEIGHT, width=_WIDTH if alone else "container"
    )
    heading = titled(*title, palette) if alone else None
    # a picture of its own grows with the words beside it; a page's width does not
    return dressed(sized, palette, right=_EDGE_PX if alone else right, title=heading)


def paid_rows(comparison: Comparison) -> list[Row]:
    """Return what each family has cost by each year, in money of today, nominal and discounted.

    The last row of a family, "residual value", is after the value at the end has been taken off.
    """
    site = comparison.job.site
    rows: list[Row] = []
    for one in comparison.families:
        name = plain(one.name)
        rows += [
            {
                "family": name,
                "year": balance.time_years,
                "paid": balance.real,
                "nominal": balance.nominal,
                "present": balance.present,
                "bought": plain(", ".join(balance.bought)),
                "what": "paid",
            }
            for balance in one.balances
        ]
        last = one.balances[-1]
        years, left = site.horizon_years, one.residual_value
        rows.append(
            {
                "family": name,
                "year": years,
                "paid": last.real - left,
                "nominal": last.nominal - left * (1 + site.inflation) ** years,
                "present": last.present - left / (1 + site.discount_rate) ** years,
                "bought": "",
                "what": "residual value",
            }
        )
    return rows


def paid_chart(
    comparison: Comparison,
    palette: Palette,
    *,
    alone: bool = False,
    height: int | None = None,
    named: bool = True,
) -> alt.TopLevelMixin:
    """Return what has been paid by each year, replacements marked, the residual value apart.

    Parameters
    ----------
    comparison : Comparison
        Its families are drawn.
    palette : Palette
        Light or dark.
    alone : bool
        With a heading and a width of its own, for a file.
    height : int, optional
        Of the plot [px].
    named : bool
        What is bought later stands beside its mark; where there is little room, it had better not.
    """
    rows = paid_rows(comparison)
    looks = strokes([plain(one.name) for one in comparison.families], palette)
    site = comparison.job.site
    horizon = site.horizon_years
    step = 1 if horizon <= 15 else 5  # noqa: PLR2004 - more labels would collide
    x = alt.X(
        "year:Q",
        scale=alt.Scale(domain=[0, horizon], nice=False),
        axis=axis(
            palette,
            values=list(range(0, horizon + 1, step)),
            title=labels.TIME,
            labelExpr=f"datum.value == 0 ? '{labels.START}' : datum.value",
        ),
    )
    top = max(row["paid"] for row in rows) * 1.1
    y = alt.Y(
        "paid:Q",
        scale=alt.Scale(domain=[0, top], nice=False),
        axis=axis(palette, grid=True, title=None, format=",.0f", tickCount=5),
    )
    layers: list[alt.Chart] = []
    ends: list[Row] = []
    for one in comparison.families:
        name = plain(one.name)
        look = looks[name]
        own = [row for row in rows if row["family"] == name]
        layers += _paid_line(own, look, palette, (x, y), named=named)
        ends.append({"text": labels.family(name), "colour": look.colour, **own[-1]})
    layers += _names(ends, top)
    layers += _catching_up(comparison, palette)
    who = plain(comparison.winner.name)
    title = (
        f"Paid by then, for {comparison.hours} h without the grid",
        f"{site.currency} of today; hollow: after the residual value at the end is taken off. "
        f"{labels.family(who).capitalize()} wins by {money(comparison.margin)} in present value.",
    )
    return finished(layers, palette, title, alone=alone, height=height)


def _paid_line(
    own: list[Row], look: Stroke, palette: Palette, axes: tuple[alt.X, alt.Y], *, named: bool
) -> list[alt.Chart]:
    paid, left = own[:-1], own[-1]
    later = [
        {**row, "text": f"{row['bought']}"}
        for row in paid
        if named and row["bought"] and row["year"] > 0
    ]
    end = [{**paid[-1]}, {**left}]
    line: dict[str, Any] = {"color": look.colour, "strokeWidth": 2.2}
    point: dict[str, Any] = {"shape": look.shape, "size": 75, "opacity": 1, "strokeWidth": 1.8}
    tooltip = [
        alt.Tooltip("family:N"),
        alt.Tooltip("year:Q", title=labels.TIME),
        alt.Tooltip("paid:Q", format=",.0f"),
        alt.Tooltip("bought:N"),
    ]
    marks = alt.Chart(data(later)).encode(x="year:Q", y="paid:Q")
    return [
        alt.Chart(data(paid))
        .mark_line(interpolate="step-after", strokeDash=list(look.dash), **line)
        .encode(x=axes[0], y=axes[1]),
        alt.Chart(data([row for row in paid if row["year"] == 0 or row["bought"]]))
        .mark_point(fill=look.colour, stroke=palette.ground, **point)
        .encode(x="year:Q", y="paid:Q", tooltip=tooltip),
        marks.mark_text(align="right", dx=-9, dy=-8, color=look.colour).encode(text="text:N"),
        alt.Chart(data(end)).mark_line(strokeDash=[1, 3], **line).encode(x="year:Q", y="paid:Q"),
        alt.Chart(data([left]))
        .mark_point(fill=palette.ground, stroke=look.colour, **point)
        .encode(x="year:Q", y="paid:Q", tooltip=tooltip),
    ]


def _names(ends: list[Row], top: float) -> list[alt.Chart]:
    """Return the families' names at the ends of their lines, with what is left to pay, apart."""
    ends.sort(key=lambda row: row["paid"])
    last = -top
    for row in ends:
        row["text"] = f"{row['text']} {money(row['paid'])}"
        last = row["paid"] = max(row["paid"], last + _APART * top)
    return [
        alt.Chart(data(ends))
        .mark_text(align="left", dx=12, fontWeight="bold")
        .encode(x="year:Q", y="paid:Q", text="text:N", color=alt.Color("colour:N", scale=None))
    ]


def _catching_up(comparison: Comparison, palette: Palette) -> list[alt.Chart]:
    years, dearer = comparison.caught_up_after, comparison.dearer_at_start
    if not years or dearer is None:
        return []
    plural = "s" if years > 1 else ""
    row: Row = {
        "year": years,
        "paid": dearer.balances[years].real,
        "text": f"{labels.family(plain(dearer.name))} has caught up after {years} year{plural}",
    }
    late = years > comparison.job.site.horizon_years / 2
    base = alt.Chart(data([row])).encode(x="year:Q", y="paid:Q")
    return [
        base.mark_point(
            shape="circle", size=260, stroke=palette.accent, strokeWidth=2, filled=False
        ),
        base.mark_text(
            color=palette.accent,
            align="right" if late else "left",
            dx=-4 if late else 4,
            dy=24,
        ).encode(text="text:N"),
    ]


def break_even_line_rows(break_even_line: BreakEvenLine) -> list[Row]:
    """Return the break-even line point by point: below the factor the priced family wins."""
    rows: list[Row] = []
    for point in break_even_line.points:
        factor = point.factor
        if factor is None:
            factor = (
                break_even_line.price.high
                if point.always == break_even_line.priced
                else break_even_line.price.low
            )
        rows.append(
            {
                "value": point.value,
                "factor": factor,
                "percent": (factor - 1) * 100,
                "wins": point.always
                or f"{break_even_line.priced} below, {break_even_line.other} above",
            }
        )
    return rows


def break_even_line_chart(
    break_even_line: BreakEvenLine,
    palette: Palette,
    *,
    alone: bool = False,
    height: int | None = None,
) -> alt.TopLevelMixin:
    """Return the line on which both families cost the same, with words on both sides.

    Parameters
    ----------
    break_even_line : BreakEvenLine
        Two numbers of a job.
    palette : Palette
        Light or dark.
    alone : bool
        With a heading and a width of its own, for a file.
    height : int, optional
        Of the plot [px].
    """
    rows = break_even_line_rows(break_even_line)
    across = break_even_line.across
    percents = [row["percent"] for row in rows]
    low, high = min([*percents, 0.0]), max([*percents, 0.0])
    room = max(12.0, 0.25 * (high - low))
    low = max(low - room, (break_even_line.price.low - 1) * 100)
    high = min(high + room, (break_even_line.price.high - 1) * 100)
    x = alt.X(
        "value:Q",
        scale=_scale(across),
        axis=axis(palette, title=f"{plain(across.name)}{_unit(across)}", tickCount=6, format="~g"),
    )
    y = alt.Y(
        "percent:Q",
        scale=alt.Scale(domain=[low, high], nice=False),
        axis=axis(
            palette,
            grid=True,
            title=f"Price of {plain(break_even_line.priced)} batteries against today's, %",
            labelExpr="datum.value == 0 ? 'today' : format(datum.value, '+.0f')",
            tickCount=6,
        ),
    )
    looks = strokes([break_even_line.other, break_even_line.priced], palette)
    line = (
        alt.Chart(data(rows))
        .mark_line(color=palette.ink, strokeWidth=2.2, strokeJoin="round")
        .encode(x=x, y=y)
    )
    today = alt.Chart(data([{"value": across.base, "percent": 0.0, "text": "today"}])).encode(
        x="value:Q", y="percent:Q"
    )
    layers = [
        line,
        today.mark_point(
            shape="circle", size=90, fill=palette.accent, stroke=palette.ground, opacity=1
        ),
        today.mark_text(color=palette.accent, align="left", dx=9, dy=2).encode(text="text:N"),
        *_sides(break_even_line, rows, looks, (low, high)),
    ]
    said = " ".join(break_even_line_in_words(break_even_line, (across.base,)))
    title = (
        f"Where {labels.family(break_even_line.other)} and "
        f"{labels.family(break_even_line.priced)} cost the same",
        said,
    )
    return finished(layers, palette, title, alone=alone, height=height, right=24)


def _sides(
    break_even_line: BreakEvenLine,
    rows: list[Row],
    looks: dict[str, Stroke],
    limits: tuple[float, float],
) -> list[alt.Chart]:
    """Return the words on both sides, each where there is most room."""
    low, high = limits
    found = []
    for name, edge, nearest in (
        (break_even_line.other, high, max),
        (break_even_line.priced, low, min),
    ):
        best: tuple[float, float, float] = (-1.0, 0.0, 0.0)
        for place in _PLACES:
            near = [
                row["percent"]
                for row in rows
                if abs(_place(break_even_line.across, row["value"]) - place) < _BESIDE
            ] or [row["percent"] for row in rows]
            line = nearest(near)
            best = max(best, (abs(edge - line), place, (edge + line) / 2))
        word: Row = {
            "value": _value(break_even_line.across, best[1]),
            "percent": best[2],
            "text": f"{labels.family(plain(name))} wins",
        }
        found.append(
            alt.Chart(data([word]))
            .mark_text(color=looks[name].colour, fontWeight="bold", fontSize=16)
            .encode(x="value:Q", y="percent:Q", text="text:N")
        )
    return found


def _is_wide(parameter: Parameter) -> bool:
    return parameter.low > 0 and parameter.high / parameter.low > _WIDE


def _scale(parameter: Parameter) -> alt.Scale:
    ends = [parameter.low, parameter.high]
    if _is_wide(parameter):
        return alt.Scale(type="log", domain=ends, nice=False)
    return alt.Scale(domain=ends, nice=False)


def _place(parameter: Parameter, value: float) -> float:
    """Return where a value stands between the ends of the axis, 0…1."""
    if _is_wide(parameter):
        return math.log(value / parameter.low) / math.log(parameter.high / parameter.low)
    return (value - parameter.low) / (parameter.high - parameter.low)


def _value(parameter: Parameter, place: float) -> float:
    """Return the value at a place of the axis."""
    if _is_wide(parameter):
        return float(parameter.low * (parameter.high / parameter.low) ** place)
    return parameter.low + place * (parameter.high - parameter.low)


def _unit(parameter: Parameter) -> str:
    if parameter.unit == "%":
        return ", share"
    return f", {parameter.unit}" if parameter.unit else ""
