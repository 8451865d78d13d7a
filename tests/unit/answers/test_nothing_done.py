"""What the outages cost where nothing is bought."""

from dataclasses import replace

import pytest

from optimizer import load, survey
from optimizer.answers.nothing_done import nothing_done


def test_first_year_is_the_surveys():
    found, seen = nothing_done(load("house")), survey(load("house"))
    assert found.unserved_kwh_per_year == pytest.approx(seen.unserved_kwh_per_year)
    assert found.hours_per_year == pytest.approx(seen.outage_hours_per_year)
    assert found.outages_per_year == pytest.approx(seen.outages_per_year)


def test_loss_grows_with_the_loads_and_is_discounted():
    job = load("house")
    site = replace(
        job.site, load_growth=0.1, discount_rate=0.25, horizon_years=2, value_of_lost_load=2.0
    )
    found = nothing_done(replace(job, site=site))
    # arithmetic: 1 / 1.25 + 1.1 / 1.25² = 1.504
    assert found.life_cycle_cost == pytest.approx(found.unserved_kwh_per_year * 2.0 * 1.504)


def test_no_value_no_cost():
    assert nothing_done(load("clinic")).life_cycle_cost is None
