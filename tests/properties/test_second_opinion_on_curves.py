"""Every design of every curve rides through what it says, simulated hour by hour."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from optimizer import NoDesignError, frontier
from optimizer.inputs import load_job
from optimizer.simulate import ride_through, verdict
from tests.exact.strategies import jobs

CASES = Path(__file__).parents[1] / "cases"


def assert_holds(job, design):
    told = verdict(job, design)
    assert told.holds, (told, design)
    assert (ride_through(job, design).shortest_by_year >= design.hours).all()


@pytest.mark.parametrize("case", ["worked", "worked2", "worked3"])
@pytest.mark.parametrize("margin", [None, 0.0])
def test_worked_sites(case, margin):
    job = load_job(CASES / case / "site.toml")
    if margin is not None:
        job = replace(job, site=replace(job.site, design_margin=margin))
    points = frontier(job).points
    assert points
    for design in points:
        assert_holds(job, design)


@settings(
    max_examples=100,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(job=jobs(), bare=st.booleans())
def test_random_sites(job, bare):
    if bare:  # no margin, and every battery may be emptied
        batteries = tuple(replace(battery, max_dod=1.0) for battery in job.catalog.batteries)
        catalog = replace(job.catalog, batteries=batteries)
        job = replace(job, site=replace(job.site, design_margin=0.0), catalog=catalog)
    try:
        points = frontier(job).points
    except NoDesignError:
        return
    for design in points:
        assert_holds(job, design)
