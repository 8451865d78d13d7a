"""``keeplit frontier`` and ``keeplit choose``, for people and for programs."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from click import Context

from optimizer import choose, frontier, load
from optimizer.cli import cli
from optimizer.report.words.checks import check_name
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow

POINT = {"hours", "life_cycle_cost", "upfront_cost", "voltage", "inverter", "units", "banks"}
BANK = {"battery", "strings", "start", "end", "service_life"}


def test_the_curve_for_programs(keeplit):
    ran = keeplit("frontier", "house", "--json")
    assert (ran.status, ran.err) == (0, "")
    points = ran.json["points"]
    curve = frontier(load("house")).points
    assert [point["hours"] for point in points] == [point.hours for point in curve]
    for shown, point in zip(points, curve, strict=True):
        assert set(shown) >= POINT
        assert shown["life_cycle_cost"] == point.life_cycle_cost  # not rounded
        assert shown["upfront_cost"] == point.upfront_cost
        assert shown["inverter"] == point.inverter.inverter
        assert (shown["voltage"], shown["units"]) == (point.voltage_v, point.inverter_units)
        assert all(set(bank) >= BANK for bank in shown["banks"])
        assert [(bank["start"], bank["end"]) for bank in shown["banks"]] == [
            (bank.start, bank.end) for bank in point.banks
        ]


def test_each_point_holds_the_step_to_the_next(keeplit):
    points = keeplit("frontier", "house", "--json").json["points"]
    for here, there in pairwise(points):
        step = here["next"]
        assert step["hours"] == there["hours"] - here["hours"]
        assert step["cost"] == pytest.approx(there["life_cycle_cost"] - here["life_cycle_cost"])
        assert step["cost_per_hour"] == pytest.approx(step["cost"] / step["hours"])
    assert points[-1]["next"] is None


def test_the_curve_for_people(keeplit):
    ran = keeplit("frontier", "house")
    assert (ran.status, ran.err) == (0, "")
    lines = ran.out.splitlines()
    runs = frontier(load("house")).runs
    curve = [run[0] for run in runs if len(run) == 1]
    rows = [line for line in lines if line.split()[:1] and line.split()[0].isdigit()]
    assert [int(row.split()[0]) for row in rows] == [point.hours for point in curve]
    at, point = lines.index(rows[0]), curve[0]
    first, below = lines[at : at + 2]
    bank = point.banks[0]
    assert f"{point.life_cycle_cost:,.0f}" in first
    assert f"{point.upfront_cost:,.0f}" in first
    assert f"{bank.battery.battery}, {bank.series} × {bank.strings}, {point.voltage_v} V" in below
    assert point.inverter.inverter in ran.out  # a narrow screen wraps it
    assert "Looked at: autonomies of up to 48 h" in ran.out
    assert "licensed electrician" in " ".join(ran.out.split())
    assert "\x1b" not in ran.out  # no colours where the output is not a terminal


def test_family_and_longest_hours(keeplit):
    lead = keeplit("frontier", "house", "--family", "lead", "--max-hours", "9", "--json").json
    assert (lead["family"], lead["max_hours"]) == ("lead", 9)
    assert all(point["hours"] <= 9 for point in lead["points"])
    assert {bank["family"] for point in lead["points"] for bank in point["banks"]} == {"lead"}
    assert (
        "Looked at: autonomies of up to 9 h" in keeplit("frontier", "house", "--max-hours", "9").out
    )


def test_one_design_for_programs(keeplit):
    ran = keeplit("choose", "house", "--hours", "12", "--json")
    assert (ran.status, ran.err) == (0, "")
    shown, choice = ran.json, choose(load("house"), hours=12)
    assert set(shown) >= POINT
    assert shown["life_cycle_cost"] == choice.design.life_cycle_cost
    present = sum(payment["present_value"] for payment in shown["payments"])
    assert present == pytest.approx(shown["life_cycle_cost"])
    start = sum(one["amount"] for one in shown["payments"] if one["time_years"] == 0)
    assert start == pytest.approx(shown["upfront_cost"])
    assert len(shown["constraints"]) == len(choice.explained)
    assert [one["binds"] for one in shown["constraints"]] == [one.binds for one in choice.explained]
    assert {"kind", "required", "provided", "margin"} <= set(shown["constraints"][0])
    assert {line["item"] for line in shown["materials"]} == {line.item for line in choice.materials}
    if choice.next_purchase is not None:
        assert shown["next_purchase"]["year"] == choice.next_purchase.year


def test_one_design_for_people(keeplit):
    ran = keeplit("choose", "house")
    assert (ran.status, ran.err) == (0, "")
    choice = choose(load("house"))
    for wanted in (
        f"{choice.design.hours} hours without the grid",
        "What limits this design",
        "Next purchase:",
        choice.design.banks[0].battery.battery,
        choice.design.inverter.inverter,
    ):
        assert wanted in ran.out
    for one in choice.explained:
        assert check_name(Writer("EUR"), replace(one.check, bank=None)) in ran.out
    for line in choice.materials:
        assert line.item in ran.out


def test_without_an_option_the_target_hours(keeplit):
    assert keeplit("choose", "clinic", "--json").json["hours"] >= load("clinic").site.target_hours


@pytest.mark.parametrize("option", ["--budget", "--lifetime-budget"])
def test_the_longest_that_money_buys(keeplit, option):
    shown = keeplit("choose", "house", option, "9000", "--json").json
    keyword = option.strip("-").replace("-", "_")
    wanted = choose(load("house"), beyond=True, **{keyword: 9000.0}).design
    assert (shown["hours"], shown["life_cycle_cost"]) == (wanted.hours, wanted.life_cycle_cost)
    limited = {"--budget": "upfront_cost", "--lifetime-budget": "life_cycle_cost"}[option]
    assert shown[limited] <= 9000


@pytest.mark.slow
def test_no_design_for_programs(keeplit, short_house):
    ran = keeplit("choose", short_house, "--budget", "700", "--json")
    assert (ran.status, ran.err) == (3, "")
    assert ran.json["error"] == "no_design"
    assert ran.json["reasons"]
    assert {one["kind"] for one in ran.json["openings"]} >= {"upfront_budget"}


@pytest.mark.slow
def test_no_design_for_people(keeplit, short_house):
    ran = keeplit("choose", short_house, "--budget", "700")
    assert (ran.status, ran.out) == (3, "")
    said, opens = ran.err.splitlines()
    assert said == "No design costs €700.00 upfront or less."
    assert opens.startswith("Raise the upfront budget to")


@pytest.mark.slow
def test_a_curve_without_points_says_why(keeplit, short_house):
    text = short_house.read_text("utf-8")
    short_house.write_text(text + "\n[limits]\nbudget = 300\n", "utf-8")
    ran = keeplit("frontier", short_house, "--json")
    assert ran.status == 3
    assert ran.json["error"] == "no_design"
    people = keeplit("frontier", short_house)
    assert (people.status, people.out) == (3, "")


def test_help_of_every_command(keeplit):
    assert keeplit("--help").status == 0
    for name in cli.list_commands(Context(cli)):
        ran = keeplit(name, "--help")
        assert ran.status == 0
        assert f"Usage: keeplit {name}" in ran.out
