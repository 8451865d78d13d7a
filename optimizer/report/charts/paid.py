"""Families against each other: what has been paid by when."""

from textwrap import fill
from typing import Any, Final

import altair as alt

from optimizer.comparison.side_by_side import Comparison
from optimizer.report.charts.canvas import APART, Canvas, Row, apart, beside, marks, tooltip
from optimizer.report.charts.theme import Stroke, strokes
from optimizer.report.words import charts as said
from optimizer.report.words.design import chemistry
from optimizer.report.words.writer import plain

#: Usual height of the plot [px].
HEIGHT: Final = 420
#: Above this share of the highest value the axis need not begin at zero.
_HIGH_UP: Final = 0.6
#: Longest line of words beside a mark [letters].
_LINE: Final = 18


def paid_rows(comparison: Comparison) -> list[Row]:
    """Return what each family has cost by each year, in money of today.

    The last row of a family is after the residual value has been deducted.
    """
    rows: list[Row] = []
    for one in comparison.alternatives:
        rows += [
            {
                "family": one.name,
                "year": balance.time_years,
                "paid": balance.real,
                "bought": plain(", ".join(balance.bought)),
            }
            for balance in one.balances
        ]
        paid = one.balances[-1].real - one.residual_value
        rows.append({**rows[-1], "paid": paid, "bought": ""})
    return rows


def paid_chart(comparison: Comparison, canvas: Canvas, *, named: bool = True) -> alt.LayerChart:
    """Return what has been paid by each year, replacements marked, the residual value apart.

    ``named``: what is bought later stands beside its mark; in little room it had better not.
    """
    write = canvas.write
    rows, years = paid_rows(comparison), comparison.job.site.horizon_years
    looks = strokes([one.name for one in comparison.alternatives], canvas.palette)
    amounts = [row["paid"] for row in rows]
    least, most = min(amounts), max(amounts)
    foot = least - 0.2 * (most - least) if least > _HIGH_UP * most else 0.0
    head = most + 0.1 * (most - foot)
    x = canvas.years_along(years, [0, years])
    title = write.say("Paid to date, {currency} of today")
    y = canvas.money_up("paid", [foot, head], title)
    layers: list[alt.Chart] = []
    ends: list[Row] = []
    for family, look in looks.items():
        own = [row for row in rows if row["family"] == family]
        if own:
            name = chemistry(write, family)
            own = [{**row, "side": name} for row in own]
            layers += _line(own, look, canvas, (x, y), named=named)
            paid = own[-1]["paid"]
            text = write.say("{family} {amount:number}", family=name, amount=paid)
            ends.append({**own[-1], "text": text, "colour": look.colour})
    spread = apart(ends, "paid", APART * (head - foot))
    layers += canvas.words(spread, "year:Q", "paid:Q", dx=12, fontWeight="bold")
    layers += _caught_up(comparison, canvas)
    return canvas.finished(layers, HEIGHT, said.paid_heading(write, comparison))


def _line(
    own: list[Row], look: Stroke, canvas: Canvas, axes: tuple[alt.X, alt.Y], *, named: bool
) -> list[alt.Chart]:
    paid, left = own[:-1], own[-1]
    bought = [row for row in paid if row["year"] == 0 or row["bought"]]
    later = [{**row, "text": row["bought"]} for row in bought if named and row["year"] > 0]
    line: dict[str, Any] = {"color": look.colour, "strokeWidth": 2.2}
    place: Row = {"x": "year:Q", "y": "paid:Q"}
    names = {
        "side": canvas.write.say("Family"),
        "year": canvas.write.say("Years from the start"),
        "paid": canvas.write.say("Paid to date"),
        "bought": canvas.write.say("Bought"),
    }
    steps = marks(paid).mark_line(interpolate="step-after", strokeDash=list(look.dash), **line)
    dots = [row | canvas.dot(look) for row in bought]
    dots.append(left | canvas.dot(look, hollow=True))
    fields = tooltip(names, year=".3~g", paid=",.0f")
    words = beside(9, is_late=True) | {"dy": -8, "color": look.colour}
    return [
        steps.encode(x=axes[0], y=axes[1]),
        *(canvas.words(later, "year:Q", "paid:Q", halo=True, **words) if later else []),
        marks([paid[-1], left]).mark_line(strokeDash=[1, 3], **line).encode(**place),
        canvas.points(dots, **place, tooltip=fields),
    ]


def _caught_up(comparison: Comparison, canvas: Canvas) -> list[alt.Chart]:
    years, dearer = comparison.caught_up_after, comparison.dearer_upfront
    if not years or dearer is None:
        return []
    # in lines: beside the ring there is little room on a phone
    text = canvas.write.say(
        "{family} has caught up after {years:years}",
        family=chemistry(canvas.write, dearer.name),
        years=years,
    )
    row: Row = {"year": years, "paid": dearer.balances[years].real, "text": fill(text, _LINE)}
    accent = canvas.palette.accent
    place = beside(4, is_late=years > comparison.job.site.horizon_years / 2)
    place |= {"dy": 24, "lineBreak": "\n"}
    return [
        marks([row]).mark_point(**canvas.ring(accent, 260)).encode(x="year:Q", y="paid:Q"),
        *canvas.words([row], "year:Q", "paid:Q", halo=True, color=accent, **place),
    ]
