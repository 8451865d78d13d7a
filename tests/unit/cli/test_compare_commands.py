"""``keeplit compare``, ``sensitivity``, ``budget`` and ``tiers``."""

from __future__ import annotations

import csv
import io

import pytest

from optimizer import budget_table, compare, load, staircase, switch_points
from optimizer.report.words.budgets import cause
from optimizer.report.words.comparison import verdict
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow


def test_one_screen_answers_lead_or_lithium(keeplit, monkeypatch):
    monkeypatch.setenv("COLUMNS", "150")
    ran = keeplit("compare", "house")
    assert ran.status == 0
    lines = ran.out.splitlines()
    write = Writer("EUR")
    told = verdict(write, compare(load("house")))
    assert " ".join(ran.out.split()).startswith(told)
    for number in ("outages a year", "price of lithium batteries", "charging current"):
        assert number in ran.out
    assert len(lines) <= 75


def test_json_holds_every_switch_point_and_the_balances(keeplit, short_house):
    answer = keeplit("compare", str(short_house), "--json", "--break-even-line").json
    job = load(short_house)
    assert answer["cheapest"] == compare(job).winner.name
    assert {one["name"] for one in answer["alternatives"]} == {"lead", "lithium"}
    assert len(answer["alternatives"][0]["balances"]) == 11
    known = {found.parameter.key: found for found in switch_points(job)}
    told = {found["key"]: found for found in answer["switch_points"]}
    assert told.keys() == known.keys()
    assert sum(len(found.points) for found in known.values()) > 3
    for key, found in known.items():
        points = [(point["value"], point["kind"]) for point in told[key]["points"]]
        assert points == [(point.value, point.kind) for point in found.points]
        assert told[key]["proven"] == found.proven
    assert answer["break_even_line"]["priced"] == "lithium"


def test_brackets_years_and_break_even_line_in_tables(keeplit, short_house):
    words = ("--hours", "4", "--switch-points", "--years", "--break-even-line", "tariff")
    ran = keeplit("compare", str(short_house), *words)
    assert "Every switch point between its neighbours" in ran.out
    assert "Paid by then, EUR" in ran.out
    assert "residual value" in ran.out
    assert "With tariff at 0.34 EUR/kWh:" in ran.out


def test_a_chart_is_a_picture_and_a_drawing(keeplit, short_house, tmp_path):
    assert keeplit("tiers", str(short_house), "--charts", str(tmp_path)).status == 0
    assert (tmp_path / "tiers.png").read_bytes().startswith(b"\x89PNG")
    assert "<svg" in (tmp_path / "tiers.svg").read_text("utf-8")


def test_every_chart_is_written_in_both_forms(keeplit, short_house, tmp_path, monkeypatch):
    monkeypatch.setattr("optimizer.report.charts.files.chart_file", lambda _, form: form.encode())
    folder = tmp_path / "charts"
    for words in (
        ("compare", short_house),
        ("sensitivity", short_house, "--scenarios", "4", "--processes", "1"),
        ("budget", short_house),
        ("tiers", short_house),
    ):
        assert keeplit(*map(str, words), "--charts", str(folder)).status == 0
    names = {
        "paid",
        "break-even-line",
        "sensitivity-cost",
        "sensitivity-hours",
        "budget",
        "tiers",
    }
    assert {path.name for path in folder.iterdir()} == {
        f"{name}.{form}" for name in names for form in ("png", "svg")
    }


def test_an_unknown_number_lists_the_known_ones(keeplit):
    ran = keeplit("compare", "house", "--break-even-line", "weather")
    assert ran.status == 2
    assert "price:lithium" in ran.err


@pytest.mark.parametrize("hours", ["0", "241", "-3"])
def test_hours_out_of_range(keeplit, hours):
    ran = keeplit("compare", "house", "--hours", hours)
    assert ran.status == 2
    assert "whole hours from 1 to 240" in ran.err


def test_sensitivity_tells_sensitivities_and_regret(keeplit, short_house):
    ran = keeplit("sensitivity", str(short_house), "--scenarios", "6", "--processes", "1")
    assert ran.status == 0
    assert "of 6 drawn scenarios" in ran.out
    assert "all loads" in ran.out
    assert "safest" in ran.out
    answer = keeplit(
        "sensitivity", str(short_house), "--scenarios", "6", "--processes", "1", "--json"
    ).json
    assert answer["regret"]["scenarios"] == 6
    assert {sensitivity["key"] for sensitivity in answer["sensitivities"]} >= {
        "load",
        "rate",
        "price:lead",
    }


@pytest.mark.parametrize(
    "words", [("--scenarios", "0"), ("--processes", "0"), ("--budget", "-1"), ("--budget", "nan")]
)
def test_sensitivity_refuses_what_makes_no_sense(keeplit, words):
    ran = keeplit("sensitivity", "house", *words)
    assert (ran.status, ran.out) == (2, "")
    assert words[0] in ran.err
    assert words[1] in ran.err


def test_a_budget_table_is_written_as_csv(keeplit, tmp_path):
    file = tmp_path / "new" / "table.csv"
    ran = keeplit(
        "budget", "house", "--from", "1000", "--to", "6000", "--step", "1000", "-o", str(file)
    )
    assert ran.status == 0
    rows = list(csv.DictReader(io.StringIO(file.read_text("utf-8-sig"))))
    job = load("house")
    expected = budget_table(job, [1000.0 * n for n in range(1, 7)], beyond=True)
    assert expected[-1].design.hours > job.site.max_hours
    assert [int(row["hours"]) for row in rows] == [
        0 if one.design is None else one.design.hours for one in expected
    ]
    assert float(rows[-1]["life_cycle_cost"]) == expected[-1].design.life_cycle_cost
    assert rows[-1]["replacements"].startswith("year ")


def test_steps_of_a_budget_are_told_with_what_made_them(keeplit):
    steps = staircase(load("hall")).steps
    causes = [step.cause.requirement for step in steps]
    told = keeplit("budget", "hall", "--json").json["steps"]
    assert [step["hours"] for step in told] == [step.hours for step in steps]
    assert [step["cause"]["requirement"] for step in told] == causes
    assert any(causes)
    out = keeplit("budget", "hall").out
    for step in steps:
        assert f"{step.budget:,.2f}" in out
        assert cause(Writer("EUR"), step.cause).split()[0] in out


def test_a_limit_on_later_years_holds(keeplit):
    answer = keeplit("budget", "hall", "--later-limit", "3000", "--json").json
    assert answer["later_limit"] == 3000
    later = [one["amount"] for step in answer["steps"] for one in step["later"]]
    assert later
    assert max(later) <= 3000


def test_later_years_without_money(keeplit):
    steps = keeplit("budget", "clinic", "--later-limit", "0", "--json").json["steps"]
    assert len(steps) > 1
    assert not any(step["later"] for step in steps)
    ran = keeplit("budget", "clinic", "--later-limit", "-1")
    assert ran.status == 2
    assert "--later-limit: found -1.0" in ran.err


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("--from 0", "--from, --to and --step together"),
        ("--from 5 --to 1 --step 1", "from low to high"),
        ("--from 0 --to 10 --step 0", "in steps above 0"),
        ("--from 0 --to 1e9 --step 1", "2,000 at most"),
        ("--from nan --to 10 --step 1", "from low to high"),
        ("-o table.csv", "--from, --to and --step together"),
    ],
)
def test_a_table_needs_a_sensible_range(keeplit, words, wanted):
    ran = keeplit("budget", "house", *words.split())
    assert ran.status == 2
    assert wanted in ran.err


def test_tiers_side_by_side(keeplit):
    ran = keeplit("tiers", "house")
    assert "essential alone" in ran.out
    assert "Required: 18 hours." in ran.out
    answer = keeplit("tiers", "house", "--hours", "10", "--json").json
    assert [one["added"] for one in answer["curves"]] == ["essential", "useful", "comfort"]
    assert {one["hours"] for one in answer["at"]} >= {10}


def test_names_of_the_last_version_are_taken_and_told_the_new_ones(keeplit, short_house):
    old = keeplit("compare", str(short_house), "--flips", "--border=rate", "--json")
    new = keeplit(
        "compare", str(short_house), "--switch-points", "--break-even-line=rate", "--json"
    )
    assert (old.status, old.json) == (0, new.json)
    assert old.err.splitlines() == [
        "--flips is called --switch-points now.",
        "--border is called --break-even-line now.",
    ]
    assert "sway is called sensitivity now." in keeplit("sway", "nowhere").err
