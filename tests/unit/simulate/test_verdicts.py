import numpy as np
import pytest

from optimizer.errors import InputError
from optimizer.simulate import Shortfall, ride_through, tier_hours, trace, verdict

from .sites import HALVES, make_bank, make_design, make_job, make_load


def three_tiers():
    return make_job(
        make_load("radio", 40.0),
        make_load("freezer", 60.0, tier="useful"),
        make_load("heater", 100.0, tier="comfort"),
        tiers=("essential", "useful"),
        seasons=HALVES,
    )


def test_what_each_tier_costs():
    job, design = three_tiers(), make_design()
    shortest = ride_through(job, design).shortest
    rows = {row.tier: row for row in tier_hours(job, design, shortest)}
    assert list(rows) == ["essential", "useful", "comfort"]
    assert (rows["useful"].hours_with, rows["useful"].hours_without) == pytest.approx((12, 30))
    assert rows["useful"].cost_hours == pytest.approx(18)
    assert rows["essential"].hours_without == pytest.approx(20)
    comfort = rows["comfort"]
    assert not comfort.counted
    assert (comfort.hours_with, comfort.hours_without) == pytest.approx((6, 12))


def test_a_claim_met_exactly_holds_and_one_above_falls_short():
    good = verdict(make_job(), make_design(hours=12))
    assert good.shortfalls == ()
    assert good.holds
    assert good.hours == pytest.approx(12)
    bad = verdict(make_job(), make_design(hours=13))
    assert bad.shortfalls == (Shortfall.HOURS,)
    assert not bad.holds


def test_the_verdict_names_the_hardest_place():
    evening = make_load("lamp", 300.0, windows=((18.0, 22.0),), season_multipliers={"summer": 0.2})
    job = make_job(make_load("radio", 20.0), evening, seasons=HALVES, load_growth=0.02)
    design = make_design(make_bank(capacity_ah=50.0, life=20.0), hours=2)
    told = verdict(job, design)
    assert (told.year, told.season, told.start_hour) == (9, "winter", 18)
    ride = ride_through(job, design)
    assert told.first_year_hours == pytest.approx(ride.hours[0].min())
    assert told.first_year_hours > told.hours
    assert told.mean_hours == pytest.approx(ride.mean)
    assert told.longest_hours == pytest.approx(ride.longest)


def test_the_verdict_tells_the_current_beside_the_limit():
    design = make_design(make_bank(strings=2, discharge_rate_max=0.1), efficiency=0.8)
    told = verdict(make_job(make_load(watts=480.0)), design)
    assert told.largest_current_a == pytest.approx(50.0)
    assert told.current_limit_a == pytest.approx(20.0)


def test_a_trace_ends_where_the_ride_through_ends():
    job, design = three_tiers(), make_design(make_bank(max_dod=0.6), efficiency=0.9, no_load_w=5.0)
    line = trace(job, design, 2, "summer", 22)
    ride = ride_through(job, design)
    assert line.hours[-1] == pytest.approx(ride.hours[2, 1, 22])
    assert line.state_of_charge[0] == 1.0
    assert line.state_of_charge[-1] == pytest.approx(line.lowest_state_of_charge)
    assert line.lowest_state_of_charge == pytest.approx(0.4)
    assert (np.diff(line.state_of_charge) < 0).all()
    assert list(line.loads_w) == ["essential", "useful"]
    assert line.loads_w["useful"].shape == (line.hours.size - 1,)
    assert not line.capped


def test_a_trace_follows_the_clock_past_midnight():
    job = make_job(make_load("night", 60.0, windows=((0.0, 2.0),)), make_load("day", 10.0))
    line = trace(job, make_design(), 0, "year", 23)
    assert line.loads_w["essential"][:4] == pytest.approx([10.0, 70.0, 70.0, 10.0])
    assert line.state_of_charge[:4] == pytest.approx(1 - np.array([0, 10, 80, 150]) / 1200)


def test_a_trace_without_end_stops_at_the_horizon():
    job = make_job(make_load(watts=1.0))
    line = trace(job, make_design(), 0, "year", 0)
    assert line.capped
    assert line.hours[-1] == 240.0
    assert line.state_of_charge[-1] == pytest.approx(1 - 240 / 1200)


def test_a_trace_names_all_that_is_wrong_with_the_question():
    with pytest.raises(InputError) as caught:
        trace(make_job(), make_design(), 10, "spring", 24)
    assert [fault.column for fault in caught.value.faults] == ["year", "season", "start_hour"]
    assert "0 to 9" in str(caught.value)
