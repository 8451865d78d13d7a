"""What a lever makes of a job."""

from __future__ import annotations

import pytest

from optimizer.comparison.parameters import lever_named, levers_of, outages_a_year, swing_levers_of
from optimizer.engine.curve import Search
from tests.unit import builders

from .jobs import small_house


@pytest.mark.parametrize("lever", swing_levers_of(small_house()), ids=lambda lever: lever.key)
def test_at_its_base_a_lever_changes_nothing(lever):
    job = small_house()
    assert lever.at(job, lever.base) is job
    changed = lever.change(job, lever.base)
    assert Search(changed).least(12) == pytest.approx(Search(job).least(12), abs=1e-6)


@pytest.mark.parametrize("lever", swing_levers_of(small_house()), ids=lambda lever: lever.key)
def test_the_doubt_and_the_base_lie_in_the_range(lever):
    assert lever.low <= lever.doubt[0] <= lever.base <= lever.doubt[1] <= lever.high


def test_outages_are_counted_by_the_year():
    job = small_house()
    lever = lever_named(job, "outages")
    assert outages_a_year(lever.at(job, 5.0)) == pytest.approx(5.0)


def test_no_outages_no_lever():
    keys = [lever.key for lever in levers_of(builders.make_job(yearly=()))]
    assert "outages" not in keys
    assert "rate" in keys


def test_a_price_touches_its_family_only():
    job = small_house()
    changed = lever_named(job, "price:lithium").at(job, 2.0)
    for old, new in zip(job.catalog.batteries, changed.catalog.batteries, strict=True):
        assert new.price == old.price * (2.0 if old.family == "lithium" else 1.0)


def test_a_mean_beyond_the_highest_takes_the_highest_along():
    job = small_house()
    lever = lever_named(job, "warmth")
    hot = lever.at(job, 38.0).site
    assert (hot.min_degc, hot.mean_degc, hot.max_degc) == (job.site.min_degc, 38.0, 38.0)
    mild = lever.at(job, 20.0).site
    assert mild.max_degc == job.site.max_degc
    assert lever.low == job.site.min_degc
    assert set(lever.breaks) == {20.0, job.site.max_degc}


def test_no_battery_is_drawn_deeper_than_flat():
    job = small_house()
    changed = lever_named(job, "depth:lithium").at(job, 1.5)
    depths = {one.max_dod for one in changed.catalog.batteries if one.family == "lithium"}
    assert depths == {1.0}


def test_an_unknown_key_is_no_lever():
    assert lever_named(small_house(), "price:unobtainium") is None
