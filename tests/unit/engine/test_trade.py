"""The enumeration of non-dominated points, against a plain search and a lying oracle."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from optimizer.engine.trade import TradePoint, nondominated
from optimizer.errors import InternalError


def oracle(options):
    """An exact one: least first objective within the limit, then the least second."""

    def best(limit):
        within = [option for option in options if option[1] <= limit]
        return TradePoint(*min(within), min(within)) if within else None

    return best


PAIRS = st.tuples(st.integers(0, 12).map(float), st.integers(0, 12).map(float))


@pytest.mark.slow
@given(st.lists(PAIRS, max_size=25))
def test_all_points_and_no_other(options):
    found = [(p.first, p.second) for p in nondominated(oracle(options), ceiling=12, step=1)]
    # a point stays where nothing else is as good in both and better in one
    wanted = {
        (a, b)
        for a, b in options
        if not any((c, d) != (a, b) and c <= a and d <= b for c, d in options)
    }
    assert found == sorted(wanted)


def test_nothing_within_the_ceiling():
    assert list(nondominated(oracle([(1.0, 9.0)]), ceiling=8, step=1)) == []


def test_the_solution_travels_with_its_point():
    (point,) = nondominated(oracle([(1.0, 2.0)]), ceiling=5, step=1)
    assert point.solution == (1.0, 2.0)


def test_one_call_more_than_points():
    limits = []

    def counted(limit):
        limits.append(limit)
        return oracle([(1.0, 9.0), (2.0, 5.0)])(limit)

    list(nondominated(counted, ceiling=20, step=0.5))
    assert limits == [20, 8.5, 4.5]


def test_a_point_beyond_the_limit_breaks_the_contract():
    with pytest.raises(InternalError, match=r"\(1.0, 6.0\) to the limit 5"):
        list(nondominated(lambda _: TradePoint(1.0, 6.0, None), ceiling=5, step=1))


def test_a_later_point_that_is_cheaper_breaks_the_contract():
    answers = iter([TradePoint(5.0, 4.0, None), TradePoint(4.0, 3.0, None)])
    points = nondominated(lambda _: next(answers), ceiling=9, step=1)
    assert next(points).first == 5
    with pytest.raises(InternalError, match="after a first objective of 5"):
        next(points)
