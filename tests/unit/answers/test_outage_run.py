"""A design through the outages as they come."""

from __future__ import annotations

import pytest

from optimizer import Existing, load, outages
from optimizer.answers.nothing_done import nothing_done
from optimizer.answers.outage_run import durations_of
from optimizer.errors import InputError
from optimizer.simulate import Exponential, Lognormal, Weibull
from tests.unit.builders import make_battery, make_design, make_inverter, make_job


def test_durations_by_name():
    assert durations_of("log") is None
    assert durations_of("exponential:2") == Exponential(2.0)
    assert durations_of("lognormal:1.5,0.9") == Lognormal(1.5, 0.9)
    assert durations_of(" weibull:0.7, 2 ") == Weibull(0.7, 2.0)


@pytest.mark.parametrize(
    "text", ["", "log:2", "normal:2,1", "weibull:2", "exponential:1,2", "exponential:x"]
)
def test_durations_that_are_not_known(text):
    with pytest.raises(InputError, match="weibull:SHAPE,SCALE, in hours") as caught:
        durations_of(text)
    assert caught.value.faults[0].column == "--durations"


@pytest.mark.slow
def test_a_name_alone_is_fitted_to_the_log():
    hours = [0.5, 1.0, 2.0, 8.0]
    assert durations_of("exponential", hours).mean_hours == pytest.approx(2.875)
    fitted = durations_of("lognormal", hours)
    assert fitted.median_hours == pytest.approx(8 ** (1 / 4))  # geometric mean, arithmetic
    run = outages(load("house"), years=50, durations="lognormal")
    assert run.durations.startswith("lognormal:")
    assert run.simulated_years.longest_known_hours is None
    with pytest.raises(InputError, match="MEDIAN,SIGMA"):
        durations_of("lognormal")


@pytest.mark.slow
def test_what_nothing_done_leaves_is_one_figure():
    job = load("house")
    assert outages(job, years=20).nothing_done == nothing_done(job)


def test_parameters_out_of_range():
    with pytest.raises(InputError, match="a number above 0 and at most 10000"):
        durations_of("exponential:-2")


@pytest.mark.slow
def test_log_and_drawn_years():
    job = load("house")
    run = outages(job, years=200)
    assert (len(run.replay.outages), run.balance, run.durations) == (32, None, "log")
    assert run.simulated_years.years == 200
    assert outages(job, run.design, years=200).simulated_years == run.simulated_years
    assert outages(job, run.design, years=200, seed=1).simulated_years != run.simulated_years


def test_scheduled_cuts_and_a_law():
    job = load("clinic")
    run = outages(job, years=20)
    assert (run.replay, run.durations) == (None, "daily")
    assert run.balance.closes
    drawn = outages(job, run.design, years=500, durations="exponential:1", times_a_year=4.0)
    assert drawn.simulated_years.outages_a_year == pytest.approx(4.0, abs=0.3)
    assert drawn.durations == "exponential:1"


def test_rows_typed_in():
    assert outages(make_job(), make_design(), years=10).durations == "typed"


def test_a_bank_that_stands_already_is_run_from_its_age_on():
    job = make_job(yearly=((5.5, 20.0),))
    battery = make_battery(cycle_points=((0.5, 1e6),))
    young, old = (
        outages(job, Existing(make_inverter(), 1, battery, 1, 12, age), years=100)
        for age in (0.0, 8.5)
    )
    assert (old.design.banks[0].start, old.design.banks[0].end) == (-8, 1)
    assert old.simulated_years.kwh_unserved.value > young.simulated_years.kwh_unserved.value


def test_ranges():
    with pytest.raises(InputError, match="at least 2"):
        outages(make_job(), make_design(), years=1)
    with pytest.raises(InputError, match="0 or more"):
        outages(make_job(), make_design(), times_a_year=-1.0)


def test_ranges_that_no_machine_could_run():
    with pytest.raises(InputError) as caught:
        outages(make_job(), make_design(), years=10**9, times_a_year=1e9, seed=-1)
    found = [(fault.column, fault.found) for fault in caught.value.faults]
    assert found == [("--years", "1000000000"), ("--times-a-year", "1e+09"), ("--seed", "-1")]
