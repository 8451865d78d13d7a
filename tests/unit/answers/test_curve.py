"""Points of the curve: designs with what was worked out about them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import InputError, InternalError, choose, frontier
from optimizer.answers.curve import Curve, by_family, curve_of, point_of
from optimizer.engine import cashflow
from optimizer.engine.curve import Search
from optimizer.simulate import Shortfall, verdict
from tests.unit.builders import make_battery, make_design, make_job, make_period


def test_a_point_holds_what_was_worked_out():
    job, design = make_job(), make_design()
    point = point_of(job, design)
    assert (point.hours, point.banks, point.wiring) == (design.hours, design.banks, design.wiring)
    assert point.verdict == verdict(job, design)
    assert point.payments == cashflow.payments(job, design)
    assert point.purchases[0].year == 0


def test_a_program_design_that_falls_short_is_a_bug():
    weak = make_design(make_period(make_battery(capacity_ah=10.0)))
    with pytest.raises(InternalError, match=r"the program claims 4 h, the simulation finds 0\."):
        point_of(make_job(), weak)


@pytest.mark.parametrize("ask", [choose, frontier])
def test_no_design_is_handed_out_that_falls_short(monkeypatch, ask):
    def doubtful(job, design):
        return replace(verdict(job, design), shortfalls=(Shortfall.HOURS,))

    monkeypatch.setattr("optimizer.answers.curve.verdict", doubtful)
    with pytest.raises(InternalError, match="the program claims"):
        ask(make_job())


def test_a_point_may_be_simulated_when_its_verdict_is_asked_for(monkeypatch):
    def doubtful(job, design):
        return replace(verdict(job, design), shortfalls=(Shortfall.HOURS,))

    monkeypatch.setattr("optimizer.answers.curve.verdict", doubtful)
    overall, families = by_family(make_job(max_hours=8))
    for curve in (overall, *families.values()):
        for point in curve.points:
            with pytest.raises(InternalError, match="the program claims"):
                _ = point.verdict


def test_the_curve_is_the_searchs_points():
    job = make_job()
    curve = frontier(job, max_hours=8)
    assert curve == curve_of(Search(job.with_site(max_hours=8)))
    assert [(one.hours, one.life_cycle_cost) for one in curve.points] == [
        (one.hours, one.life_cycle_cost) for one in Search(curve.job).points()
    ]


def test_the_cheapest_that_carries_an_hour():
    curve = frontier(make_job())
    first, *_, last = curve.points
    assert curve.at(1) is first
    assert curve.at(last.hours) is last
    assert curve.at(last.hours + 1) is None
    assert Curve(curve.job, None, ()).at(1) is None


@pytest.mark.parametrize("options", [{"family": "nickel"}, {"max_hours": 0}, {"max_hours": 241}])
def test_what_is_out_of_range_is_refused(options):
    with pytest.raises(InputError):
        frontier(make_job(), **options)
