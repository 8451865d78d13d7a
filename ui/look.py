"""How the page looks: its ground, its type, and the palette that goes with it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.theme import PALETTES
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    import altair as alt

    from optimizer.report.charts.theme import Palette

_STYLE: Final = Path(__file__).with_name("style.css")


def palette() -> Palette:
    """Return the colours for the theme that the reader's browser shows."""
    return PALETTES.get(str(st.context.theme.type), PALETTES["light"])


def canvas(currency: str, *, height: int | None = None, alone: bool = False) -> Canvas:
    """Return what a chart of the page is drawn on, or one ``alone`` in a file."""
    return Canvas(palette(), writer(currency), height=height, alone=alone)


def writer(currency: str) -> Writer:
    """Return what writes the page's numbers and sentences."""
    return Writer(currency)


def dress() -> None:
    """Lay the project's own style sheet over the page; nothing of the user's goes in."""
    st.html(_STYLE)


def chart(drawn: alt.LayerChart, alt_text: str) -> None:
    """Draw a chart that is only looked at."""
    # as data: the chart's own check of every word would double the time
    spec = drawn.to_dict(validate=False)
    st.vega_lite_chart(spec, theme=None, width="stretch", alt=alt_text)
