from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from optimizer.errors import InputError
from optimizer.model.job import Contract, Peak
from optimizer.model.outages import LoggedOutage, Outages
from optimizer.simulate import replay_log

from .sites import HALVES, make_bank, make_design, make_job, make_load


def logged(*rows, years=2.0):
    log = tuple(
        LoggedOutage(
            datetime.fromisoformat(start), datetime.fromisoformat(start) + timedelta(hours=h)
        )
        for start, h in rows
    )
    return Outages("log", log=log, log_years=years)


def test_each_outage_is_carried_or_not():
    # 100 W on 1,200 Wh: 12 h.
    job = make_job(outages=logged(("2023-01-05T10:30", 2.5), ("2023-02-05T00:00", 20.0)))
    replay = replay_log(job, make_design())
    first, second = replay.outages
    assert first.carried
    assert first.kwh_asked == pytest.approx(0.25)
    assert first.depth_after == pytest.approx(0.25 / 1.2)
    assert not second.carried
    assert second.depth_before == pytest.approx(0.0)
    assert second.hours_carried == pytest.approx(12.0)
    assert second.kwh_unserved == pytest.approx(0.8)
    assert (replay.carried, replay.longest_carried_hours) == (1, 2.5)
    assert replay.kwh_unserved_a_year == pytest.approx(0.4)
    assert replay.hours_unserved_a_year == pytest.approx(4.0)


def test_back_to_back_outages_start_with_what_came_back():
    # 6 h take 50 Ah; two hours at 10 A over a factor of 1.25 put back 16 Ah: 34 Ah are missing.
    job = make_job(outages=logged(("2023-01-05T08:00", 6.0), ("2023-01-05T16:00", 10.0)))
    design = make_design(make_bank(charge_factor=1.25), charger_a=5.0, units=2)
    _, second = replay_log(job, design).outages
    assert second.depth_before == pytest.approx(0.34)
    assert second.hours_carried == pytest.approx(66 / (100 / 12))
    assert second.kwh_unserved == pytest.approx(1.0 - 0.66 * 1.2)


def test_the_bank_limits_the_charger():
    job = make_job(outages=logged(("2023-01-05T08:00", 6.0), ("2023-01-05T16:00", 1.0)))
    design = make_design(make_bank(charge_rate_max=0.1), charger_a=500.0)
    assert replay_log(job, design).outages[1].depth_before == pytest.approx(0.30)


@pytest.mark.parametrize(("gap_hours", "full"), [(141.0, False), (143.0, True)])
def test_a_small_charger_takes_days(gap_hours, full):
    # 80 Ah at a factor of 1.2 behind 0.675 A: 142 h, arithmetic.
    start = datetime(2023, 1, 5) + timedelta(hours=8 + gap_hours)
    job = make_job(
        make_load(watts=240.0),
        outages=logged(("2023-01-05T00:00", 8.0), (start.isoformat(), 1.0)),
    )
    bank = make_bank(2, capacity_ah=80.0, charge_factor=1.2)
    replay = replay_log(job, make_design(bank, charger_a=0.675, voltage_v=24))
    assert replay.outages[0].depth_after == pytest.approx(1.0)
    assert (replay.outages[1].depth_before == 0) == full


def test_peukert_losses_are_not_charged_back():
    # The share used exceeds the charge drawn; the charger owes only the charge.
    job = make_job(
        make_load(watts=480.0), outages=logged(("2023-01-05T00:00", 1.0), ("2023-01-05T03:00", 1.0))
    )
    design = make_design(make_bank(peukert=1.3), charger_a=20.0)
    first, second = replay_log(job, design).outages
    assert first.depth_after == pytest.approx(0.4 * 8**0.3)
    assert second.depth_before == pytest.approx(0.0)


def test_the_season_is_that_of_the_start():
    load = make_load(season_multipliers={"winter": 2.0})
    outages = logged(("2023-03-31T20:00", 8.0), ("2023-07-01T20:00", 8.0))
    replay = replay_log(make_job(load, outages=outages, seasons=HALVES), make_design())
    assert [o.hours_carried for o in replay.outages] == pytest.approx([6.0, 8.0])


def test_the_hardest_year_is_taken_unless_told():
    job = make_job(outages=logged(("2023-01-05T00:00", 30.0)))
    design = make_design(make_bank(life=10.0))
    assert replay_log(job, design).year == 9
    assert replay_log(job, design).outages[0].hours_carried == pytest.approx(9.6)
    assert replay_log(job, design, year=0).outages[0].hours_carried == pytest.approx(11.76)
    with pytest.raises(InputError, match="a year in which a bank"):
        replay_log(job, design, year=10)


def test_a_single_outage_is_a_log_and_none_is_not():
    job = make_job(outages=logged(("2023-01-05T00:00", 1.0)))
    assert replay_log(job, make_design()).carried == 1
    with pytest.raises(InputError, match="no log"):
        replay_log(make_job(), make_design())


def test_each_outage_follows_the_worst_peak_on_the_supply():
    """1.2 kW beyond the contract for ten minutes: 200 Wh at 12 V are 16.7 of 100 Ah."""
    outages = logged(("2023-01-05T18:00", 2.0), ("2023-02-05T18:00", 11.0))
    job = make_job(make_load(100.0), outages=outages)
    peaks = (
        Peak(power_w=4500.0, minutes=20.0, times_a_month=1.0),
        Peak(power_w=5200.0, minutes=10.0, times_a_month=1.0),
    )
    site = replace(job.site, contracts=(Contract(power_w=4000.0, cost_year=1.0),), peaks=peaks)
    design = replace(make_design(), contract=site.contracts[0])
    first, second = replay_log(replace(job, site=site), design).outages
    assert first.depth_before == pytest.approx(200 / 1200)
    assert second.hours_carried == pytest.approx(10.0)
    assert replay_log(job, make_design()).outages[1].carried


def test_a_bank_said_to_be_kept_lower_is_never_fuller():
    outages = logged(("2023-01-05T18:00", 2.0), ("2023-02-05T18:00", 7.0))
    job = make_job(make_load(100.0), outages=outages)
    first, second = replay_log(job, replace(make_design(), charge_at_start=0.5)).outages
    assert (first.depth_before, second.depth_before) == (pytest.approx(0.5), pytest.approx(0.5))
    assert second.hours_carried == pytest.approx(6.0)
