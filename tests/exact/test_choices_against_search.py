"""The program's single answers on random sites against the exhaustive search, to the cent."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from optimizer import NoDesignError, choose, frontier

from .against import SITES, a_family, assert_same, assert_same_curve, read
from .candidate import Limits
from .oracle import least, longest, non_dominated
from .sites import limited_files, renewed_files


def test_least_cost_of_hours(exact_cases):
    @settings(max_examples=exact_cases // 16)
    @given(files=SITES, data=st.data())
    def check(files, data):
        job, search = read(files)
        family = a_family(data, search)
        hours = data.draw(st.integers(1, job.site.max_hours), "hours")
        answer = least(search.optima(family), hours)
        if answer is None:
            with pytest.raises(NoDesignError):
                choose(job, hours=hours, family=family)
        else:
            assert_same(choose(job, hours=hours, family=family).design, answer, search)

    check()


@pytest.mark.parametrize("limit", ["budget", "lifetime_budget"])
def test_longest_for_the_money(exact_cases, limit):
    @settings(max_examples=exact_cases // 16)
    @given(files=SITES, data=st.data())
    def check(files, data):
        job, search = read(files)
        family = a_family(data, search)
        unlimited = search.optima(family)
        assume(unlimited)
        answer = unlimited[data.draw(st.sampled_from(sorted(unlimited)), "hours")]
        money = answer.upfront_cost if limit == "budget" else answer.life_cycle_cost
        # Exactly what a design costs, a cent less, and somewhat more or less.
        money = data.draw(st.sampled_from([money, money - 0.01, 0.9 * money, 1.1 * money]), limit)
        assume(money > 0)
        search.limits = replace(search.limits, **{limit: money})
        found = longest(search.optima(family))
        if found is None:
            with pytest.raises(NoDesignError):
                choose(job, family=family, **{limit: money})
        else:
            assert_same(choose(job, family=family, **{limit: money}).design, found, search)

    check()


def test_money_for_one_first_bank_and_gas_works(exact_cases):
    """A budget that is exactly one set, one first bank and the works for a later vented one."""

    @settings(max_examples=exact_cases // 8)
    @given(files=limited_files(), data=st.data())
    def check(files, data):
        job, search = read(files)
        assume(search.candidates)
        candidate = data.draw(st.sampled_from(search.candidates), "variant and set")
        hours = data.draw(st.integers(1, job.site.max_hours), "hours")
        first = data.draw(st.sampled_from(list(candidate.first_paid)), "first bank")
        money = float(candidate.upfront[hours - 1] + candidate.gas_works + first)
        search.limits = Limits(money, None, search.limits.later_limit)
        job = replace(job, site=replace(job.site, budget=money, lifetime_budget=None))
        assert_same_curve(frontier(job), non_dominated(search.optima()), search)

    check()


def test_money_of_a_later_year(exact_cases):
    """A limit that is exactly what a design pays in one of its later years, or a cent less."""

    @settings(max_examples=exact_cases // 8)
    @given(files=renewed_files(), data=st.data())
    def check(files, data):
        job, search = read(files)
        search.limits = replace(search.limits, later_limit=None)
        most = [max(search.candidate_of(a).later_sums(a)) for a in search.optima().values()]
        most = [money for money in most if money > 1]
        assume(most)
        money = data.draw(st.sampled_from(most), "most of a later year")
        money = data.draw(st.sampled_from([money, money - 0.01]), "limit")
        search.limits = replace(search.limits, later_limit=money)
        job = replace(job, site=replace(job.site, later_limit=money))
        assert_same_curve(frontier(job), non_dominated(search.optima()), search)

    check()


def test_both_solvers(exact_cases):
    @settings(max_examples=exact_cases // 8)
    @given(files=SITES)
    def check(files):
        job, search = read(files)
        answers = non_dominated(search.optima())
        for solver in ("highs", "cbc"):
            assert_same_curve(frontier(job, solver=solver), answers, search)

    check()
