"""What commands answer as JSON: the keys that programs rely on, and their values."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from optimizer import (
    Existing,
    InternalError,
    NoDesignError,
    assess,
    assumptions,
    choose,
    frontier,
    independent_simulation,
    load,
    outages,
)
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
from optimizer.report.json.answers import OutagesAnswer, choose_answer, frontier_answer
from optimizer.report.json.failure import error_answer
from optimizer.report.json.serialise import output, to_data
from tests.unit.builders import make_battery, make_inverter, make_job

#: The contract of a point.
POINT = {
    *("hours", "life_cycle_cost", "upfront_cost", "voltage", "inverter", "units", "banks"),
    *("contract_w", "generator"),
}
BANK = {"battery", "strings", "max_dod", "start", "end", "bought", "service_life"}


@cache
def house():
    return frontier(load("house"))


@pytest.mark.slow
def test_a_point_has_the_keys_of_the_contract():
    (first, *_), points = output(frontier_answer(house()))["points"], house().points
    assert set(first) >= POINT
    assert set(first["banks"][0]) >= BANK
    assert first["voltage"] == points[0].voltage_v
    assert first["inverter"] == points[0].inverter.inverter
    assert first["banks"][0]["battery"] == points[0].banks[0].battery.battery
    assert first["banks"][0]["service_life"] == points[0].banks[0].service_life_years
    assert first["simulated"]["hours"] == points[0].verdict.hours
    assert first["purchases"][0]["amount"] == pytest.approx(points[0].upfront_cost)


def test_the_step_from_each_point_to_the_next():
    *steps, last = [one["next"] for one in output(frontier_answer(house()))["points"]]
    assert last is None
    for here, there, step in zip(house().points, house().points[1:], steps, strict=False):
        assert step["hours"] == there.hours - here.hours
        assert step["cost"] == there.life_cycle_cost - here.life_cycle_cost
        assert step["cost_per_hour"] * step["hours"] == pytest.approx(step["cost"])
    assert output(frontier_answer(replace(house(), points=())))["points"] == []


def test_a_choice_with_its_money_and_its_requirements():
    choice = choose(load("house"))
    simulation = independent_simulation(choice.job, choice.design, years=10)
    ledger = assumptions(choice.job, choice.design)
    data = output(choose_answer(choice, simulation, ledger))
    assert set(data) >= POINT
    assert data["goal"] == {
        "kind": "hours",
        "currency": "EUR",
        "hours": 18,
        "amount": None,
        "family": None,
    }
    whole = sum(one["present_value"] for one in data["payments"])
    assert whole == pytest.approx(choice.design.life_cycle_cost)
    kinds = [one["kind"] for one in data["constraints"]]
    assert kinds == [one.check.kind.value for one in choice.explained]
    assert all(one["met"] for one in data["constraints"])
    assert len(data["assumptions"]) == len(ledger)
    assert output(choose_answer(choice, simulation))["assumptions"] is None


def test_an_assessment():
    battery = make_battery(float_life_years=10.0)
    job = make_job(batteries=[battery], yearly=())
    data = to_data(assess(job, Existing(make_inverter(), 1, battery, 1, 12), hours=4))
    assert (data["inverter"], data["battery"]) == ("Gable", "Slate")
    assert (data["verdict"], data["required_hours"]) == ("meets_for_now", 4)
    assert [one["stage"] for one in data["hours"]] == ["new", "now", "end_of_life"]
    assert data["service_life"]["cycle_years"] is None  # nothing wears it but time
    assert data["service_life"]["deepest_outage"] is None
    assert data["distance"]["least_cost_of_the_same_hours"]["hours"] >= 1
    assert data["independent_simulation"]["verdict"]["claimed_hours"] == 4


def test_outages():
    run = outages(load("house"), years=10)
    data = output(OutagesAnswer(run, None))
    assert data["design"] is None
    assert data["log"]["carried"] == run.replay.carried
    assert len(data["log"]["outages"]) == 32
    assert (data["durations"], data["scheduled_cuts"]) == ("log", None)


def test_no_design():
    goal = Goal(GoalKind.HOURS, currency="EUR", hours=9)
    hindrance = Hindrance(HindranceKind.REQUIREMENT, requirement=Requirement.MASS)
    opening = Opening(RelaxationKind.HOURS, now=9, needed=4)
    error = NoDesignError(goal, Diagnosis((hindrance,), (opening,), ((opening, opening),)))
    data = output(error_answer(error))
    assert (data["error"], data["goal"]["hours"]) == ("no_design", 9)
    assert [one["requirement"] for one in data["reasons"]] == ["mass"]
    assert [(one["kind"], one["needed"], one["unit"]) for one in data["openings"]] == [
        ("hours", 4, "h")
    ]
    assert data["pairs"] == [data["openings"] * 2]
    assert (data["faults"], data["message"]) == (None, None)


def test_a_bug_is_told_with_its_message():
    data = output(error_answer(InternalError("two disagree")))
    assert (data["error"], data["message"]) == ("internal", "two disagree")


def test_nothing_is_written_that_json_has_no_word_for():
    margins = [one.check.margin for one in choose(make_job(), hours=4).explained]
    assert all(to_data(one) is None or math.isfinite(one) for one in margins)
