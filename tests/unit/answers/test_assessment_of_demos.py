"""Banks of the demo sites judged: as the curve has them, beside a generator, under peaks."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest

from optimizer import assess, choose, frontier, load
from optimizer.answers.assessment import AssessmentVerdict
from optimizer.answers.installed import design_of, existing_of
from optimizer.engine import cashflow
from optimizer.engine.check import CheckKind


def house_points():
    """The ends of every run of the demo house's curve: all its banks, contracts and generators."""
    curve = frontier(load("house"))
    points = [run[0] for run in curve.runs]
    points += [run[-1] for run in curve.runs if len(run) > 1]
    assert {bool(point.generator) for point in points} == {True, False}
    assert len({point.contract for point in points}) > 1
    return curve.job, points


@pytest.mark.slow
def test_a_point_of_the_curve_is_assessed_as_the_curve_has_it():
    """Autonomy, upfront and yearly money of contract, generator, fuel and renewals included."""
    job, points = house_points()
    for point in points:
        existing = existing_of(point)
        found = assess(job, existing, hours=point.hours)
        assert found.verdict is AssessmentVerdict.MEETS, point.hours
        assert found.distance.hours == point.hours
        assert found.distance.upfront_cost == pytest.approx(point.upfront_cost)
        assert found.distance.life_cycle_cost == pytest.approx(point.life_cycle_cost)
        assert found.life.years == pytest.approx(point.banks[0].service_life_years)
        bank = replace(point.banks[0], service_life_years=found.life.years)
        flow = cashflow.payments(job, design_of(job, existing, point.hours, (bank,)))
        assert yearly_sums(flow) == pytest.approx(yearly_sums(point.payments)), point.hours
        assert found.simulation.verdict.holds
        assert found.hours[0].simulated.shortest >= point.hours
        assert found.hours[0].planned_hours >= point.hours


def yearly_sums(flow):
    sums = defaultdict(float)
    for one in flow:
        sums[one.year, one.kind.value] += one.amount
    return sums


def beside_a_generator():
    """The demo house at 30 h: its bank, its generator and its fuel."""
    job = load("house")
    design = choose(job, hours=30).design
    assert design.generator is not None
    return job, existing_of(design)


@pytest.mark.slow
def test_less_fuel_carries_fewer_hours_and_the_fuel_is_what_fails():
    job, existing = beside_a_generator()
    found = assess(job, replace(existing, fuel_l=0.8 * existing.fuel_l), hours=30)
    assert [check.kind for check in found.failed] == [CheckKind.FUEL]
    assert found.verdict is AssessmentVerdict.FAILS
    now = found.hours[1]
    assert 11 < now.planned_hours < 30
    assert now.planned_hours <= now.simulated.shortest
    assert found.carries_years == 0


@pytest.mark.slow
def test_a_generator_too_weak_leaves_the_bank_to_carry_the_night_alone():
    job, existing = beside_a_generator()
    weak = replace(existing, generator=replace(existing.generator, power_w=50.0, surge_w=50.0))
    found = assess(job, weak, hours=30)
    kinds = {check.kind for check in found.failed}
    assert {CheckKind.GENERATOR_POWER, CheckKind.GENERATOR_SURGE} <= kinds
    assert found.hours[1].planned_hours <= 11
    assert found.carried_load.limited_by_generator
    # for an outage that is over before it has to run, nothing is asked of it
    within = assess(job, weak, hours=8)
    assert not [check for check in within.failed if "generator" in check.kind]


@pytest.mark.slow
def test_fuel_that_is_not_told_is_what_the_hours_take():
    job, existing = beside_a_generator()
    untold = assess(job, replace(existing, fuel_l=None), hours=30)
    assert untold.design.fuel_l == pytest.approx(existing.fuel_l)
    assert untold.verdict is AssessmentVerdict.MEETS


@pytest.mark.slow
def test_the_load_carried_beside_a_generator_is_the_load_that_lasts():
    job, existing = beside_a_generator()
    carried = assess(job, existing, hours=24).carried_load
    night = assess(job, existing, hours=8).carried_load
    assert night.factor >= carried.factor

    def of(factor):
        loads = tuple(
            replace(one, running_w=one.running_w * factor, starting_w=one.starting_w * factor)
            for one in job.loads
        )
        return assess(
            replace(job, loads=loads).with_site(load_growth=0.0),
            replace(existing, fuel_l=None),
            hours=24,
        )

    assert carried.limited_by_inverter
    assert of(carried.by_bank * 0.999).hours[1].planned_hours >= 24
    assert of(carried.by_bank * 1.001).hours[1].planned_hours < 24


@pytest.mark.slow
def test_peaks_beyond_the_contract_take_their_share_of_what_stands_there():
    job = load("house")
    point = next(one for one in frontier(job).points if one.contract.power_w == 4600)
    helped = existing_of(point)
    unhelped = replace(helped, contract=job.site.contracts[1])
    with_help = assess(job, helped, hours=point.hours)
    without = assess(job, unhelped, hours=point.hours)
    assert with_help.life.years < without.life.years
    energy = [
        next(c for c in one.checks if c.kind is CheckKind.ENERGY) for one in (with_help, without)
    ]
    assert energy[0].provided < energy[1].provided
    plain = replace(helped, inverter=replace(helped.inverter, works_in_parallel=False))
    assert CheckKind.WORKS_IN_PARALLEL in {check.kind for check in assess(job, plain).failed}
