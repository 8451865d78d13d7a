"""A site in numbers, each by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest

from optimizer import survey
from optimizer.model.job import Season
from optimizer.model.outages import LoggedOutage, Outages
from optimizer.model.warning import JobWarning, WarningKind
from tests.unit.builders import make_battery, make_inverter, make_job, make_load

TODAY = date(2026, 11, 25)
SEASONS = (Season("winter", (11, 12, 1, 2)), Season("rest", (3, 4, 5, 6, 7, 8, 9, 10)))


def job_with_seasons(**changes):
    return make_job(
        make_load("Router", 50.0),
        make_load(
            "Heating",
            200.0,
            starting_w=500.0,
            power_factor=0.8,
            windows=((18.0, 24.0),),
            season_multipliers={"rest": 0.0},
        ),
        make_load("Sauna", 3000.0, tier="wished", windows=((20.0, 21.0),)),
        seasons=SEASONS,
        **changes,
    )


def test_energy_by_tier_and_season_also_of_tiers_that_do_not_count():
    found = survey(job_with_seasons(), TODAY)
    assert {(one.tier, one.season): one.kwh_day for one in found.energy} == pytest.approx(
        {
            ("needed", "winter"): 24 * 0.05 + 6 * 0.2,
            ("needed", "rest"): 24 * 0.05,
            ("wished", "winter"): 3.0,
            ("wished", "rest"): 3.0,
        }
    )
    assert found.tiers_counted == ("needed",)
    assert found.seasons == ("winter", "rest")


def test_powers():
    found = survey(job_with_seasons(), TODAY)
    assert found.peak_w == 250
    assert found.peak_va == pytest.approx(50 + 200 / 0.8)
    assert found.surge_w == 250 + 300
    assert found.mean_w == pytest.approx(50 + 200 * 6 / 24 * 4 / 12)


def test_worst_windows():
    found = survey(job_with_seasons(), TODAY)
    assert found.worst_window_kwh == pytest.approx(
        {
            4: 4 * 0.25,
            8: 8 * 0.05 + 6 * 0.2,
            12: 12 * 0.05 + 6 * 0.2,
            24: 24 * 0.05 + 6 * 0.2,
            48: 48 * 0.05 + 12 * 0.2,
        }
    )


def test_what_outages_leave_undone():
    found = survey(job_with_seasons(yearly=((2.0, 30.0), (10.0, 1.5))), TODAY)
    assert found.outages_per_year == pytest.approx(31.5)
    assert found.outage_hours_per_year == pytest.approx(75)
    assert found.unserved_kwh_per_year == pytest.approx(75 * found.mean_w / 1000)
    assert found.value_of_unserved_per_year is None


def test_its_worth_where_that_is_known():
    found = survey(job_with_seasons(yearly=((10.0, 1.0),), value_of_lost_load=8.0), TODAY)
    assert found.value_of_unserved_per_year == pytest.approx(8 * 10 * found.mean_w / 1000)


def test_a_log_counts_by_its_years():
    log = tuple(LoggedOutage(datetime(2025, 1, d, 6), datetime(2025, 1, d, 9)) for d in (1, 2, 3))
    outages = Outages("log", log=log, log_years=2.0)
    found = survey(replace(make_job(), outages=outages), TODAY)
    assert found.outages_per_year == pytest.approx(1.5)
    assert log[0].hours == 3


def test_old_prices_are_older_than_a_year():
    job = make_job(
        batteries=[
            make_battery("Old", price_date=date(2025, 11, 24)),
            make_battery("A year", price_date=date(2025, 11, 25)),
            make_battery("Unknown"),
        ],
        inverters=[make_inverter("Older", price_date=date(2024, 1, 1))],
    )
    found = [(old.table, old.name) for old in survey(job, TODAY).old_prices]
    assert found == [("batteries", "Old"), ("inverters", "Older")]


def test_this_day_where_none_is_given():
    job = make_job(batteries=[make_battery(price_date=date(2000, 1, 1))])
    assert len(survey(job).old_prices) == 1


def test_warnings_pass_through():
    odd = (JobWarning(WarningKind.LONG_OUTAGES, {"hours": 200.0}),)
    assert survey(replace(make_job(), warnings=odd), TODAY).warnings == odd
