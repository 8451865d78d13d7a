"""Jobs with larger loads, and with outages that come more often or last longer."""

from __future__ import annotations

import pytest

from optimizer.answers.choice import choose
from optimizer.inputs.load import load
from optimizer.model.scaled import oftener, with_loads, with_longer_outages
from optimizer.simulate import simulate_years

HOUSE, CLINIC = load("house"), load("clinic")


def test_loads_grow_in_running_and_start():
    larger = with_loads(HOUSE, 1.5)
    for one, was in zip(larger.loads, HOUSE.loads, strict=True):
        assert (one.running_w, one.starting_w) == (1.5 * was.running_w, 1.5 * was.starting_w)


def test_logged_outages_begin_as_before_and_last_longer():
    longer = with_longer_outages(HOUSE, 2.0)
    for one, was in zip(longer.outages.log, HOUSE.outages.log, strict=True):
        assert (one.start, one.hours) == (was.start, pytest.approx(2 * was.hours))
    assert longer.outages.yearly == tuple((2 * h, n) for h, n in HOUSE.outages.yearly)


def test_scheduled_cuts_end_before_the_next_and_fill_no_more_than_a_year():
    longer = with_longer_outages(CLINIC, 4.0).outages
    assert longer.daily == ((6.5, 16.5), (16.5, 30.5))
    assert [hours for hours, _ in longer.yearly] == [10.0, 14.0]
    assert oftener(CLINIC, 2.0).outages.days_per_year == pytest.approx(365)


@pytest.mark.slow
def test_longer_outages_leave_more_unserved():
    design = choose(HOUSE, hours=4).design
    missed = [
        simulate_years(job, design, years=50, intervals=False).kwh_unserved.value
        for job in (HOUSE, with_longer_outages(HOUSE, 1.5), oftener(HOUSE, 2.0))
    ]
    assert missed[0] < min(missed[1:])
