"""Designs and diagnoses as sentences."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from optimizer import NoDesignError, choose
from optimizer.answers.purchases import Purchase
from optimizer.answers.site_survey import survey
from optimizer.engine import cashflow
from optimizer.model.diagnosis import (
    Diagnosis,
    Goal,
    GoalKind,
    Hindrance,
    HindranceKind,
    Opening,
    RelaxationKind,
)
from optimizer.model.requirement import Requirement
from optimizer.report.data import error_data
from optimizer.report.tables import binding_in_words, survey_tables
from optimizer.report.words import (
    bank_in_words,
    choice_in_words,
    plain,
    purchase_in_words,
    replacements_in_words,
    set_in_words,
)
from optimizer.report.words import relaxations as words
from optimizer.report.words.checks import check_name
from optimizer.report.words.writer import Writer
from tests.unit.builders import (
    make_battery,
    make_design,
    make_inverter,
    make_job,
    make_load,
    make_period,
    with_site,
)


def reasons(job, **asked):
    with pytest.raises(NoDesignError) as caught:
        choose(job, **asked)
    return words.reasons(Writer("EUR"), caught.value)


def test_years_are_counted_from_one():
    bought = Purchase(5, 1234.5, ("Slate", "Gable"))
    assert purchase_in_words(bought, "EUR", 10) == "year 6: Slate and Gable, 1,234 EUR"
    assert purchase_in_words(None, "EUR", 10) == "nothing more to buy within 10 years"


def test_replacements():
    job = make_job()
    chain = make_design(
        make_period(end=4), make_period(start=4), inverter=make_inverter(life_years=7.0)
    )
    flow = cashflow.payments(job, chain)
    assert replacements_in_words(flow) == "year 5: Slate; year 8: Gable"
    assert replacements_in_words(cashflow.payments(job, make_design())) == "none"


def test_banks_and_sets():
    assert bank_in_words(make_period(series=4, strings=3), 48) == "Slate, 4 × 3, 48 V"
    assert set_in_words(make_design()) == "Gable"
    assert set_in_words(make_design(inverter_units=3)) == "3 × Gable"


@pytest.mark.parametrize(
    ("bank", "words"),
    [
        ((1, 1), "One string of one Slate"),
        ((4, 1), "One string of 4 Slate"),
        ((1, 3), "3 strings of one Slate"),
        ((2, 3), "3 strings of 2 Slate"),
    ],
)
def test_a_choice_in_a_sentence(bank, words):
    series, strings = bank
    choice = choose(make_job(yearly=((1.0, 1.0),)), hours=2)
    design = make_design(
        make_period(series=series, strings=strings), upfront_cost=1500.4, life_cycle_cost=2600.6
    )
    said = choice_in_words(replace(choice, design=design))
    assert words in said
    assert said.startswith("4 hours without the grid: 1,500 EUR today; 2,601 EUR over 10 years")
    one_year = replace(choice, design=design, job=with_site(choice.job, horizon_years=1))
    assert "over one year" in choice_in_words(one_year)


def test_what_binds():
    choice = choose(make_job(yearly=((1.0, 1.0),)), hours=4)
    for line, one in zip(binding_in_words(choice), choice.binding, strict=True):
        assert line.startswith(check_name(Writer("EUR"), one.check))
        assert re.search(r"without it [\d,]+ EUR less|% to spare, the least of all", line)
    free = replace(choice, explained=tuple(replace(one, saving=0.0) for one in choice.explained))
    (line,) = binding_in_words(free)
    assert line.endswith("to spare, the least of all")


@pytest.mark.parametrize(
    ("job", "asked", "said"),
    [
        (
            make_job(make_load(running_w=9000.0), voltages=(24,)),
            {"hours": 1},
            "No inverter set on offer passes",
        ),
        (
            make_job(batteries=[make_battery(gas="vented")], max_bank_kg=1.0),
            {"hours": 1},
            "No battery on offer passes",
        ),
        (make_job(), {"budget": 100.0}, "The money allowed buys nothing that holds this long."),
        (
            make_job(batteries=[make_battery(capacity_ah=1.0)]),
            {"hours": 24},
            "banks pass by themselves; no pair of them holds long enough.",
        ),
    ],
)
def test_where_no_single_requirement_is_in_the_way(job, asked, said):
    assert said in reasons(job, **asked)[0]


def test_what_stands_in_the_way_comes_first():
    first, *_ = reasons(
        make_job(recharge_hours=1.0, inverters=[make_inverter(charger_a=10.0)]), hours=4
    )
    assert first.startswith("In the way is the recharge time")


def test_no_design_as_data():
    goal = Goal(GoalKind.HOURS, currency="EUR", hours=9)
    hindrance = Hindrance(HindranceKind.REQUIREMENT, requirement=Requirement.MASS)
    opening = Opening(RelaxationKind.HOURS, now=9, needed=4)
    data = error_data(NoDesignError(goal, Diagnosis((hindrance,), (opening,), ())))
    assert data["error"] == "no_design"
    assert data["goal"]["hours"] == 9
    assert [one["requirement"] for one in data["reasons"]] == ["mass"]
    assert [(one["kind"], one["needed"]) for one in data["openings"]] == [("hours", 4)]
    assert data["pairs"] == []


def test_control_characters_become_visible():
    assert plain("a\tb\x1b[31m\x7fc\u202e") == "a␉b␛[31mc"
    assert plain("naïve 🔋 =1+1 [b]") == "naïve 🔋 =1+1 [b]"


def test_tables_of_a_survey_with_and_without_old_prices():
    dated = make_job(batteries=[make_battery(price_date=date(2020, 1, 1))], value_of_lost_load=5.0)
    titles = [table.title for table in survey_tables(survey(dated, date(2026, 1, 1)), "EUR")]
    assert "Prices older than a year" in titles
    titles = [table.title for table in survey_tables(survey(make_job(), date(2026, 1, 1)), "EUR")]
    assert "Prices older than a year" not in titles
