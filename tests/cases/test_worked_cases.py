"""The worked sites to the cent: every optimum, every frontier, every budget.

Their expectations come from an exhaustive search without a linear program.
"""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from optimizer import NoDesignError, choose, frontier
from optimizer.engine.curve import Search
from optimizer.inputs.load import load_job
from optimizer.model.diagnosis import RelaxationKind

HERE = Path(__file__).parent
CASES = ("worked", *(f"worked{number}" for number in range(2, 8)))
FAMILIES = ("any", "lead", "lithium")
CENT = 0.01


def sized(case, *values, name):
    """Return the parameters of a case; the large ones take more than a second."""
    marks = pytest.mark.slow if case in {"worked5", "worked6", "worked7"} else ()
    return pytest.param(case, *values, id=name, marks=marks)


def expected(case):
    return json.loads((HERE / case / "expected.json").read_text(encoding="utf-8"))


@cache
def job(case):
    return load_job(HERE / case / "site.toml")


@cache
def search(case, family):
    return Search(job(case), None if family == "any" else family)


@cache
def curve(case, family):
    return frontier(job(case), family=None if family == "any" else family)


def optimum_rows():
    """One row for every whole hour up to the longest: case, family, {hour: row or None}."""
    for case in CASES:
        for family, rows in expected(case)["optimum"].items():
            by_hour = {row["hours"]: row for row in rows}
            every = {hours: by_hour.get(hours) for hours in range(1, job(case).site.max_hours + 1)}
            yield sized(case, family, every, name=f"{case}-{family}")


def budget_rows():
    for case in CASES:
        for row in expected(case)["budget"]:
            yield sized(case, row, name=f"{case}-{row['budget']:g}")


def assert_money(design, row):
    assert design.life_cycle_cost == pytest.approx(row["life_cycle_cost"], abs=CENT)


def test_the_expectations_are_all_here():
    for case in CASES:
        found = expected(case)
        assert set(found["optimum"]) == set(found["frontier"]) == set(FAMILIES)
        assert found["budget"]


@pytest.mark.slow
@pytest.mark.parametrize(("case", "family", "every"), [*optimum_rows()])
def test_optimum(case, family, every):
    """Asked for directly and read off the curve, at every hour."""
    assert any(every.values())
    for hours, row in every.items():
        for design in (search(case, family).cheapest(hours), curve(case, family).at(hours)):
            if row is None:
                assert design is None, hours
            else:
                assert design.hours == row["carries"], hours
                assert_money(design, row)


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("case", [sized(case, name=case) for case in CASES])
def test_nothing_beyond_the_longest_hour(case, family):
    """Where the expectation stops before the site's longest hour, asking raises."""
    rows = expected(case)["optimum"][family]
    longest, most = max(row["hours"] for row in rows), job(case).site.max_hours
    assert not search(case, family).exists(longest + 1)
    if longest == most:  # the site's own end: the hour after cannot be asked for
        assert len(rows) == most
        return
    with pytest.raises(NoDesignError) as caught:
        choose(job(case), hours=longest + 1, family=None if family == "any" else family)
    openings = {one.kind: one.needed for one in caught.value.diagnosis.openings}
    assert openings[RelaxationKind.HOURS] == longest


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("case", [sized(case, name=case) for case in CASES])
def test_frontier(case, family):
    """Point by point, none missing and none too many."""
    points, rows = curve(case, family).points, expected(case)["frontier"][family]
    assert [point.hours for point in points] == [row["hours"] for row in rows]
    for point, row in zip(points, rows, strict=True):
        assert_money(point, row)


@pytest.mark.parametrize(("case", "row"), [*budget_rows()])
def test_budget(case, row):
    """The longest autonomy that the money buys at the start, then the least life-cycle cost."""
    if row["longest"] is None:
        with pytest.raises(NoDesignError):
            choose(job(case), budget=row["budget"])
        return
    design = choose(job(case), budget=row["budget"]).design
    assert design.hours == row["longest"]["hours"]
    assert_money(design, row["longest"])
    assert design.upfront_cost == pytest.approx(row["longest"]["upfront_cost"], abs=CENT)
    assert design.upfront_cost <= row["budget"]


@pytest.mark.parametrize("case", [sized(case, name=case) for case in CASES])
def test_both_solvers_prove_the_same_curve(case):
    by_cbc = Search(job(case), solver="cbc")
    points = curve(case, "any").points
    # every third point: this solver is a process of its own each time
    for point in points[::3]:
        design = by_cbc.cheapest(point.hours)
        assert design.hours == point.hours
        assert design.life_cycle_cost == pytest.approx(point.life_cycle_cost, abs=1e-6)


def test_a_budget_on_the_site_holds_for_the_curve():
    limited = replace(job("worked"), site=replace(job("worked").site, budget=3000.0))
    points = frontier(limited).points
    assert points
    assert all(point.upfront_cost <= 3000 for point in points)
    longest = next(row for row in expected("worked")["budget"] if row["budget"] == 3000)["longest"]
    assert points[-1].hours == longest["hours"]
    assert_money(points[-1], longest)
