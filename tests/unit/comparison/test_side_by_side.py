"""Side by side: the figures add up."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import choose
from optimizer.answers.curve import by_family
from optimizer.comparison.budgets import budget_table
from optimizer.comparison.side_by_side import Outcome, compare, compare_curves, monthly_sum
from optimizer.comparison.study import MIXED
from optimizer.comparison.switch_points import switch_points
from optimizer.engine.cashflow import RETURNS
from optimizer.engine.curve import Search
from optimizer.errors import NoDesignError
from tests.unit import builders

from .jobs import small_house


@pytest.fixture(scope="module")
def comparison():
    return compare(small_house(14), 14)


def test_each_family_and_chemistry_is_searched_alone(comparison):
    job = comparison.job
    for one in comparison.alternatives:
        assert one.design.life_cycle_cost == pytest.approx(Search(job, one.name).least(14))
        assert {bank.battery.family for bank in one.design.banks} == {one.name}
    assert {one.name for one in comparison.alternatives} == set(job.catalog.families)
    for one in comparison.chemistries:
        assert {bank.battery.chemistry for bank in one.design.banks} == {one.name}
    best = min(one.design.life_cycle_cost for one in comparison.chemistries)
    assert best == pytest.approx(comparison.winner.design.life_cycle_cost)


@pytest.mark.slow
def test_curves_that_are_known_compare_as_asked_anew():
    job = small_house(8)
    overall, families = by_family(job)
    for hours in (5, 8):
        known = compare_curves(job, hours, overall, families)
        assert known == compare(job, hours, by_chemistry=False)


def test_parts_are_the_life_cycle_cost_and_their_differences_the_margin(comparison):
    for one in (*comparison.alternatives, *comparison.chemistries):
        assert sum(one.parts.values()) == pytest.approx(one.design.life_cycle_cost, abs=1e-4)
    assert sum(comparison.differences.values()) == pytest.approx(comparison.cheaper_by, abs=1e-4)


def test_real_nominal_and_discounted_money_tell_the_same(comparison):
    site = comparison.job.site
    rate = (1 + site.discount_rate) * (1 + site.inflation) - 1
    for one in comparison.alternatives:
        kept = [
            payment
            for payment in one.design.payments
            if payment.kind not in RETURNS or payment.time_years < site.horizon_years
        ]
        for balance in one.balances:
            counted = [payment for payment in kept if payment.counted_year <= balance.time_years]
            nominal = [one.amount * (1 + site.inflation) ** one.time_years for one in counted]
            assert balance.nominal == pytest.approx(sum(nominal), abs=1e-6)
            present = sum(
                amount / (1 + rate) ** payment.time_years
                for amount, payment in zip(nominal, counted, strict=True)
            )
            assert balance.present == pytest.approx(present, abs=1e-6)
        left = one.residual_value / (1 + site.discount_rate) ** site.horizon_years
        assert one.balances[-1].present - left == pytest.approx(
            one.design.life_cycle_cost, abs=1e-4
        )
        assert one.balances[0].real == pytest.approx(one.design.upfront_cost)


def test_the_monthly_sum_pays_for_all_of_it():
    monthly = monthly_sum(5000.0, 0.04, 12)
    month_rate = 1.04 ** (1 / 12)
    assert sum(monthly / month_rate**month for month in range(1, 145)) == pytest.approx(5000.0)


def test_mass_floor_and_price_of_an_hour(comparison):
    for one in comparison.alternatives:
        bank, design = one.design.banks[0], one.design
        units = bank.series * bank.strings
        assert one.mass_kg == pytest.approx(
            units * bank.battery.mass_kg + design.inverter_units * design.inverter.mass_kg
        )
        area = units * bank.battery.length_mm * bank.battery.width_mm / 1e6
        assert one.floor_m2 == pytest.approx(area)
        assert one.cost_per_hour * design.hours == pytest.approx(design.life_cycle_cost)
        assert one.cost_per_kwh * one.usable_kwh == pytest.approx(design.life_cycle_cost)


def unequal(**changes):
    """Lead 100 every 4 years against lithium 250 for 12; the set costs the same."""
    lead = builders.make_battery("Slate", float_life_years=4.0, end_of_life_soh=0.99)
    lithium = builders.make_battery(
        "Beech", family="lithium", chemistry="lfp", price=250.0, float_life_years=12.0,
        end_of_life_soh=0.99,
    )  # fmt: skip
    return builders.make_job(
        batteries=[lead, lithium],
        inverters=[builders.make_inverter(life_years=12.0)],
        yearly=(),
        horizon_years=12,
        target_hours=2,
        **changes,
    )


def test_the_dearer_one_has_caught_up_when_the_third_bank_is_bought():
    found = compare(unequal(min_service_share=1.0), 2)
    assert found.winner.name == "lithium"
    assert found.cheaper_by == pytest.approx(50.0)
    assert found.dearer_upfront.name == "lithium"
    assert found.caught_up_after == 8  # 100 + 100 + 100 against 250
    assert [one.year for one in found.runner_up.later_purchases] == [4, 8]


def test_floor_is_unknown_where_the_price_list_is_silent():
    assert compare(unequal(), 2).winner.floor_m2 is None


def test_one_family_is_alone():
    found = compare(builders.make_job(), 4)
    assert (found.runner_up, found.cheaper_by, found.caught_up_after) == (None, 0.0, None)
    assert found.differences == {}


def test_nothing_fits():
    with pytest.raises(NoDesignError):
        compare(builders.make_job(max_bank_kg=1.0), 4)


@pytest.mark.parametrize(
    ("price", "outcome"),
    [
        (250.0, Outcome.CHEAPER),
        (294.0, Outcome.LEVEL),
        (300.0, Outcome.TIE),
        (310.0, Outcome.LEVEL),
        (330.0, Outcome.CHEAPER),
    ],
)
def test_a_difference_under_two_percent_is_level(price, outcome):
    job = unequal(min_service_share=1.0)
    lead, lithium = job.catalog.batteries
    catalog = replace(job.catalog, batteries=(lead, replace(lithium, price=price)))
    found = compare(replace(job, catalog=catalog), 2)
    assert found.outcome is outcome
    cheaper = found.winner.life_cycle_cost
    assert (found.cheaper_by < 0.02 * cheaper) == (outcome in {Outcome.LEVEL, Outcome.TIE})


def falling_lithium():
    """A lead bank of four years now, lithium at a third of its price then: mixed is cheapest."""
    lead = builders.make_battery("Slate", float_life_years=4.0, end_of_life_soh=0.99)
    lithium = builders.make_battery(
        "Beech", family="lithium", chemistry="lfp", price=450.0, float_life_years=12.0,
        end_of_life_soh=0.99, price_drift=-0.25,
    )  # fmt: skip
    return builders.make_job(batteries=[lead, lithium], yearly=(), horizon_years=12, target_hours=2)


def test_a_mixed_chain_is_a_side_of_its_own():
    job = falling_lithium()
    found = compare(job)
    assert found.alternatives[0].name == MIXED
    assert {bank.battery.family for bank in found.winner.design.banks} == set(job.catalog.families)
    # compare, choose and budget tell the same
    assert found.winner.life_cycle_cost == pytest.approx(choose(job).design.life_cycle_cost)
    (bought,) = budget_table(job, [found.winner.life_cycle_cost], lifetime=True)
    assert bought.design.hours >= found.hours
    (along,) = switch_points(job, keys=["price:lithium"])
    assert along.winner == MIXED


def test_a_chemistry_is_never_offered_the_electronics_of_another_ones_box():
    """The box has no price of its own, that is in the lithium: lead-acid may not have it."""
    box = builders.make_inverter("Box", price=0.0)
    lead = builders.make_battery("Slate")
    lithium = builders.make_battery(
        "Flint", family="lithium", chemistry="lfp", gas="none", price=900.0, built_into="Box"
    )
    plain = builders.make_inverter("Gable")
    job = builders.make_job(batteries=[lead, lithium], inverters=[plain, box], voltages=(12,))
    found = compare(job, 2)
    sets = {one.name: one.design.inverter.inverter for one in found.chemistries}
    assert sets == {"agm": "Gable", "lfp": "Box"}
    best = min(one.life_cycle_cost for one in found.chemistries)
    assert best == pytest.approx(found.winner.life_cycle_cost)
