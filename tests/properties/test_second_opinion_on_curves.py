"""Every design of every curve does what it says, simulated hour by hour, be there no margin.

Sites with all that the model knows are drawn as files; on failure Hypothesis prints the site and
the line that draws it again. With their own margins they are simulated in `tests/exact`.
"""

from __future__ import annotations

import os
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from optimizer import InputError, NoDesignError
from optimizer.engine.curve import Search
from optimizer.inputs.load import load_job
from optimizer.simulate import verdict
from tests.exact.against import assert_holds, draw_until
from tests.exact.sites import frequent_files, night_files, site_files

CASES = Path(__file__).parents[1] / "cases"
SITES = int(os.environ.get("KEEPLIT_SECOND_OPINION_CASES", "1000")) // 2


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
        assert_holds(job, design, verdict(job, design))


def what_they_use(job, points):
    """What of the model the designs of a curve make use of."""
    return {
        "generator": any(design.generator for design in points),
        "help at peaks": any(design.contract for design in points) and bool(job.site.peaks),
        "scheduled cuts": bool(points) and bool(job.outages.daily),
        "renewals": any(bank.bought > 1 for design in points for bank in design.banks),
        "tiers let go": bool(points) and bool(job.site.tier_hours),
    }


def test_random_sites_without_margin_whose_batteries_may_be_emptied():
    seen: Counter[str] = Counter()

    @settings(max_examples=SITES)
    @given(files=st.one_of(site_files(), frequent_files(), night_files()))
    def check(files):
        try:
            job = files.job()
        except InputError:  # no inverter at a voltage that the batteries make
            return
        batteries = tuple(replace(one, max_dod=1.0, max_dods=()) for one in job.catalog.batteries)
        catalog = replace(job.catalog, batteries=batteries)
        job = replace(job, site=replace(job.site, design_margin=0.0), catalog=catalog)
        try:
            points = list(Search(job).points())
        except NoDesignError:
            return
        seen.update(what_they_use(job, points))
        for design in points:
            assert_holds(job, design, verdict(job, design))

    draw_until(lambda: min(seen.values()) > 0.03 * SITES, check, seen)
