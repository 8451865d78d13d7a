"""``keeplit assess``, ``keeplit outages``, and the second opinion that other commands carry."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

pytestmark = pytest.mark.slow

OLD = """\
inverter = "Bosunwick Galley 24"
units = 1
battery = "Tidewrack Whelk"
strings = 1
voltage = 24
age_years = 3
paid = 2400
"""


def run(keeplit, *words):
    """Return the exit status, standard output and standard error of a command."""
    ran = keeplit(*words)
    return ran.status, ran.out, ran.err


@pytest.fixture
def old_bank(tmp_path):
    path = tmp_path / "old.toml"
    path.write_text(OLD, encoding="utf-8")
    return path


def test_assess(keeplit, old_bank):
    status, out, _ = run(keeplit, "assess", "house", old_bank)
    assert status == 0
    first = "Tidewrack Whelk, 4 × 1, 24 V, 80% deep (3 years old), behind Bosunwick Galley 24"
    assert out.startswith(first)
    for piece in (
        "Misses the 18 h required",
        "What fails",
        "end of life",
        "Service life here",
        "Recharge",
        "To set aside",
        "€2,400 upfront",
        "NOT MET",
        "the strings of one bank are of one age",
    ):
        assert piece in out


def test_assess_that_meets(keeplit, old_bank):
    _, out, _ = run(keeplit, "assess", "house", old_bank, "--hours", 2)
    assert "Meets the 2 h required" in out
    assert "What fails" not in out


def test_assess_with_its_assumptions(keeplit, old_bank):
    _, out, _ = run(keeplit, "assess", "house", old_bank, "--assumptions")
    assert "It rests on" in out
    assert "chemistry flooded shipped: secondary source" in out


def test_assess_json(keeplit, old_bank):
    status, out, _ = run(keeplit, "assess", "house", old_bank, "--json", "--assumptions")
    data = json.loads(out)
    assert (status, data["verdict"], data["required_hours"]) == (0, "fails", 18)
    assert data["independent_simulation"]["verdict"]["holds"] is False
    assert {one["origin"] for one in data["assumptions"]} == {
        "site",
        "catalog",
        "chemistry",
        "constant",
    }
    without = json.loads(run(keeplit, "assess", "house", old_bank, "--json")[1])
    assert without["assumptions"] is None


def test_assess_of_a_bank_in_a_few_words(keeplit):
    status, out, _ = run(keeplit, "assess", "--battery", "12 V 95 Ah agm", "--load", "300")
    assert status == 0
    assert out.startswith("12 V 95 Ah agm runs 300 W for 1.1 h")
    assert "What is assumed" in out
    status, out, _ = run(
        keeplit, "assess", "--battery", "12 V 95 Ah agm", "--load", "300", "--json"
    )
    data = json.loads(out)
    assert {one["what"] for one in data["assumed"]} >= {"rated_hours", "inverter", "place"}
    for wrong in (
        ("assess",),
        ("assess", "house", "old.toml", "--battery", "12 V 95 Ah agm"),
        ("assess", "house", "old.toml", "--load", "300"),
        ("assess", "--battery", "95 Ah"),
    ):
        assert run(keeplit, *wrong)[0] == 2


def test_the_order_of_the_last_version_is_taken_and_told_the_new_one(keeplit, old_bank):
    status, out, err = run(keeplit, "assess", old_bank, "house")
    assert (status, out) == run(keeplit, "assess", "house", old_bank)[:2]
    assert err == "assess DESIGN SITE is called assess SITE DESIGN now.\n"


def test_assess_of_a_faulty_file(keeplit, old_bank):
    old_bank.write_text(OLD.replace("voltage = 24", "voltage = 12"), encoding="utf-8")
    status, out, _ = run(keeplit, "assess", "house", old_bank, "--json")
    data = json.loads(out)
    assert (status, data["error"]) == (2, "input")
    assert (data["faults"][0]["row"], data["faults"][0]["column"]) == (5, "voltage")


def test_assess_of_a_bank_past_its_life(keeplit, old_bank):
    old_bank.write_text(OLD.replace("age_years = 3", "age_years = 12"), encoding="utf-8")
    status, out, _ = run(keeplit, "assess", "house", old_bank)
    assert status == 0
    assert out.startswith("This bank is past its service life here")


def test_outages(keeplit):
    status, out, _ = run(keeplit, "outages", "house", "--years", 50)
    assert status == 0
    assert "the cheapest design for" in out
    assert "of 32 carried" in out
    assert "50 simulated years" in out


def test_outages_json_repeats(keeplit):
    words = ("outages", "house", "--years", 30, "--seed", 5, "--json", "--hours", 6)
    first, again = (run(keeplit, *words)[1] for _ in range(2))
    assert first == again
    data = json.loads(first)
    assert data["design"]["hours"] >= 6
    assert (data["simulated_years"]["seed"], data["simulated_years"]["years"]) == (5, 30)


def test_outages_of_a_design_file(keeplit, old_bank):
    law = ("--durations", "weibull:0.7,3", "--times-a-year", 6)
    status, out, _ = run(
        keeplit, "outages", "house", "--design", old_bank, "--years", 30, "--json", *law
    )
    data = json.loads(out)
    assert (status, data["durations"]) == (0, "weibull:0.7,3")
    assert data["design"] is None
    _, out, _ = run(keeplit, "outages", "house", "--design", old_bank, "--years", 30)
    assert "behind Bosunwick Galley 24, as it stands." in out


@pytest.mark.parametrize(
    ("words", "piece"),
    [
        (("--durations", "normal:3"), "weibull:SHAPE,SCALE"),
        (("--years", "1"), "at least 2"),
        (("--times-a-year", "-1"), "0 or more"),
    ],
)
def test_outages_options_out_of_range(keeplit, words, piece):
    status, _, err = run(keeplit, "outages", "house", *words)
    assert status == 2
    assert piece in err


def test_outages_takes_one_design(keeplit, old_bank):
    status, _, err = run(keeplit, "outages", "house", "--hours", 3, "--design", old_bank)
    assert status == 2
    assert "one of them" in err


def test_choose_carries_the_second_opinion(keeplit):
    _, out, _ = run(keeplit, "choose", "clinic")
    for piece in (
        "Independent simulation",
        "Holds:",
        "last year of service",
        "What each tier costs",
        "In bursts",
        "Scheduled cuts",
        "Simulated years",
    ):
        assert piece in out
    assert "It rests on" not in out
    _, out, _ = run(keeplit, "choose", "house", "--assumptions")
    assert "The site's own log" in out
    assert "It rests on" in out


def test_choose_json_carries_the_second_opinion(keeplit):
    data = json.loads(run(keeplit, "choose", "house", "--json", "--assumptions")[1])
    assert data["independent_simulation"]["verdict"]["holds"] is True
    assert data["independent_simulation"]["verdict"]["hours"] >= data["hours"]
    assert data["simulated"]["hours"] == data["independent_simulation"]["verdict"]["hours"]
    assert len(data["assumptions"]) > 100


def test_frontier_carries_the_second_opinion(keeplit):
    _, out, _ = run(keeplit, "frontier", "house", "--max-hours", 12)
    assert "the independent simulation" in out
    data = json.loads(run(keeplit, "frontier", "house", "--max-hours", 12, "--json")[1])
    for point in data["points"]:
        assert point["simulated"]["holds"] is True
        assert point["simulated"]["hours"] >= point["hours"]


def test_help_names_the_commands():
    from optimizer.cli import cli

    text = CliRunner().invoke(cli, ["--help"]).output
    assert "assess" in text
    assert "outages" in text
