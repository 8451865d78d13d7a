import numpy as np
import pytest

from optimizer.simulate.profile import hourly, minutely, season_of_month

from .sites import HALVES, make_job, make_load


def test_a_window_past_midnight_covers_parts_of_hours():
    job = make_job(make_load(watts=100.0, count=2, duty=0.5, windows=((22.5, 25.25),)))
    watts = hourly(job).total_w[0]
    expected = np.zeros(24)
    expected[[22, 23, 0, 1]] = [50.0, 100.0, 100.0, 25.0]
    assert watts == pytest.approx(expected)


def test_a_season_not_named_counts_once():
    job = make_job(make_load(season_multipliers={"winter": 1.5}), seasons=HALVES)
    profile = hourly(job)
    assert profile.seasons == ("winter", "summer")
    assert profile.weights == (0.5, 0.5)
    assert profile.total_w[:, 7] == pytest.approx([150.0, 100.0])


def test_only_the_tiers_asked_for_count():
    job = make_job(
        make_load("a", 10.0),
        make_load("b", 20.0, tier="comfort"),
        make_load("c", 40.0, tier="useful"),
        tiers=("essential", "useful"),
    )
    assert hourly(job).watts[0, :, 3] == pytest.approx([10.0, 40.0])
    assert hourly(job, ["comfort"]).total_w[0, 3] == 20.0
    assert hourly(job, []).total_w[0].sum() == 0


@pytest.mark.parametrize("seed", range(20))
def test_minutes_hold_the_energy_of_their_hours(seed):
    rng = np.random.default_rng(seed)
    loads = []
    for i in range(6):
        start = rng.integers(0, 1440) / 60
        window = (start, start + rng.integers(1, 1440) / 60)
        loads.append(
            make_load(
                str(i),
                float(rng.integers(5, 500)),
                windows=(window,),
                duty=float(rng.choice([0.07, 0.5, 0.9, 1.0])),
                season_multipliers={"winter": float(rng.choice([0.0, 0.6, 1.3]))},
            )
        )
    job = make_job(*loads, seasons=HALVES)
    by_hour = minutely(job).total_w.reshape(2, 24, 60).mean(axis=2)
    assert by_hour == pytest.approx(hourly(job).total_w, abs=1e-9)


def test_a_burst_stands_at_the_beginning_of_its_time_at_full_power():
    job = make_job(make_load(watts=600.0, duty=0.25, windows=((6.5, 8.0),)))
    watts = minutely(job).total_w[0]
    expected = np.zeros(1440)
    expected[390:397] = 600.0
    expected[397] = 300.0  # a quarter of half an hour is seven minutes and a half
    expected[420:435] = 600.0
    assert watts == pytest.approx(expected)


def test_bursts_cannot_fill_more_than_their_window():
    job = make_job(
        make_load(watts=600.0, duty=0.8, season_multipliers={"winter": 2.0}), seasons=HALVES
    )
    assert minutely(job).total_w[0] == pytest.approx(np.full(1440, 960.0))


def test_every_month_has_its_season():
    found = season_of_month(make_job(seasons=HALVES))
    assert [int(found[m]) for m in range(1, 13)] == [0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 0, 0]


@pytest.mark.slow
def test_ten_thousand_loads_are_merely_many():
    job = make_job(*(make_load(str(i), 1.0, duty=0.5) for i in range(10_000)))
    assert hourly(job).total_w[0] == pytest.approx(np.full(24, 5000.0))
    assert minutely(job).total_w[0, :60].sum() == pytest.approx(300_000.0)
