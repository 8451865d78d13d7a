from dataclasses import replace

import numpy as np
import pytest

from optimizer.errors import InputError
from optimizer.model.job import Contract, Peak
from optimizer.model.outages import Outages
from optimizer.simulate import Exponential, Lognormal, Weibull, simulate_years
from optimizer.simulate.arrivals import at_random, scheduled, season_of_day

from .sites import HALVES, make_bank, make_design, make_job, make_load
from .test_replay import logged

FAST = {"charger_a": 1000.0}


def within(estimate, value):
    """Four standard errors: a right value misses once in sixteen thousand."""
    return abs(estimate.value - value) <= 4 / 1.96 * estimate.monte_carlo


def test_without_a_bank_worth_the_name_nothing_is_served():
    # 1.4 outages a year of mean 2 h at 0.5 kW: 1.4 kWh, arithmetic.
    job = make_job(make_load(watts=500.0), outages=Outages("typed", ((2.0, 1.4),)))
    result = simulate_years(
        job, make_design(make_bank(capacity_ah=1e-6)), years=20_000, durations=Exponential(2.0)
    )
    assert within(result.kwh_unserved, 1.4)
    assert result.kwh_asked == pytest.approx(result.kwh_unserved.value)
    assert result.share_carried.value == 0
    assert result.longest_carried_hours == 0


def test_rows_come_as_often_as_they_do():
    job = make_job(outages=Outages("typed", ((1.0, 3.0), (10.0, 1.0))))
    drawn = at_random(job, np.random.default_rng(1), 10_000, 4.0, None)
    hours = drawn.hours[np.isfinite(drawn.start_h)]
    assert set(hours) == {1.0, 10.0}
    assert (hours == 10.0).mean() == pytest.approx(0.25, abs=0.01)


def test_a_logged_outage_comes_back_in_its_month_at_its_time_of_day():
    job = make_job(outages=logged(("2023-01-05T10:30", 2.0), ("2023-08-05T23:15", 7.0)))
    drawn = at_random(job, np.random.default_rng(1), 300, 5.0, None)
    held = np.isfinite(drawn.start_h)
    long = drawn.hours[held] == 7.0
    clock, day = drawn.start_h[held] % 24, drawn.start_h[held] // 24
    assert clock[long] == pytest.approx(23.25)
    assert clock[~long] == pytest.approx(10.5)
    assert set(day[~long]) <= set(range(31))
    assert set(day[long]) <= set(range(212, 243))
    assert ((drawn.logged[held] == 1) == long).all()


def test_the_same_seed_gives_the_same_years():
    job, design = make_job(outages=logged(("2023-01-05T10:30", 15.0))), make_design()
    one, two = (
        simulate_years(job, design, years=500, seed=7),
        simulate_years(job, design, years=500, seed=7),
    )
    assert one == two
    assert one != simulate_years(job, design, years=500, seed=8)


def test_a_logged_storm_stays_in_its_season():
    # Only winter is too much for the bank, and all logged outages are in winter.
    load = make_load(season_multipliers={"winter": 2.0, "summer": 0.5})
    outages = logged(("2023-01-05T10:30", 8.0), ("2024-12-05T10:30", 8.0), years=1.0)
    result = simulate_years(
        make_job(load, outages=outages, seasons=HALVES), make_design(), years=400
    )
    assert result.share_carried.value == 0
    typed = Outages("typed", ((8.0, 2.0),))
    spread = simulate_years(
        make_job(load, outages=typed, seasons=HALVES), make_design(), years=4000
    )
    assert within(spread.share_carried, 183 / 365)


def test_an_outage_within_another_follows_it():
    job = make_job(outages=Outages("typed", ((100.0, 60.0),)))
    result = simulate_years(job, make_design(**FAST), years=200)
    assert result.kwh_asked == pytest.approx(result.outages_a_year * 10.0)


def test_a_year_has_no_more_hours_of_outage_than_hours():
    job = make_job(outages=Outages("typed", ((500.0, 40.0),)))
    result = simulate_years(job, make_design(make_bank(capacity_ah=1e-6)), years=50)
    assert result.hours_unserved.value == pytest.approx(8760.0)
    assert result.kwh_asked == pytest.approx(876.0)


def test_scheduled_cuts_come_by_the_clock():
    job = make_job(
        outages=Outages(
            "daily",
            daily=((20.0, 28.0), (6.0, 8.0)),
            days_per_year=100.5,
        )
    )
    drawn = scheduled(job, np.random.default_rng(5), 300)
    assert set(drawn.counts) == {200, 202}
    assert drawn.counts.mean() == pytest.approx(201, abs=0.3)
    first = drawn.start_h[0, : drawn.counts[0]]
    assert set(first % 24) == {6.0, 20.0}
    assert (np.diff(first) > 0).all()
    result = simulate_years(job, make_design(**FAST), years=300)
    assert result.outages_a_year == pytest.approx(201, abs=0.3)
    assert result.share_carried.value == 1
    assert result.share_of_years_whole == 1
    assert (result.kwh_unserved.value, result.kwh_unserved.monte_carlo) == (0, 0)
    assert result.longest_known_hours == 8
    assert (result.longest_carried_hours, result.longest_hours) == (8, 8)


def test_a_day_that_does_not_close_empties_the_bank():
    outages = Outages("daily", daily=((6.0, 18.0),), days_per_year=366)
    job = make_job(make_load(watts=90.0), outages=outages)
    result = simulate_years(job, make_design(charger_a=6.0), years=20)
    # 90 Ah out, 72 Ah back: after the first day the bank gives what the charger gave.
    assert result.share_carried.value == pytest.approx(1 / 365)
    assert result.kwh_unserved.value == pytest.approx(364 * (1.08 - 0.864) - 0.12, rel=1e-6)


def test_a_quiet_year_has_no_share():
    result = simulate_years(make_job(), make_design(), years=50, times_a_year=0.0)
    assert result.share_carried is None
    assert result.outages_a_year == 0
    assert result.share_of_years_whole == 1
    assert result.kwh_unserved.value == 0


@pytest.mark.slow
def test_what_the_log_can_know_is_apart_from_what_the_simulation_knows():
    # thirty carried, two missed, whatever the year or the day
    rows = [(f"2023-01-{day:02d}T00:00", 2.0) for day in range(1, 31)]
    rows += [("2023-02-03T00:00", 20.0), ("2023-02-13T00:00", 20.0)]
    job = make_job(outages=logged(*rows, years=3.0))
    design = make_design(charger_a=1000.0)
    few, many = (simulate_years(job, design, years=count) for count in (300, 30_000))
    # Clopper and Pearson for 30 of 32, as tables print it: 79.2 to 99.2 %
    assert few.share_carried.from_log.low == pytest.approx(0.792, abs=0.01)
    assert few.share_carried.from_log.high == pytest.approx(0.992, abs=0.005)
    assert many.share_carried.monte_carlo < 0.2 * few.share_carried.monte_carlo
    assert many.share_carried.from_log.low == pytest.approx(0.792, abs=0.001)
    # 0.8 kWh missed twice in three years; that it was never or five times is not excluded
    assert many.kwh_unserved.value == pytest.approx(0.8 * 2 / 3, rel=0.05)
    assert many.kwh_unserved.from_log.low == 0
    assert many.kwh_unserved.from_log.high == pytest.approx(0.8 * 5 / 3, rel=0.1)
    assert many.longest_known_hours == 20.0
    assert (
        simulate_years(job, design, years=9, durations=Exponential(2.0)).longest_known_hours is None
    )


def test_nothing_missed_is_not_certainty():
    job = make_job(outages=logged(*[(f"2023-01-{d:02d}T00:00", 2.0) for d in range(1, 31)]))
    result = simulate_years(job, make_design(**FAST), years=500)
    assert result.share_carried.value == 1
    assert (result.share_carried.from_log.low, result.share_carried.from_log.high) == (0.9, 1.0)
    assert 0 < result.share_carried.monte_carlo < 0.001
    assert result.kwh_unserved.from_log is None


def test_arrivals_are_in_order_and_as_many_as_drawn():
    drawn = at_random(make_job(), np.random.default_rng(2), 4000, 3.0, Exponential(1.0))
    held = np.isfinite(drawn.start_h)
    assert (held.sum(axis=1) == drawn.counts).all()
    assert drawn.counts.mean() == pytest.approx(3.0, abs=0.11)
    starts = drawn.start_h[held]
    assert starts.min() >= 0
    assert starts.max() < 8760
    assert starts.mean() == pytest.approx(4380, abs=110)
    assert all((np.diff(row[ok]) >= 0).all() for row, ok in zip(drawn.start_h, held, strict=True))


def test_days_have_the_season_of_their_month():
    days = season_of_day(make_job(seasons=HALVES))
    assert days.size == 365
    assert list(np.flatnonzero(np.diff(days))) == [89, 272]  # after 31 March and 30 September


@pytest.mark.parametrize(
    "make",
    [
        lambda: Exponential(0.0),
        lambda: Lognormal(-1.0, 1.0),
        lambda: Lognormal(1.0, float("nan")),
        lambda: Weibull(float("inf"), 1.0),
        lambda: simulate_years(make_job(), make_design(), years=1),
        lambda: simulate_years(make_job(), make_design(), times_a_year=-1.0),
    ],
)
def test_parameters_out_of_range_are_named(make):
    with pytest.raises(InputError, match="wanted"):
        make()


def test_a_peak_just_before_an_outage_is_met_as_often_as_chance_has_it():
    """Outages take the whole bank of 100 Ah; a peak of 1.2 kW for ten minutes takes 16.7 Ah.

    20 A make that good in 0.833 h, so an outage fails where the last of 1,200 peaks a year is
    younger: 1 − exp(−1200 · 0.833 / 8760) of them.
    """
    job = make_job(make_load(100.0), outages=Outages("typed", ((11.9999, 2.0),)))
    peaks = (Peak(power_w=5200.0, minutes=10.0, times_a_month=100.0),)
    site = replace(job.site, contracts=(Contract(power_w=4000.0, cost_year=1.0),), peaks=peaks)
    design = replace(make_design(charger_a=20.0), contract=site.contracts[0])
    found = simulate_years(replace(job, site=site), design, years=4000)
    expected = 1 - np.exp(-1200 * (1200 / 6 / 12 / 20) / 8760)
    assert 1 - found.share_carried.value == pytest.approx(expected, abs=0.01)
    # a contract that covers the peak leaves only what outages close upon each other fail
    covered = replace(design, contract=Contract(power_w=5200.0, cost_year=2.0))
    alone = simulate_years(job, make_design(charger_a=20.0), years=200)
    assert simulate_years(replace(job, site=site), covered, years=200) == alone
