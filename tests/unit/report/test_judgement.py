"""A judgement in words and data."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from rich.console import Console

from optimizer import Existing, assess
from optimizer.report import judgement as words
from optimizer.report.judgement_data import judgement_data
from tests.unit.builders import make_battery, make_inverter, make_job, make_load


def shown(renderable):
    console = Console(width=200, markup=False)
    with console.capture() as capture:
        console.print(renderable)
    return capture.get()


def judged(*loads, age=0.0, paid=None, hours=None, changes=None, units=1, **site):
    battery = make_battery(**({"warranty_years": 2.0} | (changes or {})))
    job = make_job(*loads, batteries=[battery], **({"yearly": ()} | site))
    return assess(job, Existing(make_inverter(), units, battery, 1, 12, age, paid), hours=hours)


def test_meets():
    found = judged(hours=3)
    assert words.verdict_in_words(found) == (
        "Meets the 3 h asked for, as planned, through all 10 years looked at."
    )
    assert words.failures_in_words(found) == []
    short = judged(hours=3, horizon_years=20, design_margin=0.05)
    assert words.verdict_in_words(short) == (
        "Meets the 3 h asked for, with the margin of 5%, to the end of its service life."
    )


def test_meets_for_now():
    found = judged(age=2.0)
    assert words.verdict_in_words(found).endswith("for now: through 7 more years of 8.")
    older = judged(age=8.0)
    assert words.verdict_in_words(older).endswith("for now: through one more year of 2.")


def test_misses_for_energy():
    found = judged(hours=10)
    text = words.verdict_in_words(found)
    assert text == (
        "Misses the 10 h asked for: today it is good for 4 h as planned; simulated without "
        "margin, 4.9 h from the worst start."
    )
    assert words.failures_in_words(found)[0] == (
        "Energy for 10 hours today: at least 1.21 kWh wanted, 0.60 kWh there, 0.61 kWh short"
    )


def test_misses_for_something_else():
    found = judged(hours=2, changes={"discharge_rate_max": 0.05})
    assert words.verdict_in_words(found) == (
        "Misses, though the bank holds enough for the 2 h asked for: discharge current of the "
        "bank fails."
    )
    both = judged(hours=2, changes={"discharge_rate_max": 0.05}, units=3)
    assert words.verdict_in_words(both).endswith(
        "discharge current of the bank and inverter units side by side fail."
    )
    assert any("3 there, 1 too many" in line for line in words.failures_in_words(both))
    all_three = judged(hours=10, changes={"discharge_rate_max": 0.05})
    assert "Besides, discharge current of the bank fails." in words.verdict_in_words(all_three)
    worse = judged(
        hours=10, changes={"discharge_rate_max": 0.05, "gas": "vented"}, units=3, max_bank_kg=5.0
    )
    assert "Besides, 5 other requirements fail." in words.verdict_in_words(worse)
    none = judged(make_load("Oven", 900.0), hours=10)
    assert "good for no whole hour" in words.verdict_in_words(none)


def test_conditions_are_told_as_yes_or_no():
    found = judged(hours=2, changes={"gas": "vented"})
    assert words.failures_in_words(found) == ["Ventilated space: no"]
    row = next(
        line
        for line in shown(words.requirements_table(found)).splitlines()
        if line.startswith("Ventilated space")
    )
    assert row.split()[2:] == ["yes", "no", "NOT", "MET"]


def test_tables():
    found = judged(age=3.0)
    hours = shown(words.hours_table(found))
    assert all(stage in hours for stage in ("new", "now", "end of life"))
    assert "NOT MET" in shown(words.requirements_table(judged(hours=10)))
    assert words.existing_in_words(found) == "Slate, 1 × 1, 12 V (3 years old), behind Gable"
    assert "(new)" in words.existing_in_words(judged())
    assert "(one year old)" in words.existing_in_words(judged(age=1.0))


@pytest.mark.parametrize(
    ("age", "changes", "piece"),
    [
        (0.0, {}, "The maker's warranty: 2 years."),
        (3.0, {}, "The maker's warranty of 2 years is over."),
        (0.0, {"warranty_years": None}, "The maker's warranty is not known."),
        (0.0, {"warranty_years": 1.0}, "The maker's warranty: one year."),
    ],
)
def test_warranty(age, changes, piece):
    found = judged(age=age, changes=changes)
    assert piece in dict(words.life_in_words(found))["Service life here"]


def test_life():
    quiet = dict(words.life_in_words(judged(age=9.5)))
    assert "none wears it" in quiet["Service life here"]
    assert "Deepest outage" not in quiet
    assert "in 1 year)" in quiet["To set aside"]
    mild = judged(yearly=((0.01, 1.0),))
    assert "(alone: over 1,000 years)" in dict(words.life_in_words(mild))["Service life here"]
    rare = dict(words.life_in_words(judged(yearly=((2.0, 0.5),))))
    assert rare["Deepest outage"].startswith("2 h, once in 2 years, takes")
    deep = judged(changes={"max_dod": 1.0}, yearly=((12.0, 20.0), (1.0, 1.0)))
    told = dict(words.life_in_words(deep))["Deepest outage"]
    assert "takes all that may be used, 100%" in told
    assert told.endswith("So deep so often is what wears a bank out.")
    assert (
        "once a year" in dict(words.life_in_words(judged(yearly=((1.0, 1.0),))))["Deepest outage"]
    )
    stuck = replace(judged(), recharge=replace(judged().recharge, hours=math.inf))
    assert dict(words.life_in_words(stuck))["Refill"].startswith("Never")


def test_distance():
    new = words.distance_in_words(judged())
    assert "at the prices of today" in new[0][1]
    assert "This one costs" in new[1][1]
    paid = dict(words.distance_in_words(judged(paid=100.0)))
    assert "100 EUR paid" in paid["This one"]
    assert paid["100 EUR at the start"] == "Buys nothing on offer."
    assert any("less." in sentence for sentence in paid.values())


def test_distance_where_nothing_can_be_compared():
    found = judged(make_load("Oven", 990.0), changes={"discharge_rate_max": 0.05})
    lines = dict(words.distance_in_words(found))
    assert "planned for no whole hour" in lines["This one"]
    assert lines["4 h today"] == "Nothing on offer today carries 4 h here."


def test_distance_of_a_bank_that_wears_out_within_a_year():
    # one outage a day and 300 of them in a life: 0.8 years
    found = judged(
        changes={"cycle_points": ((0.5, 300.0),), "capacity_ah": 200.0}, yearly=((8.0, 365.0),)
    )
    assert 0.5 < found.life.years < 1
    lines = words.distance_in_words(found)
    assert "lasts less than a year" in lines[0][1]
    assert len(lines) == 3


def test_data_is_plain():
    found = judged(age=2.0)
    data = json.loads(json.dumps(judgement_data(found), allow_nan=False))
    assert data["verdict"] == "meets_for_now"
    assert set(data["hours"]) == {"new", "now", "end_of_life"}
    assert data["carries_target_for_years"] == 7
    assert data["fails"] == ["energy"]
    assert data["service_life"]["cycles_alone_years"] is None
    assert data["service_life"]["deepest_outage"] is None
    assert data["distance"]["least_cost_of_the_same_hours"]["hours"] >= 1
    worn = judgement_data(judged(yearly=((1.0, 3.0),)))
    assert worn["service_life"]["deepest_outage"]["times_a_year"] == 3.0
