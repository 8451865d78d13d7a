"""Days of scheduled cuts for drawing: the same bank as the daily balance follows."""

from dataclasses import replace

import numpy as np
import pytest

from optimizer import InputError, choose, load
from optimizer.simulate import cut_days, daily_balance, trace


@pytest.fixture(scope="module")
def clinic():
    job = load("clinic")
    return job, choose(job).design


def test_days_go_as_deep_as_the_balance_says(clinic):
    found, balance = cut_days(*clinic), daily_balance(*clinic)
    assert found.carried == balance.cuts_carried
    assert (found.year, found.season) == (balance.year, balance.season)
    assert 1 - found.state_of_charge.min() <= balance.deepest + 1e-12
    assert found.state_of_charge.min() >= found.lowest_state_of_charge
    assert found.hours[-1] == 72
    assert len(found.cuts) == 3 * len(clinic[0].outages.daily)


def test_charge_falls_in_cuts_and_comes_back_between_them(clinic):
    found = cut_days(*clinic)
    rises = np.diff(found.state_of_charge)
    middles = (found.hours[1:] + found.hours[:-1]) / 2
    in_cut = np.zeros(middles.size, dtype=bool)
    for start, end in found.cuts:
        in_cut |= (middles > start) & (middles < end)
    assert (rises[in_cut] <= 0).all()
    assert (rises[~in_cut] >= 0).all()
    assert found.state_of_charge[np.searchsorted(found.hours, found.cuts[1][0])] == 1.0


def test_charger_too_weak_shows_on_the_second_day(clinic):
    job, design = clinic
    weak = replace(design, inverter=replace(design.inverter, charger_a=1.0))
    found = cut_days(job, weak)
    assert not found.carried
    assert found.state_of_charge[-1] < 1


@pytest.mark.slow
def test_site_without_scheduled_cuts_is_refused():
    job = load("house")
    with pytest.raises(InputError):
        cut_days(job, choose(job).design)


@pytest.mark.slow
def test_fuel_burnt_is_the_generators_by_the_hour_and_ends_with_what_is_stored():
    job = load("house")
    design = choose(job).design
    worst = design.verdict
    run = trace(job, replace(design, hours=72), worst.year, worst.season, worst.start_hour)
    burnt = np.diff(run.fuel_l)
    assert (burnt[~run.on_generator] <= 1e-6).all()
    assert (burnt[run.on_generator] > 0).all()
    assert run.fuel_l[-1] == pytest.approx(design.fuel_l)
    assert run.state_of_charge[-1] == pytest.approx(run.lowest_state_of_charge)
