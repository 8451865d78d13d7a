"""An assessment in words, tables and data."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from optimizer import Existing, assess
from optimizer.report.grids import assessment as grids
from optimizer.report.grids.choice import requirements
from optimizer.report.words import assessment as words
from optimizer.report.words.distance import distance
from optimizer.report.words.writer import Writer
from tests.unit.builders import make_battery, make_inverter, make_job, make_load

WRITE = Writer("EUR")


def judged(*loads, age=0.0, paid=None, hours=None, changes=None, units=1, **site):
    battery = make_battery(**({"warranty_years": 2.0} | (changes or {})))
    job = make_job(*loads, batteries=[battery], **({"yearly": ()} | site))
    return assess(job, Existing(make_inverter(), units, battery, 1, 12, age, paid), hours=hours)


def test_meets():
    found = judged(hours=3)
    assert words.verdict(WRITE, found) == (
        "Meets the 3 h required, as planned, through the whole study period of 10 years."
    )
    assert words.failures(WRITE, found) == []
    short = judged(hours=3, horizon_years=20, design_margin=0.05)
    assert words.verdict(WRITE, short) == (
        "Meets the 3 h required, with the margin of 5%, to the end of its service life."
    )


def test_meets_for_now():
    found = judged(age=2.0)
    assert words.verdict(WRITE, found).endswith("for now: through 7 more years of 8.")
    older = judged(age=8.0)
    assert words.verdict(WRITE, older).endswith("for now: through 1 more year of 2.")


def test_misses_for_energy():
    found = judged(hours=10)
    text = words.verdict(WRITE, found)
    assert text == (
        "Misses the 10 h required: today it is good for 4 h as planned; simulated without "
        "margin, 4.9 h from the worst start."
    )
    assert words.failures(WRITE, found)[0] == (
        "Energy for 10 hours today: at least 1.21\u00a0kWh required, 0.6\u00a0kWh there, "
        "0.611\u00a0kWh short"
    )


@pytest.mark.slow
def test_misses_for_something_else():
    found = judged(hours=2, changes={"discharge_rate_max": 0.05, "surge_rate_max": 9.0})
    assert words.verdict(WRITE, found) == (
        "Fails: energy suffices for the 2 h required, but discharge current of the bank fails."
    )
    both = judged(hours=2, changes={"discharge_rate_max": 0.05, "surge_rate_max": 9.0}, units=3)
    assert words.verdict(WRITE, both).endswith(
        "discharge current of the bank and “Inverter units side by side” fail."
    )
    assert any("3 there, 1 over the limit" in line for line in words.failures(WRITE, both))
    all_three = judged(hours=10, changes={"discharge_rate_max": 0.05, "surge_rate_max": 9.0})
    assert "Besides, discharge current of the bank fails." in words.verdict(WRITE, all_three)
    worse = judged(
        hours=10, changes={"discharge_rate_max": 0.05, "gas": "vented"}, units=3, max_bank_kg=5.0
    )
    assert "Besides, 5 other requirements fail." in words.verdict(WRITE, worse)
    vented = judged(hours=2, changes={"gas": "vented"})
    assert words.verdict(WRITE, vented) == (
        "Fails: energy suffices for the 2 h required, but “Ventilated space” fails."
    )
    none = judged(make_load("Oven", 900.0), hours=10)
    assert "good for no whole hour" in words.verdict(WRITE, none)


def test_conditions_are_told_as_yes_or_no():
    found = judged(hours=2, changes={"gas": "vented"})
    assert words.failures(WRITE, found) == ["Ventilated space: no"]
    rows = requirements(WRITE, found.checks).texts(WRITE)
    assert ["Ventilated space", "yes", "no", "", "", "NOT MET"] in rows


def test_tables():
    found = judged(age=3.0)
    hours = grids.hours(WRITE, found).texts(WRITE)
    assert [row[:3] for row in hours] == [
        ["new", "0.0", "100%"],
        ["now", "3.0", "94%"],
        ["end of life", "10.0", "80%"],
    ]
    missed = requirements(WRITE, judged(hours=10).checks).texts(WRITE)
    assert [row[-1] for row in missed].count("NOT MET") == len(judged(hours=10).failed)
    assert words.existing(WRITE, found) == "Slate, 1 × 1, 12 V (3 years old), behind Gable"
    assert "(new)" in words.existing(WRITE, judged())
    assert "(1 year old)" in words.existing(WRITE, judged(age=1.0))


@pytest.mark.parametrize(
    ("age", "changes", "piece"),
    [
        (0.0, {}, "The maker's warranty: 2 years."),
        (3.0, {}, "The maker's warranty of 2 years is over."),
        (0.0, {"warranty_years": None}, "The maker's warranty is not known."),
        (0.0, {"warranty_years": 1.0}, "The maker's warranty: 1 year."),
    ],
)
def test_warranty(age, changes, piece):
    found = judged(age=age, changes=changes)
    assert piece in dict(words.life(WRITE, found))["Service life here"]


@pytest.mark.slow
def test_life():
    quiet = dict(words.life(WRITE, judged(age=9.5)))
    assert "none wears it" in quiet["Service life here"]
    assert "Deepest outage" not in quiet
    assert "in 1 year)" in quiet["To set aside"]
    mild = judged(yearly=((0.01, 1.0),))
    assert "(alone: over 1,000 years)" in dict(words.life(WRITE, mild))["Service life here"]
    rare = dict(words.life(WRITE, judged(yearly=((2.0, 0.5),))))
    assert rare["Deepest outage"].startswith("2 h, once in 2 years, takes")
    deep = judged(changes={"max_dod": 1.0}, yearly=((12.0, 20.0), (1.0, 1.0)))
    told = dict(words.life(WRITE, deep))["Deepest outage"]
    assert "takes all that may be used, 100%" in told
    assert told.endswith("So deep so often is what wears a bank out.")
    assert "once a year" in dict(words.life(WRITE, judged(yearly=((1.0, 1.0),))))["Deepest outage"]
    stuck = replace(judged(), recharge=replace(judged().recharge, hours=math.inf))
    assert dict(words.life(WRITE, stuck))["Recharge"].startswith("Never")


def test_recharge_names_the_limit_that_is_the_larger():
    found = judged()
    for least_a, told in ((found.recharge.needed_a - 0.1, False), (1234.5, True)):
        limits = replace(found.limits, charge_least_a=least_a)
        text = dict(words.life(WRITE, replace(found, limits=limits)))["Recharge"]
        assert (" A, but the battery asks for at least 1,234.5 A." in text) is told


def test_distance():
    new = distance(WRITE, judged())
    assert "at the prices of today" in new[0][1]
    assert new[1][1].endswith("This one costs the same.")
    paid = dict(distance(WRITE, judged(paid=100.0)))
    assert "€100 paid" in paid["This one"]
    assert paid["€100 upfront"] == "Buys nothing on offer."
    assert any("less." in sentence for sentence in paid.values())


def test_distance_where_nothing_can_be_compared():
    found = judged(
        make_load("Oven", 990.0), changes={"discharge_rate_max": 0.05, "surge_rate_max": 9.0}
    )
    lines = dict(distance(WRITE, found))
    assert "no whole hour in every year up to its end of life" in lines["This one"]
    assert lines["4 h today"] == "Nothing on offer today carries 4 h here."


@pytest.mark.slow
def test_distance_of_a_bank_that_wears_out_within_a_year():
    # one outage a day and 300 of them in a life: 0.8 years
    found = judged(
        changes={"cycle_points": ((0.5, 300.0),), "capacity_ah": 200.0}, yearly=((8.0, 365.0),)
    )
    assert 0.5 < found.life.years < 1
    lines = distance(WRITE, found)
    assert "net over 10 years" in lines[0][1]
    assert len(lines) == 4
