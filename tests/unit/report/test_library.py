"""Answers of the library as frames, plain data, charts and notebook views."""

from __future__ import annotations

import json
import pickle

import jsonschema
import pytest

import optimizer
from optimizer import choose, compare, frontier, load, staircase, tiers, trade_off
from optimizer.model.result import Result
from optimizer.report.json.answers import command_schema
from optimizer.report.library import _GRIDS

HOURS = 4


@pytest.fixture(scope="module")
def job():
    return load("house").with_site(max_hours=6, target_hours=HOURS, generator=None)


@pytest.fixture(scope="module")
def results(job):
    return [
        frontier(job),
        choose(job),
        compare(job),
        staircase(job),
        tiers(job),
        trade_off(job),
    ]


@pytest.mark.slow
def test_each_answer_is_a_frame_plain_data_a_chart_and_a_short_text(results):
    for one in results:
        frame = one.to_frame()
        assert len(frame) > 0
        assert frame.columns.is_unique
        assert json.loads(json.dumps(one.to_dict(), allow_nan=False))
        assert one.plot().to_dict()["layer"]
        assert len(repr(one)) < 100
        assert one.job.site.name in repr(one)
        assert "|" in one._repr_markdown_()


def test_a_curve_is_a_row_a_point_and_what_the_command_prints(results):
    curve = results[0]
    frame = curve.to_frame()
    assert list(frame["hours"]) == [point.hours for point in curve.points]
    assert list(frame["life_cycle_cost"]) == [point.life_cycle_cost for point in curve.points]
    jsonschema.validate({"version": 1, **curve.to_dict()}, command_schema("frontier"))


def test_every_public_answer_of_a_job_is_one():
    """A class that is exported and holds its job does all of it."""
    exported = [getattr(optimizer, name) for name in optimizer.__all__]
    known = {one for one in exported if isinstance(one, type) and issubclass(one, Result)}
    assert known <= set(_GRIDS)
    assert {optimizer.Curve, optimizer.Choice, optimizer.TradeOff, optimizer.Assessment} <= known


def test_answers_travel_between_processes(results):
    """As a pool sends them; what it sends back is the same answer."""
    for one in results:
        back = pickle.loads(pickle.dumps(one))
        assert back.to_dict() == one.to_dict()
        assert back.to_frame().equals(one.to_frame())
