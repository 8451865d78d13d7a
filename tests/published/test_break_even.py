"""Where two quotes break even, through whole jobs: searched, proven, switch point solved for.

Each quote is a family with one battery model, wired to the same inverter set; batteries wear by
age alone and nothing else costs anything, so that the money is that of the quotes.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import compare, switch_points
from optimizer.comparison.switch_points import Kind
from optimizer.formulas.money import drifted_price
from tests.unit import builders

from .table import Value, values

BREAK_EVEN = "field practice: two quotes set against each other; the sums by arithmetic"


def quotes(lead, lithium, *, set_price, horizon_years, discount_rate=0.0):
    """Return a job of two quotes: each a bank's price and its life in whole years."""

    def battery(name, family, price, life):
        # a life a hair longer than whole, and no fade to speak of: the last year still carries
        return builders.make_battery(
            name, family=family, price=price, float_life_years=life, end_of_life_soh=0.99
        )

    return builders.make_job(
        batteries=[battery("Lead quote", "lead", *lead), battery("Other", "lithium", *lithium)],
        inverters=[builders.make_inverter(price=set_price, life_years=40.0)],
        cables=[replace(builders.CABLE, price_per_m=0.0)],
        fuses=[replace(builders.FUSE, price=0.0)],
        yearly=(),
        horizon_years=horizon_years,
        discount_rate=discount_rate,
        min_service_share=1.0,
    )


def cost(job, family):
    found = compare(job)
    return next(one for one in found.alternatives if one.name == family).design.life_cycle_cost


def replaced_once(rate):
    """35,000 with lead-acid of which 15,000 is the bank, against 55,000; a bank in year 5."""
    return quotes(
        (15000.0, 5.0), (35000.0, 10.0), set_price=20000.0, horizon_years=10, discount_rate=rate
    )


def replaced_thrice(rate):
    """The same with a bank every three years: years 3, 6 and 9."""
    return quotes(
        (15000.0, 3.0), (35000.0, 10.0), set_price=20000.0, horizon_years=10, discount_rate=rate
    )


def every_five_years(rate=0.03):
    """5,000 every 5 years against 14,000 once, over 15 years."""
    return quotes(
        (5000.0, 5.0), (14000.0, 15.0), set_price=0.0, horizon_years=15, discount_rate=rate
    )


@values(
    Value("one replacement, 0 %", lambda: cost(replaced_once(0.0), "lead"), "50000", BREAK_EVEN,
          "arithmetic"),
    Value("one replacement, 8 %, thousands", lambda: cost(replaced_once(0.08), "lead") / 1000,
          "45.2", BREAK_EVEN, "arithmetic"),
    Value("three replacements, 0 %", lambda: cost(replaced_thrice(0.0), "lead"), "80000",
          BREAK_EVEN, "arithmetic"),
    Value("three replacements, 8 %, thousands", lambda: cost(replaced_thrice(0.08), "lead") / 1000,
          "63.9", BREAK_EVEN, "arithmetic"),
    Value("the other quote", lambda: cost(replaced_once(0.08), "lithium"), "55000", BREAK_EVEN,
          "arithmetic"),
    Value("every 5 years, 0 %, thousands", lambda: cost(every_five_years(0.0), "lead") / 1000,
          "15.0", BREAK_EVEN, "arithmetic"),
    Value("every 5 years, 3 %, thousands", lambda: cost(every_five_years(0.03), "lead") / 1000,
          "13.0", BREAK_EVEN, "arithmetic"),
    Value("every 5 years, 8 %, thousands", lambda: cost(every_five_years(0.08), "lead") / 1000,
          "10.7", BREAK_EVEN, "arithmetic"),
    Value("price falling 5 % a year, year 5, present at 5 %",
          lambda: drifted_price(1500, -0.05, 5) * 1.05**-5, "909.4164",
          "arithmetic", "arithmetic"),
    Value("price falling 5 % a year, year 10, present at 5 %",
          lambda: drifted_price(1500, -0.05, 10) * 1.05**-10, "551.3588",
          "arithmetic", "arithmetic"),
)  # fmt: skip
def test_value(value):
    value.check()


@pytest.mark.parametrize("rate", [0.0, 0.08])
def test_one_replacement_lead_wins_three_lithium_wins(rate):
    assert compare(replaced_once(rate)).winner.name == "lead"
    assert compare(replaced_thrice(rate)).winner.name == "lithium"


def test_the_gap_of_the_quotes_is_a_bank_and_a_third():
    once = compare(replaced_once(0.0))
    lead, lithium = once.runner_up.name, once.winner.name
    assert {lead, lithium} == {"lead", "lithium"}
    gap = 55000 - 35000
    assert gap / 15000 == pytest.approx(1.33, abs=0.005)
    # so the winner changes where lead's bank costs what pays for one replacement: 35,000 / 2
    (found,) = switch_points(replaced_once(0.0), keys=["price:lead"])
    (point,) = found.points
    assert point.value * 15000 == pytest.approx(35000 / 2, rel=1e-6)
    assert (point.below.winner, point.above.winner) == ("lead", "lithium")


@pytest.mark.slow
def test_the_winner_changes_at_a_rate_of_1_42_percent():
    # 14,000 = 5,000 (1 + v^5 + v^10): a quadratic in v^5
    fifth = (-1 + (1 + 4 * (14000 / 5000 - 1)) ** 0.5) / 2
    exact = fifth ** (-1 / 5) - 1
    assert exact == pytest.approx(0.0142, abs=0.00005)
    (found,) = switch_points(every_five_years(), keys=["rate"])
    (point,) = found.points
    assert point.kind is Kind.CROSSING
    assert point.below.value <= exact <= point.above.value
    assert point.above.value - point.below.value <= 1e-6 * exact
    assert (point.below.winner, point.above.winner) == ("lithium", "lead")
    assert found.winner == "lead"  # at 3 %


def test_the_side_by_side_names_the_years():
    found = compare(replaced_thrice(0.0))
    assert [one.year for one in found.runner_up.later_purchases] == [3, 6, 9]
    assert found.cheaper_by == pytest.approx(25000.0)
    assert found.dearer_upfront.name == "lithium"
    assert found.caught_up_after == 6  # 35, 50, 65 thousand against 55
