"""The shortest path through the years against every chain there is."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from optimizer.engine.replacement import cheapest_chain


def every_chain(years):
    """All ways to cut the years into holding periods."""
    for mask in range(2 ** (years - 1)):
        stops = [0, *(year for year in range(1, years) if mask >> (year - 1) & 1), years]
        yield tuple(pairwise(stops))


@st.composite
def problems(draw):
    years = draw(st.integers(1, 7))
    prices = st.one_of(st.integers(-20, 100).map(float), st.just(math.inf))
    return years, draw(
        st.lists(prices, min_size=years * (years + 1) // 2, max_size=years * (years + 1) // 2)
    )


@pytest.mark.slow
@given(problems())
def test_no_chain_is_cheaper(problem):
    years, costs = problem
    spans = [(start, end) for start in range(years) for end in range(start + 1, years + 1)]
    cost_of = dict(zip(spans, costs, strict=True))
    totals = {chain: sum(cost_of[span] for span in chain) for chain in every_chain(years)}
    assert cheapest_chain(costs, years) == min(totals.values())


def test_one_year():
    assert cheapest_chain([5.0], 1) == 5
    assert cheapest_chain([math.inf], 1) == math.inf


def test_keeping_a_machine_three_years():
    """Running costs 60, 80 and 120 a year, a purchase 200, resale worth nothing: sums by hand."""
    held = {1: 260.0, 2: 340.0, 3: 460.0}
    spans = [end - start for start in range(6) for end in range(start + 1, 7)]
    costs = [held.get(span, math.inf) for span in spans]
    assert cheapest_chain(costs, 6) == pytest.approx(920)
