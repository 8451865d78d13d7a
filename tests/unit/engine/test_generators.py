"""A generator beside a bank: its fuel, what it refills by day, its money, and designs with it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from optimizer.engine.curve import Search
from optimizer.engine.diagnosing import diagnose
from optimizer.engine.generators import (
    fuel_factor,
    generator_money,
    litres_stored,
    refill_by_day_wh,
)
from optimizer.engine.money_scale import cost_tolerance, money_unit
from optimizer.engine.relaxations import Question
from optimizer.model.diagnosis import RelaxationKind
from optimizer.model.job import Generator, GeneratorRules
from optimizer.model.outages import Outages
from optimizer.model.requirement import Requirement
from tests.unit.builders import make_battery, make_inverter, make_job, make_load, with_site

from .columns import columns, variant

RULES = GeneratorRules(
    fuel_price=2.0, max_stored_l=50.0, quiet=(21.0, 31.0), start_after_h=2, fuel_keeps_years=4
)
ASH = Generator(
    generator="Ash",
    power_w=1000.0,
    power_va=1000.0,
    surge_w=3000.0,
    litres_h_full=0.6,
    litres_h_idle=0.2,
    price=300.0,
    life_years=6.5,
    upkeep_year=10.0,
)


def beside(**changes):
    return make_job(generator=RULES, generators=[ASH], **changes)


def test_litres_by_hand():
    """30 h: 28 h after the start, 14 of them and 4 more by day; refilled twice."""
    stored_l = litres_stored(variant(beside(), generator=ASH), 30, 0.9, 10.0)
    back_wh = (12 * 100 / 0.9 + 12 * 10) / 0.9 / 0.7
    run_h = 14 + 4
    wanted = 0.2 * run_h + 0.4 / 1000 * (30 * 100 + 2 * back_wh)
    assert float(stored_l) == pytest.approx(wanted)
    assert litres_stored(variant(beside()), 30, np.array([0.9]), np.array([10.0])).tolist() == [0]


def test_what_is_left_beside_the_loads_by_day():
    """14 hours from 7:00 to 21:00; 900 W are left beside 100 W."""
    found = refill_by_day_wh(variant(beside(), generator=ASH), np.array([400.0, 5000.0]))
    assert found.tolist() == pytest.approx([14 * 400, 14 * 900])


def test_money_by_hand():
    job = beside(tax_rate=0.2, residual_share=0.5, discount_rate=0.05)
    cost, upfront = generator_money(job, ASH)
    assert upfront == pytest.approx(360)
    wanted = 360 + 360 / 1.05**6 - 0.5 * 360 * (2 / 6) / 1.05**10
    wanted += sum(10 / 1.05 ** (year + 1) for year in range(10))
    assert cost == pytest.approx(wanted)
    assert fuel_factor(job, RULES) == pytest.approx(2 * (1 + 1.05**-4 + 1.05**-8))


def test_a_generator_serves_only_beyond_a_night_and_within_its_fuel():
    c = columns(beside(), generator=ASH)
    cost, _ = c.beside_banks(12)
    assert np.isinf(cost).all()
    assert np.isfinite(c.beside_banks(13)[0]).all()
    dry = columns(with_site(beside(), generator=replace(RULES, max_stored_l=1.0)), generator=ASH)
    assert np.isinf(dry.beside_banks(24)[0]).all()


def test_the_program_buys_a_generator_for_the_long_outage():
    job = beside(
        batteries=[make_battery(max_parallel=3)],
        inverters=[make_inverter(max_units=1)],
        voltages=(12,),
        max_hours=72,
        yearly=(),
    )
    search = Search(job)
    assert Search(with_site(job, generator=None)).longest().hours < 24
    design = search.cheapest(60)
    assert design.generator is ASH
    assert 0 < design.fuel_l <= 50
    assert search.cheapest(4).generator is None


# --- cuts that come too close -----------------------------------------------------------------


def test_cuts_are_refilled_before_the_next():
    """Six hours off, two on: 726.7 Wh drawn, 908.3 Wh at 14 V to be put back in two hours."""
    outages = Outages("daily", daily=((0.0, 6.0), (8.0, 14.0), (16.0, 22.0)), days_per_year=9.0)
    battery = make_battery(capacity_ah=400.0, max_parallel=1)
    needed_a = (600 / 0.9 + 6 * 10) / 0.8 / 14 / 2
    for charger_a, fits in ((needed_a + 0.01, True), (needed_a - 0.01, False)):
        inverter = make_inverter(charger_a=charger_a, max_units=1)
        job = make_job(batteries=[battery], inverters=[inverter], voltages=(12,))
        assert Search(replace(job, outages=outages)).exists(6) == fits


def test_the_charger_that_cuts_ask_for_is_said():
    """32.4 A needed, 20 A offered."""
    outages = Outages("daily", daily=((0.0, 6.0), (8.0, 14.0), (16.0, 22.0)), days_per_year=9.0)
    battery = make_battery(capacity_ah=400.0, max_parallel=1)
    inverter = make_inverter(charger_a=20.0, max_units=1)
    job = make_job(batteries=[battery], inverters=[inverter], voltages=(12,))
    found = diagnose(Question(replace(job, outages=outages), 6))
    assert Requirement.CUTS in [one.requirement for one in found.hindrances]
    (charger,) = [one for one in found.openings if one.kind is RelaxationKind.CHARGER]
    assert (charger.now, charger.needed) == (20.0, 33.0)


# --- how large money is -----------------------------------------------------------------------


@pytest.mark.parametrize("factor", [1e-6, 1.0, 1e6])
def test_equal_costs_are_a_share_of_the_dearest_price(factor):
    job = make_job(
        batteries=[make_battery(price=100.0 * factor)],
        inverters=[make_inverter(price=900.0 * factor)],
    )
    assert money_unit(job) == pytest.approx(1000 * factor)
    assert cost_tolerance(job) == pytest.approx(1e-6 * factor)


def test_a_list_that_costs_nothing_has_a_unit():
    free = make_job(batteries=[make_battery(price=0.0)], inverters=[make_inverter(price=0.0)])
    assert money_unit(free) == 1.0


def test_a_lifetime_budget_a_hair_below_a_cost_refuses():
    job = make_job(make_load(), voltages=(12,))
    least = Search(job).least(4)
    assert Search(with_site(job, lifetime_budget=least - 1e-6)).least(4) in (least, math.inf)
    refused = Search(with_site(job, lifetime_budget=least * (1 - 1e-8)))
    assert refused.cheapest(4) is None
    assert refused.longest() is None or refused.longest().hours < 4
