import numpy as np
import pytest
from scipy.special import betaincinv

from optimizer.simulate.intervals import share_interval, yearly_interval


def test_where_nothing_was_missed_the_rule_of_three_speaks():
    interval = share_interval(60, 60)
    assert (interval.low, interval.high) == (pytest.approx(0.95), 1.0)
    assert share_interval(2, 2).low == 0.0


def test_a_mean_over_ways_to_run_them_lies_between_whole_numbers():
    low, middle, high = (share_interval(carried, 20) for carried in (17, 17.5, 18))
    assert low.low < middle.low < high.low
    assert low.high < middle.high < high.high


def test_the_bootstrap_of_equal_outages_is_the_poisson_interval():
    # forty outages of 1 kWh in two years: 20 a year, ± 1.96 · √40 / 2 (arithmetic)
    interval = yearly_interval(np.ones(40), 2.0, seed=1)
    assert (interval.low, interval.high) == pytest.approx((13.8, 26.2), abs=0.6)


def test_what_was_never_missed_has_no_interval():
    assert yearly_interval(np.zeros(5), 2.0, seed=1) is None
    assert yearly_interval(np.zeros(0), 2.0, seed=1) is None


@pytest.mark.parametrize("count", [1, 7, 32, 900, 100_000])
def test_the_share_is_the_quantile_that_scipy_finds(count):
    for carried in (0.3, count / 2, count - 0.5):
        interval = share_interval(carried, count)
        missed = count - carried
        assert interval.low == pytest.approx(betaincinv(carried, missed + 1, 0.025), abs=1e-9)
        assert interval.high == pytest.approx(betaincinv(carried + 1, missed, 0.975), abs=1e-9)
