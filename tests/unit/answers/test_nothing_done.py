"""What the outages cost where nothing is bought."""

from dataclasses import replace
from functools import cache

import pytest

from optimizer import load, outages, survey
from optimizer.answers.nothing_done import nothing_done
from optimizer.report.grids import outages as outage_grids
from optimizer.report.grids import survey as survey_grids
from optimizer.report.json.serialise import to_data
from optimizer.report.words import page
from optimizer.report.words.writer import Writer
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
    lost = found.unserved_kwh_per_year * 2.0 * 1.504
    assert found.life_cycle_cost == pytest.approx(lost + found.contract_cost)


def test_the_supply_is_paid_for_where_nothing_is_bought():
    job = load("house").with_site(discount_rate=0.25, horizon_years=2)
    largest = max(peak.power_w for peak in job.site.peaks)
    covering = min(one.cost_year for one in job.site.contracts if one.power_w >= largest)
    # arithmetic: 1 / 1.25 + 1 / 1.25² = 1.44
    assert nothing_done(job).contract_cost == pytest.approx(covering * 1.44)
    assert nothing_done(job.with_site(contracts=(), peaks=())).contract_cost == 0
    small = tuple(one for one in job.site.contracts if one.power_w < largest)
    dearest = max(small, key=lambda one: one.power_w).cost_year
    assert nothing_done(job.with_site(contracts=small)).contract_cost == pytest.approx(
        dearest * 1.44
    )


def test_no_value_no_cost():
    assert nothing_done(load("clinic")).life_cycle_cost is None


@pytest.mark.parametrize("tier_hours", [{}, {"useful": 1, "comfort": 2}])
def test_the_simulation_finds_the_same_energy_unserved(tier_hours):
    job = load("house")
    job = replace(job, site=replace(job.site, tier_hours=tier_hours))
    log = replay_log(job, make_design(), year=0)
    asked_kwh = sum(outage.kwh_asked for outage in log.outages) / log.log_years
    assert nothing_done(job).unserved_kwh_per_year == pytest.approx(asked_kwh, rel=1e-9)


@pytest.mark.slow
def test_the_simulation_finds_the_same_of_scheduled_cuts():
    job = load("clinic")
    job = replace(job, site=replace(job.site, load_growth=0.0))
    # months count alike in the sum, by their days in the simulated years
    years = simulate_years(job, make_design(), years=400)
    assert years.kwh_asked == pytest.approx(nothing_done(job).unserved_kwh_per_year, rel=0.01)


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_one_figure_for_unserved_energy_wherever_it_is_told(site):
    """In the check, the outages, on the page, in words, tables and JSON; and it is the loads' own.

    Summed here apart: minute by minute of each hour's average, by each outage's own clock.
    """
    job = load(site)
    kwh = by_minutes_kwh(job)
    found, run = survey(job), outages(job, make_design(), years=2)
    told = [
        nothing_done(job).unserved_kwh_per_year,
        found.unserved_kwh_per_year,
        to_data(found)["unserved_kwh_per_year"],
        run.nothing_done.unserved_kwh_per_year,
        to_data(run)["nothing_done"]["unserved_kwh_per_year"],
    ]
    assert told == [told[0]] * len(told)
    assert told[0] == pytest.approx(kwh, rel=1e-9)
    write = Writer(job.site.currency)
    tables = [outage_grids.simulated_years(write, run), survey_grids.grid_supply(write, found)]
    for one in tables:
        cells = [cell for row in one.texts(write) for cell in row]
        assert write.number(told[0], 1) in cells or write.number(told[0], 2) in cells
    assert f"{write.number(told[0])} kWh unserved" in page.nothing(write, nothing_done(job))


def by_minutes_kwh(job):
    """What the loads of the first year miss in a year's outages."""
    seasons = {month: season.name for season in job.site.seasons for month in season.months}
    total = 0.0

    @cache
    def watts(place, season, hour):
        """Average watts of an hour of the day: the share of it within the load's windows."""
        load = job.loads[place]
        share = sum(
            max(0.0, min(end, at + 1) - max(begin, at))
            for begin, end in load.windows
            for at in (hour, hour + 24)
        )
        factor = load.season_multipliers.get(season, 1.0)
        return load.count * load.running_w * load.duty * factor * share

    def missed(season, start, minutes):
        return sum(
            watts(place, season, (start + minute) // 60 % 24) / 60 / 1000
            for minute in range(minutes)
            for place, load in enumerate(job.loads)
            if load.tier in job.site.tiers and minute < 60 * job.site.tier_hours.get(load.tier, 1e9)
        )

    for one in job.outages.log:
        start = one.start.hour * 60 + one.start.minute
        kwh = missed(seasons[one.start.month], start, round(60 * one.hours))
        total += kwh / job.outages.log_years
    for begin, end in job.outages.daily:
        for season in job.site.seasons:
            days = job.outages.days_per_year * len(season.months) / 12
            total += days * missed(season.name, round(60 * begin), round(60 * (end - begin)))
    return total
