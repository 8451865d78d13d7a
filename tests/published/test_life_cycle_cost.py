"""Present values, equivalents, replacements and the rate at which quotes change places."""

from __future__ import annotations

import math

import numpy_financial as npf
import pytest

from optimizer.engine.cashflow import Kind, Payment
from optimizer.engine.replacement import cheapest_chain
from optimizer.formulas.money import (
    capital_recovery_factor,
    drifted_price,
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


def worth(rate: float, years: float) -> float:
    """What one unit of money paid after some years is worth today."""
    return Payment(0, years, Kind.WORKS, "", 1.0).present_value(rate)


def arcs(cost, years: int) -> list[float]:
    """The costs of all arcs, by the years of purchase and of retirement."""
    return [cost(start, end) for start in range(years) for end in range(start + 1, years + 1)]


def handbook_total() -> float:
    """Return the example's cost with factors as its tables print them; 15.13 is for energy."""
    year_12 = round(worth(0.03, 12), 3)
    year_20 = round(worth(0.03, 20), 3)
    yearly = round(yearly_costs_factor(0.03, 0, 20), 2)
    return 103_000 + 12_000 * year_12 - 3_500 * year_20 + 20_000 * 15.13 + 7_000 * yearly


def own_over_life(price: float, salvage: float, yearly: float, years: int) -> float:
    present = price - salvage * worth(0.08, years) + yearly * yearly_costs_factor(0.08, 0, years)
    return present * capital_recovery_factor(0.08, years)


def bought_twice() -> float:
    once = 7000 + 2000 * yearly_costs_factor(0.08, 0, 5) - 3000 * worth(0.08, 5)
    return once * (1 + worth(0.08, 5)) * capital_recovery_factor(0.08, 10)


def winston_arc(start: int, end: int) -> float:
    age = end - start
    upkeep = (2000, 4000, 5000, 9000, 12000)
    trade_in = (7000, 6000, 2000, 1000, 0)
    return 12_000 + sum(upkeep[:age]) - trade_in[age - 1]


def trick_arc(start: int, end: int) -> float:
    return {1: 260, 2: 540, 3: 760}.get(end - start, math.inf)


TAHA_ARCS = [4000, 5400, 9800, math.inf, 4300, 6200, 8700, 4800, 7100, 4900]


@values(
    Value("year 12 at 3 %", lambda: worth(0.03, 12), "0.701", NIST, "published"),
    Value("year 20 at 3 %", lambda: worth(0.03, 20), "0.554", NIST, "published"),
    Value("20 years at 3 %", lambda: yearly_costs_factor(0.03, 0, 20), "14.88", NIST, "published"),
    Value("total", handbook_total, "516233", NIST, "from memory"),
    Value("SPV, 10 years", lambda: worth(0.03, 10), "0.744094", NPF, "published"),
    Value("UPV, 20 years", lambda: yearly_costs_factor(0.03, 0, 20), "14.877475", NPF,
          "published"),
    Value("CRF at 8 %, 10 years", lambda: capital_recovery_factor(0.08, 10), "0.149029", NPF,
          "published"),
    Value("1,000 a year in real terms", lambda: 1000 * yearly_costs_factor(0.03, 0, 10),
          "8530.2028", "Fisher", "arithmetic"),
    Value("machine A, a year", lambda: own_over_life(7000, 3000, 2000, 5), "3241.83", UNEQUAL,
          "public worked example"),
    Value("machine B, a year", lambda: own_over_life(9000, 1600, 2400, 10), "3630.82", UNEQUAL,
          "public worked example"),
    Value("machine A bought twice", bought_twice, "3241.83", UNEQUAL, "public worked example"),
    Value("falling price, year 5", lambda: drifted_price(1500, -0.05, 5), "1160.6714",
          "1500 · 0.95^5", "arithmetic"),
    Value("its present value", lambda: drifted_price(1500, -0.05, 5)
          * worth(0.05, 5), "909.4164", "at 5 %", "arithmetic"),
    Value("falling price, year 10", lambda: drifted_price(1500, -0.05, 10), "898.1054",
          "1500 · 0.95^10", "arithmetic"),
    Value("its present value, year 10", lambda: drifted_price(1500, -0.05, 10)
          * worth(0.05, 10), "551.3588", "at 5 %", "arithmetic"),
    Value("car over five years", lambda: cheapest_chain(arcs(winston_arc, 5), 5), "31000", WINSTON,
          "from memory"),
    Value("machine over five years", lambda: cheapest_chain(arcs(trick_arc, 5), 5), "1280", TRICK,
          "published"),
    # data from memory, the answer published
    Value("rented car over four years", lambda: cheapest_chain(TAHA_ARCS, 4), "12500", TAHA,
          "from memory"),
)  # fmt: skip
def test_value(value):
    value.check()


def test_without_rounded_factors_the_handbooks_total_is_twelve_lower():
    exact = (
        103_000
        + 12_000 * worth(0.03, 12)
        - 3_500 * worth(0.03, 20)
        + 20_000 * 15.13
        + 7_000 * yearly_costs_factor(0.03, 0, 20)
    )
    assert exact == pytest.approx(516_221, abs=0.5)


@pytest.mark.parametrize("rate", [-0.02, 0.001, 0.03, 0.11])
@pytest.mark.parametrize("years", [1, 7, 25])
def test_factors_are_numpy_financials(rate, years):
    assert yearly_costs_factor(rate, 0, years) == pytest.approx(-npf.pv(rate, years, 1))
    assert worth(rate, years) == pytest.approx(-npf.pv(rate, years, 0, 1))
    assert capital_recovery_factor(rate, years) == pytest.approx(-npf.pmt(rate, years, 1))
    assert yearly_saving(2500, rate, years) == pytest.approx(npf.pmt(rate, years, 0, -2500))


def test_no_chain_is_infinite():
    assert cheapest_chain([math.inf] * 3, 2) == math.inf
