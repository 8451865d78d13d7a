"""Charts of a comparison: each shows the numbers it is made from, and only those."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import break_even_line, compare, sensitivities, staircase, tiers
from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.canvas import Canvas, apart
from optimizer.report.charts.paid import paid_chart, paid_rows
from optimizer.report.charts.sensitivity import moving, sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.theme import LIGHT, PAPER
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.words.writer import Writer
from tests.unit.comparison.jobs import small_house
from tests.unit.report.charts.conftest import layers, texts

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def job():
    return small_house(14)


@pytest.fixture(scope="module")
def sides(job):
    return compare(job, 14)


@pytest.fixture(scope="module")
def line(job):
    return break_even_line(job)


@pytest.fixture(scope="module")
def moved(job):
    return sensitivities(job)


def marked(chart, kind: str) -> list[dict]:
    return [one for one in layers(chart) if one["mark"]["type"] == kind]


def test_paid_ends_with_the_life_cycle_cost_and_its_steps_are_the_balances(sides, canvas):
    rows = paid_rows(sides)
    site = sides.job.site
    years = site.horizon_years
    assert len(rows) == len(sides.alternatives) * (years + 2)
    for one in sides.alternatives:
        before, last = [row for row in rows if row["family"] == one.name][-2:]
        left = (before["paid"] - last["paid"]) / (1 + site.discount_rate) ** years
        end = one.balances[-1].present - left
        assert end == pytest.approx(one.design.life_cycle_cost, abs=1e-4)
    chart = paid_chart(sides, canvas)
    steps = [one["rows"] for one in marked(chart, "line") if "interpolate" in one["mark"]]
    assert [[row["paid"] for row in own] for own in steps] == [
        [balance.real for balance in one.balances] for one in sides.alternatives
    ]
    spoken = texts(chart)
    for name in ("lead-acid", "lithium"):
        assert any(text.startswith(name) for text in spoken)


def test_what_the_pointer_shows_of_a_payment_is_named_in_words(sides):
    points = marked(paid_chart(sides, Canvas(LIGHT, Writer("EUR"))), "point")
    shown = [one["encoding"]["tooltip"] for one in points if "tooltip" in one["encoding"]]
    assert len(shown) == len(sides.alternatives)
    for fields in shown:
        titles = [field["title"] for field in fields]
        assert titles == ["Family", "Years from the start", "Paid to date", "Bought"]
    names = {row[shown[0][0]["field"]] for one in points[:-1] for row in one["rows"]}
    assert names == {"lead-acid", "lithium"}


def test_the_scale_begins_near_lines_that_lie_high_up(sides, canvas):
    amounts = [row["paid"] for row in paid_rows(sides)]
    foot, head = layers(paid_chart(sides, canvas))[0]["encoding"]["y"]["scale"]["domain"]
    assert (foot > 0) == (min(amounts) > 0.6 * max(amounts))
    assert foot <= min(amounts)
    assert head >= max(amounts)


def test_the_break_even_line_goes_through_its_points_and_breaks_off(line, canvas):
    drawn = marked(break_even_chart(line, canvas), "line")[0]["rows"]
    assert [row["value"] for row in drawn] == [point.value for point in line.points]
    assert [row["percent"] for row in drawn] == pytest.approx(
        [(point.factor - 1) * 100 for point in line.points]
    )
    points = list(line.points)
    points[3] = replace(points[3], factor=None, always=line.priced)
    broken = marked(break_even_chart(replace(line, points=tuple(points)), canvas), "line")[0]
    assert [row["percent"] is None for row in broken["rows"]] == [
        place == 3 for place in range(len(points))
    ]


def test_each_side_of_the_break_even_line_names_its_winner(line, canvas):
    chart = break_even_chart(line, canvas)
    low, high = layers(chart)[0]["encoding"]["y"]["scale"]["domain"]
    words = {row["text"]: row for one in marked(chart, "text") for row in one["rows"]}
    factors = [(point.factor - 1) * 100 for point in line.points]
    above, below = words["lead-acid wins"], words["lithium wins"]
    assert line.priced == "lithium"
    assert low < below["percent"] < max(factors)
    assert min(factors) < above["percent"] < high
    assert above["percent"] > below["percent"]


def test_bars_reach_from_today_to_the_cost_at_either_value(moved, canvas):
    bars = [row for one in marked(sensitivity_chart(moved, canvas), "bar") for row in one["rows"]]
    base = moved.sensitivities[0].base.cost
    assert {bar["from"] for bar in bars} == {base}
    wanted = {
        setting.cost
        for one in moved.sensitivities
        for setting in (one.low, one.high)
        if 0.5 <= abs(setting.cost - base) < float("inf")
    }
    assert {bar["to"] for bar in bars} == wanted


def test_parameters_that_move_nothing_are_left_out(moved, canvas):
    costs = [one.cost_span for one in moved.sensitivities]
    shown = moving(moved)
    assert [one.cost_span for one in shown] == sorted((c for c in costs if c > 0), reverse=True)
    assert all(one.hours_span > 0 for one in moving(moved, "hours"))
    still = tuple(one for one in moved.sensitivities if one.cost_span == 0)
    assert still
    chart = sensitivity_chart(replace(moved, sensitivities=still), canvas)
    assert not [row for one in marked(chart, "bar") for row in one["rows"]]


def test_stairs_have_every_step_and_a_budget_is_marked(job, canvas):
    stairs = staircase(job)
    chart = staircase_chart(stairs, canvas, chosen=3000.0)
    corners = marked(chart, "line")[0]["rows"][1:-1]
    assert [(row["budget"], row["hours"]) for row in corners] == [
        (step.budget, step.hours) for step in stairs.steps
    ]
    assert [*marked(chart, "rule")[0]["rows"]] == [{"budget": 3000.0}]


def test_each_tier_has_its_curve_and_its_cost_at_the_hours_required(job, canvas):
    found = tiers(job)
    chart = tiers_chart(found, canvas)
    curves = [one["rows"][1:] for one in marked(chart, "line")]
    assert [[row["cost"] for row in own] for own in curves] == [
        [point.life_cycle_cost for point in one.curve.points] for one in found.curves
    ]
    dots = marked(chart, "point")[0]["rows"]
    costs = [one.cost for one in found.at(job.site.target_hours) if one.cost is not None]
    assert [row["cost"] for row in dots] == costs
    assert len({str(one["mark"].get("strokeDash")) for one in marked(chart, "line")}) == 3


def test_a_file_has_a_heading_and_a_page_its_own_width(sides):
    write = Writer("EUR")
    alone = paid_chart(sides, Canvas(LIGHT, write, alone=True)).to_dict()
    assert alone["title"]["text"] == "Paid to date, for 14 hours of autonomy"
    on_page = paid_chart(sides, Canvas(LIGHT, write, height=240)).to_dict()
    assert (on_page["width"], on_page["height"], "title" in on_page) == ("container", 240, False)
    printed = paid_chart(sides, Canvas(PAPER, write, width=815)).to_dict()
    assert (printed["width"], printed["autosize"]["type"]) == (815, "fit-x")
    assert printed["config"]["font"] == "Keeplit Sans"


def test_numbers_are_written_as_the_locale_writes_them(sides):
    german = paid_chart(sides, Canvas(LIGHT, Writer("EUR", "de"))).to_dict()
    assert german["config"]["locale"]["number"]["thousands"] == "."
    left = sides.winner.balances[-1].real - sides.winner.residual_value
    ends = texts(paid_chart(sides, Canvas(LIGHT, Writer("EUR", "de"))))
    assert any(f"{left:,.0f}".replace(",", ".") in text for text in ends)


def test_words_keep_apart():
    rows = [{"y": 50.0}, {"y": 20.0}, {"y": 22.0}]
    assert [row["y"] for row in apart(rows, "y", 8.0)] == [20.0, 28.0, 50.0]
