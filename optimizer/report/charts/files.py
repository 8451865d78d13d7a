"""Charts as files, made in memory."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    import altair as alt

    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.charts.curve import CurvePicture

#: Pixels of a picture to one of the chart: sharp in print at a hand's width.
_SCALE: Final = 2


def curve_picture(
    picture: CurvePicture, canvas: Canvas, form: Literal["png", "svg"], heading: tuple[str, str]
) -> bytes:
    """Return the curve as a picture, below title and subtitle.

    Parameters
    ----------
    picture : CurvePicture
        What is drawn.
    canvas : Canvas
        Of a chart that stands alone.
    form : {"png", "svg"}
        Pixels, or lines that can be enlarged.
    heading : (str, str)
        Title and subtitle.
    """
    from optimizer.report.charts.curve import curve_chart  # noqa: PLC0415 - start-up time

    return chart_file(curve_chart(picture, canvas, heading), form)


def chart_file(chart: alt.TopLevelMixin, form: Literal["png", "svg"]) -> bytes:
    """Return any chart as a picture."""
    if form == "svg":
        text = io.StringIO()
        chart.save(text, format="svg")
        return text.getvalue().encode()
    out = io.BytesIO()
    chart.save(out, format="png", scale_factor=_SCALE)
    return out.getvalue()
