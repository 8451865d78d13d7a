"""What wears a bank: outages by their own clock, cuts, nights beside a generator, peaks."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from optimizer.engine.demand import demand_of
from optimizer.engine.events import scheduled_cuts, unserved_wh_per_year
from optimizer.engine.variants import covering_step, variants
from optimizer.model.job import Contract, GeneratorRules, Peak, Season
from optimizer.model.outages import LoggedOutage, Outages
from tests.unit.builders import make_generator, make_job, make_load

from .columns import variant

EVENING = make_load(windows=((18.0, 22.0),))
TWO = (Season("winter", (1, 2, 3)), Season("summer", (4, 5, 6, 7, 8, 9, 10, 11, 12)))
RULES = GeneratorRules(fuel_price=2.0, max_stored_l=50.0, quiet=(21.0, 31.0), start_after_h=2)


def with_demand(job):
    return job, demand_of(job)


def rows(events):
    columns = (events.hours, events.energy_wh, events.times_a_year)
    return [tuple(row) for row in zip(*(column.tolist() for column in columns), strict=True)]


def events_of(job, **beside):
    return rows(variant(job, **beside).events)


def cut(job, *daily, days=365.0):
    outages = Outages("daily", daily=daily, days_per_year=days)
    return replace(job, outages=outages)


def logged(job, *pairs, years=2.0):
    log = tuple(LoggedOutage(datetime(*start), datetime(*end)) for start, end in pairs)
    return replace(job, outages=Outages("log", log=log, log_years=years))


def test_an_evening_cut_takes_the_evenings_load():
    """18:30–21:30 of 100 W from 18 to 22: three hours; the day's mean would be a sixth."""
    assert events_of(cut(make_job(EVENING), (18.5, 21.5))) == [(3.0, 300.0, 365.0)]


def test_each_season_by_its_share_of_the_months():
    load = make_load(season_multipliers={"winter": 2.0})
    found = events_of(cut(make_job(load, seasons=TWO), (6.0, 8.0), days=200.0))
    assert found == [(2.0, 400.0, 50.0), (2.0, 200.0, 150.0)]


def test_logged_outages_by_the_clock_to_the_minute_in_the_season_they_began_in():
    load = make_load(windows=((0.0, 1.0),), season_multipliers={"summer": 0.5})
    job = logged(
        make_job(load, seasons=TWO),
        ((2024, 3, 31, 23, 45), (2024, 4, 1, 0, 30)),
        ((2024, 7, 1, 0, 15), (2024, 7, 1, 1, 15)),
    )
    assert events_of(job) == [(0.75, 50.0, 0.5), (1.0, pytest.approx(37.5), 0.5)]


def test_tiers_are_let_go_after_their_hours():
    useful = make_load("Television", tier="useful", running_w=50.0)
    tiers = {"tiers": ("needed", "useful"), "tier_hours": {"useful": 1}}
    job = make_job(make_load(), useful, yearly=((3.0, 2.0),), **tiers)
    assert events_of(job) == [(3.0, 350.0, 2.0)]
    assert events_of(cut(job, (23.5, 26.5))) == [(3.0, 350.0, 365.0)]


def test_what_is_unserved_is_the_same_figure_for_every_form():
    job = cut(make_job(EVENING), (18.5, 21.5))
    assert unserved_wh_per_year(job, demand_of(job)) == pytest.approx(365 * 300)


def test_a_long_outage_beside_a_generator_is_one_night_after_another():
    """Nights of 2 + 10 h at the day's mean; 26 h are refilled once, 27 h twice."""
    ash = make_generator()
    job = make_job(generator=RULES, yearly=((12.0, 5.0), (26.0, 1.0), (27.0, 1.0)))
    assert events_of(job, generator=ash) == [(12.0, 1200.0, 5.0 + 1.0 + 2.0)]
    assert events_of(job) == [(12.0, 1200.0, 5.0), (26.0, 2600.0, 1.0), (27.0, 2700.0, 1.0)]


def test_peaks_beyond_the_contract():
    steps = (
        Contract(power_w=1000.0, cost_year=10.0),
        Contract(power_w=1300.0, cost_year=20.0),
        Contract(power_w=2000.0, cost_year=40.0),
    )
    peaks = (
        Peak(power_w=1300.0, minutes=30.0, times_a_month=10.0),
        Peak(power_w=900.0, minutes=10.0, times_a_month=5.0),
    )
    job = make_job(contracts=steps, peaks=peaks, yearly=())
    assert events_of(job, contract=steps[0]) == [(0.5, 150.0, 120.0)]
    assert events_of(job, contract=steps[1]) == []


def test_cuts_of_a_day_and_the_time_between_them():
    cuts = scheduled_cuts(*with_demand(cut(make_job(), (18.0, 20.0), (22.0, 25.0))))
    assert [(one.hours, one.gap_h) for one in cuts] == [(2.0, 2.0), (3.0, 17.0)]
    (alone,) = scheduled_cuts(*with_demand(cut(make_job(), (6.0, 18.0))))
    assert (alone.hours, alone.gap_h) == (12.0, 12.0)
    assert scheduled_cuts(*with_demand(make_job())) == ()


def test_a_step_dearer_than_one_that_covers_every_peak_is_no_variant():
    steps = (
        Contract(power_w=1000.0, cost_year=10.0),
        Contract(power_w=1300.0, cost_year=20.0),
        Contract(power_w=2000.0, cost_year=40.0),
    )
    job = make_job(contracts=steps, peaks=(Peak(power_w=1300.0, minutes=30.0, times_a_month=10.0),))
    assert covering_step(job) == steps[1]
    assert [one.contract for one in variants(job, demand_of(job))] == [*steps[:2]]


def test_generators_that_do_not_carry_the_loads_are_no_variant():
    weak = make_generator("Weak", power_w=90.0)
    strong = replace(weak, generator="Strong", power_w=100.0)
    job = make_job(generator=RULES, generators=[weak, strong])
    assert [one.generator for one in variants(job, demand_of(job))] == [None, strong]
    # without the site's rules none may stand
    assert len(variants(replace_rules(job, None), demand_of(job))) == 1


def replace_rules(job, rules):
    return replace(job, site=replace(job.site, generator=rules))
