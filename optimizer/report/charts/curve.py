"""The curve: what each hour without the grid costs, steps drawn as steps."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

import altair as alt

from optimizer.answers.curve import Curve
from optimizer.model.design import Design
from optimizer.report.charts import labels
from optimizer.report.charts.theme import (
    MIXED,
    SIZE,
    Palette,
    Row,
    at_hours,
    axis,
    data,
    layered,
    row_text,
    strokes,
)
from optimizer.report.lines import bought_later, family_of, point_id
from optimizer.report.words import bank_in_words, money, plain, set_in_words

if TYPE_CHECKING:
    from optimizer.report.charts.theme import Stroke

Cost = Literal["life_cycle_cost", "upfront_cost"]

#: Room above the dearest point, and between names at line ends [share of the height].
_HEADROOM, _APART = 1.07, 0.055
#: Beyond this share of the width a label stands to the left of its point.
_NEAR_EDGE: Final = 0.72
#: Room at the right, beyond the names of the lines [px].
ROOM_PX: Final = 8
#: The selection that a click makes: `point_id` of the point.
PICK: Final = "pick"


@dataclass(frozen=True)
class CurvePicture:
    """What is drawn.

    Parameters
    ----------
    overall : Curve
        The exact curve over all families.
    families : mapping of str to Curve
        Each family's own.
    cost : {"life_cycle_cost", "upfront_cost"}
        Against which money.
    target_hours : int
        The mark a person sets [h].
    budget, lifetime_budget, nothing : float or None
        Lines of money [currency]; points that cost more than ``budget`` at the start are faded.
    chosen : Design or None
        Ringed and named.
    kept : sequence of (letter, hours, life_cycle_cost, upfront_cost)
        Designs set aside.
    """

    overall: Curve
    families: Mapping[str, Curve]
    cost: Cost = "life_cycle_cost"
    target_hours: int | None = None
    budget: float | None = None
    lifetime_budget: float | None = None
    nothing: float | None = None
    chosen: Design | None = None
    kept: Sequence[tuple[str, int, float, float]] = ()

    @property
    def max_hours(self) -> int:
        """The longest hours looked at."""
        return self.overall.job.site.max_hours

    def paid(self, design: Design) -> float:
        """Return the money on the upright axis."""
        return design.upfront_cost if self.cost == "upfront_cost" else design.life_cycle_cost

    @property
    def top(self) -> float:
        """The upper end of the money axis."""
        amounts = [
            self.paid(point)
            for curve in (self.overall, *self.families.values())
            for point in curve.points
        ]
        lines = [self.budget] if self.cost == "upfront_cost" else [self.lifetime_budget]
        amounts += [line for line in lines if line is not None]
        amounts += [one[3] if self.cost == "upfront_cost" else one[2] for one in self.kept]
        return max([*amounts, 1.0]) * _HEADROOM


def curve_chart(
    picture: CurvePicture, palette: Palette, *, height: int = 460, width: int | None = None
) -> alt.LayerChart:
    """Return the curve as a chart.

    Parameters
    ----------
    picture : CurvePicture
        What is drawn.
    palette : Palette
        Light or dark.
    height : int
        Of the plot [px].
    width : int, optional
        Of the plot [px]; as wide as the page where not given.
    """
    looks = strokes(picture.families, palette)
    layers = [
        _band(picture, palette),
        *_lines(picture, looks),
        *_rules(picture, palette),
        _ends(picture, looks),
        _points(picture, looks, palette),
        *_chosen(picture, looks, palette),
        *_kept(picture, palette),
    ]
    return layered(layers, palette, height=height, width=width, right=ROOM_PX)


def _x(picture: CurvePicture, palette: Palette) -> alt.X:
    step = 6 if picture.max_hours <= 60 else 24  # noqa: PLR2004 - a quarter of a day, a day
    ticks = [*range(0, picture.max_hours + 1, step)]
    scale = alt.Scale(domain=[0, picture.max_hours], nice=False)
    return alt.X("hours:Q", scale=scale, axis=axis(palette, values=ticks, title=labels.HOURS))


def _y(picture: CurvePicture, palette: Palette) -> alt.Y:
    scale = alt.Scale(domain=[0, picture.top], nice=False)
    return alt.Y(
        "money:Q",
        scale=scale,
        axis=axis(palette, grid=True, title=None, format=",.0f", tickCount=5),
    )


def _steps(picture: CurvePicture, curve: Curve) -> list[Row]:
    """Return the corners of a curve from hour 0; each step rises where the last point ends."""
    if not curve.points:
        return []
    corners = [{"hours": 0, "money": picture.paid(curve.points[0])}]
    return corners + [
        {"hours": point.hours, "money": picture.paid(point)} for point in curve.points
    ]


def _band(picture: CurvePicture, palette: Palette) -> alt.Chart:
    band: alt.Chart = (
        alt.Chart(data(_steps(picture, picture.overall)))
        .mark_line(
            color=palette.band, interpolate="step-before", strokeWidth=11, strokeJoin="miter"
        )
        .encode(x=_x(picture, palette), y=_y(picture, palette))
    )
    return band


def _lines(picture: CurvePicture, looks: Mapping[str, Stroke]) -> list[alt.Chart]:
    return [
        alt.Chart(data(_steps(picture, curve)))
        .mark_line(
            interpolate="step-before",
            strokeWidth=2,
            color=looks[family].colour,
            strokeDash=list(looks[family].dash),
        )
        .encode(x=at_hours(), y=alt.Y("money:Q"))
        for family, curve in picture.families.items()
    ]


def _rules(picture: CurvePicture, palette: Palette) -> list[alt.Chart]:
    """Return the lines a person sets, each with its name."""
    upfront = picture.cost == "upfront_cost"
    found = []
    if picture.target_hours is not None:
        rows: list[Row] = [
            {"hours": picture.target_hours, "text": labels.target(picture.target_hours)}
        ]
        base = alt.Chart(data(rows)).encode(x=at_hours())
        late = picture.target_hours > _NEAR_EDGE * picture.max_hours
        found += [
            base.mark_rule(color=palette.accent, strokeWidth=1.5),
            base.mark_text(
                color=palette.accent, align="right" if late else "left", dx=-7 if late else 7, dy=8
            ).encode(y=alt.value(0), text=row_text()),
        ]
    amount = picture.budget if upfront else picture.lifetime_budget
    if amount is not None:
        row: Row = {"money": amount, "text": labels.limit(amount, upfront=upfront)}
        found += _level(row, palette.accent, [2, 3])
    if picture.nothing is not None and not upfront and picture.nothing <= picture.top:
        row = {"money": picture.nothing, "text": labels.nothing(picture.nothing)}
        found += _level(row, palette.muted, [1, 3])
    return found


def _level(row: Row, colour: str, dash: list[int]) -> list[alt.Chart]:
    base = alt.Chart(data([row])).encode(y=alt.Y("money:Q"))
    return [
        base.mark_rule(color=colour, strokeDash=dash, strokeWidth=1.5),
        base.mark_text(color=colour, align="left", baseline="bottom", dx=6, dy=-4).encode(
            x=alt.value(0), text=row_text()
        ),
    ]


def _ends(picture: CurvePicture, looks: Mapping[str, Stroke]) -> alt.Chart:
    """Return the families' names at the ends of their lines, kept apart."""
    rows: list[Row] = [
        {
            "hours": curve.points[-1].hours,
            "money": picture.paid(curve.points[-1]),
            "text": labels.family(plain(family)),
            "colour": looks[family].colour,
        }
        for family, curve in picture.families.items()
        if curve.points
    ]
    rows.sort(key=lambda row: row["money"])
    last = -math.inf
    for row in rows:
        last = row["money"] = max(row["money"], last + _APART * picture.top)
    names: alt.Chart = (
        alt.Chart(data(rows))
        .mark_text(align="left", dx=12, fontWeight="bold")
        .encode(
            x=at_hours(),
            y=alt.Y("money:Q"),
            text=row_text(),
            color=alt.Color("colour:N", scale=None),
        )
    )
    return names


def _points(picture: CurvePicture, looks: Mapping[str, Stroke], palette: Palette) -> alt.Chart:
    """Return every design that can be picked; those off the overall curve small and hollow."""
    rows = point_rows(picture, looks, palette)
    pick = alt.selection_point(
        name=PICK, fields=["id"], on="click", nearest=True, toggle=False, empty=False
    )
    horizon = picture.overall.job.site.horizon_years
    points: alt.Chart = (
        alt.Chart(data(rows))
        .mark_point(opacity=1, strokeWidth=1.6)
        .encode(
            x=at_hours(),
            y=alt.Y("money:Q"),
            shape=alt.Shape("shape:N", scale=None),
            size=alt.Size("size:Q", scale=None),
            fill=alt.Fill("fill:N", scale=None),
            stroke=alt.Stroke("stroke:N", scale=None),
            strokeOpacity=alt.StrokeOpacity("opacity:Q", scale=None),
            fillOpacity=alt.FillOpacity("opacity:Q", scale=None),
            description=alt.Description("spoken:N"),
            tooltip=[
                alt.Tooltip("hours:Q", title=labels.HOURS),
                alt.Tooltip("bank:N", title=labels.BANK),
                alt.Tooltip("inverter:N", title=labels.INVERTER),
                alt.Tooltip("upfront:N", title=labels.UPFRONT),
                alt.Tooltip("lifetime:N", title=labels.lifetime(horizon)),
                alt.Tooltip("later:N", title=labels.NEW),
            ],
        )
        .add_params(pick)
    )
    return points


def point_rows(picture: CurvePicture, looks: Mapping[str, Stroke], palette: Palette) -> list[Row]:
    """Return the points that can be picked, those of the overall curve last and on top."""
    job = picture.overall.job
    currency = job.site.currency
    seen = {(point.hours, point.life_cycle_cost) for point in picture.overall.points}
    listed = [
        (family, point)
        for family, curve in picture.families.items()
        for point in curve.points
        if (point.hours, point.life_cycle_cost) not in seen
    ] + [(None, point) for point in picture.overall.points]
    rows = []
    for family, point in listed:
        look = looks.get(family or family_of(point) or MIXED, looks[MIXED])
        dear = picture.budget is not None and point.upfront_cost > picture.budget
        solid = family is None and not dear
        rows.append(
            {
                "id": point_id(family, point),
                "hours": point.hours,
                "money": picture.paid(point),
                "shape": look.shape,
                "size": 34 if family else 100,
                "fill": look.colour if solid else palette.ground,
                "stroke": palette.ground if solid else look.colour,
                "opacity": 0.35 if dear else 1,
                "bank": plain(bank_in_words(point.banks[0], point.voltage_v)),
                "inverter": plain(set_in_words(point)),
                "upfront": money(point.upfront_cost, currency),
                "lifetime": money(point.life_cycle_cost, currency),
                "later": plain(bought_later(job, point)),
            }
        )
        rows[-1]["spoken"] = labels.spoken(rows[-1])
    return rows


def _chosen(
    picture: CurvePicture, looks: Mapping[str, Stroke], palette: Palette
) -> list[alt.Chart]:
    """Return the design chosen: its own mark, a ring, its name; it may lie off every curve."""
    design = picture.chosen
    if design is None:
        return []
    paid = picture.paid(design)
    rows: list[Row] = [
        {"hours": design.hours, "money": paid, "text": labels.chosen(design.hours, paid)}
    ]
    base = alt.Chart(data(rows)).encode(x=at_hours(), y=alt.Y("money:Q"))
    look = looks.get(family_of(design) or MIXED, looks[MIXED])
    late = design.hours > _NEAR_EDGE * picture.max_hours
    return [
        base.mark_point(
            shape=look.shape, size=100, fill=look.colour, stroke=palette.ground, opacity=1
        ),
        base.mark_point(shape="circle", size=520, stroke=palette.ink, strokeWidth=2, filled=False),
        *_haloed(
            base,
            palette,
            color=palette.ink,
            fontWeight="bold",
            fontSize=SIZE + 2,
            align="right" if late else "left",
            baseline="top",
            dx=-8 if late else 12,
            dy=14,
        ),
    ]


def _kept(picture: CurvePicture, palette: Palette) -> list[alt.Chart]:
    if not picture.kept:
        return []
    upfront = picture.cost == "upfront_cost"
    rows: list[Row] = [
        {"text": letter, "hours": hours, "money": first if upfront else lifetime}
        for letter, hours, lifetime, first in picture.kept
    ]
    base = alt.Chart(data(rows)).encode(x=at_hours(), y=alt.Y("money:Q"))
    return [
        base.mark_point(shape="square", size=280, stroke=palette.accent, strokeWidth=2),
        *_haloed(base, palette, color=palette.accent, fontWeight="bold", dx=-15, dy=-14),
    ]


def _haloed(base: alt.Chart, palette: Palette, **mark: Any) -> list[alt.Chart]:  # noqa: ANN401 - passed on
    """Return a name that stays legible across lines: a border of the ground, then itself."""
    border = {**mark, "color": palette.ground, "stroke": palette.ground, "strokeWidth": 4}
    return [base.mark_text(**each).encode(text=row_text()) for each in (border, mark)]
