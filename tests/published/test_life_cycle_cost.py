"""Present values, equivalents, replacements and the rate at which quotes change places."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy_financial as npf
import pytest

from optimizer.engine.replacement import arcs, cheapest_chain, cheapest_periods
from optimizer.formulas.money import (
    annual_equivalent,
    break_even_rate,
    capital_recovery_factor,
    drifted_price,
    nominal_rate,
    present_value_factor,
    present_value_of_purchases,
    real_rate,
    straight_line_residual,
    yearly_costs_factor,
    yearly_saving,
)
from tests.published.table import Value, values

NIST = "NIST Handbook 135, HVAC example"
NPF = "numpy-financial"
UNEQUAL = "textbook of engineering economy, unequal lives at 8 %"
WINSTON = "Winston, Operations Research, car replacement"
TRICK = "M. Trick, A Tutorial on Dynamic Programming, CMU"
TAHA = "Taha, Operations Research, car rental"


def handbook_total() -> float:
    """Return the example's cost with factors as its tables print them; 15.13 is for energy."""
    year_12 = round(present_value_factor(0.03, 12), 3)
    year_20 = round(present_value_factor(0.03, 20), 3)
    yearly = round(yearly_costs_factor(0.03, 0, 20), 2)
    return 103_000 + 12_000 * year_12 - 3_500 * year_20 + 20_000 * 15.13 + 7_000 * yearly


def own_over_life(price: float, salvage: float, yearly: float, years: int) -> float:
    present = (
        price
        - salvage * present_value_factor(0.08, years)
        + yearly * yearly_costs_factor(0.08, 0, years)
    )
    return annual_equivalent(present, 0.08, years)


def bought_twice() -> float:
    once = 7000 + 2000 * yearly_costs_factor(0.08, 0, 5) - 3000 * present_value_factor(0.08, 5)
    return annual_equivalent(once * (1 + present_value_factor(0.08, 5)), 0.08, 10)


def system_cost(residual_share: float) -> float:
    bank = present_value_of_purchases(3000, 8, 20, 0.04, residual_share=residual_share)
    return 6000 - 3000 + bank + 50 * yearly_costs_factor(0.04, 0, 20)


def winston_arc(start: int, end: int) -> float:
    age = end - start
    upkeep = (2000, 4000, 5000, 9000, 12000)
    trade_in = (7000, 6000, 2000, 1000, 0)
    return 12_000 + sum(upkeep[:age]) - trade_in[age - 1]


def trick_arc(start: int, end: int) -> float:
    return {1: 260, 2: 540, 3: 760}.get(end - start, math.inf)


TAHA_ARCS = [4000, 5400, 9800, math.inf, 4300, 6200, 8700, 4800, 7100, 4900]


@values(
    Value("year 12 at 3 %", lambda: present_value_factor(0.03, 12), "0.701", NIST, "published"),
    Value("year 20 at 3 %", lambda: present_value_factor(0.03, 20), "0.554", NIST, "published"),
    Value("20 years at 3 %", lambda: yearly_costs_factor(0.03, 0, 20), "14.88", NIST, "published"),
    Value("total", handbook_total, "516233", NIST, "from memory"),
    Value("SPV, 10 years", lambda: present_value_factor(0.03, 10), "0.744094", NPF, "published"),
    Value("UPV, 20 years", lambda: yearly_costs_factor(0.03, 0, 20), "14.877475", NPF,
          "published"),
    Value("CRF at 8 %, 10 years", lambda: capital_recovery_factor(0.08, 10), "0.149029", NPF,
          "published"),
    Value("nominal of 3 % real [%]", lambda: 100 * nominal_rate(0.03, 0.02), "5.06", "Fisher",
          "arithmetic"),
    Value("1,000 a year in real terms", lambda: 1000 * yearly_costs_factor(0.03, 0, 10),
          "8530.2028", "Fisher", "arithmetic"),
    Value("1,000 a year in nominal terms", lambda: sum(
        1000 * 1.02**year * present_value_factor(nominal_rate(0.03, 0.02), year)
        for year in range(1, 11)), "8530.2028", "Fisher", "arithmetic"),
    Value("and back [%]", lambda: 100 * real_rate(0.0506, 0.02), "3.00", "Fisher", "arithmetic"),
    Value("machine A, a year", lambda: own_over_life(7000, 3000, 2000, 5), "3241.83", UNEQUAL,
          "public worked example"),
    Value("machine B, a year", lambda: own_over_life(9000, 1600, 2400, 10), "3630.82", UNEQUAL,
          "public worked example"),
    Value("machine A bought twice", bought_twice, "3241.83", UNEQUAL, "public worked example"),
    Value("replaced every 8 years, residual", lambda: system_cost(1.0), "9788.7310",
          "present values", "arithmetic"),
    Value("the residual itself", lambda: straight_line_residual(3000, 4, 8), "1500",
          "straight line", "arithmetic"),
    Value("replaced every 8 years, none", lambda: system_cost(0.0), "10473.3115",
          "present values", "arithmetic"),
    Value("falling price, year 5", lambda: drifted_price(1500, -0.05, 5), "1160.6714",
          "1500 · 0.95^5", "arithmetic"),
    Value("its present value", lambda: drifted_price(1500, -0.05, 5)
          * present_value_factor(0.05, 5), "909.4164", "at 5 %", "arithmetic"),
    Value("falling price, year 10", lambda: drifted_price(1500, -0.05, 10), "898.1054",
          "1500 · 0.95^10", "arithmetic"),
    Value("its present value, year 10", lambda: drifted_price(1500, -0.05, 10)
          * present_value_factor(0.05, 10), "551.3588", "at 5 %", "arithmetic"),
    Value("car over five years", lambda: cheapest_chain(arcs(winston_arc, 5), 5), "31000", WINSTON,
          "from memory"),
    Value("machine over five years", lambda: cheapest_chain(arcs(trick_arc, 5), 5), "1280", TRICK,
          "published"),
    # data from memory, the answer published
    Value("rented car over four years", lambda: cheapest_chain(TAHA_ARCS, 4), "12500", TAHA,
          "from memory"),
    Value("break-even [%]", lambda: 100 * break_even_rate(
        lambda rate: present_value_of_purchases(5000, 5, 15, rate)
        - present_value_of_purchases(14000, 15, 15, rate)), "1.42", "5,000 thrice or 14,000 once",
          "arithmetic"),
)  # fmt: skip
def test_value(value):
    value.check()


def test_without_rounded_factors_the_handbooks_total_is_twelve_lower():
    exact = (
        103_000
        + 12_000 * present_value_factor(0.03, 12)
        - 3_500 * present_value_factor(0.03, 20)
        + 20_000 * 15.13
        + 7_000 * yearly_costs_factor(0.03, 0, 20)
    )
    assert exact == pytest.approx(516_221, abs=0.5)


@pytest.mark.parametrize("rate", [-0.02, 0.001, 0.03, 0.11])
@pytest.mark.parametrize("years", [1, 7, 25])
def test_factors_are_numpy_financials(rate, years):
    assert yearly_costs_factor(rate, 0, years) == pytest.approx(-npf.pv(rate, years, 1))
    assert present_value_factor(rate, years) == pytest.approx(-npf.pv(rate, years, 0, 1))
    assert capital_recovery_factor(rate, years) == pytest.approx(-npf.pmt(rate, years, 1))
    assert yearly_saving(2500, rate, years) == pytest.approx(npf.pmt(rate, years, 0, -2500))


def test_the_handbooks_cash_flow_by_numpy_financial():
    flow = [6000.0] + [50.0] * 20
    flow[8] += 3000
    flow[16] += 3000
    flow[20] -= 1500
    assert system_cost(1.0) == pytest.approx(npf.npv(0.04, flow))


@pytest.mark.parametrize(
    ("arc_costs", "years", "total"),
    [(arcs(winston_arc, 5), 5, 31_000), (arcs(trick_arc, 5), 5, 1280), (TAHA_ARCS, 4, 12_500)],
    ids=["Winston", "Trick", "Taha"],
)
def test_the_periods_of_a_chain_cost_what_it_says(arc_costs, years, total):
    order = [(start, end) for start in range(years) for end in range(start + 1, years + 1)]
    periods = cheapest_periods(arc_costs, years)
    assert periods[0][0] == 0
    assert periods[-1][1] == years
    assert all(before[1] == after[0] for before, after in pairwise(periods))
    assert sum(arc_costs[order.index(period)] for period in periods) == total


def test_no_chain_is_infinite():
    assert cheapest_chain([math.inf] * 3, 2) == math.inf
    assert cheapest_periods([math.inf] * 3, 2) == ()


def test_no_break_even_where_one_quote_always_wins():
    assert break_even_rate(lambda rate: present_value_of_purchases(100, 5, 15, rate)) is None
