"""What the outages cost where nothing is bought."""

from dataclasses import replace

import pytest

from optimizer import load, survey
from optimizer.answers.nothing_done import nothing_done
from optimizer.simulate import replay_log, simulate_years
from tests.unit.builders import make_design


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


@pytest.mark.parametrize("tier_hours", [{}, {"useful": 1, "comfort": 2}])
def test_the_simulation_finds_the_same_energy_unserved(tier_hours):
    job = load("house")
    job = replace(job, site=replace(job.site, tier_hours=tier_hours))
    log = replay_log(job, make_design(), year=0)
    asked_kwh = sum(outage.kwh_asked for outage in log.outages) / log.log_years
    assert nothing_done(job).unserved_kwh_per_year == pytest.approx(asked_kwh, rel=1e-9)


def test_the_simulation_finds_the_same_of_scheduled_cuts():
    job = load("clinic")
    job = replace(job, site=replace(job.site, load_growth=0.0))
    # months count alike in the sum, by their days in the simulated years
    years = simulate_years(job, make_design(), years=400)
    assert years.kwh_asked == pytest.approx(nothing_done(job).unserved_kwh_per_year, rel=0.01)
