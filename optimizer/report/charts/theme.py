"""Ink on paper: the hues, dashes and shapes of everything drawn, in light, dark and print."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from optimizer.comparison.study import MIXED

#: What the reader's system has, one sans family; else the one that the page brings along.
SCREEN_FONT: Final = (
    '"Segoe UI", Roboto, "Helvetica Neue", Arial, "Liberation Sans", "Source Sans", sans-serif'
)
#: The shipped family, which quotes are set in.
PAPER_FONT: Final = "Keeplit Sans"


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of one ground; each passes 4.5 : 1 against it where text is set in it."""

    font: str
    ground: str
    ink: str
    muted: str
    grid: str
    band: str
    accent: str
    panel: str
    border: str
    hues: tuple[str, ...]
    tones: tuple[str, ...]


#: ``hues``: lead ochre, lithium teal, then further families. ``tones``: stacked loads, dark first.
#: ``panel`` and ``border`` are the page's own.
LIGHT: Final = Palette(
    SCREEN_FONT,
    ground="#fbfaf6",
    ink="#22262e",
    muted="#5d6068",
    grid="#e7e3d8",
    band="#dedbd2",
    accent="#7a3b8f",
    panel="#f3f0e7",
    border="#d9d4c6",
    hues=("#9a5b0c", "#0a7a80", "#3f5ba9", "#a0365a", "#5a6b1f"),
    tones=("#5f6b78", "#98a3ad", "#c9cfd3", "#dfe2e2"),
)
DARK: Final = Palette(
    SCREEN_FONT,
    ground="#16191f",
    ink="#e9e6df",
    muted="#a9a8a3",
    grid="#2b2f37",
    band="#3a3f48",
    accent="#c58ad6",
    panel="#1f232b",
    border="#363b45",
    hues=("#d9963f", "#4fb8bd", "#8ba3ea", "#e58aa8", "#b3c46a"),
    tones=("#a8b2bd", "#75808c", "#515a64", "#3a414a"),
)
#: White, for print; texts in the font that travels with them.
PAPER: Final = replace(LIGHT, font=PAPER_FONT, ground="#ffffff")
PALETTES: Final = {"light": LIGHT, "dark": DARK}

#: Dash and point of each hue, so that nothing is told by colour alone.
_DASHES: Final = ((6, 3), (), (2, 3), (9, 3, 2, 3), (1, 2))
_SHAPES: Final = ("square", "circle", "triangle-up", "diamond", "cross")
#: Families that always look the same; others take what is left, in their order.
_USUAL: Final = ("lead", "lithium")


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a family, or what else a point stands for, is drawn."""

    colour: str
    dash: tuple[int, ...] = ()
    shape: str = "circle"


def strokes(families: Iterable[str], palette: Palette) -> dict[str, Stroke]:
    """Return how each family is drawn; chains of several families get their own look.

    >>> strokes(["lithium", "nickel"], LIGHT)["nickel"].shape
    'triangle-up'
    """
    names = [name for name in dict.fromkeys(families) if name != MIXED]
    places = [*_USUAL, *(family for family in names if family not in _USUAL)]
    found = {}
    for family in names:
        place = places.index(family)
        place = place if place < len(_USUAL) else len(_USUAL) + (place - len(_USUAL)) % 3
        found[family] = Stroke(palette.hues[place], _DASHES[place], _SHAPES[place])
    found[MIXED] = Stroke(palette.ink, shape="triangle-down")
    return found
