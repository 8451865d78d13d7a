"""What every chart is drawn on: its palette, its writer, its size, and strokes that all share."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal, Self

import altair as alt

from optimizer.report.charts.theme import Palette, Stroke
from optimizer.report.words import charts as said
from optimizer.report.words.writer import Writer

#: The same height of letters as the page's small print [px].
SIZE: Final = 13
SMALL: Final = 12
#: A chart that stands alone in a file [px].
FILE_WIDTH: Final = 820
#: Around the plot and all that stands beside it [px].
PADDING: Final = {"left": 5, "top": 8, "right": 14, "bottom": 5}
#: Titles of upright axes begin left of the plot [px].
_TITLE_X: Final = -40
#: Beyond this share of the width words stand to the left of their point.
NEAR_EDGE: Final = 0.72
#: Words at line ends keep at least this share of the height apart.
APART: Final = 0.06

Row = dict[str, Any]


#: Channels that rows hold the look itself for: no scale stands between.
_LOOKS: Final = {"color", "fill", "stroke", "shape", "size", "fillOpacity", "strokeOpacity"}


class _Layer(alt.Chart):
    """A layer whose channels are named in short at no cost.

    Altair finds the class of a channel by hashing its whole schema each time, which takes longer
    than all else of a chart; here the channel's own name says it.
    """

    def encode(self, *named: Any, **channels: Any) -> Self:  # noqa: ANN401 - as altair has it
        """Return the layer with these channels; a text is a field, `alt.value` a fixed place."""
        for name, given in channels.items():
            channel = name[0].upper() + name[1:]
            if isinstance(given, str):
                scale = {"scale": None} if name in _LOOKS else {}
                channels[name] = getattr(alt, channel)(given, **scale)
            elif isinstance(given, dict):
                channels[name] = getattr(alt, f"{channel}Value")(given["value"])
        return super().encode(*named, **channels)


def marks(rows: Sequence[Row]) -> alt.Chart:
    """Return rows as a layer whose mark is yet to be chosen."""
    return _Layer({"values": tuple(rows)})  # a list altair would copy and check with every change


def apart(rows: list[Row], key: str, least: float) -> list[Row]:
    """Return rows by height, moved up until none is nearer than ``least`` to the one below.

    >>> apart([{"y": 12.0}, {"y": 10.0}], "y", 8.0)
    [{'y': 10.0}, {'y': 18.0}]
    """
    last = -math.inf
    found = []
    for row in sorted(rows, key=lambda row: row[key]):
        last = max(row[key], last + least)
        found.append({**row, key: last})
    return found


def beside(distance: float, *, is_late: bool) -> Row:
    """Return how words stand beside a point: to its left where it is late along the chart."""
    return {"align": "right", "dx": -distance} if is_late else {"align": "left", "dx": distance}


def tooltip(names: Mapping[str, str], **formats: str) -> list[alt.Tooltip]:
    """Return what is shown of a row where the pointer stands: fields by name.

    Fields with a format are numbers, the others text.
    """
    return [
        alt.Tooltip(f"{field}:Q", title=title, format=formats[field])
        if field in formats
        else alt.Tooltip(f"{field}:N", title=title)
        for field, title in names.items()
    ]


@dataclass(frozen=True, slots=True)
class Canvas:
    """On what a chart is drawn, and for whom."""

    palette: Palette
    write: Writer
    #: Of the plot [px]; each chart has its usual one.
    height: int | None = None
    #: Of the whole chart [px]; as wide as the page where not given.
    width: int | None = None
    #: In a file of its own: with a heading, and as wide as it comes.
    alone: bool = False

    def axis(self, title: str | None = None, *, grid: bool = False, **extra: Any) -> alt.Axis:  # noqa: ANN401 - passed on
        """Return an axis in the house's manner."""
        settings: dict[str, Any] = {
            "title": title,
            "grid": grid,
            "gridColor": self.palette.grid,
            "ticks": not grid,
            "tickColor": self.palette.muted,
            "domain": not grid,
            "domainColor": self.palette.muted,
            "labelColor": self.palette.muted,
            "titleColor": self.palette.muted,
            "labelFontSize": SIZE,
            "titleFontSize": SIZE,
            "titleFontWeight": "normal",
            "labelOverlap": True,
            "labelPadding": 6,
        }
        return alt.Axis(**settings | extra)

    def along(
        self,
        field: str,
        ends: Sequence[float],
        title: str | None = None,
        *,
        kind: Literal["linear", "log"] = "linear",
        **extra: Any,  # noqa: ANN401 - passed on
    ) -> alt.X:
        """Return a place along the chart between two values."""
        scale = alt.Scale(type=kind, domain=list(ends), nice=False)
        return alt.X(f"{field}:Q", scale=scale, axis=self.axis(title, **extra))

    def up(
        self,
        field: str,
        ends: Sequence[float],
        title: str | None = None,
        **extra: Any,  # noqa: ANN401 - passed on
    ) -> alt.Y:
        """Return a place up the chart between two values, with quiet lines across.

        The title lies on top, where it is read without turning one's head.
        """
        scale = alt.Scale(domain=list(ends), nice=False)
        flat: Row = {"titleAngle": 0, "titleAlign": "left", "titleBaseline": "bottom", "titleY": -8}
        settings: Row = {"grid": True, "titleX": _TITLE_X, **flat, **extra}
        return alt.Y(f"{field}:Q", scale=scale, axis=self.axis(title, **settings))

    def money_up(
        self, field: str, ends: Sequence[float], title: str | None = None, ticks: int = 5
    ) -> alt.Y:
        """Return money up the chart, in whole units."""
        return self.up(field, ends, title, format=",.0f", tickCount=ticks)

    def hours_along(self, most: int) -> alt.X:
        """Return hours of autonomy along the chart, marked by quarters of a day or by days."""
        step = 6 if most <= 60 else 24  # noqa: PLR2004 - more would collide
        title = said.autonomy(self.write)
        marked = [*range(0, most + 1, step)]
        return self.along("hours", [0, most], title, values=marked, format="d")

    def years_along(self, years: int, ends: Sequence[float], **extra: Any) -> alt.X:  # noqa: ANN401 - passed on
        """Return years from the start along the chart."""
        step = 1 if years <= 15 else 5  # noqa: PLR2004 - more would collide
        named = f"datum.value == 0 ? '{self.write.say('start')}' : datum.value"
        return self.along(
            "year",
            ends,
            self.write.say("Years from the start"),
            values=[*range(0, years + 1, step)],
            labelExpr=named,
            **extra,
        )

    def words(
        self,
        rows: Sequence[Row],
        x: Any,  # noqa: ANN401 - a field or a value
        y: Any,  # noqa: ANN401 - a field or a value
        *,
        halo: bool = False,
        **mark: Any,  # noqa: ANN401 - passed on
    ) -> list[alt.Chart]:
        """Return the texts of rows at their places, each in its own colour where it has one.

        ``halo`` keeps them legible across lines: a border of the ground, then the text itself.
        """
        look: Row = {"color": self.palette.ink, "align": "left", "dx": 7, **mark}
        base = marks(rows).encode(x=x, y=y, text="text:N")
        layers = []
        if halo:
            ground = self.palette.ground
            border: Row = {**look, "color": ground, "stroke": ground, "strokeWidth": 4}
            layers.append(base.mark_text(**border))
        if rows and "colour" in rows[0]:
            base = base.encode(color="colour:N")
            look.pop("color")
        return [*layers, base.mark_text(**look)]

    def required(self, hours: int, most: int) -> list[alt.Chart]:
        """Return the autonomy required as an upright line with its name."""
        row: Row = {"hours": hours, "text": self.write.say("required {hours} h", hours=hours)}
        return self.upright([row], **beside(7, is_late=hours > NEAR_EDGE * most))

    def upright(self, rows: Sequence[Row], **place: Any) -> list[alt.Chart]:  # noqa: ANN401 - passed on
        """Return hours as upright lines, each with its name at the top."""
        look: Row = {"color": self.palette.accent, "dy": 8, **place}
        line = marks(rows).mark_rule(color=self.palette.accent, strokeWidth=1.5)
        return [line.encode(x="hours:Q"), *self.words(rows, "hours:Q", alt.value(0), **look)]

    def level(
        self, field: str, value: float, text: str, colour: str, dash: Sequence[int] = ()
    ) -> list[alt.Chart]:
        """Return a value as a line across with its name."""
        row: Row = {field: value, "text": text}
        line = marks([row]).mark_rule(color=colour, strokeDash=list(dash), strokeWidth=1.5)
        place: Row = {"baseline": "bottom", "dx": 6, "dy": -4, "color": colour, "halo": True}
        return [
            line.encode(y=f"{field}:Q"),
            *self.words([row], alt.value(0), f"{field}:Q", **place),
        ]

    def lowest_charge(self, share: float) -> list[alt.Chart]:
        """Return the lowest state of charge allowed as a line across."""
        text = self.write.say("lowest allowed {share:share.0}", share=share)
        return self.level("percent", 100 * share, text, self.palette.muted, [2, 3])

    def bands(
        self, spans: Sequence[tuple[float, float]], field: str, top: float, name: str = ""
    ) -> list[alt.Chart]:
        """Return stretches of hours as bands over the whole height, the first one named."""
        rows: list[Row] = [
            {"hours": begin, "end": end, field: 0.0, "top": top} for begin, end in spans
        ]
        if not rows:
            return []
        band = marks(rows).mark_rect(color=self.palette.band, opacity=0.7)
        layers = [band.encode(x="hours:Q", x2="end:Q", y=f"{field}:Q", y2="top:Q")]
        if name:
            look: Row = {"color": self.palette.muted, "dx": 4, "dy": -9}
            layers += self.words([{**rows[0], "text": name}], "hours:Q", f"{field}:Q", **look)
        return layers

    def dot(self, look: Stroke, size: int = 80, *, hollow: bool = False) -> Row:
        """Return what `points` draws a row by, set off from the lines below it."""
        ground = self.palette.ground
        fill, stroke = (ground, look.colour) if hollow else (look.colour, ground)
        return {"shape": look.shape, "size": size, "fill": fill, "stroke": stroke, "opacity": 1}

    def points(self, rows: Sequence[Row], x: str, y: str, **channels: Any) -> alt.Chart:  # noqa: ANN401 - passed on
        """Return rows as points, each drawn by its own `dot`."""
        look = {"shape": "shape:N", "size": "size:Q", "fill": "fill:N", "stroke": "stroke:N"}
        look |= {"fillOpacity": "opacity:Q", "strokeOpacity": "opacity:Q"}
        points: alt.Chart = marks(rows).mark_point(opacity=1, strokeWidth=1.6)
        return points.encode(x=x, y=y, **look, **channels)

    def ring(self, colour: str, size: int) -> Row:
        """Return how a point is ringed."""
        return {
            "shape": "circle", "size": size, "stroke": colour, "strokeWidth": 2, "filled": False,
            "opacity": 1,
        }  # fmt: skip

    def finished(
        self,
        layers: Sequence[alt.Chart],
        height: int,
        title: tuple[str, str] | None = None,
    ) -> alt.LayerChart:
        """Return layers, the lowest first, as one chart of its usual height [px].

        ``title`` and what stands below it head a chart that is alone in a file.
        """
        # all at once: every later change would copy the chart with all its rows
        settings: dict[str, Any] = {"padding": PADDING, "config": self._config()}
        if self.alone:
            settings |= {"width": FILE_WIDTH, "title": title and self._heading(*title)}
        elif self.width is None:
            settings["width"] = "container"
        else:
            fit = alt.AutoSizeParams(type="fit-x", contains="padding")
            settings |= {"width": self.width, "autosize": fit}
        chart = alt.layer(*layers, height=self.height or height, **settings)
        assert isinstance(chart, alt.LayerChart)  # a facet only where an encoding asks for one
        return chart

    def _heading(self, text: str, below: str) -> alt.TitleParams:
        """Return the heading of a chart that stands alone in a file."""
        return alt.TitleParams(
            text,
            subtitle=below,
            anchor="start",
            fontSize=18,
            color=self.palette.ink,
            subtitleColor=self.palette.muted,
            subtitleFontSize=SIZE,
            offset=14,
        )

    def _config(self) -> dict[str, Any]:
        """Return ground, type, and how the locale writes the numbers of axes."""
        from babel.numbers import (  # noqa: PLC0415 - start-up time
            get_decimal_symbol,
            get_group_symbol,
        )

        locale = self.write.locale
        return {
            "font": self.palette.font,
            "background": self.palette.ground,
            "view": {"stroke": None},
            "text": {"font": self.palette.font, "fontSize": SIZE},
            "locale": {
                "number": {
                    "decimal": get_decimal_symbol(locale),
                    "thousands": get_group_symbol(locale),
                    "grouping": [3],
                    "currency": ["", ""],
                }
            },
        }
