"""A figure of a table as bars, one a row: what a table says at a glance."""

from collections.abc import Sequence
from typing import Final

import altair as alt

from optimizer.report.charts.canvas import Canvas, Row, marks
from optimizer.report.grids.grid import Grid, raw

#: Height of a bar with what is around it [px].
_BAR_HEIGHT: Final = 26
#: Room right of the longest bar for its figure [share of its length].
_ROOM: Final = 1.18
#: Widest name before it is cut [px].
_NAME_PX: Final = 330


def bars(grid: Grid, names: Sequence[str], figure: str, canvas: Canvas) -> alt.LayerChart:
    """Return a column of a table as bars, each with its figure, named by other columns.

    Rows without a number are left out.
    """
    keys = [column.key for column in grid.columns]
    place = keys.index(figure)
    texts = grid.texts(canvas.write)
    rows: list[Row] = []
    for number, (row, told) in enumerate(zip(grid.rows, texts, strict=True)):
        value = raw(row[place])
        if isinstance(value, int | float) and not isinstance(value, bool):
            name = ", ".join(text for key in names if (text := told[keys.index(key)]))
            rows.append({"row": number, "name": name, "value": value, "text": told[place]})
    named = {str(row["row"]): row["name"] for row in rows}
    axis = canvas.axis(
        labelExpr=f"{named}[datum.value] || ''", labelLimit=_NAME_PX, domain=False, ticks=False
    )
    ends = [
        min([0.0, *(row["value"] for row in rows)]),
        max([0.0, *(row["value"] for row in rows)]),
    ]
    reach = (ends[1] - ends[0] or 1.0) * _ROOM
    x = canvas.along(
        "value",
        [ends[0], ends[0] + reach],
        grid.columns[place].heading,
        labels=False,  # each bar has its figure
        ticks=False,
    )
    y = alt.Y("row:O", axis=axis)
    layers = [marks(rows).mark_bar(color=canvas.palette.tones[0]).encode(x=x, y=y)]
    layers += canvas.words(rows, "value:Q", "row:O", baseline="middle", dx=5)
    return canvas.finished(layers, _BAR_HEIGHT * max(1, len(rows)), (grid.title, ""))
