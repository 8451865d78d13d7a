"""The curve as files: read again by other means, they hold the curve."""

import csv
import io
from itertools import pairwise

import pytest

from optimizer import frontier, load
from optimizer.report import csv_text, sheets
from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.curve import CurvePicture, curve_chart
from optimizer.report.charts.files import chart_file
from optimizer.report.charts.points import find_point, point_id
from optimizer.report.charts.theme import DARK, LIGHT
from optimizer.report.grids.curve import file
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow

WRITE = Writer("EUR")
KEYS = [
    "curve",
    "hours",
    "life_cycle_cost",
    "upfront_cost",
    "voltage_v",
    "bank",
    "inverter",
    "contract_w",
    "generator",
    "fuel_l",
    "replacements",
    "hours_to_next",
    "cost_to_next",
]


@pytest.fixture(scope="module")
def curves():
    job = load("house")
    return frontier(job), {name: frontier(job, family=name) for name in ("lead", "lithium")}


def test_csv_holds_every_point_unrounded(curves):
    overall, families = curves
    rows = list(
        csv.DictReader(
            io.StringIO(csv_text.as_csv(file(WRITE, overall, families)).decode("utf-8-sig"))
        )
    )
    assert list(rows[0]) == KEYS
    for name, curve in (("overall", overall), *families.items()):
        mine = [row for row in rows if row["curve"] == name]
        assert [int(row["hours"]) for row in mine] == [point.hours for point in curve.points]
        costs = [float(row["life_cycle_cost"]) for row in mine]
        assert costs == [point.life_cycle_cost for point in curve.points]
    assert csv_text.as_csv(file(WRITE, overall, families)) == csv_text.as_csv(
        file(WRITE, overall, families)
    )


def test_steps_lead_from_point_to_point(curves):
    rows = [dict(zip(KEYS, row, strict=True)) for row in file(WRITE, *curves).rows]
    lines = [line for line in rows if line["curve"] == "overall"]
    for here, there in pairwise(lines):
        assert here["hours"] + here["hours_to_next"] == there["hours"]
        assert here["life_cycle_cost"] + here["cost_to_next"] == pytest.approx(
            there["life_cycle_cost"]
        )
    assert lines[-1]["hours_to_next"] is None


def test_workbook_holds_numbers_as_numbers(curves):
    from openpyxl import load_workbook

    sheet = load_workbook(io.BytesIO(sheets.as_xlsx([file(WRITE, *curves)], WRITE))).active
    rows = list(sheet.iter_rows(values_only=True))
    assert list(rows[0]) == KEYS
    assert rows[1][1:4] == (
        curves[0].points[0].hours,
        pytest.approx(curves[0].points[0].life_cycle_cost),
        pytest.approx(curves[0].points[0].upfront_cost),
    )
    assert len(rows) == 1 + len(file(WRITE, *curves).rows)


@pytest.mark.parametrize("palette", [LIGHT, DARK])
def test_pictures_carry_names_and_points(curves, palette):
    picture = CurvePicture(*curves, target_hours=18, chosen=[curves[0].at(18)])
    canvas = Canvas(palette, Writer("EUR"), alone=True)
    chart = curve_chart(picture, canvas, ("A title", "below it"))
    svg = chart_file(chart, "svg").decode()
    for text in ("A title", "lead-acid", "lithium", "required 18 h", palette.ground):
        assert text in svg
    assert "http://" not in svg.replace("http://www.w3.org", "")
    assert chart_file(chart, "png").startswith(b"\x89PNG")


def test_points_are_found_by_their_names(curves):
    overall, families = curves
    for family, curve in ((None, overall), *families.items()):
        for point in curve.points:
            assert find_point(point_id(family, point), overall, families) == (family, point)
    for name in ("", "x", "99:", "9:nickel", "9:lead:x"):
        assert find_point(name, overall, families) is None
