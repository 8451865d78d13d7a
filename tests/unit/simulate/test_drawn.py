import numpy as np
import pytest

from optimizer.errors import InputError
from optimizer.model.job import Outages
from optimizer.simulate import Exponential, Known, Lognormal, Weibull, draw_years
from optimizer.simulate.arrivals import poisson, scheduled, season_of_day

from .sites import HALVES, make_bank, make_design, make_job, make_load
from .test_outages import logged

FAST = {"charger_a": 1000.0}


def within(estimate, value):
    """Four standard errors: a right value misses once in sixteen thousand."""
    half = (estimate.high - estimate.low) / 2
    return abs(estimate.value - value) <= 4 / 1.96 * half


@pytest.mark.parametrize(
    ("law", "kwh_an_outage"),
    [
        # 0.5 kW on 2 kWh; expected values by integrating the survival function, as computed
        # with scipy (recomputed from a public formula).
        (Exponential(2.0), 0.135335),
        (Lognormal(1.5, 1.0), 0.301050),
        (Weibull(0.7, 2.0), 0.419445),
    ],
)
def test_energy_not_served_is_the_integral_of_the_tail(law, kwh_an_outage):
    job = make_job(make_load(watts=500.0), outages=Outages("typed", ((2.0, 1.4),)))
    bank = make_bank(capacity_ah=2000 / 12, charge_rate_max=1000.0)
    result = draw_years(job, make_design(bank, charger_a=1e6), 40_000, durations=law)
    assert within(result.kwh_unserved, 1.4 * kwh_an_outage)
    assert within(result.share_carried, 1 - law.longer_than(4.0))
    assert result.outages_a_year == pytest.approx(1.4, abs=0.03)
    assert result.kwh_unserved.value == pytest.approx(0.5 * result.hours_unserved.value)


def test_without_a_bank_worth_the_name_nothing_is_served():
    # 1.4 outages a year of mean 2 h at 0.5 kW: 1.4 kWh, arithmetic.
    job = make_job(make_load(watts=500.0), outages=Outages("typed", ((2.0, 1.4),)))
    result = draw_years(
        job, make_design(make_bank(capacity_ah=1e-6)), 20_000, durations=Exponential(2.0)
    )
    assert within(result.kwh_unserved, 1.4)
    assert result.kwh_asked == pytest.approx(result.kwh_unserved.value)
    assert result.share_carried.value == 0
    assert result.longest_carried_hours == 0


@pytest.mark.parametrize(
    ("law", "four_hours", "eight_hours"),
    [
        (Exponential(2.0), 0.135335, 0.018316),
        (Lognormal(1.5, 1.0), 0.163338, 0.047068),
        (Weibull(0.7, 2.0), 0.197009, 0.071432),
    ],
)
def test_durations_have_their_tails(law, four_hours, eight_hours):
    # Values published with scipy's survival functions.
    assert law.longer_than(4.0) == pytest.approx(four_hours, abs=5e-7)
    assert law.longer_than(8.0) == pytest.approx(eight_hours, abs=5e-7)
    drawn = law.draw(np.random.default_rng(3), 200_000)
    assert (drawn > 4).mean() == pytest.approx(four_hours, abs=0.004)
    assert (drawn > 8).mean() == pytest.approx(eight_hours, abs=0.003)


def test_known_durations_come_as_often_as_they_do():
    law = Known(((1.0, 3.0), (10.0, 1.0)))
    drawn = law.draw(np.random.default_rng(1), 40_000)
    assert set(drawn) == {1.0, 10.0}
    assert (drawn == 10.0).mean() == pytest.approx(0.25, abs=0.01)


def test_the_same_seed_gives_the_same_years():
    job, design = make_job(outages=logged(("2023-01-05T10:30", 15.0))), make_design()
    one, two = draw_years(job, design, 500, seed=7), draw_years(job, design, 500, seed=7)
    assert one == two
    assert one != draw_years(job, design, 500, seed=8)


def test_a_logged_storm_stays_in_its_season():
    # Only winter is too much for the bank, and all logged outages are in winter.
    load = make_load(season_multipliers={"winter": 2.0, "summer": 0.5})
    outages = logged(("2023-01-05T10:30", 8.0), ("2024-12-05T10:30", 8.0), years=1.0)
    result = draw_years(make_job(load, outages=outages, seasons=HALVES), make_design(), 400)
    assert result.share_carried.value == 0
    typed = Outages("typed", ((8.0, 2.0),))
    spread = draw_years(make_job(load, outages=typed, seasons=HALVES), make_design(), 4000)
    assert within(spread.share_carried, 183 / 365)


def test_the_next_outage_within_the_refill():
    # A share 1 − e^(−λτ/8760) of the gaps is shorter than τ: λ 365, τ 6 h → 0.221199 (arithmetic).
    # Each outage takes the whole bank, six hours fill it again, and only a full one carries. The
    # outages last six minutes, so that they hardly take from the gaps.
    load = make_load(watts=12_000.0)
    outages = Outages("typed", ((0.1, 365.0),))
    bank = make_bank(discharge_rate_max=20.0, charge_rate_max=20.0)
    result = draw_years(
        make_job(load, outages=outages), make_design(bank, charger_a=100 / 6), years=600
    )
    assert 1 - result.share_carried.value == pytest.approx(0.2212, abs=0.01)


def test_an_outage_within_another_follows_it():
    job = make_job(outages=Outages("typed", ((100.0, 60.0),)))
    result = draw_years(job, make_design(**FAST), 200)
    assert result.kwh_asked == pytest.approx(result.outages_a_year * 10.0)


def test_scheduled_cuts_come_by_the_clock():
    job = make_job(
        outages=Outages(
            "daily",
            ((8.0, 100.5), (2.0, 100.5)),
            daily=((20.0, 28.0), (6.0, 8.0)),
            days_per_year=100.5,
        )
    )
    drawn = scheduled(job, np.random.default_rng(5), 300)
    assert set(drawn.counts) == {200, 202}
    assert drawn.counts.mean() == pytest.approx(201, abs=0.3)
    first = drawn.start_hours[0, : drawn.counts[0]]
    assert set(first % 24) == {6.0, 20.0}
    assert (np.diff(first) > 0).all()
    result = draw_years(job, make_design(**FAST), 300)
    assert result.outages_a_year == pytest.approx(201, abs=0.3)
    assert result.share_carried.value == 1
    assert result.share_of_years_whole == 1
    assert (result.kwh_unserved.low, result.kwh_unserved.high) == (0, 0)
    assert (result.longest_carried_hours, result.longest_hours) == (8, 8)


def test_a_day_that_does_not_close_empties_the_bank():
    outages = Outages("daily", ((12.0, 366.0),), daily=((6.0, 18.0),), days_per_year=366)
    job = make_job(make_load(watts=90.0), outages=outages)
    result = draw_years(job, make_design(charger_a=6.0), 20)
    # 90 Ah out, 72 Ah back: after the first day the bank gives what the charger gave.
    assert result.share_carried.value == pytest.approx(1 / 365)
    assert result.kwh_unserved.value == pytest.approx(364 * (1.08 - 0.864) - 0.12, rel=1e-6)


def test_a_quiet_year_has_no_share():
    result = draw_years(make_job(), make_design(), 50, times_a_year=0.0)
    assert result.share_carried is None
    assert result.outages_a_year == 0
    assert result.share_of_years_whole == 1
    assert result.kwh_unserved.value == 0


def test_arrivals_are_in_order_and_as_many_as_drawn():
    drawn = poisson(make_job(), np.random.default_rng(2), 4000, 3.0, Exponential(1.0))
    held = np.isfinite(drawn.start_hours)
    assert (held.sum(axis=1) == drawn.counts).all()
    assert drawn.counts.mean() == pytest.approx(3.0, abs=0.11)
    starts = drawn.start_hours[held]
    assert starts.min() >= 0
    assert starts.max() < 8760
    assert starts.mean() == pytest.approx(4380, abs=110)
    assert all(
        (np.diff(row[ok]) >= 0).all() for row, ok in zip(drawn.start_hours, held, strict=True)
    )


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
        lambda: Known(()),
        lambda: draw_years(make_job(), make_design(), years=1),
        lambda: draw_years(make_job(), make_design(), times_a_year=-1.0),
    ],
)
def test_parameters_out_of_range_are_named(make):
    with pytest.raises(InputError, match="wanted"):
        make()
