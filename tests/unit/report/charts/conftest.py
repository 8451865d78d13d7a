"""What the charts' tests share."""

from __future__ import annotations

import pytest

from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.theme import DARK, LIGHT
from optimizer.report.words.writer import Writer


@pytest.fixture(params=[LIGHT, DARK], ids=["light", "dark"])
def canvas(request):
    return Canvas(request.param, Writer("EUR"))


def layers(chart) -> list[dict]:
    """Return the layers of a chart that is valid Vega-Lite, each with its rows."""
    whole = chart.to_dict()
    held = whole.get("datasets", {})
    for one in whole["layer"]:
        rows = one.get("data", whole.get("data"))
        one["rows"] = rows["values"] if "values" in rows else held[rows["name"]]
    return whole["layer"]


def texts(chart) -> list[str]:
    """Return every text that stands in a chart."""
    return [row["text"] for one in layers(chart) for row in one["rows"] if "text" in row]
