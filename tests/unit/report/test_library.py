"""Answers of the library as frames, plain data, charts and notebook views."""

from __future__ import annotations

import inspect
import json
import pickle
from datetime import date
from typing import get_type_hints

import jsonschema
import pytest

import optimizer
from optimizer.comparison.processes import spread
from optimizer.model.programme import PlannedSite
from optimizer.model.result import Result
from optimizer.report.json.answers import command_schema
from optimizer.report.library import _GRIDS
from tests.unit.comparison.jobs import small_house

pytestmark = pytest.mark.slow

HOURS = 4


def _sites(job):
    planned = [PlannedSite(name=name, people=n, job=job) for name, n in (("a", 2), ("b", 5))]
    return optimizer.site_curves(planned, processes=1)


#: Every public function that answers something, and how it is asked here.
ASK = {
    "against": lambda job: optimizer.against(job.what_if(price_lead="+20%"), job),
    "allot": lambda job: optimizer.allot(_sites(job), 4000),
    "assess": lambda job: optimizer.assess_told("24 V 95 Ah agm", job, age_years=2)[0],
    "assumptions": lambda job: optimizer.assumptions(job, optimizer.choose(job).design),
    "break_even_line": lambda job: optimizer.break_even_line(job, across="residual-share"),
    "budget_table": lambda job: optimizer.budget_table(job, [1000, 2600, 4000]),
    "choose": optimizer.choose,
    "compare": optimizer.compare,
    "frontier": optimizer.frontier,
    "hours_worth": lambda job: optimizer.hours_worth(job.what_if({"lost-load": 90}), years=20),
    "independent_simulation": lambda job: optimizer.independent_simulation(
        job, optimizer.choose(job).design
    ),
    "load_costs": optimizer.load_costs,
    "make_quote": lambda job: optimizer.make_quote(job, options=[4], day=date(2026, 11, 25)),
    "outages": lambda job: optimizer.outages(job, years=20),
    "regret": lambda job: optimizer.regret(job, scenarios=3, processes=1),
    "sensitivities": optimizer.sensitivities,
    "site_curves": _sites,
    "staircase": optimizer.staircase,
    "survey": optimizer.survey,
    "switch_points": lambda job: optimizer.switch_points(job, keys=["price:lead"], processes=1),
    "tiers": optimizer.tiers,
    "trade_off": optimizer.trade_off,
}
#: Public functions that answer with no result: they read, or hand over a figure beside another.
OTHERS = {"assess_told", "highest_floor", "load", "load_design"}


@pytest.fixture(scope="module")
def job():
    return small_house(HOURS, generator=None, contracts=()).with_site(max_hours=6)


@pytest.fixture(scope="module")
def results(job):
    return {name: ask(job) for name, ask in ASK.items()}


def test_every_public_function_answers_with_a_result(results):
    functions = {name for name in optimizer.__all__ if inspect.isfunction(_public(name))}
    assert functions - OTHERS == set(ASK)
    for name, one in results.items():
        assert isinstance(one, Result), name
        assert type(one).__name__ in optimizer.__all__
    exported = {_public(name) for name in optimizer.__all__}
    known = {one for one in exported if isinstance(one, type) and issubclass(one, Result)}
    known.remove(Result)
    assert known == {type(one) for one in results.values()} == set(_GRIDS)


def _public(name):
    return getattr(optimizer, name)


@pytest.mark.parametrize("name", ASK)
def test_each_answer_is_a_frame_plain_data_a_chart_and_a_short_text(results, name):
    one = results[name]
    frame = one.to_frame()
    assert len(frame) > 0
    assert frame.columns.is_unique
    assert json.loads(json.dumps(one.to_dict(), allow_nan=False))["supposed"] is not None
    chart = one.plot().to_dict()
    assert chart["layer"]
    assert any(layer["data"].get("name") or layer["data"].get("values") for layer in chart["layer"])
    assert len(repr(one)) < 100
    assert one.site in repr(one)
    assert "|" in one._repr_markdown_()
    assert get_type_hints(type(one))


def test_what_is_supposed_stands_in_the_data(results):
    for name in ("against", "hours_worth"):
        (told,) = results[name].to_dict()["supposed"]
        assert told["name"] in {"price:lead", "lost-load"}


def test_a_curve_is_a_row_a_point_and_what_the_command_prints(results):
    curve = results["frontier"]
    frame = curve.to_frame()
    assert list(frame["hours"]) == [point.hours for point in curve.points]
    assert list(frame["life_cycle_cost"]) == [point.life_cycle_cost for point in curve.points]
    for name in ("frontier", "survey", "trade_off", "against", "hours_worth"):
        command = {"survey": "check", "trade_off": "trade-off", "hours_worth": "worth"}
        schema = command_schema(command.get(name, name))
        jsonschema.validate({"version": 1, **results[name].to_dict()}, schema)


def test_an_answer_that_is_a_list_is_read_like_one(results):
    table = results["budget_table"]
    assert [row.budget for row in table] == [1000, 2600, 4000]
    assert (len(table), table[0], table[1:]) == (3, table.rows[0], table.rows[1:])


def _same(one):
    return one


def test_answers_travel_through_a_process_pool(results):
    """What a worker sends back is the same answer."""
    came = list(spread(_same, list(results.values()), 2, None))
    for one, back in zip(results.values(), came, strict=True):
        assert back.to_dict() == one.to_dict()
        assert back.to_frame().equals(one.to_frame())
        assert pickle.loads(pickle.dumps(back)).to_dict() == one.to_dict()
