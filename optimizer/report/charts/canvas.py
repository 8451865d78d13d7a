"""What every chart is drawn on: its palette, its writer, its size, and strokes that all share."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal, Self

import altair as alt

from optimizer.report.charts.theme import Palette
from optimizer.report.words import charts as said
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


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
_NEAR_EDGE: Final = 0.72
#: Words at line ends keep at least this share of the height apart.
APART: Final = 0.06

Row = dict[str, Any]


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
                channels[name] = getattr(alt, channel)(given)
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
    """On what a chart is drawn, and for whom.

    Parameters
    ----------
    palette : Palette
        Its colours and its font.
    write : Writer
        Of its currency and locale.
    height : int, optional
        Of the plot [px]; each chart has its usual one.
    width : int, optional
        Of the whole chart [px]; as wide as the page where not given.
    alone : bool
        In a file of its own: with a heading, and as wide as it comes.
    """

    palette: Palette
    write: Writer
    height: int | None = None
    width: int | None = None
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
        named = f"datum.value == 0 ? '{said.start(self.write)}' : datum.value"
        return self.along(
            "year",
            ends,
            said.years_from_the_start(self.write),
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
            base = base.encode(color=alt.Color("colour:N", scale=None))
            look.pop("color")
        return [*layers, base.mark_text(**look)]

    def required(self, hours: int, most: int) -> list[alt.Chart]:
        """Return the autonomy required as an upright line with its name."""
        late = hours > _NEAR_EDGE * most
        accent = self.palette.accent
        row: Row = {"hours": hours, "text": said.required(self.write, hours)}
        place: Row = {"align": "right" if late else "left", "dx": -7 if late else 7, "dy": 8}
        return [
            marks([row]).mark_rule(color=accent, strokeWidth=1.5).encode(x="hours:Q"),
            *self.words([row], "hours:Q", alt.value(0), color=accent, **place),
        ]

    def level(self, amount: float, text: str, colour: str, dash: list[int]) -> list[alt.Chart]:
        """Return an amount of money as a line across with its name."""
        row: Row = {"money": amount, "text": text}
        line = marks([row]).mark_rule(color=colour, strokeDash=dash, strokeWidth=1.5)
        place: Row = {"baseline": "bottom", "dx": 6, "dy": -4, "color": colour, "halo": True}
        return [line.encode(y="money:Q"), *self.words([row], alt.value(0), "money:Q", **place)]

    def dot(
        self, colour: str, shape: str = "circle", size: int = 80, *, hollow: bool = False
    ) -> Row:
        """Return how a point is drawn, set off from the lines below it."""
        ground = self.palette.ground
        fill, stroke = (ground, colour) if hollow else (colour, ground)
        return {
            "shape": shape, "size": size, "fill": fill, "stroke": stroke,
            "opacity": 1, "strokeWidth": 1.6,
        }  # fmt: skip

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
        settings: dict[str, Any] = {"padding": PADDING, "config": self.config()}
        if self.alone:
            settings |= {"width": FILE_WIDTH, "title": title and self.heading(*title)}
        elif self.width is None:
            settings["width"] = "container"
        else:
            fit = alt.AutoSizeParams(type="fit-x", contains="padding")
            settings |= {"width": self.width, "autosize": fit}
        chart = alt.layer(*layers, height=self.height or height, **settings)
        assert isinstance(chart, alt.LayerChart)  # a facet only where an encoding asks for one
        return chart

    def heading(self, text: str, below: str) -> alt.TitleParams:
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

    def config(self) -> dict[str, Any]:
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
