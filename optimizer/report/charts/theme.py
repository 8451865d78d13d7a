"""Ink on paper: colours, strokes and type that all charts share, in light and dark."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import altair as alt

#: What the reader's system has, one sans family.
FONT: Final = '"Segoe UI", Roboto, "Helvetica Neue", Arial, "Liberation Sans", sans-serif'
#: The same height of letters as the page's small print [px].
SIZE: Final = 13
SMALL: Final = 12

Row = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of one ground; each passes 4.5 : 1 against it where text is set in it."""

    name: Literal["light", "dark"]
    ground: str
    ink: str
    muted: str
    grid: str
    band: str
    accent: str
    hues: tuple[str, ...]
    tones: tuple[str, ...]


#: ``hues``: lead ochre, lithium teal, then further families. ``tones``: stacked loads, dark first.
LIGHT: Final = Palette(
    "light",
    ground="#fbfaf6",
    ink="#22262e",
    muted="#5d6068",
    grid="#e7e3d8",
    band="#dedbd2",
    accent="#7a3b8f",
    hues=("#9a5b0c", "#0a7a80", "#3f5ba9", "#a0365a", "#5a6b1f"),
    tones=("#5f6b78", "#98a3ad", "#c9cfd3", "#dfe2e2"),
)
DARK: Final = Palette(
    "dark",
    ground="#16191f",
    ink="#e9e6df",
    muted="#a9a8a3",
    grid="#2b2f37",
    band="#3a3f48",
    accent="#c58ad6",
    hues=("#d9963f", "#4fb8bd", "#8ba3ea", "#e58aa8", "#b3c46a"),
    tones=("#a8b2bd", "#75808c", "#515a64", "#3a414a"),
)
PALETTES: Final = {"light": LIGHT, "dark": DARK}

#: Dash and point of each hue, so that nothing is told by colour alone.
_DASHES: Final = ((6, 3), (), (2, 3), (9, 3, 2, 3), (1, 2))
_SHAPES: Final = ("square", "circle", "triangle-up", "diamond", "cross")
#: Families that always look the same; others take what is left, in their order.
_USUAL: Final = ("lead", "lithium")
#: A design whose banks are of more than one family.
MIXED: Final = "mixed"


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a family is drawn."""

    colour: str
    dash: tuple[int, ...]
    shape: str


def strokes(families: Iterable[str], palette: Palette) -> dict[str, Stroke]:
    """Return how each family is drawn; chains of several families get their own look.

    >>> strokes(["lithium", "nickel"], LIGHT)["nickel"].shape
    'triangle-up'
    """
    others = [family for family in families if family not in _USUAL]
    places = [*_USUAL, *others]
    found = {}
    for family in dict.fromkeys(families):
        place = places.index(family)
        place = place if place < len(_USUAL) else len(_USUAL) + (place - len(_USUAL)) % 3
        found[family] = Stroke(palette.hues[place], _DASHES[place], _SHAPES[place])
    found[MIXED] = Stroke(palette.ink, (), "triangle-down")
    return found


def axis(palette: Palette, *, grid: bool = False, **extra: Any) -> alt.Axis:  # noqa: ANN401 - passed on
    """Return an axis in the house's manner."""
    import altair as alt  # noqa: PLC0415 - only when a chart is asked for

    settings: dict[str, Any] = {
        "grid": grid,
        "gridColor": palette.grid,
        "ticks": not grid,
        "tickColor": palette.muted,
        "domain": not grid,
        "domainColor": palette.muted,
        "labelColor": palette.muted,
        "titleColor": palette.muted,
        "labelFontSize": SIZE,
        "titleFontSize": SIZE,
        "titleFontWeight": "normal",
        "labelOverlap": True,
        "labelPadding": 6,
        **extra,
    }
    return alt.Axis(**settings)


def data(rows: list[Row]) -> alt.InlineData:
    """Return rows as a chart holds them."""
    import altair as alt  # noqa: PLC0415 - only when a chart is asked for

    return alt.InlineData(values=rows)


def layered(
    layers: Sequence[alt.Chart],
    palette: Palette,
    *,
    height: int,
    width: int | None,
    right: int,
) -> alt.LayerChart:
    """Return layers as one chart on its ground.

    Parameters
    ----------
    layers : sequence of alt.Chart
        The lowest first.
    palette : Palette
        Light or dark.
    height, width : int
        Of the plot [px]; as wide as the page where no width is given.
    right : int
        Room for names at the ends of lines [px].
    """
    import altair as alt  # noqa: PLC0415 - only when a chart is asked for

    # all at once: every later change would copy the chart with all its rows
    chart = alt.layer(
        *layers,
        height=height,
        width=width or "container",
        padding=room(right),
        config=config(palette),
    )
    assert isinstance(chart, alt.LayerChart)  # a facet only where an encoding asks for one
    return chart


def dressed(
    chart: alt.LayerChart | alt.VConcatChart,
    palette: Palette,
    *,
    right: int = 14,
    title: alt.TitleParams | None = None,
) -> alt.LayerChart | alt.VConcatChart:
    """Return a finished chart on its ground, with room at the right for names of lines [px]."""
    extra = {} if title is None else {"title": title}
    return chart.properties(padding=room(right), config=config(palette), **extra)


def room(right: int) -> dict[str, int]:
    """Return the room around a plot [px]."""
    return {"left": 5, "top": 8, "right": right, "bottom": 5}


def config(palette: Palette) -> dict[str, Any]:
    """Return ground and type."""
    return {
        "font": FONT,
        "background": palette.ground,
        "view": {"stroke": None},
        "text": {"font": FONT, "fontSize": SIZE},
    }


def at_hours() -> alt.X:
    """Return the hours as a place along the chart."""
    import altair as alt  # noqa: PLC0415 - only when a chart is asked for

    return alt.X("hours:Q")


def row_text() -> alt.Text:
    """Return a row's text."""
    import altair as alt  # noqa: PLC0415 - only when a chart is asked for

    return alt.Text("text:N")


def titled(text: str, subtitle: str, palette: Palette) -> alt.TitleParams:
    """Return a heading for a chart that stands alone in a file."""
    import altair as alt  # noqa: PLC0415 - only when a chart is asked for

    return alt.TitleParams(
        text,
        subtitle=subtitle,
        anchor="start",
        fontSize=18,
        color=palette.ink,
        subtitleColor=palette.muted,
        subtitleFontSize=SIZE,
        offset=14,
    )
