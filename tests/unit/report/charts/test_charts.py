"""Charts: steps are steps, nothing is told by colour alone, text can be read."""

from dataclasses import replace
from itertools import pairwise

import pytest

from optimizer import choose, compare, frontier, load, trade_off
from optimizer.model.job import Peak
from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.cost_bars import cost_bars, cost_rows
from optimizer.report.charts.curve import CurvePicture, curve_chart, point_rows
from optimizer.report.charts.cut_days import cut_days_chart
from optimizer.report.charts.load_day import load_day_chart, minute_rows
from optimizer.report.charts.money import money_chart, money_rows
from optimizer.report.charts.outage import (
    OutagePicture,
    charge_chart,
    fuel_chart,
    loads_chart,
)
from optimizer.report.charts.peaks import peak_rows, peaks_chart
from optimizer.report.charts.theme import DARK, LIGHT, PAPER, strokes
from optimizer.report.charts.trade_off import trade_off_chart
from optimizer.report.grids.outages import hour_by_hour
from optimizer.report.words.writer import Writer
from optimizer.simulate import cut_days, load_day, trace, verdict
from tests.unit.builders import with_site
from tests.unit.report.charts.conftest import layers

pytestmark = pytest.mark.slow

PALETTES = pytest.mark.parametrize("palette", [LIGHT, DARK, PAPER], ids=["light", "dark", "paper"])
CANVAS = Canvas(LIGHT, Writer("EUR"))


@pytest.fixture(scope="module")
def job():
    return load("house")


@pytest.fixture(scope="module")
def picture(job):
    families = {name: frontier(job, family=name) for name in ("lead", "lithium")}
    return CurvePicture(frontier(job), families, chosen=[choose(job).design], target_hours=18)


def luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@PALETTES
def test_text_contrast(palette):
    """WCAG 2.2, 1.4.3: at least 4.5 : 1 for text."""
    for colour in (palette.ink, palette.muted, palette.accent, *palette.hues):
        assert contrast(colour, palette.ground) >= 4.5, colour


@PALETTES
def test_families_differ_in_colour_dash_and_shape(palette):
    looks = strokes(["lead", "lithium", "nickel", "sodium", "zinc"], palette)
    looks.pop("mixed")
    assert len({look.colour for look in looks.values()}) == len(looks)
    assert len({look.dash for look in looks.values()}) == len(looks)
    assert len({look.shape for look in looks.values()}) == len(looks)


def test_lines_are_steps_through_the_points(picture, canvas):
    drawn = [one for one in layers(curve_chart(picture, canvas)) if one["mark"]["type"] == "line"]
    assert len(drawn) == 3
    assert {one["mark"]["interpolate"] for one in drawn} == {"step-before"}
    corners = drawn[0]["rows"]
    points = picture.overall.points
    assert corners[0] == {"hours": 0, "money": points[0].life_cycle_cost}
    assert [corner["hours"] for corner in corners[1:]] == [point.hours for point in points]


def test_points_of_the_overall_curve_lie_on_top_and_once(picture):
    rows = point_rows(picture, CANVAS)
    assert len({row["id"] for row in rows}) == len(rows)
    overall = [row for row in rows if row["id"].endswith(":")]
    assert rows[-len(overall) :] == overall
    assert [row["hours"] for row in overall] == [point.hours for point in picture.overall.points]


def test_budget_fades_and_hollows_dear_points(picture):
    rows = point_rows(replace(picture, budget=4500.0), CANVAS)
    dear = {point.hours for point in picture.overall.points if point.upfront_cost > 4500}
    for row in rows:
        if row["id"].endswith(":"):
            assert (row["opacity"] < 1) == (row["hours"] in dear)
            assert (row["fill"] == LIGHT.ground) == (row["hours"] in dear)


def test_upfront_cost_at_a_switch(picture):
    other = replace(picture, overall=replace(picture.overall, cost="upfront_cost"), budget=4500.0)
    rows = point_rows(other, CANVAS)
    by_hours = {point.hours: point.upfront_cost for point in picture.overall.points}
    assert {r["hours"]: r["money"] for r in rows if r["id"].endswith(":")} == by_hours
    texts = [one["rows"] for one in layers(curve_chart(other, CANVAS))]
    assert any("upfront budget 4,500" in str(values) for values in texts)


def test_bars_hold_all_of_the_life_cycle_cost(job):
    found = compare(job)
    own = found.beside(found.winner.design)
    rows = cost_rows(own, job.site.discount_rate, CANVAS)
    for place, one in enumerate(own):
        shares = [row for row in rows if row["place"] == place]
        assert sum(row["high"] - row["low"] for row in shares if row["low"] >= 0) + min(
            row["low"] for row in shares
        ) == pytest.approx(one.life_cycle_cost)
        upfront = next(row["high"] for row in shares if row["share"] == "labour")
        assert upfront == pytest.approx(one.design.upfront_cost)
    drawn = layers(cost_bars(own, job.site.discount_rate, CANVAS))
    marked = next(one["rows"] for one in drawn if one["mark"]["type"] == "rule")
    assert [row["cost"] for row in marked] == [one.life_cycle_cost for one in own]


def test_trade_off_is_drawn_point_by_point(job):
    found = trade_off(job, 6)
    drawn = layers(trade_off_chart(found, CANVAS))
    dots = [row for one in drawn if one["mark"]["type"] == "point" for row in one["rows"]]
    assert sorted((row["upfront"], row["cost"]) for row in dots) == sorted(
        (point.upfront_cost, point.life_cycle_cost) for point in found.points
    )


def test_cuts_are_bands_behind_the_charge(job):
    job = load("clinic")
    found = cut_days(job, choose(job).design)
    bands, *_, line = layers(cut_days_chart(found, "lithium", CANVAS))
    assert [(row["hours"], row["end"]) for row in bands["rows"]] == list(found.cuts)
    assert [row["percent"] / 100 for row in line["rows"]] == pytest.approx(
        list(found.state_of_charge)
    )


def test_bursts_hold_the_energy_of_the_hours(job):
    found = load_day(job)
    by_hour = found.by_minute.reshape(24, 60).mean(axis=1)
    assert list(by_hour) == pytest.approx(list(found.by_hour))
    assert found.by_minute.max() > found.by_hour.max()
    rows = minute_rows(found)
    kept = sum(here["watts"] * (there["hours"] - here["hours"]) for here, there in pairwise(rows))
    assert kept == pytest.approx(found.by_hour.sum())
    texts = str([one["rows"] for one in layers(load_day_chart(found, CANVAS))])
    assert "W at once" in texts


def test_peaks_show_what_passes_the_contract():
    peaks = (
        Peak(power_w=5000.0, minutes=10.0, times_a_month=3.0),
        Peak(power_w=2000.0, minutes=5.0, times_a_month=0.2),
    )
    rows = peak_rows(peaks, 3500.0)
    assert [row["power"] for row in rows].count(5000.0) == 3
    assert [row["power"] for row in rows].count(2000.0) == 1, "drawn once, however seldom"
    assert {row["above"] for row in rows} == {0.0, 1500.0}
    assert all(0 < row["day"] < 30 for row in rows)
    texts = str([one["rows"] for one in layers(peaks_chart(peaks, 3500.0, "lead", CANVAS))])
    assert "contract 3,500 W" in texts
    assert "the bank adds 1,500 W" in texts


def test_generator_and_tiers_let_go_are_marked(job):
    design = choose(job).design
    worst = design.verdict
    run = trace(job, replace(design, hours=72), worst.year, worst.season, worst.start_hour)
    shown = OutagePicture(run, design)
    bands = layers(charge_chart(shown, CANVAS))[0]["rows"]
    assert sum(row["end"] - row["hours"] for row in bands) == pytest.approx(run.on_generator.sum())
    alone = replace(shown, design=replace(design, generator=None), tier_hours={"useful": 4})
    assert "useful let go" in str([one["rows"] for one in layers(loads_chart(alone, CANVAS))])
    line = layers(fuel_chart(shown, CANVAS, design.fuel_l))
    assert any(one["rows"][-1].get("litres") == pytest.approx(run.fuel_l[-1]) for one in line)


def test_names_at_line_ends_keep_apart(picture, job):
    same = {"lead": frontier(job, family="lead"), "twin": frontier(job, family="lead")}
    drawn = layers(curve_chart(replace(picture, families=same), CANVAS))
    names = next(
        one["rows"] for one in drawn if one["mark"]["type"] == "text" and len(one["rows"]) == 2
    )
    assert abs(names[0]["money"] - names[1]["money"]) >= 0.05 * picture.top


def test_outage_is_the_simulations(job):
    job = with_site(job, generator=None)  # with one the bank need not run out
    design = choose(job).design
    worst = verdict(job, design)
    run = trace(job, design, worst.year, worst.season, worst.start_hour)
    shown = OutagePicture(run, design)
    lines = [one for one in layers(charge_chart(shown, CANVAS)) if "clock" in one["rows"][0]]
    assert lines[0]["rows"][-1]["hours"] == pytest.approx(worst.hours)
    minutes = round(60 * (worst.start_hour + worst.hours)) % 1440
    assert minutes % 60, "ends within an hour"
    last = f"{minutes // 60:02d}:{minutes % 60:02d}"
    assert lines[0]["rows"][-1]["clock"] == last
    assert hour_by_hour(CANVAS.write, run).rows[-1][1] == last
    assert lines[0]["rows"][-1]["percent"] == pytest.approx(100 * run.lowest_state_of_charge)
    stacked = layers(loads_chart(shown, CANVAS))[0]["rows"]
    first = [row for row in stacked if row["hours"] == 0]
    assert max(row["high"] for row in first) == pytest.approx(
        sum(float(watts[0]) for watts in run.loads_w.values())
    )


def test_money_adds_up_to_the_designs_costs(job):
    choice = choose(job, hours=2)  # with a replacement
    rows = money_rows(choice.design.payments, job.site.horizon_years)
    assert rows[0]["sum"] == pytest.approx(choice.design.upfront_cost)
    present = sum(row["sum"] / (1 + job.site.discount_rate) ** row["year"] for row in rows)
    assert present == pytest.approx(choice.design.life_cycle_cost)
    drawn = layers(money_chart(choice.design.payments, job.site.horizon_years, CANVAS))
    bars = next(one["rows"] for one in drawn if one["mark"]["type"] == "bar")
    for row in rows:
        mine = [bar for bar in bars if bar["year"] == row["year"]]
        assert sum(bar["high"] - bar["low"] for bar in mine if bar["low"] >= 0) == pytest.approx(
            row["bought"] + max(0.0, row["running"])
        )
