"""Every design of every curve does what it says, simulated hour by hour.

Sites with all that the model knows are drawn as files; on failure Hypothesis prints the site and
the line that draws it again.
"""

from __future__ import annotations

import os
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from optimizer import InputError, NoDesignError
from optimizer.engine.curve import Search
from optimizer.inputs.load import load_job
from optimizer.simulate import ride_through, verdict
from tests.exact.sites import frequent_files, night_files, site_files

CASES = Path(__file__).parents[1] / "cases"
SITES = int(os.environ.get("KEEPLIT_SECOND_OPINION_CASES", "1000"))


def assert_holds(job, design):
    told = verdict(job, design)
    assert told.shortfalls == (), (told, design)
    assert (ride_through(job, design).shortest_by_year >= design.hours).all()
    if told.generator is not None:
        assert told.generator.fuel_l <= design.fuel_l * (1 + 1e-9), (told, design)


@pytest.mark.parametrize(
    "case", ["worked", "worked2", "worked3", "worked4", "worked5", "worked6", "worked7"]
)
@pytest.mark.parametrize("margin", [None, 0.0])
def test_worked_sites(case, margin):
    job = load_job(CASES / case / "site.toml")
    if margin is not None:
        job = replace(job, site=replace(job.site, design_margin=margin))
    points = list(Search(job).points())
    assert points
    for design in points:
        assert_holds(job, design)


@settings(
    max_examples=SITES,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(files=st.one_of(site_files(), frequent_files(), night_files()), bare=st.booleans())
def test_random_sites(files, bare):
    with tempfile.TemporaryDirectory() as folder:
        try:
            job = load_job(files.write(Path(folder)))
        except InputError:  # no inverter at a voltage that the batteries make
            return
    if bare:  # no margin, and every battery may be emptied
        batteries = tuple(
            replace(battery, max_dod=1.0, max_dods=()) for battery in job.catalog.batteries
        )
        catalog = replace(job.catalog, batteries=batteries)
        job = replace(job, site=replace(job.site, design_margin=0.0), catalog=catalog)
    try:
        points = list(Search(job).points())
    except NoDesignError:
        return
    for kind, seen in (
        ("a design", bool(points)),
        ("a generator", any(design.generator for design in points)),
        ("help at peaks", any(design.contract for design in points) and bool(job.site.peaks)),
        ("scheduled cuts", bool(points) and bool(job.outages.daily)),
        ("renewals", any(bank.bought > 1 for design in points for bank in design.banks)),
        ("tiers let go", bool(points) and bool(job.site.tier_hours)),
    ):
        if seen:
            event(kind)
    for design in points:
        assert_holds(job, design)
