"""Charts as files, made in memory."""

import io
from typing import Final, Literal

import altair as alt

#: Pixels of a picture to one of the chart: sharp in print at a hand's width.
_SCALE: Final = 2


def chart_file(chart: alt.TopLevelMixin, form: Literal["png", "svg"]) -> bytes:
    """Return a chart as a picture: pixels, or lines that can be enlarged."""
    if form == "svg":
        text = io.StringIO()
        chart.save(text, format="svg")
        return text.getvalue().encode()
    out = io.BytesIO()
    chart.save(out, format="png", scale_factor=_SCALE)
    return out.getvalue()
