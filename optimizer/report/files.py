"""The curve as files: CSV, XLSX, PNG and SVG, made in memory."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING, Final, Literal

from optimizer.inputs.neutral import neutralised
from optimizer.report.lines import COLUMNS, curve_lines

if TYPE_CHECKING:
    from collections.abc import Mapping

    import altair as alt

    from optimizer.answers.curve import Curve
    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.charts.curve import CurvePicture

#: Pixels of a picture to one of the chart: sharp in print at a hand's width.
_SCALE: Final = 2


def curve_csv(overall: Curve, families: Mapping[str, Curve]) -> bytes:
    """Return every point of every curve; money is not rounded, the same curve the same bytes."""
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    for line in curve_lines(overall, families):
        rows.writerow([neutralised(line[name]) for name in COLUMNS])
    return out.getvalue().encode("utf-8-sig")


def curve_xlsx(overall: Curve, families: Mapping[str, Curve]) -> bytes:
    """Return the same as a workbook, numbers as numbers."""
    from openpyxl import Workbook  # noqa: PLC0415 - start-up time
    from openpyxl.styles import Font  # noqa: PLC0415

    book = Workbook()
    sheet = book.active
    sheet.title = "curve"
    sheet.append(COLUMNS)
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    for line in curve_lines(overall, families):
        sheet.append([neutralised(line[name]) for name in COLUMNS])
    for column in sheet.columns:
        longest = max(len(str(cell.value or "")) for cell in column)
        sheet.column_dimensions[column[0].column_letter].width = min(60, longest + 2)
        for cell in column[1:]:
            if isinstance(cell.value, float):
                cell.number_format = "#,##0.00"
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


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
