"""The second opinion put together."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from optimizer import choose, independent_simulation, load
from optimizer.answers.independent_simulation import usual_years
from optimizer.model.outages import LoggedOutage, Outages
from optimizer.report.grids import simulation as grids
from optimizer.report.words.writer import Writer
from tests.unit.builders import make_design, make_job, make_load, make_period

pytestmark = pytest.mark.slow


def test_every_part_for_a_site_with_a_log():
    job = load("house").with_site(generator=None)
    design = choose(job).design
    found = independent_simulation(job, design, years=50)
    assert found.verdict.holds
    assert [age.stage for age in found.ages] == ["new", "mid_life", "last_year"]
    hours = [age.shortest_hours for age in found.ages]
    assert hours == sorted(hours, reverse=True)
    assert hours[-1] == found.verdict.hours
    assert found.ages[-1].season == found.verdict.season
    assert {one.tier for one in found.tiers} == {"essential", "useful", "comfort"}
    assert found.stressed[1].hours < found.stressed[0].hours < found.verdict.hours
    assert found.burst_hours <= found.verdict.hours
    assert len(found.replay.outages) == len(job.outages.log)
    assert (found.simulated_years.years, found.balance) == (50, None)


def test_beside_a_generator_ages_and_tiers_are_those_of_the_bank_alone():
    job = load("house")
    design = choose(job, hours=18).design
    found = independent_simulation(job, design, years=20)
    alone = independent_simulation(job, replace(design, generator=None, fuel_l=0.0), years=20)
    assert (found.ages, found.tiers) == (alone.ages, alone.tiers)
    assert found.ages[-1].shortest_hours < found.verdict.hours == design.hours
    (tiers,) = grids.tiers(Writer("EUR"), found)
    assert "bank alone" in tiers.title


def test_every_part_for_a_site_with_cuts_and_two_banks():
    job = load("clinic")
    design = choose(job).design
    found = independent_simulation(job, design)
    assert found.replay is None
    assert found.balance.closes
    assert [age.stage for age in found.ages] == ["new", "mid_life", "last_year"] * 2


def test_of_banks_that_follow_one_another_the_first_is_told():
    period = replace(make_period(start=0, end=10), service_life_years=2.3, bought=5)
    found = independent_simulation(make_job(), make_design(period), years=10)
    assert [(age.stage, age.year) for age in found.ages] == [
        ("new", 0),
        ("mid_life", 1),
        ("last_year", 2),
    ]


def test_no_run_in_minutes_where_nothing_works_in_bursts():
    job = make_job()
    assert independent_simulation(job, make_design()).burst_hours is None
    bursting = make_job(make_load(duty=0.5))
    assert independent_simulation(bursting, make_design()).burst_hours is not None


def test_a_bank_that_stands_already_is_not_new():
    period = make_period(start=-3, end=5)
    found = independent_simulation(make_job(), make_design(period), years=10)
    assert [(age.stage, age.year) for age in found.ages] == [("mid_life", 2), ("last_year", 4)]


def test_a_log_of_one_outage_works():
    one = LoggedOutage(datetime(2025, 1, 10, 17, 0), datetime(2025, 1, 10, 19, 0))
    logged = Outages("log", log=(one,), log_years=2.0)
    job = replace(make_job(), outages=logged)
    found = independent_simulation(job, make_design())
    assert found.replay.carried == 1
    assert found.simulated_years.longest_hours == 2.0
    assert choose(job).design.hours >= 4


def test_years_drawn_by_the_number_of_outages():
    assert usual_years(make_job(yearly=((2.0, 3.0),))) == 2000
    assert usual_years(make_job(yearly=((2.0, 60.0),))) == 1000
    assert usual_years(make_job(yearly=((2.0, 6000.0),))) == 100


def test_the_same_seed_gives_the_same_figures():
    job = load("house")
    design = choose(job).design
    first, again = (independent_simulation(job, design, years=40, seed=7) for _ in range(2))
    other = independent_simulation(job, design, years=40, seed=8)
    assert first.simulated_years == again.simulated_years != other.simulated_years
