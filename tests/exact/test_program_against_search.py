"""The program's curve and choices on random sites against the exhaustive search, to the cent."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from optimizer import NoDesignError, choose, frontier

from .oracle import Search, least, non_dominated, optimum_at
from .strategies import falling_jobs, jobs, two_purse_jobs

CENT = 0.005
SITES = jobs() | falling_jobs()


@st.composite
def questions(draw, sites):
    """One of the random sites and, at times, one family of its price list."""
    job = draw(sites)
    families = sorted({battery.family for battery in job.catalog.batteries})
    return job, draw(st.sampled_from([None, None, *families]))


def random_search(cases, **given_values):
    """Run a test on ``cases`` random inputs, shrink a failure, print how to repeat it."""

    def decorate(check):
        return settings(
            max_examples=cases,
            deadline=None,
            print_blob=True,
            suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
        )(given(**given_values)(check))

    return decorate


def assert_same(design, answer, job, family=None):
    """Same hours, same money; the design's own chain costs and carries what it says."""
    assert design.hours == answer.hours
    assert design.life_cycle_cost == pytest.approx(answer.life_cycle_cost, abs=CENT)
    checked = Search(job, family).priced(design)
    assert checked is not None
    assert design.life_cycle_cost == pytest.approx(checked.life_cycle_cost, abs=CENT)
    assert design.upfront_cost == pytest.approx(checked.upfront_cost, abs=CENT)
    for period, other in zip(design.banks, checked.banks, strict=True):
        assert period.service_life_years == pytest.approx(other.service_life, rel=1e-9)


def assert_same_curve(curve, answers, job, family):
    points = [(point.hours, round(point.life_cycle_cost, 2)) for point in curve.points]
    wanted = [(answer.hours, round(answer.life_cycle_cost, 2)) for answer in answers]
    assert len(points) == len(wanted), (points, wanted)
    for design, answer in zip(curve.points, answers, strict=True):
        assert_same(design, answer, job, family)


def falls(optima):
    """Whether the least cost of meeting the conditions falls somewhere as the hours grow."""
    costs = [optima[hours].life_cycle_cost for hours in sorted(optima)]
    return any(after < before - 1e-6 for before, after in pairwise(costs))


@pytest.mark.parametrize("kind", ["any", "falling"])
def test_curve(exact_cases, kind):
    seen = {"sites": 0, "with a design": 0, "cost falls": 0}
    asked = questions(SITES if kind == "any" else falling_jobs())

    @random_search(exact_cases, question=asked)
    def check(question):
        job, family = question
        optima = optimum_at(job, family)
        answers = non_dominated(optima)
        seen["sites"] += 1
        seen["with a design"] += bool(optima)
        seen["cost falls"] += falls(optima)
        event(f"points on the curve: {min(len(answers), 5)}")
        assert_same_curve(frontier(job, family=family), answers, job, family)

    check()
    print(seen)
    if exact_cases >= 100:  # the comparison means little where nothing fits or nothing falls
        assert seen["with a design"] >= seen["sites"] // 4
        assert kind == "any" or seen["cost falls"] >= seen["sites"] // 20


def test_least_cost_of_hours(exact_cases):
    @random_search(exact_cases // 3, question=questions(SITES), data=st.data())
    def check(question, data):
        job, family = question
        hours = data.draw(st.integers(1, job.site.max_hours), "hours")
        answer = least(optimum_at(job, family), hours)
        if answer is None:
            with pytest.raises(NoDesignError):
                choose(job, hours=hours, family=family)
        else:
            design = choose(job, hours=hours, family=family).design
            assert_same(design, answer, job, family)

    check()


@pytest.mark.parametrize("limit", ["budget", "lifetime_budget"])
def test_longest_for_the_money(exact_cases, limit):
    @random_search(exact_cases // 3, question=questions(SITES), data=st.data())
    def check(question, data):
        job, family = question
        unlimited = optimum_at(job, family)
        assume(unlimited)
        answer = unlimited[data.draw(st.sampled_from(sorted(unlimited)), "hours")]
        money = answer.upfront_cost if limit == "budget" else answer.life_cycle_cost
        # Exactly what a design costs, a cent less, and somewhat more or less.
        money = data.draw(st.sampled_from([money, money - 0.01, 0.9 * money, 1.1 * money]), limit)
        assume(money > 0)
        optima = optimum_at(job, family, **{limit: money})
        if not optima:
            with pytest.raises(NoDesignError):
                choose(job, family=family, **{limit: money})
        else:
            design = choose(job, family=family, **{limit: money}).design
            assert_same(design, optima[max(optima)], job, family)
            assert design.upfront_cost <= (money if limit == "budget" else 1e9) * (1 + 2e-9)

    check()


def test_money_for_one_first_bank_and_gas_works(exact_cases):
    @random_search(exact_cases // 2, job=two_purse_jobs(), data=st.data())
    def check(job, data):
        search = Search(job)
        assume(search.sets)
        one = data.draw(st.sampled_from(search.sets), "inverter set")
        banks = [bank for bank in search.banks[one.inverter.system_v] if search.fits(one, bank)]
        assume(banks)
        first = data.draw(st.sampled_from(banks), "first bank")
        money = one.upfront + search.vented_works + first.paid[0]
        job = replace(job, site=replace(job.site, budget=money))
        assert_same_curve(frontier(job), non_dominated(optimum_at(job)), job, None)

    check()


def test_both_solvers(exact_cases):
    @random_search(exact_cases // 3, job=SITES)
    def check(job):
        answers = non_dominated(optimum_at(job))
        for solver in ("highs", "cbc"):
            assert_same_curve(frontier(job, solver=solver), answers, job, None)

    check()
