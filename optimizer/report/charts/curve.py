"""The curve: what each hour of autonomy costs, steps drawn as steps."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase
from typing import Final

import altair as alt

from optimizer.answers.curve import Curve
from optimizer.comparison.study import MIXED
from optimizer.inputs.job_file import Kept
from optimizer.model.design import Design
from optimizer.report.charts.canvas import (
    APART,
    NEAR_EDGE,
    Canvas,
    Row,
    apart,
    beside,
    marks,
    tooltip,
)
from optimizer.report.charts.points import family_of, point_id
from optimizer.report.charts.theme import Stroke, strokes
from optimizer.report.words import charts as said
from optimizer.report.words.design import bank, chemistry, inverter_set, replacements

#: Room above the dearest point [share of the height].
_HEADROOM: Final = 1.07
#: Usual height of the plot [px].
HEIGHT: Final = 460
#: The selection that a click makes: `point_id` of the point.
PICK: Final = "pick"


@dataclass(frozen=True)
class CurvePicture:
    """What is drawn: the exact curve over all families, and what is set beside it."""

    overall: Curve
    #: Where there are none, a family's name stands once beside its points.
    families: Mapping[str, Curve]
    target_hours: int | None = None
    #: Points that cost more than this at the start are faded.
    budget: float | None = None
    lifetime_budget: float | None = None
    nothing: float | None = None
    #: Ringed and named.
    chosen: Sequence[Design] = ()
    #: Designs set aside; those beyond the hours looked at are not drawn.
    kept: Sequence[Kept] = ()

    @property
    def max_hours(self) -> int:
        """The longest hours looked at."""
        return self.overall.job.site.max_hours

    @property
    def upfront(self) -> bool:
        """Whether the upright axis is the money at the start."""
        return self.overall.cost == "upfront_cost"

    @property
    def limit(self) -> float | None:
        """The budget in the money of the upright axis."""
        return self.budget if self.upfront else self.lifetime_budget

    def paid(self, design: Design | Kept) -> float:
        """Return the money on the upright axis."""
        return design.upfront_cost if self.upfront else design.life_cycle_cost

    @property
    def top(self) -> float:
        """The upper end of the money axis."""
        curves = (self.overall, *self.families.values())
        amounts = [self.paid(point) for curve in curves for point in curve.points]
        amounts += [self.paid(one) for one in self.kept if one.hours <= self.max_hours]
        return max([*amounts, self.limit or 0.0, 1.0]) * _HEADROOM

    def looks(self, canvas: Canvas) -> dict[str, Stroke]:
        """Return how each family is drawn."""
        names = self.families or map(family_of, self.overall.points)
        return strokes(names, canvas.palette)


def curve_chart(
    picture: CurvePicture, canvas: Canvas, heading: tuple[str, str] | None = None
) -> alt.LayerChart:
    """Return the curve as a chart."""
    layers = [
        _band(picture, canvas),
        *_lines(picture, canvas),
        *_levels(picture, canvas),
        *(_ends if picture.families else _names)(picture, canvas),
    ]
    if picture.target_hours is not None:
        layers += canvas.required(picture.target_hours, picture.max_hours)
    layers += [_points(picture, canvas), *_chosen(picture, canvas), *_kept(picture, canvas)]
    return canvas.finished(layers, HEIGHT, heading)


def _steps(picture: CurvePicture, curve: Curve) -> list[Row]:
    """Return the corners of a curve from hour 0; each step rises where the last point ends."""
    corners = [{"hours": point.hours, "money": picture.paid(point)} for point in curve.points]
    return [{**corners[0], "hours": 0}, *corners] if corners else []


def _band(picture: CurvePicture, canvas: Canvas) -> alt.Chart:
    look: Row = {"color": canvas.palette.band, "strokeWidth": 11, "strokeJoin": "miter"}
    band = marks(_steps(picture, picture.overall)).mark_line(interpolate="step-before", **look)
    years = picture.overall.job.site.horizon_years
    title = said.cost(canvas.write, years, upfront=picture.upfront)
    money = canvas.money_up("money", [0, picture.top], title)
    drawn: alt.Chart = band.encode(x=canvas.hours_along(picture.max_hours), y=money)
    return drawn


def _lines(picture: CurvePicture, canvas: Canvas) -> list[alt.Chart]:
    looks = picture.looks(canvas)
    return [
        marks(_steps(picture, curve))
        .mark_line(
            interpolate="step-before",
            strokeWidth=2,
            color=looks[family].colour,
            strokeDash=list(looks[family].dash),
        )
        .encode(x="hours:Q", y="money:Q")
        for family, curve in picture.families.items()
    ]


def _levels(picture: CurvePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the lines of money that a person sets, and doing nothing, each with its name."""
    found: list[alt.Chart] = []
    amount, nothing = picture.limit, picture.nothing
    colours, write = canvas.palette, canvas.write
    if amount is not None:
        text = write.say("life-cycle budget {amount:number}", amount=amount)
        if picture.upfront:
            text = write.say("upfront budget {amount:number}", amount=amount)
        found += canvas.level("money", amount, text, colours.accent, [2, 3])
    if nothing is not None and not picture.upfront and nothing <= picture.top:
        text = write.say("doing nothing {amount:number}", amount=nothing)
        found += canvas.level("money", nothing, text, colours.muted, [1, 3])
    return found


def _ends(picture: CurvePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the families' names at the ends of their lines, kept apart."""
    looks = picture.looks(canvas)
    rows: list[Row] = [
        {
            "hours": curve.points[-1].hours,
            "money": picture.paid(curve.points[-1]),
            "text": chemistry(canvas.write, family),
            "colour": looks[family].colour,
        }
        for family, curve in picture.families.items()
        if curve.points
    ]
    rows = apart(rows, "money", APART * picture.top)
    return canvas.words(rows, "hours:Q", "money:Q", dx=12, fontWeight="bold")


def _names(picture: CurvePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return each family's name once, above one of its points that is not chosen."""
    looks, rows = picture.looks(canvas), []
    for family in looks:
        own = [point for point in picture.overall.points if family_of(point) == family]
        clear = [point for point in own if point not in picture.chosen] or own
        if clear:
            point = clear[len(clear) // 2]
            text, colour = chemistry(canvas.write, family), looks[family].colour
            row: Row = {"hours": point.hours, "money": picture.paid(point), "text": text}
            rows.append({**row, "colour": colour})
    return canvas.words(rows, "hours:Q", "money:Q", align="right", dx=-4, dy=-14)


def _points(picture: CurvePicture, canvas: Canvas) -> alt.Chart:
    """Return every design that can be picked; those off the overall curve small and hollow."""
    pick = alt.selection_point(
        name=PICK, fields=["id"], on="click", nearest=True, toggle=False, empty=False
    )
    write, years = canvas.write, picture.overall.job.site.horizon_years
    names = {
        "hours": said.autonomy(write),
        "bank": write.say("Bank"),
        "inverter": write.say("Inverter-charger"),
        "upfront": said.cost(write, years, upfront=True),
        "lifetime": said.cost(write, years),
        "later": write.say("Replacements"),
    }
    rows, shown = point_rows(picture, canvas), tooltip(names)
    points = canvas.points(rows, "hours:Q", "money:Q", description="spoken:N", tooltip=shown)
    return points.add_params(pick)


def point_rows(picture: CurvePicture, canvas: Canvas) -> list[Row]:
    """Return the points that can be picked, those of the overall curve last and on top."""
    looks, write = picture.looks(canvas), canvas.write
    seen = {(point.hours, point.life_cycle_cost) for point in picture.overall.points}
    listed = [
        (family, point)
        for family, curve in picture.families.items()
        for point in curve.points
        if (point.hours, point.life_cycle_cost) not in seen
    ] + [(None, point) for point in picture.overall.points]
    rows = []
    for family, point in listed:
        look = looks.get(family or family_of(point), looks[MIXED])
        dear = picture.budget is not None and point.upfront_cost > picture.budget
        hollow = family is not None or dear
        row: Row = {
            **canvas.dot(look, 34 if family else 100, hollow=hollow),
            "id": point_id(family, point),
            "hours": point.hours,
            "money": picture.paid(point),
            "opacity": 0.35 if dear else 1,
            "bank": bank(write, point.banks[0], point.voltage_v),
            "inverter": inverter_set(write, point),
            "upfront": write.money(point.upfront_cost, whole=True),
            "lifetime": write.money(point.life_cycle_cost, whole=True),
            "later": replacements(write, point.replacements),
        }
        spoken = write.say(
            "{hours} h: {bank} behind {inverter}, {upfront} upfront, {lifetime} life-cycle cost",
            **{name: row[name] for name in ("hours", "bank", "inverter", "upfront", "lifetime")},
        )
        rows.append({**row, "spoken": spoken})
    return rows


def _chosen(picture: CurvePicture, canvas: Canvas) -> list[alt.Chart]:
    """Return the designs chosen: mark, ring and name; one may lie off every curve."""
    found: list[alt.Chart] = []
    looks, write = picture.looks(canvas), canvas.write
    for design in picture.chosen:
        paid = picture.paid(design)
        text = write.say("{hours} h for {amount:number}", hours=design.hours, amount=paid)
        if len(picture.chosen) > 1:
            text = write.say("{hours} h", hours=design.hours)
        row: Row = {"hours": design.hours, "money": paid, "text": text}
        base = marks([row]).encode(x="hours:Q", y="money:Q")
        look = looks.get(family_of(design), looks[MIXED])
        place = beside(10, is_late=design.hours > NEAR_EDGE * picture.max_hours)
        bold: Row = {"fontWeight": "bold", "fontSize": 15, "baseline": "top", "dy": 14}
        found += [
            canvas.points([row | canvas.dot(look, 100)], "hours:Q", "money:Q"),
            base.mark_point(**canvas.ring(canvas.palette.ink, 520)),
            *canvas.words([row], "hours:Q", "money:Q", halo=True, **bold, **place),
        ]
    return found


def _kept(picture: CurvePicture, canvas: Canvas) -> list[alt.Chart]:
    accent = canvas.palette.accent
    rows: list[Row] = [
        {"text": letter, "hours": one.hours, "money": picture.paid(one)}
        for letter, one in zip(ascii_uppercase, picture.kept, strict=False)
        if one.hours <= picture.max_hours
    ]
    square: Row = {"shape": "square", "size": 280, "stroke": accent, "strokeWidth": 2}
    place: Row = {"color": accent, "fontWeight": "bold", "align": "center", "dx": -15, "dy": -14}
    if not rows:
        return []
    return [
        marks(rows).mark_point(**square).encode(x="hours:Q", y="money:Q"),
        *canvas.words(rows, "hours:Q", "money:Q", halo=True, **place),
    ]
